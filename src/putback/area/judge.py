"""Whether an area makes sense by itself: every name leads somewhere, every hazard is met, minutes add up.

Torques are judged in `check.py` with the thread tables, and what can be reached by the room `way`.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from itertools import islice

from putback.area import late, needs
from putback.area.hazards import hazards
from putback.area.model import FASTENERS, MARKS, PUT_IN, Area, Item, Manner, Ref
from putback.area.spelling import nearest
from putback.errors import InputError


DEEPEST = 10  # "part of" a "part of" a ...; more is a slip of the pen


def findings(area: Area) -> Iterator[InputError]:
    """Everything that is wrong with the names and needs of an area."""
    yield from _of_the_file(area)
    for item in area.items.values():
        yield from _of_item(area, item)


def _of_the_file(area: Area) -> Iterator[InputError]:
    for ref in (*(target.name for target in area.targets), *area.stands_on, *([area.battery] if area.battery else [])):
        yield from _missing_item(area, ref)
    if not area.targets and "targets" not in area.spoilt:
        yield InputError("no target is named; say what is to be replaced, under targets", (area.file,))
    yield from _without_source(area)
    yield from late.findings(area)
    names = Counter(value for values in area.variants.values() for value in values)
    for name in sorted(name for name, count in names.items() if count > 1):
        yield InputError(f'two variants are called "{name}"; give each its own name', (area.file,))


def _without_source(area: Area) -> Iterator[InputError]:
    groups = [item for item in area.items.values() if item.fastener and item.fastener.torque]
    bare = [item for item in groups if not (item.fastener.source or area.figures_from)]
    if bare:
        more = f" and of {len(bare) - 1} more" if len(bare) > 1 else ""
        words = f'the torque of "{bare[0].name}"{more} names no source'
        yield InputError(f'{words}; add "source ..." to the line, or "figures from" to the file', bare[0].place)


def _of_item(area: Area, item: Item) -> Iterator[InputError]:
    yield from _names(area, item)
    yield from _safety(area, item)
    yield from _wholes(area, item)
    if not item.incomplete:
        yield from _how_it_is_done(area, item)
        yield from _figures(area, item)


# Names


def _names(area: Area, item: Item) -> Iterator[InputError]:
    for manner in _manners(item):
        yield from _of_manner(area, item, manner)
    for ref in (*item.loosen_while, *item.tighten_after):
        yield from _missing_need(area, item, ref)
    single = [ref for ref in (item.counted_in, item.rides_on) if ref is not None]
    for ref in (*item.secures, *item.covers, *item.marks, *item.holds, *single):
        yield from _missing_item(area, ref)
        if ref.name == item.name:
            yield InputError(f'"{item.name}" names itself; take it out', ref.place)
    for ref in item.covers:
        if ref.name in area.items and area.items[ref.name].kind in (PUT_IN, MARKS):
            yield InputError(f'"{ref.name}" is put in itself; name the part that "{item.name}" covers', ref.place)
    for ref in item.hazards:
        yield from _unknown(ref, hazards(), "a hazard that is known here")
    yield from _filled_too_late(area, item)


def _filled_too_late(area: Area, item: Item) -> Iterator[InputError]:
    filling = item.loses.filled_by if item.loses else None
    if filling is not None and filling.name in area.follow_ups and area.follow_ups[filling.name].at_hand_over:
        words = f'"{item.name}" is filled again before the engine starts, not at the hand-over'
        yield InputError(f'{words}; give "{filling.name}" its minutes', filling.place)


def _manners(item: Item) -> tuple[Manner, ...]:
    return (item.base, *item.ways, *([item.bench] if item.bench else []))


def _of_manner(area: Area, item: Item, manner: Manner) -> Iterator[InputError]:
    for ref in (*manner.behind, *manner.still):
        yield from _missing_need(area, item, ref)
    for ref in manner.follow_ups if "follow-ups" not in area.spoilt else ():
        yield from _unknown(ref, area.follow_ups, "one of the follow-ups of this file")
    for ref in manner.only if "variants" not in area.spoilt else ():
        yield from _unknown(ref, [value for values in area.variants.values() for value in values], "a variant")
    for ref in manner.stand.vantages if manner.stand and "work from" not in area.spoilt else ():
        yield from _unknown(ref, area.vantages, "a place to work from")


def _missing_need(area: Area, item: Item, ref: Ref) -> Iterator[InputError]:
    try:
        need = needs.find(area, ref)
    except InputError as error:
        yield error
        return
    if need.item == item.name and item.kind != FASTENERS:
        yield InputError(f'"{item.name}" waits for itself; take it out of its own list', ref.place)


def _missing_item(area: Area, ref: Ref) -> Iterator[InputError]:
    try:
        needs.find_item(area, ref)
    except InputError as error:
        yield error


def _unknown(ref: Ref, known, what: str) -> Iterator[InputError]:
    if ref.name in known:
        return
    near = nearest(ref.name, known)
    advice = f'did you mean "{near}"?' if near else f"there are: {', '.join(known) or 'none'}"
    yield InputError(f'"{ref.name}" is not {what}; {advice}', ref.place)


# Safety


def _safety(area: Area, item: Item) -> Iterator[InputError]:
    for ref in item.hazards:
        needed = hazards()[ref.name].needs if ref.name in hazards() else None
        if needed == "battery" and area.battery is None:
            words = f'"{item.name}" is {ref.name}, but the file names no battery to disconnect first'
            yield InputError(words, ref.place)
        if needed == "support" and not _is_secured(area, item):
            yield InputError(
                f'"{item.name}" is {ref.name}, but nothing that is put in secures it; name its support under "put in"',
                ref.place,
            )


def _is_secured(area: Area, item: Item) -> bool:
    names = {item.name, item.owner}
    return any(ref.name in names for other in area.items.values() for ref in other.secures)


# What it is part of, and what it rides on


def _wholes(area: Area, item: Item) -> Iterator[InputError]:
    for ref, key, above in ((item.counted_in, "part of", _whole), (item.rides_on, "rides on", _carrier)):
        chain = list(islice(_upwards(area, item, above), DEEPEST + 1)) if ref else []
        if len(chain) > DEEPEST:
            yield InputError(f'"{item.name}" stands more than {DEEPEST} times "{key}" deep; name the whole itself', ref.place)
        elif chain and above(chain[-1]) == item.name and all(item.place < one.place for one in chain):
            names = " and ".join(f'"{one.name}"' for one in (item, *chain))
            yield InputError(f'{names}: one "{key}" the other, in a circle; take one of them out', ref.place)


def _upwards(area: Area, item: Item, above: Callable[[Item], str | None]) -> Iterator[Item]:
    """What an item is in, what that is in, and so on, until it ends or begins anew."""
    seen = {item.name}
    while (name := above(item)) in area.items and name not in seen:
        seen.add(name)
        item = area.items[name]
        yield item


def _whole(item: Item) -> str | None:
    return item.owner or (item.counted_in.name if item.counted_in else None)


def _carrier(item: Item) -> str | None:
    return item.rides_on.name if item.rides_on else None


# How it is done


def _how_it_is_done(area: Area, item: Item) -> Iterator[InputError]:
    owner = area.items.get(item.owner) if item.owner else None
    stands = [item.base.stand, owner.base.stand if owner else None]
    told_of_the_owner = owner is not None and not item.ways
    if not (told_of_the_owner or any(stands) or (item.ways and all(way.stand for way in item.ways))):
        yield InputError(f'"{item.name}" does not say where it is done from; give it a "from"', item.place)
    if item.fastener is not None and item.fastener.thread is not None and not any(one.tools for one in _manners(item)):
        yield InputError(f'"{item.name}" names no tool; write its size, such as "10 mm" or "T25"', item.place)
    if item.rides_on is not None and "bench" not in area.vantages:
        yield InputError(f'"{item.name}" may be done at the bench; name "bench" under "work from"', item.rides_on.place)
    yield from _idle_wait(area, item)
    if item.kind in (PUT_IN, MARKS) and not (item.secures or item.covers or item.marks or _is_needed(area, item)):
        yield InputError(f'nothing needs "{item.name}"; say what it secures or covers', item.place)


def _idle_wait(area: Area, item: Item) -> Iterator[InputError]:
    """A waiting time runs until whatever needs the item out of the way; where nothing does, it would do nothing."""
    if item.wait and item.owner is None and not _is_waited_for(area, item):
        words = f'nothing waits after "{item.name}", for nothing needs it out of the way'
        yield InputError(f'{words}; name it under "behind" at what has to wait, or take its "wait after" out', item.place)


def _is_waited_for(area: Area, item: Item) -> bool:
    is_battery = area.battery is not None and area.battery.name == item.name
    live = [name for name, tag in hazards().items() if tag.needs == "battery"] if is_battery else []
    return any(
        any(ref.name in live for ref in other.hazards)
        or any(ref.name == item.name for ref in other.covers)
        or any(_names_fully(area, item, ref) for manner in _manners(other) for ref in manner.behind)
        for other in area.items.values()
    )


def _names_fully(area: Area, item: Item, ref: Ref) -> bool:
    """Whether a need means that the item is fully out of the way, or may mean it but for a slip of the pen."""
    if not ref.name.startswith(item.name):
        return False
    try:
        return needs.find(area, ref) == needs.Need(item.name, item.levels)
    except InputError:  # told where it stands
        return True


def _is_needed(area: Area, item: Item) -> bool:
    refs = (ref for other in area.items.values() for manner in _manners(other) for ref in manner.behind)
    return any(ref.name == item.name or ref.name.startswith(item.name + " ") for ref in refs)


# Figures


def _figures(area: Area, item: Item) -> Iterator[InputError]:
    if _whole(item) is None and not _tells_minutes(item):
        yield InputError(f'"{item.name}" has no minutes; write them as "{_example(item)}"', item.place)
    if item.minutes is not None and item.counted_in is not None:
        yield InputError(f'"{item.name}" has minutes of its own and is "part of" another; keep one of them', item.place)


def _tells_minutes(item: Item) -> bool:
    return item.incomplete or item.minutes is not None or bool(item.ways and all(way.minutes for way in item.ways))


def _example(item: Item) -> str:
    return "12 in, 6 out" if item.kind in (PUT_IN, MARKS) else "5 off, 7 on"
