"""What speaks against putting something back: the last chance to see what it hides, and what it would make live."""

from collections.abc import Iterator

from putback.area.model import MARKS, PUT_IN, Item
from putback.job.asked import Asked, Stop
from putback.job.audit import audit, bars
from putback.job.car import Car
from putback.job.coming_back import coming_back
from putback.job.needs import behind, owner_of
from putback.job.points import Point
from putback.job.refit import left, part_of
from putback.job.state import JobState
from putback.job.things import may_cover


def back_stops(asked: Asked) -> Iterator[Stop]:
    """Everything about a thing that is about to come back.

    Parameters
    ----------
    asked : Asked
    """
    if asked.comes_back:
        yield from _still_holding(asked)
    if asked.comes_home and asked.car.kind(asked.name) not in (PUT_IN, MARKS):
        yield from _hidden(asked)
        yield from _things(asked)
    if asked.comes_home or (asked.comes_back and asked.described is None):
        yield from _later_off(asked)


def _still_holding(asked: Asked) -> Iterator[Stop]:
    """A support comes out only when what it secures is back and tight."""
    if asked.described is None or asked.described.kind != PUT_IN:
        return
    for ref in asked.described.secures:
        names = [ref.name, *(own.name for own in asked.car.area.belonging_to(ref.name) if own.fastener)]
        if open_ones := [name for name in names if _is_open(name, asked)]:
            words = f"{asked.name}: it holds the {ref.name}, which is not back and tight: {', '.join(open_ones)}"
            yield Stop(f"support: {ref.name}, {asked.name}", words, hard=True)


def _is_open(name: str, asked: Asked) -> bool:
    item, group = asked.state.items.get(name), asked.state.groups.get(name)
    if name in asked.state.absent:
        return False
    if group is not None:
        fastener = asked.car.fastener(name)
        return bool(group.out or (group.hand_tight and not (fastener and fastener.on_the_ground)))
    return item is not None and not item.home


def _hidden(asked: Asked) -> Iterator[Stop]:
    """What would lie behind it and is not home, or not known to be as it should be."""
    if asked.described is None:
        return
    cost = coming_back(asked.described, asked.car)
    for point in audit(asked.state, asked.car.area, asked.car.shop):
        if (point.reach or point.kind == "hold point") and bars(point) and _hides(asked.described, point, asked):
            words = f"last chance before the {asked.name} is on: {point.text}"
            yield Stop(f"hidden: {point.item}", words, cost=cost, since=left(point.item, asked.state))


def _hides(cover: Item, point: Point, asked: Asked) -> bool:
    hidden = asked.car.items.get(point.item)
    if hidden is None or cover.name in (hidden.name, hidden.owner):
        return False
    if _waits_for_the_ground(point, hidden) or _rides(hidden, asked):
        return False
    item = asked.state.items.get(hidden.owner or hidden.name)
    way = item.ways[-1] if item and item.ways else ""
    return any(need.item == cover.name for need in behind(hidden, asked.car, way))


def _waits_for_the_ground(point: Point, hidden: Item) -> bool:
    """Whether it is tight enough until the wheels are on the ground."""
    return point.kind == "loose" and hidden.fastener is not None and hidden.fastener.on_the_ground


def _rides(hidden: Item, asked: Asked) -> bool:
    owner = owner_of(hidden, asked.car)
    carrier = hidden.rides_on or (owner.rides_on if owner else None)
    item = asked.state.items.get(carrier.name) if carrier else None
    return item is not None and not item.home


def _things(asked: Asked) -> Iterator[Stop]:
    """Caps, rags and tools under what is about to cover them."""
    for (what, name, where), count in asked.state.things.items():
        if count > 0 and may_cover(asked.name, (what, name, where), asked.state, asked.car):
            words = f"take out before the {asked.name} is on: {count} x {name} ({what}), {where}"
            yield Stop(f"left in: {what}, {name}, {where}", words)


def _later_off(asked: Asked) -> Iterator[Stop]:
    """Where no description says what lies behind: whatever came off later and is still off may do so."""
    state, car, mine = asked.state, asked.car, left(asked.name, asked.state)
    for name in _away(state):
        is_known = name in car.items and asked.described is not None
        if not is_known and 0 < mine < left(name, state) and _may_lie_behind(name, asked.name, state, car):
            words = f"{asked.name}: the {name} came off after it, may lie behind it, and is still off"
            yield Stop(f"behind: {name}", words, since=left(name, state))


def _away(state: JobState) -> list[str]:
    return [*(item.name for item in state.away()), *(group.name for group in state.open_groups())]


def _may_lie_behind(name: str, cover: str, state: JobState, car: Car) -> bool:
    return car.kind(name) not in (PUT_IN, MARKS) and name not in state.absent and part_of(name, state, car) != cover
