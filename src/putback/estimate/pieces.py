"""The times of a plan that may turn out otherwise: what a part takes out or back, job work, follow-ups.

A part's minutes with those of its fasteners are one time in the area file, so they are one uncertain time
here; were they many, a slow part would be made up for by its own screws.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from putback.area.charges import Doubt
from putback.area.model import NO_TIME, OUT, PUT_IN, Area, Spread
from putback.estimate.spread import BETA, Shape
from putback.way.sheet import Sheet, SheetStep


@dataclass(frozen=True)
class Piece:
    """One time of a plan.

    Attributes
    ----------
    name : str
        What it is spent on: "compressor, out".
    spread : Spread
        Least, likely and most minutes.
    given : bool
        Whether the area file gives least and most; else the shop's general doubt stands for them, if it has one.
    shape : Shape
    """

    name: str
    spread: Spread
    given: bool
    shape: Shape


def pieces(sheet: Sheet, area: Area, doubt: Doubt | None = None) -> tuple[Piece, ...]:
    """The uncertain times of a plan, in the order in which they come.

    Parameters
    ----------
    sheet : Sheet
    area : Area
    doubt : Doubt, optional
        How far a single figure may be off, as the shop sees it.
    """
    return tuple(_piece(name, _in_order(spread), doubt) for name, spread in _times(sheet, area).items() if spread.high > 0)


def _times(sheet: Sheet, area: Area) -> dict[str, Spread]:
    found: dict[str, Spread] = {}
    for step in sheet.steps:
        if step.operation:
            name = _named(step, area)
            found[name] = found.get(name, NO_TIME) + step.way.minutes
    return found | dict(_besides(sheet, area))


def _named(step: SheetStep, area: Area) -> str:
    """The thing whose minutes a step is part of, and the direction."""
    item = area.items[step.operation.name]
    thing = item.counted_in.name if item.counted_in else step.operation.part
    out, back = ("in", "out again") if area.items[thing].kind == PUT_IN else ("out", "back")
    return f"{thing}, {out if step.operation.direction == OUT else back}"


def _besides(sheet: Sheet, area: Area) -> Iterator[tuple[str, Spread]]:
    """Job work with the spread that its file gives, and what is owed."""
    given = {work.name: work.minutes for work in area.job_work}
    for work in sheet.job_work:
        spread = given.get(work.name, work.minutes)
        yield work.name, spread if spread.likely == work.minutes.likely else work.minutes
    for name, minutes in sheet.due:
        yield name, Spread(minutes, minutes, minutes)


def _in_order(spread: Spread) -> Spread:
    """Sums of a part's own minutes and its way's may have fallen out of order; a time is never below nought."""
    return Spread(max(Fraction(0), min(spread.low, spread.likely)), spread.likely, max(spread.likely, spread.high))


def _piece(name: str, spread: Spread, doubt: Doubt | None) -> Piece:
    given = spread.low < spread.high
    if not given and doubt:
        spread = Spread(spread.likely * doubt.low, spread.likely, spread.likely * doubt.high)
    shape = Shape(doubt.shape if doubt else BETA, float(spread.low), float(spread.likely), float(spread.high))
    return Piece(name, spread, given, shape)
