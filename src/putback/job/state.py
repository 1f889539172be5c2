"""Where a job stands: what the events add up to. `fold` makes it; everything else only reads it.

Two halves of the car are told apart: fasteners come in groups and are counted, everything else stands in one state of
its own. An item that no area file knows is as good as any other: it counts from its first mention.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from putback.job.kinds import HAND_TIGHT, MEASURED, SEATED

HOME = ("fitted", "refitted", "on", "back", "plugged", "joined", "connected", "tight", "closed")  # words for an item no file describes
_EVIDENCE_RANK = {**dict.fromkeys(MEASURED, 3), SEATED: 2, "by feel": 2, "assumed": 1, HAND_TIGHT: 0}


class Moment(NamedTuple):
    """When something was done: the number of its event, and the clock of its device."""

    number: int
    clock: str

    def is_after(self, other: "Moment") -> bool:
        """Whether it surely came later, by the ledger and by the clocks: a device may send late, or be wrong."""
        return self.number > other.number and self.clock >= other.clock

    @staticmethod
    def last(*moments: "Moment | None") -> "Moment":
        """What is surely after all of these is surely after this one."""
        known = [one for one in moments if one is not None]
        return Moment(max((one.number for one in known), default=0), max((one.clock for one in known), default=""))


@dataclass
class Item:
    """A part, plug, cable, line or belt, or a thing put in, and how it stands.

    Attributes
    ----------
    state : str
        As the event said it.
    level : int
        How far from where it belongs: 0 is home. An item that no file describes knows 0 and 1 only.
    levels : int
        Of its chain, as the area has it.
    described : bool
        Whether the area knows it.
    left : int
        Number of the event by which it last left its place; 0 if it never did.
    returned : int
        Number of the event by which it came home; 0 while it never did.
    """

    name: str
    state: str
    level: int = 0
    levels: int = 1
    described: bool = False
    left: int = 0
    returned: int = 0
    left_at: str = ""
    ways: tuple[str, ...] = ()
    went: Moment | None = None  # when somebody last said that it is away
    came_home: Moment | None = None
    away: str = ""  # the state in which it last was away
    confirmed: str = ""
    new_parts: tuple[str, ...] = ()
    last: "Report | None" = None
    by: str = ""

    @property
    def home(self) -> bool:
        """Whether it stands where it belongs."""
        return self.level == 0


@dataclass(eq=False)
class Lot:
    """Fasteners of one group that stand alike: out, loose, or tight as somebody said."""

    count: int
    standing: str  # OUT, LOOSE, UNTOUCHED or CLOSED
    new: bool = False
    cleaned: bool = False
    torque: float | None = None
    angle: float | None = None
    evidence: str = ""
    reason: str = ""
    wrench: str = ""
    passes: int = 1
    in_order: bool = False
    where: str = ""
    posture: str | None = None
    person: str = ""
    apprentice: bool = False  # that is what this person was then, whatever he is called since
    number: int = 0
    moment: Moment | None = None  # when it came to what it is; a mere look at it afterwards does not count
    at: str = ""


OUT, LOOSE, UNTOUCHED, CLOSED = "out", "loose", "untouched", "closed"


@dataclass
class Group:
    """A group of like fasteners.

    Attributes
    ----------
    total : int
        How many there are; for a group that no file describes the most that were ever off at once.
    extra : int
        More reported off than the group has.
    trays : dict of str to int
        Tray position to how many lie there; `HOLES` for those back in their holes.
    position : str
        The tray position that was said last; it stays theirs when they are in again.
    """

    name: str
    total: int
    described: bool = False
    lots: list[Lot] = field(default_factory=list)
    trays: dict[str, int] = field(default_factory=dict)
    extra: int = 0
    left: int = 0
    left_at: str = ""
    size: str = ""
    belongs_to: str = ""
    position: str = ""
    last: "Report | None" = None
    by: str = ""
    closings: int = 0

    def count(self, *standing: str) -> int:
        """How many stand in one of some ways."""
        return sum(lot.count for lot in self.lots if lot.standing in standing)

    @property
    def out(self) -> int:
        return self.count(OUT)

    @property
    def hand_tight(self) -> int:
        """In their holes, but not tight."""
        return self.count(LOOSE)

    @property
    def touched(self) -> bool:
        """Whether anybody has had a tool on it."""
        return any(lot.standing != UNTOUCHED for lot in self.lots)

    @property
    def home(self) -> bool:
        """All in and none of them loose, whatever is known of their torque."""
        return not self.out and not self.hand_tight


HOLES, NOT_SAID = "back in their holes", "nobody has said where"  # instead of a tray position


class Report(NamedTuple):
    """Who said something last of a thing, and when."""

    number: int
    at: str
    device: str
    person: str
    id: str


@dataclass(frozen=True)
class Conflict:
    """Two reports that cannot both be true; the worse one counts until somebody takes the wrong one back."""

    item: str
    text: str
    numbers: tuple[int, ...]
    ids: tuple[str, ...] = ()


@dataclass
class Difference:
    """What was found to differ from the description.

    Attributes
    ----------
    tool : str
        What it takes in place of the tool that the description names.
    price : float or None
        Of a new one, in cents.
    """

    item: str
    what: str
    note: str
    number: int
    count: int = 0
    settled: str = ""
    tool: str = ""
    price: float | None = None


@dataclass(frozen=True)
class Reading:
    """A figure that was read, or a word for what was seen: `value` is None then, and `unit` empty; or both.

    `told` is what somebody said of it, `good` what counts after it was held against its limit as well.
    """

    what: str
    value: float | None
    unit: str
    when: str
    good: bool | None
    number: int
    person: str
    at: str
    word: str = ""
    told: bool | None = None

    @property
    def text(self) -> str:
        """What was read, as one writes it."""
        figure = "" if self.value is None else f"{self.value:g} {self.unit}"
        return ", ".join(one for one in (figure, self.word) if one)


@dataclass
class JobState:
    """What the events of a job add up to.

    Attributes
    ----------
    last : int
        Number of the last event counted; 0 for none.
    order : list of str
        Items and groups in the order in which they last left their places: refit runs through it backwards.
    """

    job: str = ""
    name: str = ""
    vehicle: str = ""
    opened_at: str = ""
    last: int = 0
    last_at: str = ""
    area_file: str | None = None  # content hash
    shop_file: str | None = None
    files: dict[str, str] = field(default_factory=dict)  # what the frozen files were called
    targets: tuple[str, ...] = ()
    variants: tuple[str, ...] = ()
    cap: float | None = None  # cents
    plans: list[dict] = field(default_factory=list)
    intake: list[dict] = field(default_factory=list)
    roles: dict[str, str] = field(default_factory=dict)
    items: dict[str, Item] = field(default_factory=dict)
    groups: dict[str, Group] = field(default_factory=dict)
    order: dict[str, int] = field(default_factory=dict)
    absent: dict[str, int] = field(default_factory=dict)
    differences: list[Difference] = field(default_factory=list)
    compared: dict[str, dict] = field(default_factory=dict)
    swapped: dict[str, int] = field(default_factory=dict)
    swaps: dict[str, Moment] = field(default_factory=dict)
    wrong: dict[str, str] = field(default_factory=dict)  # part found wrong, and what about it
    under: dict[str, str] = field(default_factory=dict)  # person and since when
    went_under: dict[str, str] = field(default_factory=dict)  # id of the event, and who
    clear_at: dict[str, str] = field(default_factory=dict)  # person, and when he last was clear; empty while under
    posture: str | None = None
    engine_since: str = ""  # when it was started; empty while it stands still
    engine_stopped_at: str = ""
    paused: tuple[str, str] | None = None  # since when, and why
    pauses: list[tuple[str, str]] = field(default_factory=list)  # from and to
    handed_to: str | None = None  # until the receiver confirms
    unconfirmed: tuple[str, ...] = ()  # ids of steps to be confirmed again
    consents: list[dict] = field(default_factory=list)
    parts: dict[str, dict[str, int]] = field(default_factory=dict)
    drained: dict[str, float] = field(default_factory=dict)
    filled: dict[str, float] = field(default_factory=dict)
    poured: dict[str, int] = field(default_factory=dict)  # fluid, and number of the last event about it
    things: dict[tuple[str, str, str], int] = field(default_factory=dict)
    put_in: dict[tuple[str, str, str], int] = field(default_factory=dict)  # number of the event that last put one in
    readings: list[Reading] = field(default_factory=list)
    weighed: dict | None = None  # what the readings spoke for before the swap, when they were last weighed
    notes: dict[str, list[dict]] = field(default_factory=dict)  # by item; "" for the whole job
    unheard: dict[str, str] = field(default_factory=dict)  # id of a note whose words wait to be understood, and they
    added: dict[str, float | None] = field(default_factory=dict)
    work: dict[str, dict] = field(default_factory=dict)
    found: list[dict] = field(default_factory=list)
    released: dict[str, tuple[str, int]] = field(default_factory=dict)  # hold point: by whom, number
    accepted: dict[str, dict] = field(default_factory=dict)
    conflicts: list[Conflict] = field(default_factory=list)
    said: dict[str, int] = field(default_factory=dict)  # person or car, and number of the last report that counts
    puzzles: list[str] = field(default_factory=list)  # what could not be understood, in words
    refusals: list[dict] = field(default_factory=list)
    signed: dict | None = None
    after_signing: list[int] = field(default_factory=list)
    steps: list[Report] = field(default_factory=list)  # every step of work, in order

    def away(self) -> Iterator[Item]:
        """Items that are not where they belong, the last one that left first."""
        names = sorted((name for name, item in self.items.items() if not item.home), key=lambda name: -self.items[name].left)
        return (self.items[name] for name in names)

    def open_groups(self) -> Iterator[Group]:
        """Groups with a fastener out or loose, the last one opened first."""
        groups = [group for group in self.groups.values() if not group.home]
        return iter(sorted(groups, key=lambda group: -group.left))


def rank(lot: Lot) -> tuple:
    """How good a closing is: of two reports of one closing the lower one counts."""
    return (_EVIDENCE_RANK.get(lot.evidence, 0), lot.new, lot.angle or 0.0, lot.torque or 0.0)


def whole_job(made: dict, of: str) -> float | None:
    """What the whole job was to come to by a plan: what is still to do, and what had been done when it was made.

    Parameters
    ----------
    made : dict
        One of `JobState.plans`.
    of : "minutes" or "money"
        Money in cents, before tax.
    """
    return made[of] + made.get(f"spent {of}", 0) if of in made else None
