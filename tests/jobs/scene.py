"""What is left out or done wrong on purpose, each in the true course of the work, with what the audit must say of it.

An omission is a function of the course that changes it and tells which points must be named; None where the course has
nothing for it. No two omissions meet in one thing, so that none hides another.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from random import Random

from jobs.acts import ON, Act, Course

Named = tuple[str, str]  # kind of the point, and the item that it names


@dataclass
class Record:
    """One omission.

    Attributes
    ----------
    kind : str
    item : str
    must : list of set
        Of each set at least one point has to bar the hand-over.
    may : set
        What follows from it and may bar as well.
    """

    kind: str
    item: str
    must: list[set[Named]]
    may: set[Named] = field(default_factory=set)

    @property
    def allowed(self) -> set[Named]:
        """All points that have their cause in it."""
        return set().union(self.may, *self.must)


class Scene:
    """A course in which things are left out."""

    def __init__(self, course: Course, rng: Random):
        self.course, self.rng, self.busy = course, rng, set()

    def take(self, *items: str) -> bool:
        """Keep things for one omission; False where another has one of them."""
        if self.busy & set(items):
            return False
        self.busy |= set(items)
        return True

    def act(self, wanted: Callable[[Act], bool], *does: str) -> Act | None:
        """Any act of a kind on a thing that no other omission has; the thing is taken."""
        fit = [act for act in self.course.acts if act.does in does and act.item not in self.busy and wanted(act)]
        chosen = self.rng.choice(fit) if fit else None
        if chosen:
            self.busy.add(chosen.item)
        return chosen

    def closing(self, wanted: Callable[[Act], bool] = lambda act: True) -> Act | None:
        """The last closing of a group that is closed as it should be."""
        return self.act(lambda act: act.closing.evidence != "by feel" and self.is_last(act) and wanted(act), ON)

    def is_last(self, act: Act) -> bool:
        return self.course.of(act.item)[-1] is act

    def drop(self, *acts: Act) -> None:
        gone = {id(act) for act in acts}
        self.course.acts = [act for act in self.course.acts if id(act) not in gone]

    def after(self, act: Act, *acts: Act) -> None:
        place = self.course.index(act) + 1
        self.course.acts[place:place] = acts

    def before(self, act: Act, *acts: Act) -> None:
        place = self.course.index(act)
        self.course.acts[place:place] = acts


Omission = Callable[[Scene], Record | None]
OMISSIONS: dict[str, Omission] = {}


def omission(kind: str):
    """Enter a function under the words for what is left out."""

    def enter(maker: Omission) -> Omission:
        OMISSIONS[kind] = maker
        return maker

    return enter


def record(item: str, *kinds: str, may: Iterable[Named] = ()) -> Record:
    """One point of one of these kinds has to name the item; all of them may."""
    return Record("", item, [{(kind, item) for kind in kinds}], set(may))
