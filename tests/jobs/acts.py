"""What is done on a job, before anybody has written it down: the true course of the work."""

from dataclasses import dataclass, field
from random import Random

AWAY, HOME = "away", "home"  # an item leaves its place, or comes back
LOOSEN, OFF, RUN_IN, ON = "loosen", "off", "run in", "on"  # what is done to a group of fasteners
SAY = "say"  # anything else; it is one event as it stands

TECHNICIAN, SECOND, APPRENTICE, FOREMAN = "technician 1", "technician 2", "apprentice 1", "foreman"
DEVICES = {TECHNICIAN: "bay 2", SECOND: "phone 2", APPRENTICE: "phone 3", FOREMAN: "office"}


@dataclass(frozen=True)
class Group:
    """Like fasteners, and how they are to be closed; `lengths` where others of their thread at the part differ."""

    name: str
    count: int
    owner: str = ""
    described: bool = True
    torque: float | None = None
    low: float | None = None
    high: float | None = None
    angle: int | None = None
    stages: tuple[float, ...] = ()
    passes: int = 1
    pattern: bool = False
    one_time: bool = False
    coated: bool = False
    on_the_ground: bool = False
    lengths: bool = False
    risky: bool = False  # the car stands on its part, or it has to do with steering, brakes, fuel or airbags
    size: str = ""

    @property
    def critical(self) -> bool:
        """Where an apprentice is not alone: used once only, turned by an angle, or closed on the ground."""
        return self.one_time or self.angle is not None or self.on_the_ground

    @property
    def wanted_passes(self) -> int:
        """How often the wrench goes round; one alone is done at once."""
        return max(self.passes, len(self.stages), 1) if self.count > 1 else 1


@dataclass
class Closing:
    """How fasteners are closed; as they should be, unless somebody changes it."""

    count: int
    new: bool = False
    cleaned: bool = False
    torque: float | None = None
    angle: float | None = None
    passes: int = 1
    in_order: bool = True
    at: str | None = None
    evidence: str = "clicked at the setting"
    reason: str | None = None
    by: str | None = None
    released_by: str | None = None
    hand_tight: bool = False
    at_once: bool = False  # told in one event


@dataclass
class Act:
    """One thing done.

    Attributes
    ----------
    item : str
        The item or the group.
    of : Group or None
        Of fasteners.
    closing : Closing or None
        Of `ON`.
    kind, data
        Of `SAY`: the event.
    owner : str
        The part that an item belongs to.
    plug : bool
        Whether an item has to click.
    covers : str
        What sort of a thing an item is, in the area's word; "" where nobody has described it.
    """

    does: str
    item: str
    of: Group | None = None
    count: int = 0
    closing: Closing | None = None
    state: str = ""
    way: str = ""
    owner: str = ""
    plug: bool = False
    sort: str = ""
    new_parts: tuple[str, ...] = ()
    confirmed: str | None = None
    kind: str = ""
    data: dict = field(default_factory=dict)
    by: str | None = None
    silent: bool = False  # done, and never logged


def say(kind: str, item: str = "", /, _by: str | None = None, **data) -> Act:
    """An act that is one event, said by `_by`; underscores in names stand for blanks."""
    return Act(SAY, item, kind=kind, data={name.replace("_", " "): value for name, value in data.items()}, by=_by)


@dataclass
class Course:
    """A whole job as it is done.

    Attributes
    ----------
    opened : dict
        What the opening says.
    acts : list of Act
    after : dict of str to tuple of str
        What belongs after what: a group or an item, and what must be closed before it; `work_after` the same of work.
    follow_ups : dict of str to str
        What is owed at the end, and the item that obliged to it; "" where it may be done at any time.
    fluids : dict of str to float
        What ran out, in litres.
    match : dict of str to str
        What old and new are compared by.
    """

    name: str
    opened: dict
    acts: list[Act]
    targets: tuple[str, ...] = ()
    area: object = None
    shop: object = None
    after: dict[str, tuple[str, ...]] = field(default_factory=dict)
    work_after: dict[str, tuple[str, ...]] = field(default_factory=dict)
    follow_ups: dict[str, str] = field(default_factory=dict)
    fluids: dict[str, float] = field(default_factory=dict)
    match: dict[str, str] = field(default_factory=dict)

    def index(self, act: Act) -> int:
        """Where an act stands."""
        return next(number for number, one in enumerate(self.acts) if one is act)

    def of(self, item: str, *does: str) -> list[Act]:
        """What is done to an item."""
        return [act for act in self.acts if act.item == item and (not does or act.does in does)]

    def belongings(self, part: str) -> list[str]:
        """What belongs to a part and is touched."""
        names = [act.item for act in self.acts if (act.of.owner if act.of else act.owner) == part]
        return list(dict.fromkeys(name for name in names if name))


def closing_of(group: Group, rng: Random) -> Closing:
    """A group closed as it should be."""
    measured = group.torque is not None or (not group.described and rng.random() < 0.5)
    closing = Closing(
        group.count,
        new=group.one_time or rng.random() < 0.1,
        cleaned=group.coated or rng.random() < 0.1,
        torque=_torque(group, rng) if measured else None,
        angle=group.angle + rng.choice((-4, 0, 0, 3)) if group.angle else None,
        passes=group.wanted_passes,
        at="where they belong" if group.lengths or rng.random() < 0.2 else None,
        evidence=rng.choice(("clicked at the setting", "value read")) if measured else "seated",
    )
    if measured and not group.critical and not group.risky and rng.random() < 0.05:
        closing.evidence, closing.reason, closing.torque, closing.passes = "by feel", "no room for the wrench", None, 1
    return closing


def _torque(group: Group, rng: Random) -> float:
    if group.torque is None:
        return float(rng.choice((8, 10, 22, 45, 110)))
    if group.low is not None and group.high is not None:
        return round(rng.uniform(group.low, group.high), 3)
    return round(group.torque * rng.choice((0.97, 1, 1, 1, 1.03)), 3)
