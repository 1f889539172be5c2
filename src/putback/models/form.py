"""A model as its file tells it: complaints, faults, readings, tests with their judging, actions, limits for proof."""

from collections.abc import Mapping
from dataclasses import dataclass, field

NOT_FITTED = "not fitted"  # what a reading says of a thing that the car does not have


@dataclass(frozen=True)
class Complaint:
    """What the customer says, the words by which it is known, and how likely each fault then is."""

    name: str
    words: tuple[str, ...]
    prior: Mapping[str, float]


@dataclass(frozen=True)
class Reading:
    """One thing that is read off a meter or seen.

    Attributes
    ----------
    name : str
    what : str
        In plain words, for people.
    unit : str
        Empty where it has none.
    lowest, highest : float
        What a reading can be at all; beyond, it was mistyped.
    words : dict of str to str
        What may be typed in place of a number, and the word that it stands for.
    free : bool
        Any words will do; `words` then tells those with a meaning of their own, and all others count as "some".
    without : tuple of str
        Faults that cannot be where what is read here is not fitted.
    """

    name: str
    what: str
    unit: str = ""
    lowest: float = 0.0
    highest: float = 0.0
    words: Mapping[str, str] = field(default_factory=dict)
    free: bool = False
    without: tuple[str, ...] = ()

    @property
    def choices(self) -> tuple[str, ...]:
        """The words it can say, each once."""
        return tuple(dict.fromkeys(self.words.values()))


@dataclass(frozen=True)
class Source:
    """A number out of readings: a reading, a quantity of a room, or a difference or ratio of two readings."""

    kind: str  # "of", "difference", "ratio"
    names: tuple[str, ...]


@dataclass(frozen=True)
class Condition:
    """What a number must be for a reading to say something; where it is not known it is taken to be so."""

    source: Source
    low: float
    high: float
    otherwise: str


@dataclass(frozen=True)
class Rule:
    """How one number or word speaks for some outcomes of a test and against the others.

    Attributes
    ----------
    source : Source
    limits : tuple of float
        Borders between the steps, rising.
    steps : tuple of tuple of str
        The outcomes that each step speaks for, one more than limits.
    blur : float
        How far off the number may be (standard deviation), in its own unit: near a border it speaks for both sides.
    words : dict of str to tuple of str
        In place of limits: the outcomes that each word speaks for.
    sure : float
        How much of a word's weight goes to its own outcomes.
    condition : Condition, optional
    always : tuple of str
        Outcomes that count even where the condition does not hold.
    """

    source: Source
    limits: tuple[float, ...] = ()
    steps: tuple[tuple[str, ...], ...] = ()
    blur: float = 0.0
    words: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    sure: float = 0.98
    condition: Condition | None = None
    always: tuple[str, ...] = ()


@dataclass(frozen=True)
class FormTest:
    """One test: what it needs, how readings are judged into its outcomes, and what each fault makes of it.

    Where `valid` does not hold it speaks for what is likely, and does not count as read before a part is condemned.
    """

    name: str
    what: str
    outcomes: tuple[str, ...]
    rules: tuple[Rule, ...]
    minutes: float
    asks: tuple[str, ...]
    waits: float = 0.0
    needs: tuple[str, ...] = ()
    behind: str | None = None
    valid: Condition | None = None
    chances: Mapping[str, tuple[float, ...]] = field(default_factory=dict)


@dataclass(frozen=True)
class Fault:
    """One fault; `variants` are the ways in which it shows, each with its share and its action."""

    name: str
    variants: Mapping[str, tuple[float, str]]

    def engine_names(self) -> dict[str, tuple[float, str]]:
        """Of each variant the name it is weighed under, its share and its action."""
        if len(self.variants) == 1:
            return {self.name: next(iter(self.variants.values()))}
        return {f"{self.name}, {variant}": told for variant, told in self.variants.items()}


@dataclass(frozen=True)
class Known:
    """A test that must have been read before an action, unless another came out in certain ways."""

    test: str
    unless: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True)
class Limit:
    """A limit for proof: where a reading must lie once the repair is done."""

    reading: str
    source: Source
    low: float
    high: float
    words: tuple[str, ...]
    condition: Condition | None
    only_for: tuple[str, ...]  # actions; empty: all
    says: str


@dataclass(frozen=True)
class FormAction:
    """What mends some faults, what doing it for nothing costs, and what must be known before."""

    name: str
    do: str
    minutes: float
    behind: str | None = None
    enough: float = 0.8
    known: tuple[Known, ...] = ()
    proof: tuple[tuple[str, tuple[str, ...]], ...] = ()
    first: bool = False  # put right first, and then everything is read again
    nothing: bool = False  # nothing is wrong


@dataclass(frozen=True)
class Before:
    """An outcome of a test that must be put right before any part is condemned."""

    test: str
    outcomes: tuple[str, ...]
    why: str


@dataclass(frozen=True)
class Alike:
    """Faults that cannot be told apart, unless one of these tests was read."""

    faults: tuple[str, ...]
    unless: tuple[str, ...]
    split: str


@dataclass(frozen=True)
class Sum:
    """Readings that must add up: what of the difference of two the others do not explain."""

    difference: tuple[str, ...]
    less: tuple[str, ...]
    most: float  # may be left unexplained
    far: float  # from here on nothing is concluded until they were read again
    why: str


@dataclass(frozen=True)
class Form:
    """A whole model."""

    name: str
    target: str
    leftover: float
    undecided: float
    complaints: tuple[Complaint, ...]
    readings: Mapping[str, Reading]
    faults: Mapping[str, Fault]
    actions: Mapping[str, FormAction]
    tests: Mapping[str, FormTest]
    groups: tuple[tuple[tuple[str, ...], float], ...] = ()
    access: Mapping[str, float] = field(default_factory=dict)
    alike: tuple[Alike, ...] = ()
    before: tuple[Before, ...] = ()
    sums: tuple[Sum, ...] = ()
    limits: tuple[Limit, ...] = ()
