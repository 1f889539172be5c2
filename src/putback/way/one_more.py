"""What one more tool, one more piece of equipment or one more certificate would save."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from putback.area.tools import BARE_HANDS
from putback.errors import NoWay
from putback.way.from_area_missing import Missing, having
from putback.way.from_area_shop import CERTIFICATE, TOOL, Lack, by_name, lack_of
from putback.way.sheet import Sheet, sheet_of
from putback.way.stopwatch import Stopwatch
from putback.way.task import Task

WORTH_SAYING = Fraction(1)  # cent; a saving below that is none


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
    found = [one for lack in _lacks(task) if (one := _saving(task, best, lack, watch)) is not None]
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
    return Saving(lack, sheet, saves) if saves >= WORTH_SAYING else None


def _lacks(task: Task) -> list[Lack]:
    """Everything that some way asks for, or could be done with, and the shop has not got."""
    missing = Missing(task.area, task.shop, task.targets, task.state, task.options.get("avoid", ()))
    return sorted(dict.fromkeys(_asked(missing, task)), key=by_name)


def _asked(missing: Missing, task: Task) -> Iterator[Lack]:
    shop = task.shop
    for offer in missing.offers:
        yield from (Lack(TOOL, tool) for one in offer.path.tools for tool in one if tool not in (*shop.tools, BARE_HANDS))
        yield from (Lack(CERTIFICATE, name) for name in offer.path.certificates if name not in shop.certificates)
        for demand in (*offer.path.equipment, *offer.step.holds):
            yield from (lack_of(one) for one in demand.offers if not shop.has(one))
        due = [task.area.follow_ups[name] for name in offer.path.follow_ups]
        yield from (lack_of(one) for follow in due for demand in follow.equipment for one in demand.offers if not shop.has(one))
    yield from (lack_of(one) for raising in shop.raising for one in raising.holds if not shop.has(one))
