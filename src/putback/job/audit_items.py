"""Open points of parts, plugs, cables, belts and lines, and of things put in for the work."""

from collections.abc import Iterator

from putback.area.called import is_connection
from putback.area.model import MARKS, PLUG, PUT_IN
from putback.job.car import Car
from putback.job.points import ASK, REMARK, Point
from putback.job.state import Item, JobState


def item_points(state: JobState, car: Car) -> Iterator[Point]:
    """Everything that is not where it belongs, and what came back without all that belongs to it.

    Parameters
    ----------
    state : JobState
    car : Car
    """
    for item in state.items.values():
        if item.name not in state.absent and car.kind(item.name) != MARKS:
            yield from _of_item(item, car)
    yield from _things(state)
    yield from _differences(state)


def _of_item(item: Item, car: Car) -> Iterator[Point]:
    if not item.home:
        yield Point(f"away: {item.name}", "away", item.name, _away(item, car), reach=True)
        return
    if item.left and is_plug(item, car) and not item.confirmed:
        words = f"{item.name}: plugged in, but nobody has said that it clicked or held when pulled"
        yield Point(f"not confirmed: {item.name}", "not confirmed", item.name, words, ASK, reach=True)
    yield from _new_parts(item, car)


def _away(item: Item, car: Car) -> str:
    if car.kind(item.name) == PUT_IN:
        return f"{item.name}: still in"
    if item.name in car.items:
        return f"{item.name}: {item.state}, not {car.items[item.name].states[0]}"
    return f"{item.name}: {item.state}, and never back"


def is_plug(item: Item, car: Car) -> bool:
    """Whether an item is something that must click: by its kind, or by what it and its states are called.

    Parameters
    ----------
    item : Item
    car : Car
    """
    said = "plugged" in item.state or "plugged" in item.away or is_connection(item.name)
    return car.kind(item.name) == PLUG or (said and not item.described)


def _new_parts(item: Item, car: Car) -> Iterator[Point]:
    described = car.items.get(item.name)
    if described is None or not item.returned:
        return
    for part in described.new_parts:
        if part.name not in item.new_parts:
            words = f"{item.name}: back, but no new {part.name} logged"
            yield Point(f"no new part: {item.name}, {part.name}", "no new part", item.name, words, ASK, reach=True)


def _things(state: JobState) -> Iterator[Point]:
    for (what, name, where), count in state.things.items():
        if count > 0:
            words = f"{count} x {name} ({what}) put in at {where} and not taken out"
            yield Point(f"left in: {what}, {name}, {where}", "left in", name, words)
        elif count < 0:
            words = f"{-count} more {name} ({what}) taken out at {where} than were put in; count once more"
            yield Point(f"left in: {what}, {name}, {where}", "left in", name, words, ASK)


def _differences(state: JobState) -> Iterator[Point]:
    for found in state.differences:
        key = f"{found.what}: {found.item}"
        note = f" ({found.note})" if found.note else ""
        if found.what in ("seized", "broken") and not found.settled:
            words = f"{found.item}: {found.what}{note}, and nobody has said how it was put right"
            yield Point(key, found.what, found.item, words, ASK)
        elif found.what in ("seized", "broken"):
            yield Point(key, found.what, found.item, f"{found.item}: {found.what}{note}; {found.settled}", REMARK)
        elif found.what != "wrong part":
            yield Point(key, found.what, found.item, f"{found.item}: {found.what}{note}", REMARK)
    for part, note in state.wrong.items():
        words = f"{part}: found to be the wrong part{f' ({note})' if note else ''}, and no right one logged"
        yield Point(f"wrong part: {part}", "wrong part", part, words)
