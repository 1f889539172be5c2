"""What a shop would have to get for a way to open, and which way it would be."""

from collections.abc import Callable
from dataclasses import dataclass

from putback.errors import NotYet, NoWay
from putback.way.asked_for import lacking, owned, taken
from putback.way.from_area_missing import MOST, Chosen, having, together
from putback.way.from_area_shop import by_name
from putback.way.sheet import Sheet, sheet_of
from putback.way.stopwatch import Stopwatch
from putback.way.task import Task


@dataclass(frozen=True)
class Opening:
    """A set of things, and the cheapest plan of the shop that has them as well; None if there was no time for one."""

    lacks: Chosen
    sheet: Sheet | None


def openings(task: Task, *, clock: Callable[[], float] | None = None, seconds: float | None = None) -> list[Opening]:
    """The smallest sets of things that would open a way where there is none.

    Parameters
    ----------
    task : Task
        A job that cannot be done with what there is.
    clock : callable, optional
        Tells seconds; needed with ``seconds``.
    seconds : float, optional
        Time for all plans together.

    Returns
    -------
    found : list of Opening
        All of the fewest kinds of things that open one: the one with the cheapest way first, equals by name. Where
        more than `MOST` kinds are lacking, one alone: all that the cheapest way of a shop that lacks nothing takes.
    """
    return _Openings(task, Stopwatch(clock, seconds)).smallest()


class _Openings:
    """Looks for the smallest sets with which a whole plan can be made.

    A set with which everything can be reached may still not do, where something is needed twice at once and is there
    only once. Then it is tried with one thing more.
    """

    def __init__(self, task: Task, watch: Stopwatch):
        self.task, self.watch = task, watch
        missing = task.missing()
        self.reaching = list(missing.sets(missing.reaches))
        self.lacking = lacking(task, missing)
        self.more = [*self.lacking, *owned(task, missing)]

    def smallest(self) -> list[Opening]:
        failed: list[Chosen] = [()] if () in self.reaching else []
        for size in range(1, MOST + 1):
            enough = [lacks for lacks in self.reaching if len(lacks) == size]
            found = {lacks: self._opening(lacks, surely=True) for lacks in enough}
            found |= {lacks: self._opening(lacks, surely=False) for lacks in self._larger(failed, enough)}
            if opened := [one for one in found.values() if one is not None]:
                return sorted(opened, key=_by_worth)
            failed = list(found)
        return self._of_the_cheapest_way()

    def _of_the_cheapest_way(self) -> list[Opening]:
        """What the cheapest way of all would take, where more is lacking than can be tried set by set."""
        everything = self._opening(tuple(self.lacking), surely=False) if self.lacking else None
        if everything is None:
            return []
        names = taken(everything.sheet)
        lacks = tuple(lack for lack in self.lacking if lack.name in names)
        return [one for one in [self._opening(lacks, surely=False)] if one is not None]

    def _larger(self, sets: list[Chosen], known: list[Chosen]) -> list[Chosen]:
        larger = (together(one, (lack,)) for one in sets for lack in self.more)
        return [one for one in dict.fromkeys(larger) if len(one) > len(sets[0]) and one not in known]

    def _opening(self, lacks: Chosen, surely: bool) -> Opening | None:
        """The plan with some things more; where time runs out first, what surely opens a way stands without one."""
        other = self.task.with_shop(having(self.task.shop, lacks))
        try:
            return Opening(lacks, sheet_of(other, self.watch.solve(other.told.core)))
        except NotYet:
            return Opening(lacks, None) if surely else None
        except NoWay:
            return None


def _by_worth(one: Opening) -> tuple:
    return one.sheet is None, one.sheet.worth if one.sheet else 0, [by_name(lack) for lack in one.lacks]
