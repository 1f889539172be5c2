"""The cheapest way in and the way back, from what people give to what they read.

    sheet = plan_way(area, shop, ["alternator"], clock=time.perf_counter, seconds=10)
"""

from collections.abc import Callable, Iterable

from putback.area.model import Area
from putback.area.shop_file import Shop
from putback.area.state_file import State
from putback.errors import NoWay
from putback.way.from_area import MONEY
from putback.way.no_way import explained
from putback.way.sheet import Sheet, sheet_of
from putback.way.solve import solve_core
from putback.way.task import Task, make_task


def plan_way(
    area: Area,
    shop: Shop,
    targets: Iterable[str] = (),
    state: State | None = None,
    *,
    by: str = MONEY,
    clock: Callable[[], float] | None = None,
    seconds: float | None = None,
    nodes: int | None = None,
    **options,
) -> Sheet:
    """The cheapest way in and back for a shop, as a sheet to work from.

    Parameters
    ----------
    area, shop, targets, state, by
        As for :func:`putback.way.task.make_task`.
    clock, seconds, nodes
        As for :func:`putback.way.solve.solve_core`.
    options
        The others of :func:`putback.way.from_area.core_problem`: avoid, without, no_setup, no_overlap, rust.

    Raises
    ------
    InputError
        A target, a part to avoid or a thing to do without has a name that is not known.
    NoWay
        No way exists; it tells which operation is stuck and the smallest sets of things that would open one.
    """
    return plan(make_task(area, shop, targets, state, by=by, **options), clock=clock, seconds=seconds, nodes=nodes)


def plan(
    task: Task, *, clock: Callable[[], float] | None = None, seconds: float | None = None, nodes: int | None = None
) -> Sheet:
    """The cheapest plan of a task.

    Parameters
    ----------
    task : Task
    clock, seconds, nodes
        As for :func:`putback.way.solve.solve_core`.

    Raises
    ------
    NoWay
        As for :func:`plan_way`.
    """
    try:
        solved = solve_core(task.told.core, clock=clock, seconds=seconds, nodes=nodes)
    except NoWay as no_way:
        raise explained(no_way, task, clock=clock, seconds=seconds) from None
    return sheet_of(task, solved)
