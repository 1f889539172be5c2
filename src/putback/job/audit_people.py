"""Open points of people and the car itself: who is under it, how it stands, who has to confirm, what contradicts."""

from collections.abc import Iterator

from putback.area.model import ON_THE_GROUND
from putback.job.car import Car
from putback.job.points import ASK, REMARK, Point
from putback.job.state import Conflict, JobState


def people_points(state: JobState, car: Car) -> Iterator[Point]:
    """Everything about people, and reports that cannot all be true.

    Parameters
    ----------
    state : JobState
    car : Car
    """
    for who, since in state.under.items():
        yield Point(f"under: {who}", "under the car", who, f"{who} is under the car since {since[11:16]} UTC")
    if state.posture not in (None, ON_THE_GROUND):
        yield Point("posture", "raised", "the car", f"the car is still {state.posture}")
    if state.paused:
        yield Point("paused", "paused", "the job", f"the job is paused since {state.paused[0][11:16]} UTC")
    if state.handed_to:
        words = f"{state.handed_to} has taken the job over and not confirmed yet what stands open"
        yield Point("handed on", "handed on", "the job", words)
    if state.unconfirmed:
        words = f"the last {len(state.unconfirmed)} steps before the pause have not been confirmed again"
        yield Point("not confirmed again", "not confirmed again", "the job", words)
    yield from (_conflict(one) for one in state.conflicts if not settled(one, state))
    yield from (Point(f"puzzle: {text}", "puzzle", "", text, REMARK) for text in state.puzzles)
    if state.after_signing:
        numbers = ", ".join(map(str, state.after_signing))
        yield Point("after signing", "after signing", "the job", f"logged after the signature: event {numbers}", ASK)


def settled(conflict: Conflict, state: JobState) -> bool:
    """Whether somebody has said something newer of the thing since, and nothing was said against it.

    Parameters
    ----------
    conflict : Conflict
    state : JobState
    """
    if state.said.get(conflict.item, 0) > max(conflict.numbers):
        return True
    thing = state.items.get(conflict.item) or state.groups.get(conflict.item)
    return thing is not None and thing.last is not None and thing.last.number > max(conflict.numbers)


def _conflict(conflict: Conflict) -> Point:
    key = f"conflict: {conflict.item}, {'+'.join(map(str, conflict.numbers))}"
    return Point(key, "conflict", conflict.item, f"{conflict.item}: {conflict.text}", ASK)
