"""What one more tool, one more piece of equipment or one more certificate would save."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from putback.errors import NoWay
from putback.way.asked_for import lacking
from putback.way.from_area_missing import having
from putback.way.from_area_shop import Lack, by_name
from putback.way.sheet import Sheet, sheet_of
from putback.way.stopwatch import Stopwatch
from putback.way.task import Task

A_CENT, A_TENTH = Fraction(1), Fraction(1, 20)  # what a saving must come to: it shows as 0.01, or as 0.1 min


@dataclass(frozen=True)
class Saving:
    """One thing that the shop lacks, the cheapest plan with it, and what that saves (cents, or minutes)."""

    lack: Lack
    sheet: Sheet
    saves: Fraction


def savings(
    task: Task, best: Sheet, *, clock: Callable[[], float] | None = None, seconds: float | None = None
) -> list[Saving]:
    """Every single thing that would make the job cheaper than it is, the one that saves most first.

    Parameters
    ----------
    task : Task
    best : Sheet
        Its cheapest plan.
    clock : callable, optional
        Tells seconds; needed with ``seconds``.
    seconds : float, optional
        Time for all of them together; what is not looked at in that time is left out.
    """
    watch = Stopwatch(clock, seconds)
    found = [one for lack in lacking(task, task.missing()) if (one := _saving(task, best, lack, watch)) is not None]
    return sorted(found, key=lambda one: (-one.saves, by_name(one.lack)))


def _saving(task: Task, best: Sheet, lack: Lack, watch: Stopwatch) -> Saving | None:
    other = task.with_shop(having(task.shop, [lack]))
    if other.told.core == task.told.core:
        return None
    try:
        sheet = sheet_of(other, watch.solve(other.told.core, ceil(best.worth * other.per_worth)))
    except NoWay:
        return None
    saves = best.worth - sheet.worth
    return Saving(lack, sheet, saves) if saves >= (A_CENT if best.saves_money else A_TENTH) else None
