"""What somebody is about to do, as the guards see it, and what they say against it."""

from dataclasses import dataclass
from functools import cached_property

from putback.area.model import Item as Described
from putback.job.car import Car
from putback.job.state import HOME, Group, Item, JobState

OFF, ON = ("fasteners loosened", "fasteners off"), ("fasteners on", "fasteners tightened")


@dataclass(frozen=True)
class Stop:
    """Something that speaks against what is about to be done.

    Attributes
    ----------
    key : str
        A name of its own. Where the audit has a point about the same matter it is that point's key: what is accepted
        here is accepted there.
    text : str
        One sentence.
    hard : bool
        Whether nobody may do it all the same. What is not hard needs a reason, which is logged as "point accepted".
    since : int
        Number of the event that brought it about: what was accepted before that does not count.
    cost : str
        What it costs to come back later, in words; empty where it costs nothing or nobody knows.
    """

    key: str
    text: str
    hard: bool = False
    cost: str = ""
    since: int = 0


@dataclass(frozen=True)
class Asked:
    """An event that is about to be logged, and all that is known before it is."""

    state: JobState
    car: Car
    kind: str
    data: dict
    now: str
    plan: dict | None = None
    person: str = ""

    @cached_property
    def name(self) -> str:
        """What is moved; empty where nothing is."""
        return self.data["item"] if self.kind in ("item moved", *OFF, *ON) else ""

    @cached_property
    def described(self) -> Described | None:
        """The same as the area has it."""
        return self.car.items.get(self.name)

    @cached_property
    def item(self) -> Item | None:
        """What is known of it, where it is counted in no pieces."""
        return self.state.items.get(self.name)

    @cached_property
    def group(self) -> Group | None:
        """What is known of it, where it is a group of fasteners."""
        return self.state.groups.get(self.name)

    @cached_property
    def level(self) -> int:
        """How far out an item is to end; what the area does not know counts as all the way."""
        state = self.data.get("state", "")
        if self.described is None:
            return 0 if state in HOME else 1
        return self.described.states.index(state) if state in self.described.states else self.described.levels

    @property
    def goes_out(self) -> bool:
        """Whether something leaves its place."""
        if self.kind == "item moved":
            return self.level > (self.item.level if self.item else 0)
        return self.kind in OFF

    @property
    def comes_back(self) -> bool:
        """Whether something comes nearer to its place."""
        if self.kind == "item moved":
            return self.item is not None and self.level < self.item.level
        return self.kind in ON

    @property
    def comes_home(self) -> bool:
        """Whether something other than fasteners ends where it belongs."""
        return self.kind == "item moved" and self.comes_back and self.level == 0


def listed(names) -> str:
    """Names in a sentence.

    Parameters
    ----------
    names : iterable of str
    """
    *first, last = list(names)
    return f"{', '.join(first)} and {last}" if first else last
