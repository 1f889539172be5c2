"""What a plan takes: tools, equipment and new parts, to be laid out before the first step."""

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction

from putback.area.model import OUT, Equipment, Fluid
from putback.area.tools import BARE_HANDS
from putback.way.sheet import Sheet, SheetStep


def tools(sheet: Sheet) -> list[str]:
    """Every tool of a plan, sorted by kind and size."""
    used = {tool for step in sheet.steps for tool in step_tools(step)}
    return sorted(used - {BARE_HANDS}, key=_by_kind)


def step_tools(step: SheetStep) -> tuple[str, ...]:
    """The tools of one step, the one in hand first."""
    if step.way is None:
        return ()
    in_hand = step.context.get("tool", BARE_HANDS)
    return step.way.tool_set(in_hand) or (in_hand,)


def equipment(sheet: Sheet) -> list[Equipment]:
    """All equipment of a plan, of each kind as many as are busy at once, and rated for the heaviest duty."""
    most: dict[str, Equipment] = {}
    for busy in _moments(sheet):
        for name, one in _added(busy).items():
            known = most.get(name, one)
            most[name] = Equipment(name, max(one.count, known.count), max(one.rating or 0, known.rating or 0) or None)
    return [most[name] for name in sorted(most)]


def new_parts(sheet: Sheet) -> list[tuple[str, Fraction, int]]:
    """What to have before the start, as (name, price in cents, number): new parts, one-time fasteners and spares."""
    swapped = sheet.targets if any(step.operation is None for step in sheet.steps) else ()
    parts = [(target.name.name, target.new, 1) for target in sheet.area.targets if target.name.name in swapped]
    parts += [(part.name, part.price, part.count) for part in sheet.area.always_new]
    used = [part for step in sheet.steps if step.operation for part in step.operation.uses_up]
    parts += [(part.name, part.price, part.count) for part in used]
    return _together(parts)


def fluids(sheet: Sheet) -> list[Fluid]:
    """What is filled in again, and how much of it."""
    amounts: dict[str, Fluid] = {}
    for one in (step.operation.fluid for step in sheet.steps if step.operation and step.operation.fluid):
        known = amounts.get(one.name, Fluid(one.name, Fraction(0), Fraction(0)))
        amounts[one.name] = Fluid(one.name, known.litres + one.litres, known.price + one.price)
    return list(amounts.values())


def _together(parts: Iterable[tuple[str, Fraction, int]]) -> list[tuple[str, Fraction, int]]:
    counts: dict[tuple[str, Fraction], int] = {}
    for name, price, count in parts:
        counts[name, price] = counts.get((name, price), 0) + count
    return [(name, price, count) for (name, price), count in counts.items()]


def _moments(sheet: Sheet) -> Iterator[list[Equipment]]:
    """What is busy before and during each step."""
    standing: dict[str, tuple[Equipment, ...]] = {}
    raising = {one.posture: one for one in sheet.shop.raising}
    for step in sheet.steps:
        raised = raising.get(step.context.get("posture", ""))
        held = [one for holds in standing.values() for one in holds] + list(raised.holds if raised else ())
        if raised and "posture" in step.changes:
            yield [*held, *raised.moving]
        if step.operation is None or step.way is None:
            continue
        if step.operation.direction == OUT:
            standing[step.operation.item] = step.operation.holds
        held += step.operation.holds if step.operation.direction == OUT else ()
        yield [*held, *step.way.equipment]
        if step.operation.direction != OUT:
            standing.pop(step.operation.item, None)


def _added(busy: Iterable[Equipment]) -> dict[str, Equipment]:
    """Equipment of one kind together: the counts added, the heaviest rating."""
    found: dict[str, Equipment] = {}
    for one in busy:
        known = found.get(one.name, Equipment(one.name, 0))
        found[one.name] = Equipment(one.name, known.count + one.count, max(known.rating or 0, one.rating or 0) or None)
    return found


def _by_kind(tool: str) -> tuple[str, float, str]:
    """Sorts "8 mm socket" before "10 mm socket", and both after "3 mm hex key"."""
    found = re.search(r"\d+(\.\d+)?", tool)
    return re.sub(r"\d+(\.\d+)?", "", tool).strip(), float(found[0]) if found else 0.0, tool
