"""What a work area holds, as plain values.

An `Item` stands in one of its states; everything that can be moved, undone, unplugged or fitted on the
way is one. A `Manner` says how it may be moved. Minutes and money are exact fractions; places lead back
to the file. Two directions run through everything: `out` takes an item away from where it belongs, `back`
returns it. A support that is fitted on the way moves `out` when it goes in: "nothing there" is where it
belongs.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from putback.errors import Place

OUT, BACK = "out", "back"

PART, FASTENERS, PLUG, CABLE, LINE, BELT, PUT_IN, MARKS = (
    "part", "fasteners", "plug", "cable", "line", "belt", "put-in", "marks",
)  # fmt: skip

ON_THE_GROUND, ON_A_LIFT, ON_STANDS = "on the ground", "on a lift", "on stands"
POSTURES = {
    "any posture": (),
    "on the ground": (ON_THE_GROUND,),
    "raised": (ON_A_LIFT, ON_STANDS),
    "on a lift": (ON_A_LIFT,),
    "on stands": (ON_STANDS,),
}


@dataclass(frozen=True)
class Ref:
    """A name as it was written, and where."""

    name: str
    place: Place


@dataclass(frozen=True)
class Spread:
    """Minutes: least, likely and most."""

    low: Fraction
    likely: Fraction
    high: Fraction

    def __add__(self, other: "Spread") -> "Spread":
        return Spread(self.low + other.low, self.likely + other.likely, self.high + other.high)

    def __sub__(self, other: "Spread") -> "Spread":
        return Spread(self.low - other.low, self.likely - other.likely, self.high - other.high)

    def times(self, factor: Fraction) -> "Spread":
        return Spread(self.low * factor, self.likely * factor, self.high * factor)


NO_TIME = Spread(Fraction(0), Fraction(0), Fraction(0))


@dataclass(frozen=True)
class Minutes:
    """How long the way out and the way back take."""

    out: Spread
    back: Spread

    def towards(self, direction: str) -> Spread:
        return self.out if direction == OUT else self.back


@dataclass(frozen=True)
class Caution:
    """A warning for one direction, or for both (None)."""

    text: str
    direction: str | None = None


@dataclass(frozen=True)
class Risk:
    """What may go wrong, how likely (0 to 1) at usual rust, and the minutes it then takes.

    `rusts` is False for breakage of clips and plastic, which does not grow with rust.
    """

    what: str
    probability: Fraction
    minutes: Fraction
    rusts: bool = True
    direction: str = OUT


@dataclass(frozen=True)
class Equipment:
    """So many pieces of a thing, each rated for at least `rating` kg where one is asked for."""

    name: str
    count: int = 1
    rating: int | None = None

    def __str__(self) -> str:
        name = self.name if self.count == 1 else f"{self.count} {self.name}s"
        return name + (f" >= {self.rating} kg" if self.rating else "")


SECOND_PERSON = Equipment("second person")


@dataclass(frozen=True)
class Demand:
    """Equipment asked for: any one of the offers will do, the first that is there is taken."""

    offers: tuple[Equipment, ...]
    place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Stand:
    """Where an operation is done from: one of the vantages, and the posture if not the vantage's own."""

    vantages: tuple[Ref, ...]
    posture: str | None = None
    turned: tuple[tuple[str, str], ...] = ()  # other settings: ("steering", "full left")


@dataclass(frozen=True)
class Manner:
    """How something may be done. What is left empty is left to what it stands on top of."""

    name: str = ""
    place: Place | None = None
    behind: tuple[Ref, ...] = ()  # must be out of the way, out and back
    still: tuple[Ref, ...] = ()  # must not yet be out of the way, out only
    stand: Stand | None = None
    tools: tuple[tuple[str, ...], ...] = ()  # one of these sets; the first of a set is the main tool
    equipment: tuple[Demand, ...] = ()
    certificates: tuple[str, ...] = ()
    minutes: Minutes | None = None
    risks: tuple[Risk, ...] = ()
    cautions: tuple[Caution, ...] = ()
    follow_ups: tuple[Ref, ...] = ()
    helper: Fraction | None = None  # minutes of a second person, once for the job
    only: tuple[Ref, ...] = ()  # variants for which it exists
    keeps_raised: bool = False  # while it is in, the car may not come down


@dataclass(frozen=True)
class Thread:
    """A thread: metric `M` or tapping `ST`, diameter, pitch and length [mm]; None where not said."""

    kind: str
    diameter: float
    pitch: float | None = None
    length: float | None = None
    text: str = ""


@dataclass(frozen=True)
class Torque:
    """Stages in N·m, the last one the final torque, and an angle after it [degrees] where there is one.

    Where the source gives a range or a tolerance, the final torque lies between `low` and `high` [N·m].
    """

    stages: tuple[float, ...]
    angle: int | None = None
    passes: int = 1
    text: str = ""
    low: float | None = None
    high: float | None = None

    @property
    def final(self) -> float:
        return self.stages[-1]

    @property
    def shown(self) -> str:
        """As the file has it; the final torque where it has no words."""
        return self.text or f"{self.final:g} N·m"

    @property
    def highest(self) -> float:
        """The most that the source allows [N·m]."""
        return self.high or self.final


@dataclass(frozen=True)
class Fastener:
    """A group of like fasteners: what they are and how they are tightened."""

    count: int = 1
    noun: str = "bolt"
    thread: Thread | None = None
    property_class: str | None = None
    torque: Torque | None = None
    pattern: str | None = None
    one_time: bool = False
    price: Fraction | None = None  # of a new one, in cents
    left_hand: bool = False
    coated: bool = False
    on_the_ground: bool = False
    where: str = ""
    source: str | None = None


@dataclass(frozen=True)
class NewPart:
    """Something used up: so many, in cents each."""

    name: str
    price: Fraction
    count: int = 1

    @property
    def cost(self) -> Fraction:
        return self.price * self.count


@dataclass(frozen=True)
class Fluid:
    """What runs out and goes back in, in litres; the price is for all of it, in cents."""

    name: str
    litres: Fraction
    price: Fraction = Fraction(0)
    filled_by: Ref | None = None  # the follow-up that fills it again


@dataclass(frozen=True)
class Item:
    """Anything near the job that can stand otherwise than it belongs.

    `states` run from where it belongs to fully displaced. `base` binds every move; `ways` are the
    alternatives for the last move out and the first move back.
    """

    name: str
    kind: str
    states: tuple[str, ...]
    place: Place
    owner: str | None = None  # the part that a fastener, plug or cable belongs to
    about: str = ""
    base: Manner = field(default_factory=Manner)
    ways: tuple[Manner, ...] = ()
    minutes: Minutes | None = None
    counted_in: Ref | None = None  # whose minutes already hold those of this item
    fastener: Fastener | None = None
    how: tuple[tuple[str, str], ...] = ()  # own words for a direction
    hazards: tuple[Ref, ...] = ()
    holds: tuple[Ref, ...] = ()  # parts that a shared fastener holds besides its owner
    loosen_while: tuple[Ref, ...] = ()
    tighten_after: tuple[Ref, ...] = ()
    secures: tuple[Ref, ...] = ()
    covers: tuple[Ref, ...] = ()
    marks: tuple[Ref, ...] = ()
    rides_on: Ref | None = None
    bench: Manner | None = None
    wait: Fraction | None = None  # minutes from its last move out until whatever needs it may begin
    new_parts: tuple[NewPart, ...] = ()
    loses: Fluid | None = None
    mass: Fraction | None = None  # kg
    why: str = ""
    incomplete: bool = False  # some of what the file says of it could not be read

    @property
    def levels(self) -> int:
        return len(self.states) - 1


@dataclass(frozen=True)
class Target:
    """A part to be replaced: what the new one costs and the deposit on the old one, in cents."""

    name: Ref
    new: Fraction
    deposit: Fraction = Fraction(0)


@dataclass(frozen=True)
class FollowUp:
    """What a move obliges to: the shop's own minutes, a sublet by its name, or words at the hand-over.

    `after` names follow-ups and job work that come before it.
    """

    name: str
    minutes: Fraction | None = None
    equipment: tuple[Demand, ...] = ()
    sublet: str | None = None
    at_hand_over: bool = False
    after: tuple[Ref, ...] = ()


@dataclass(frozen=True)
class JobWork:
    """Work that is part of every job here: before, at the swap, or after.

    `after` names follow-ups and job work that come before it; work before and at the swap keeps the order of the file.
    """

    name: str
    when: str
    minutes: Spread
    after: tuple[Ref, ...] = ()


@dataclass(frozen=True)
class Area:
    """A work area: see docs/area-files.md for what each part means."""

    name: str
    file: str
    items: dict[str, Item]
    targets: tuple[Target, ...]
    vantages: dict[str, tuple[str, ...]]
    vehicle: str = ""
    figures_from: str | None = None
    battery: Ref | None = None
    drives: tuple[Ref, ...] = ()  # files of belt drives, beside that of the area
    stands_on: tuple[Ref, ...] = ()
    turns: dict[str, tuple[str, ...]] = field(default_factory=dict)
    variants: dict[str, tuple[str, ...]] = field(default_factory=dict)
    always_new: tuple[NewPart, ...] = ()
    job_work: tuple[JobWork, ...] = ()
    follow_ups: dict[str, FollowUp] = field(default_factory=dict)
    match: tuple[tuple[str, str], ...] = ()
    spoilt: tuple[str, ...] = ()  # headings below which something could not be read

    @cached_property
    def late(self) -> dict[str, FollowUp | JobWork]:
        """What is done behind the last step, by name: follow-ups, then job work, each in the order of the file."""
        work = [one for one in self.job_work if one.when == "after"]
        return {one.name: one for one in (*self.follow_ups.values(), *work)}

    def belonging_to(self, part: str) -> tuple[Item, ...]:
        """The fasteners, plugs and cables of a part, in the order of the file."""
        return self._by_owner.get(part, ())

    def holding(self, part: str) -> tuple[Item, ...]:
        """Fasteners of another part that hold this one as well, in the order of the file."""
        return self._by_held.get(part, ())

    def sharing_minutes_of(self, name: str) -> tuple[Item, ...]:
        """What belongs to a thing and what is counted in it, in the order of the file."""
        return self._by_whole.get(name, ())

    @cached_property
    def _by_owner(self) -> dict[str, tuple[Item, ...]]:
        return _grouped((item.owner, item) for item in self.items.values())

    @cached_property
    def _by_held(self) -> dict[str, tuple[Item, ...]]:
        return _grouped((ref.name, item) for item in self.items.values() for ref in item.holds)

    @cached_property
    def _by_whole(self) -> dict[str, tuple[Item, ...]]:
        return _grouped(
            (name, item)
            for item in self.items.values()
            for name in dict.fromkeys((item.owner, item.counted_in.name if item.counted_in else None))
        )


def _grouped(pairs: Iterable[tuple[str | None, Item]]) -> dict[str, tuple[Item, ...]]:
    found: dict[str, list[Item]] = {}
    for name, item in pairs:
        if name is not None:
            found.setdefault(name, []).append(item)
    return {name: tuple(items) for name, items in found.items()}
