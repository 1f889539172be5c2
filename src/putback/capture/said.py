"""What one clause says: its predicate, its things, and the figures that were told of them."""

from dataclasses import dataclass, field

from putback.capture.phrases import Phrase
from putback.capture.quantities import Quantity


@dataclass
class Item:
    """A thing in a clause, with the figures that were said of it; `joined` by "and" with the one before it."""

    phrase: Phrase
    first: int
    after: int
    tool: str | None = None
    count: int | None = None
    torque: float | None = None
    unit: str | None = None
    angle: float | None = None
    joined: bool = False
    each: bool = False
    each_side: bool = False
    torques: list[Quantity] = field(default_factory=list)


@dataclass
class Clause:
    """One thing said: a predicate with its items.

    `first`, `after`, `head` and `head_end` count tokens; `sense` is as in verbs.txt and empty without a predicate;
    `lemma` and `particle` are the verb and its particle, both the particle where that stands alone. `places` stand
    behind a preposition (`relation`), `at` are those told by a pronoun, `along` behind "with". `numbers` have no unit,
    and come with their tokens; `torques` stand ahead of any thing. `subordinate` is the word that makes the clause
    depend on another, `also` the manner (by hand, feel, snug, tight). `on_car` tells of the whole car, `in_container`
    of what is only laid down, and `copula` says what something is. `described` are things that stand beside what is
    done, `active` tells that the object stands behind the verb, `lead` is the small word ahead of the clause,
    `told_till` the token where somebody else's part begins: "... out you must be careful".
    """

    first: int
    after: int
    sense: str = ""
    lemma: str = ""
    particle: str = ""
    head: int = 0
    head_end: int = 0
    items: list[Item] = field(default_factory=list)
    places: list[Phrase] = field(default_factory=list)
    at: list[Phrase] = field(default_factory=list)
    along: list[Item] = field(default_factory=list)
    tool: str | None = None
    numbers: list[tuple[int, int, float]] = field(default_factory=list)
    torques: list[Quantity] = field(default_factory=list)
    angle: float | None = None
    subordinate: str = ""
    also: list[str] = field(default_factory=list)
    on_car: bool = False
    described: list[Item] = field(default_factory=list)
    active: bool = False
    lead: str = ""
    told_till: int = 0
    in_container: bool = False
    copula: bool = False
    relation: str = ""
