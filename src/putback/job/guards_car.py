"""What speaks against moving the car or starting its engine."""

from collections.abc import Iterator

from putback.area.model import BELT, MARKS, ON_THE_GROUND, PUT_IN
from putback.job.asked import Asked, Stop, listed
from putback.job.audit_work import work_points
from putback.job.fold import minutes_between
from putback.job.needs import SUPPORTED, secured_by, tags
from putback.job.refit import part_of
from putback.job.running_gear import carries, is_wheel
from putback.job.state import Group, Item

TESTS = ("cranking test", "charging test", "compression test", "leak check", "noise check", "smoke check")
JUST_NOW = 1.0  # minutes for which it counts that everybody is clear (common practice, no source)
FOR_A_TEST = (
    f"only for a {', '.join(TESTS[:-1])} or {TESTS[-1]}, and when all have said within the last minute that they are clear"
)
FLAT = 12.4  # volts at rest below which a battery is charged before the engine is cranked (common practice, no source)


def car_stops(asked: Asked) -> Iterator[Stop]:
    """Everything about lifting, lowering and starting.

    Parameters
    ----------
    asked : Asked
    """
    if asked.kind == "car moved":
        yield from _under(asked, "the car does not move")
        yield from _hanging(asked)
        if asked.data["posture"] == ON_THE_GROUND:
            yield from _not_down_yet(asked)
    if asked.kind == "engine ran" and asked.data["what"] == "started":
        yield from _under(asked, "nobody starts the engine")
        yield from _moving_parts(asked)
        yield from _left_in(asked)
        yield from _open(asked)
        yield from _fluids_and_battery(asked)


def _under(asked: Asked, words: str) -> Iterator[Stop]:
    for who, since in asked.state.under.items():
        yield Stop(f"under: {who}", f"{who} is under the car since {since[11:16]} UTC: {words}", hard=True)


def _hanging(asked: Asked) -> Iterator[Stop]:
    """What hangs on a support while the car moves."""
    for item in asked.state.away():
        described = asked.car.items.get(item.name)
        if described is not None and SUPPORTED in tags(described, asked.car):
            supports = [one.name for one in secured_by(described, asked.car) if one.kind == PUT_IN]
            words = f"the {item.name} is {item.state} and hangs on the {listed(supports)}" if supports else ""
            if words:
                yield Stop(f"hanging: {item.name}", f"{words}: leave the car where it stands until it is back")


def _not_down_yet(asked: Asked) -> Iterator[Stop]:
    for item in asked.state.items.values():
        if not item.home and _keeps_raised(item, asked):
            yield Stop(f"raised: {item.name}", f"the {item.name} is in: the car stays up until it is out", hard=True)
    for ref in asked.car.area.stands_on if asked.car.area else ():
        for thing in _with_its_fasteners(ref.name, asked):
            words = f"the car stands on the {ref.name}, and the {thing.name} {_stand(thing)}: it does not come down"
            yield Stop(f"stands on: {ref.name}", words, hard=True)
    yield from _not_down_by_name(asked)


def _not_down_by_name(asked: Asked) -> Iterator[Stop]:
    """What no description tells of, by the words people use: without a wheel nobody lowers it, the rest is looked at."""
    for thing in (*asked.state.away(), *asked.state.open_groups()):
        words = f"{thing.name} {part_of(thing.name, asked.state, asked.car)}"
        rests = isinstance(thing, Group) and not thing.out  # run in by hand is enough to come down and tighten it
        if thing.name in asked.car.items or thing.name in asked.state.absent or rests or not carries(words):
            continue
        text = f"the car may stand on the {thing.name}, and it {_stand(thing).replace('are', 'is', 1)}"
        if is_wheel(words):
            text = f"the {thing.name} {_stand(thing)}: the car does not come down"
        yield Stop(f"stands on: {thing.name}", text, hard=is_wheel(words), since=thing.left)


def _keeps_raised(item: Item, asked: Asked) -> bool:
    described = asked.car.items.get(item.name)
    if described is None or described.kind != PUT_IN:
        return False
    taken = [way for way in described.ways if way.name in item.ways[-1:]]
    return described.base.keeps_raised or any(way.keeps_raised for way in taken or described.ways)


def _with_its_fasteners(part: str, asked: Asked) -> Iterator[Item | Group]:
    """What of a part and its fasteners is not in place; loose is enough for the wheels to stand on."""
    item = asked.state.items.get(part)
    if item is not None and not item.home:
        yield item
        return
    for own in asked.car.area.belonging_to(part):
        group = asked.state.groups.get(own.name)
        if own.fastener and group is not None and group.out:
            yield group


def _stand(thing: Item | Group) -> str:
    return f"is {thing.state}" if isinstance(thing, Item) else f"are out ({thing.out} of {thing.total})"


def _is_a_test(asked: Asked) -> bool:
    """Whether it is started for one of the named tests, and everybody has said that he is clear, just now."""
    return asked.data.get("why", "").strip().casefold() in TESTS and _all_clear(asked)


def _all_clear(asked: Asked) -> bool:
    said = list(asked.state.clear_at.values())
    return bool(said) and all(at and minutes_between(at, asked.now) <= JUST_NOW for at in said)


def _moving_parts(asked: Asked) -> Iterator[Stop]:
    """Belts, and things put in that would be thrown or torn."""
    hard = not _is_a_test(asked)
    for item in asked.state.items.values():
        words = f"the {item.name} is {item.state}: the engine is not started{f'; {FOR_A_TEST}' if hard else ''}"
        if item.home:
            yield from _ribs(item, asked)
        elif _is_a_belt(item, asked):
            yield Stop(f"belt: {item.name}", words, hard)
        elif asked.car.kind(item.name) == PUT_IN:
            yield Stop(f"put in: {item.name}", words, hard)
        elif _carries(item, asked):
            yield Stop(f"hanging: {item.name}", f"the {item.name} is {item.state}: the engine is not started", hard=True)


def _ribs(item: Item, asked: Asked) -> Iterator[Stop]:
    if item.left and not item.confirmed and _is_a_belt(item, asked):
        words = f"the {item.name} is on, and nobody has said that every rib is in its groove"
        yield Stop(f"ribs: {item.name}", words)


def _is_a_belt(item: Item, asked: Asked) -> bool:
    return asked.car.kind(item.name) == BELT or (not item.described and "belt" in item.name.casefold().split())


def _carries(item: Item, asked: Asked) -> bool:
    return item.name in asked.car.items and SUPPORTED in tags(asked.car.items[item.name], asked.car)


def _left_in(asked: Asked) -> Iterator[Stop]:
    for (what, name, where), count in asked.state.things.items():
        if count > 0:
            words = f"{count} x {name} ({what}) still at {where}: all of it comes out before the engine starts"
            yield Stop(f"left in: {what}, {name}, {where}", words, hard=not _is_a_test(asked))


def _open(asked: Asked) -> Iterator[Stop]:
    """All else that is not back, in one sentence."""
    items = [item.name for item in asked.state.away() if asked.car.kind(item.name) not in (BELT, PUT_IN)]
    groups = [group.name for group in asked.state.open_groups()]
    names = [name for name in (*items, *groups) if name not in asked.state.absent and asked.car.kind(name) != MARKS]
    if names:
        more = f" and {len(names) - 5} more" if len(names) > 5 else ""
        yield Stop("open", f"not back and tight: {', '.join(names[:5])}{more}; look at each before the engine starts")


def _fluids_and_battery(asked: Asked) -> Iterator[Stop]:
    for point in work_points(asked.state, asked.car):
        if point.kind == "fluid":
            yield Stop(point.key, f"{point.text}; before the engine starts")
    rest = [one for one in asked.state.readings if _is_at_rest(one.what) and one.unit == "V" and not one.word]
    if rest and rest[-1].value < FLAT:
        last = rest[-1]
        yield Stop("battery flat", f"{last.what}: {last.value:g} V, under {FLAT:g} V; charge it before it cranks")


def _is_at_rest(what: str) -> bool:
    return "battery" in what.casefold() and "rest" in what.casefold()
