"""When each part of a plan is open, and how the car stands meanwhile: the plain values behind the chart.

A part's fasteners, plugs and the part itself are one arc, from its first step out to the end of its last step back.
Minutes are likely minutes at the car: set-up, waits, steps and the work at the swap, without risks.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from putback.area.model import MARKS, ON_THE_GROUND, OUT, PUT_IN
from putback.way.sheet import Sheet, SheetStep


@dataclass(frozen=True)
class Span:
    """One step on the time axis [min]: it begins with its set-up, then comes its wait; `start` is that of the work."""

    begin: Fraction
    wait: Fraction
    start: Fraction
    end: Fraction


@dataclass(frozen=True)
class Arc:
    """A part that is open from step `first` to step `last`.

    Attributes
    ----------
    first : int
        Number of the step that opens it; 0 where it was open at the start already.
    last : int
        Number of the step that closes it; one more than there are steps where it stays open.
    is_put_in : bool
        Whether it is a thing put in for the work, such as a support.
    """

    name: str
    first: int
    last: int
    is_put_in: bool = False


@dataclass(frozen=True)
class Posture:
    """How the car stands from minute `end` on; it is brought there from minute `begin`."""

    name: str
    begin: Fraction
    end: Fraction

    @property
    def is_raised(self) -> bool:
        return self.name != ON_THE_GROUND


@dataclass(frozen=True)
class Course:
    """A plan as it runs.

    Attributes
    ----------
    spans : tuple of Span
        One for each step.
    arcs : tuple of Arc
        In the order in which they open.
    odd : tuple of Arc
        Those that do not go back in reverse order.
    postures : tuple of Posture
        How the car stands, from the start on; empty where nothing is said of it.
    minutes : Fraction
        All of it, with what is to be changed once the last step is done.
    """

    sheet: Sheet
    spans: tuple[Span, ...]
    arcs: tuple[Arc, ...]
    odd: tuple[Arc, ...]
    postures: tuple[Posture, ...]
    minutes: Fraction

    def opens(self, arc: Arc) -> Fraction | None:
        """The minute at which an arc begins; None where it was open already."""
        return self.spans[arc.first - 1].start if arc.first else None

    def closes(self, arc: Arc) -> Fraction | None:
        """The minute at which an arc ends; None where it stays open."""
        return self.spans[arc.last - 1].end if arc.last <= len(self.spans) else None

    def after(self, steps: int) -> Fraction:
        """The minute at which so many steps are done."""
        return self.spans[steps - 1].end if steps else Fraction(0)


def course(sheet: Sheet) -> Course:
    """A plan laid along the axis of time."""
    along = _spans(sheet)
    found = _arcs(sheet)
    last = along[-1].end if along else Fraction(0)
    minutes = last + sum(time for _, _, time in sheet.ending)
    return Course(sheet, along, found, out_of_order(found), _postures(sheet, along, last), minutes)


def _spans(sheet: Sheet) -> tuple[Span, ...]:
    found, now = [], Fraction(0)
    last_swap = max((n for n, step in enumerate(sheet.steps) if step.operation is None), default=None)
    for n, step in enumerate(sheet.steps):
        start = now + step.set_up + step.wait
        end = start + (_swap_minutes(sheet) if n == last_swap else _minutes(step))
        found.append(Span(now, step.wait, start, end))
        now = end
    return tuple(found)


def _swap_minutes(sheet: Sheet) -> Fraction:
    """The work at the swap, such as the comparison of old and new."""
    return sum((work.minutes.likely for work in sheet.job_work if work.when == "swap"), Fraction(0))


def _minutes(step: SheetStep) -> Fraction:
    return step.way.minutes.likely if step.way else Fraction(0)


def _arcs(sheet: Sheet) -> tuple[Arc, ...]:
    """One arc for each part that moves; marks stay on and are none."""
    moves: dict[str, list[tuple[int, SheetStep]]] = {}
    for number, step in enumerate(sheet.steps, 1):
        if step.operation and step.operation.kind != MARKS:
            moves.setdefault(step.operation.part, []).append((number, step))
    found = [_arc(part, steps, len(sheet.steps) + 1) for part, steps in moves.items()]
    return tuple(sorted(found, key=lambda arc: (arc.first, -arc.last)))


def _arc(part: str, steps: list[tuple[int, SheetStep]], never: int) -> Arc:
    out = {_move(step) for _, step in steps if step.operation.direction == OUT}
    back = {_move(step) for _, step in steps if step.operation.direction != OUT}
    return Arc(
        name=part,
        first=0 if back - out else steps[0][0],
        last=never if out - back else steps[-1][0],
        is_put_in=all(step.operation.kind == PUT_IN for _, step in steps),
    )


def _move(step: SheetStep) -> tuple[str, int]:
    return step.operation.item, step.operation.level


def crossings(found: Sequence[Arc]) -> int:
    """How many pairs of arcs cross: the one that opens first also closes first."""
    return sum(one.first < two.first < one.last < two.last for one, two in combinations(found, 2))


def out_of_order(found: Sequence[Arc]) -> tuple[Arc, ...]:
    """The fewest arcs without which none crosses another; where there is a choice, the shorter, then the earlier ones.

    Parameters
    ----------
    found : sequence of Arc
        In the order in which they open. All are open at the swap, since nothing goes back before it.
    """
    # Arcs nest where their ends never rise. Of the longest such runs, the one whose arcs span the most steps, then the
    # one of the latest arcs.
    runs: list[
        tuple[int, int, int]
    ] = []  # that end at an arc: how many arcs, steps they span, the arc before (-1: none)
    for n, arc in enumerate(found):
        around = ((*runs[m][:2], m) for m in range(n) if found[m].last >= arc.last)
        count, span, before = max(around, default=(0, 0, -1))
        runs.append((count + 1, span + arc.last - arc.first, before))
    nested = set(_run(runs))
    return tuple(arc for n, arc in enumerate(found) if n not in nested)


def _run(runs: Sequence[tuple[int, int, int]]) -> Iterator[int]:
    """The arcs of the best run, from its last back to its first."""
    n = max(range(len(runs)), key=lambda m: (*runs[m][:2], m), default=-1)
    while n >= 0:
        yield n
        n = runs[n][2]


def _postures(sheet: Sheet, along: Sequence[Span], last: Fraction) -> tuple[Posture, ...]:
    start = next((dim["start"] for dim in sheet.core.get("dims", ()) if dim["name"] == "posture"), None)
    if start is None:
        return ()
    return (Posture(start, Fraction(0), Fraction(0)), *_moved(sheet, along, last))


def _moved(sheet: Sheet, along: Sequence[Span], last: Fraction) -> Iterator[Posture]:
    for step, span in zip(sheet.steps, along, strict=True):
        if "posture" in step.changes:
            yield Posture(step.context["posture"], span.begin, span.start - span.wait)
    for name, value, time in sheet.ending:
        if name == "posture":
            yield Posture(value, last, last + time)
        last += time
