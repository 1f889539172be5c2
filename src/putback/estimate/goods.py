"""What a plan uses up and what is given out, each with what the shop pays for it."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from putback.area.charges import CONSUMABLES, FASTENERS, FLUIDS, PARTS, SUBLETS
from putback.area.model import NewPart
from putback.estimate.words import fastener_words, litre_words
from putback.way.from_area_moves import offers
from putback.way.from_area_operation import Operation
from putback.way.sheet import Sheet
from putback.way.task import Task


@dataclass(frozen=True)
class Good:
    """So many of a thing.

    Attributes
    ----------
    name : str
    kind : str
        One of `putback.area.charges.GOODS`.
    count : int
    each : Fraction or None
        What the shop pays for one, in cents; None where nobody has said.
    about : str
        What it is: thread and kind of a fastener, litres of a fluid.
    litres : Fraction
        What runs out of a fluid, to be disposed of; 0 of anything else.
    """

    name: str
    kind: str
    count: int
    each: Fraction | None
    about: str = ""
    litres: Fraction = Fraction(0)


def goods(task: Task, sheet: Sheet, prices: Mapping[str, Fraction] | None = None) -> tuple[Good, ...]:
    """All that a plan takes: new parts first, then what is used up, then work that is given out.

    Parameters
    ----------
    task : Task
    sheet : Sheet
        A plan of that task.
    prices : mapping of str to Fraction, optional
        Prices of today in cents, by name, in place of those of the files.
    """
    used = list(_used_up(sheet))
    found = [*_targets(task, sheet, {good.name for good in used}), *used, *_sublets(sheet)]
    return tuple(replace(good, each=(prices or {}).get(good.name, good.each)) for good in _together(found))


def swapped(sheet: Sheet) -> tuple[str, ...]:
    """The parts that a plan replaces; none where they are replaced already.

    Parameters
    ----------
    sheet : Sheet
    """
    return sheet.targets if any(step.operation is None for step in sheet.steps) else ()


def _targets(task: Task, sheet: Sheet, used: set[str]) -> Iterator[Good]:
    prices = {target.name.name: target.new for target in sheet.area.targets}
    for name in swapped(sheet):
        if name in prices or name not in used:  # else its price stands where it is taken off
            yield Good(name, PARTS, 1, prices.get(name), sheet.area.items[name].about)
    broken = task.state.broken if task.state else None
    for name, price in (broken or {}).items():
        yield Good(name, PARTS, 1, price)


def _used_up(sheet: Sheet) -> Iterator[Good]:
    for part in sheet.area.always_new:
        yield Good(part.name, CONSUMABLES, part.count, part.price)
    for step in sheet.steps:
        if step.operation:
            yield from (_of_operation(step.operation, part) for part in step.operation.uses_up)
            if fluid := step.operation.fluid:
                yield Good(fluid.name, FLUIDS, 1, fluid.price or None, litre_words(fluid.litres), fluid.litres)


def _of_operation(operation: Operation, part: NewPart) -> Good:
    fastener = operation.fastener
    if fastener and fastener.one_time and part.name == operation.name:
        price = None if fastener.price is None else part.price
        return Good(part.name, FASTENERS, part.count, price, fastener_words(fastener))
    kind = PARTS if part.name == operation.name else CONSUMABLES
    return Good(part.name, kind, part.count, part.price)


def _sublets(sheet: Sheet) -> Iterator[Good]:
    """Follow-ups that are cheaper given out, or that the shop cannot do itself."""
    for name, _ in sheet.due:
        found, _ = offers(sheet.area.follow_ups[name], sheet.shop)
        cheapest = min(found, key=lambda offer: sheet.shop.labour * offer["time"] / 60 + offer["cost"], default=None)
        if cheapest and cheapest["cost"]:
            yield Good(sheet.area.follow_ups[name].sublet or name, SUBLETS, 1, cheapest["cost"], name)


def _together(found: Iterable[Good]) -> list[Good]:
    """Like things on one line, in the order in which they come."""
    counts: dict[Good, int] = {}
    for good in found:
        one = replace(good, count=1)
        counts[one] = counts.get(one, 0) + good.count
    return [replace(one, count=count) for one, count in counts.items()]
