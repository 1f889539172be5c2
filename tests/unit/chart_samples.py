"""Made-up courses of work for the tests of the chart, without a planner; every figure is invented.

sheet = sheet_with([out("lid"), out("pump"), swap("pump"), back("pump"), back("lid")])
"""

from dataclasses import dataclass, replace
from fractions import Fraction

from sheet_samples import from_above

from putback.area.model import BACK, OUT, PART, JobWork, Spread
from putback.way.sheet import Sheet, SheetStep


@dataclass(frozen=True)
class Move:
    """As much of an operation as a chart looks at."""

    item: str
    part: str
    kind: str
    direction: str
    level: int = 1


@dataclass(frozen=True)
class Manner:
    """As much of its way."""

    minutes: Spread


@dataclass(frozen=True)
class Made:
    """A step to be: its move, or the part that it swaps."""

    move: Move | None
    minutes: Fraction = Fraction(1)
    set_up: Fraction = Fraction(0)
    wait: Fraction = Fraction(0)
    posture: str | None = None
    swaps: str = ""


def out(part: str, item: str = "", kind: str = PART, level: int = 1, **more) -> Made:
    """Opens an item of a part, in 1 minute unless told."""
    return Made(Move(item or part, part, kind, OUT, level), **more)


def back(part: str, item: str = "", kind: str = PART, level: int = 1, **more) -> Made:
    """Closes it."""
    return Made(Move(item or part, part, kind, BACK, level), **more)


def swap(part: str, **more) -> Made:
    """Swaps it; what that takes is job work."""
    return Made(None, swaps=part, **more)


def sheet_with(steps: list[Made], *, targets=("pump",), ending=(), start: str | None = None, swap_minutes=0) -> Sheet:
    """A sheet with these steps; `start` is how the car stands before them, None where that is no question."""
    dims = [{"name": "posture", "start": start}] if start else []
    work = (JobWork("compare", "swap", _just(swap_minutes)),) if swap_minutes else ()
    steps = tuple(_step(number, made) for number, made in enumerate(steps, 1))
    minutes = sum(
        (step.set_up + step.wait + (step.way.minutes.likely if step.way else 0) for step in steps), Fraction(0)
    )
    return replace(
        from_above(),
        targets=tuple(targets),
        steps=steps,
        minutes=minutes,
        job_work=work,
        core={"dims": dims},
        ending=ending,
    )


def _step(number: int, made: Made) -> SheetStep:
    return SheetStep(
        number=number,
        id=f"swap {made.swaps}" if made.swaps else f"{made.move.item}: {made.move.direction}",
        text="",
        operation=made.move,
        way=Manner(_just(made.minutes)) if made.move else None,
        context={"posture": made.posture} if made.posture else {},
        changes=("posture",) if made.posture else (),
        set_up=Fraction(made.set_up),
        wait=Fraction(made.wait),
        reason=(),
    )


def _just(minutes) -> Spread:
    return Spread(*[Fraction(minutes)] * 3)


def there_and_back(order_out, order_back, **more) -> Sheet:
    """Parts by their names, out in one order and back in another, a swap between."""
    return sheet_with([*map(out, order_out), swap("pump"), *map(back, order_back)], **more)
