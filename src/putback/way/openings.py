"""What a shop would have to get for a way to open, and which way it would be."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations, groupby

from putback.errors import NotYet, NoWay
from putback.way.from_area_missing import MOST, Chosen, Missing, having
from putback.way.from_area_shop import EQUIPMENT, Lack, by_name
from putback.way.sheet import Sheet, sheet_of
from putback.way.stopwatch import Stopwatch
from putback.way.task import Task


@dataclass(frozen=True)
class Opening:
    """A set of things, and the cheapest plan of the shop that has them as well; None if there was no time for one."""

    lacks: Chosen
    sheet: Sheet | None


def openings(
    task: Task, *, clock: Callable[[], float] | None = None, seconds: float | None = None
) -> list[Opening]:
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
        All of the fewest kinds of things that open one: the one with the cheapest way first, equals by name.
    """
    watch = Stopwatch(clock, seconds)
    for _, sets in groupby(_sets(task), key=len):
        found = [one for lacks in sets if (one := _opening(task, lacks, watch)) is not None]
        if found:
            return sorted(found, key=_by_worth)
    return []


def _by_worth(one: Opening) -> tuple:
    return one.sheet is None, one.sheet.worth if one.sheet else 0, [by_name(lack) for lack in one.lacks]


def _opening(task: Task, lacks: Chosen, watch: Stopwatch) -> Opening | None:
    other = task.with_shop(having(task.shop, lacks))
    try:
        return Opening(lacks, sheet_of(other, watch.solve(other.told.core)))
    except NotYet:
        return Opening(lacks, None)
    except NoWay:
        return None


def _sets(task: Task) -> Iterator[Chosen]:
    """Sets worth a plan, the smallest first.

    Where everything can be reached but not all at once, there is too little of something: one more of it is tried.
    """
    missing = Missing(task.area, task.shop, task.targets, task.state, task.options.get("avoid", ()))
    for lacks in missing.sets(missing.reaches):
        if lacks:
            yield lacks
        else:
            more = sorted(_one_more(missing, task), key=by_name)
            yield from (one for size in range(1, MOST) for one in combinations(more, size))


def _one_more(missing: Missing, task: Task) -> set[Lack]:
    """One more of each piece of equipment that the shop has, and that some way asks for."""
    demands = [demand for offer in missing.offers for demand in (*offer.path.equipment, *offer.step.holds)]
    asked = {one for demand in demands for one in demand.offers}
    asked |= {one for raising in task.shop.raising for one in (*raising.holds, *raising.moving)}
    return {Lack(EQUIPMENT, one.name, one.count, one.rating) for one in asked if task.shop.has(one)}
