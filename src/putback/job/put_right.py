"""What the audit would still hold against a hand-over, as steps: the last ones before it."""

from collections.abc import Iterable, Iterator

from putback.area.model import BACK, FASTENERS
from putback.job.car import Car
from putback.job.closing import CLICKED, Move, evidence
from putback.job.points import ASK, Point
from putback.job.state import CLOSED, JobState
from putback.job.step import AFTER, Said, Step

# Kinds of points that other steps put right already.
_ELSEWHERE = (
    "out", "loose", "away", "left in", "not swapped", "not done", "owed", "raised", "paused", "handed on",
    "not confirmed again", "no consent", "hold point",
)  # fmt: skip
_AGAIN = ("assumed", "torque", "angle", "passes", "pattern", "order", "on the ground")  # gone over once more
_ASKS = {
    "seized": "difference settled", "broken": "difference settled", "wrong part": "difference settled",
    "failing": "reading taken", "not read again": "reading taken", "not compared": "part compared",
    "mismatch": "part compared", "fluid": "fluid filled", "unheard": "note heard",
}  # fmt: skip


def put_right(points: Iterable[Point], steps: Iterable[Step], state: JobState, car: Car) -> Iterator[Step]:
    """Steps for the points that no other step puts right.

    Parameters
    ----------
    points : iterable of Point
        Those that bar the hand-over.
    steps : iterable of Step
        What is to be done anyway; a point is no step of its own while its item is still to be moved.
    state : JobState
    car : Car
    """
    to_come = {step.item for step in steps if step.item}
    filled = {said.data["fluid"] for step in steps for said in step.closes if said.kind == "fluid filled"}
    for point in points:
        if point.kind not in _ELSEWHERE and point.item not in to_come and point.item not in filled:
            yield _step(point, state, car)


def _step(point: Point, state: JobState, car: Car) -> Step:
    closes = tuple(_closes(point, state, car))
    asks = "" if closes else _ASKS.get(point.kind, "point accepted" if point.weight == ASK else "note added")
    return Step(f"point: {point.key}", AFTER, f"put right: {point.text}", item=point.item, closes=closes, asks=asks)


def _closes(point: Point, state: JobState, car: Car) -> Iterator[Said]:
    """What one tap can say; everything else has to be said in full."""
    if point.kind == "under the car":
        yield Said("person came clear", {"who": point.item})
    elif point.kind == "not confirmed":
        yield Said("item moved", {"item": point.item, "state": state.items[point.item].state, "confirmed": CLICKED})
    elif point.kind in _AGAIN and car.kind(point.item) == FASTENERS and car.fastener(point.item).torque:
        if point.kind == "order":  # what is only gone over stays as it was
            count = state.groups[point.item].count(CLOSED)
            yield Said("fasteners loosened", {"item": point.item, "count": count})
        yield _once_more(point.item, state, car)


def _once_more(name: str, state: JobState, car: Car) -> Said:
    group = state.groups[name]
    move = Move(name, BACK, car.items[name].states[0])
    data = {"item": name, "count": group.count(CLOSED), **evidence(move, car.fastener(name), group.total, state)}
    return Said("fasteners tightened", data)
