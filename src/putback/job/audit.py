"""Is anything left over? Everything that stands open on a job, each in one sentence.

    points = audit(state, area, shop)
    [point for point in points if bars(point)]

The audit reads nothing but the state: what the plan was does not matter, what happened does.
"""

from collections.abc import Callable, Iterator

from putback.area.model import Area
from putback.area.shop_file import Shop
from putback.job.audit_fasteners import fastener_points
from putback.job.audit_items import item_points
from putback.job.audit_people import people_points
from putback.job.audit_work import work_points
from putback.job.car import Car
from putback.job.points import ASK, REMARK, STOP, Point
from putback.job.state import JobState

_CHECKS: tuple[Callable[[JobState, Car], Iterator[Point]], ...] = (
    people_points,
    item_points,
    fastener_points,
    work_points,
)


def audit(state: JobState, area: Area | None = None, shop: Shop | None = None) -> list[Point]:
    """All open points of a job, those that bar the hand-over first.

    Parameters
    ----------
    state : JobState
    area : Area, optional
        The frozen copy that the job was opened with.
    shop : Shop, optional
        The same, for its wrenches.

    Returns
    -------
    points : list of Point
        A point that somebody has accepted comes as a remark with his name and reason.
    """
    car = Car(area, shop, state.variants)
    found = [_accepted(point, state) for check in _CHECKS for point in check(state, car)]
    return sorted(found, key=lambda point: (STOP, ASK, REMARK).index(point.weight))


def bars(point: Point) -> bool:
    """Whether a point bars the hand-over.

    Parameters
    ----------
    point : Point
    """
    return point.weight != REMARK


def _accepted(point: Point, state: JobState) -> Point:
    """A point taken on by name is a remark; what bars whatever anybody says stays as it is."""
    taken = state.accepted.get(point.key)
    if taken is None or point.weight != ASK or taken["number"] < _changed(point.item, state):
        return point
    text = f"{point.text}; accepted by {taken['by']}: {taken['reason']}"
    return Point(point.key, point.kind, point.item, text, REMARK)


def _changed(name: str, state: JobState) -> int:
    """Number of the event by which a thing was last opened, filled, drained or swapped, which is accepted anew."""
    things = (state.items.get(name), state.groups.get(name))
    left = [thing.left for thing in things if thing]
    return max(0, *left, state.poured.get(name, 0), state.swapped.get(name, 0))
