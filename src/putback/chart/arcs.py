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
class Stage:
    """One step of a plan, as far as the chart tells of it; times in minutes.

    Attributes
    ----------
    name : str
    part, item, kind : str
        What is moved; all empty at a swap.
    level : int
        Which of its moves this is: the level that it goes out to, or comes back from.
    is_out : bool
    posture : str
        To which the car is brought for it; empty where it stands as before.
    """

    name: str
    set_up: Fraction
    wait: Fraction
    minutes: Fraction
    part: str = ""
    item: str = ""
    kind: str = ""
    level: int = 0
    is_out: bool = False
    posture: str = ""

    @property
    def is_swap(self) -> bool:
        return not self.part


@dataclass(frozen=True)
class Plan:
    """A plan, as far as the chart tells of it.

    Attributes
    ----------
    area : str
    targets : tuple of str
    stages : tuple of Stage
    swap : Fraction
        Minutes of the work at the swap.
    ending : tuple of (str, str, Fraction)
        What is changed after the last step, to what, and its minutes.
    begins : str
        How the car stands at the start; empty where nothing is said of it.
    expected : Fraction
        Minutes in all, risks included.
    """

    area: str
    targets: tuple[str, ...]
    stages: tuple[Stage, ...]
    swap: Fraction
    ending: tuple[tuple[str, str, Fraction], ...]
    begins: str
    expected: Fraction


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

    plan: Plan
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


def course(plan: Sheet | Plan) -> Course:
    """A plan laid along the axis of time."""
    plan = plan_of(plan) if isinstance(plan, Sheet) else plan
    along = _spans(plan)
    found = _arcs(plan.stages)
    last = along[-1].end if along else Fraction(0)
    minutes = last + sum(time for _, _, time in plan.ending)
    return Course(plan, along, found, out_of_order(found), _postures(plan, along, last), minutes)


def plan_of(sheet: Sheet) -> Plan:
    """What the chart tells of a sheet."""
    dims = sheet.core.get("dims", ())
    return Plan(
        area=sheet.area.name,
        targets=sheet.targets,
        stages=tuple(map(_stage, sheet.steps)),
        swap=sum((work.minutes.likely for work in sheet.job_work if work.when == "swap"), Fraction(0)),
        ending=sheet.ending,
        begins=next((dim["start"] for dim in dims if dim["name"] == "posture"), None) or "",
        expected=sheet.minutes,
    )


def _stage(step: SheetStep) -> Stage:
    posture = step.context["posture"] if "posture" in step.changes else ""
    times = step.set_up, step.wait, step.way.minutes.likely if step.way else Fraction(0)
    one = step.operation
    if one is None:
        return Stage(step.id, *times, posture=posture)
    return Stage(step.id, *times, one.part, one.item, one.kind, one.level, one.direction == OUT, posture)


def _spans(plan: Plan) -> tuple[Span, ...]:
    found, now = [], Fraction(0)
    last_swap = max((n for n, stage in enumerate(plan.stages) if stage.is_swap), default=None)
    for n, stage in enumerate(plan.stages):
        start = now + stage.set_up + stage.wait
        end = start + (plan.swap if n == last_swap else stage.minutes)
        found.append(Span(now, stage.wait, start, end))
        now = end
    return tuple(found)


def _arcs(stages: Sequence[Stage]) -> tuple[Arc, ...]:
    """One arc for each part that moves; marks stay on and are none."""
    moves: dict[str, list[tuple[int, Stage]]] = {}
    for number, stage in enumerate(stages, 1):
        if not stage.is_swap and stage.kind != MARKS:
            moves.setdefault(stage.part, []).append((number, stage))
    found = [_arc(part, steps, len(stages) + 1) for part, steps in moves.items()]
    return tuple(sorted(found, key=lambda arc: (arc.first, -arc.last)))


def _arc(part: str, steps: list[tuple[int, Stage]], never: int) -> Arc:
    out = {(stage.item, stage.level) for _, stage in steps if stage.is_out}
    back = {(stage.item, stage.level) for _, stage in steps if not stage.is_out}
    return Arc(
        name=part,
        first=0 if back - out else steps[0][0],
        last=never if out - back else steps[-1][0],
        is_put_in=all(stage.kind == PUT_IN for _, stage in steps),
    )


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


def _postures(plan: Plan, along: Sequence[Span], last: Fraction) -> tuple[Posture, ...]:
    if not plan.begins:
        return ()
    return (Posture(plan.begins, Fraction(0), Fraction(0)), *_moved(plan, along, last))


def _moved(plan: Plan, along: Sequence[Span], last: Fraction) -> Iterator[Posture]:
    for stage, span in zip(plan.stages, along, strict=True):
        if stage.posture:
            yield Posture(stage.posture, span.begin, span.start - span.wait)
    for name, value, time in plan.ending:
        if name == "posture":
            yield Posture(value, last, last + time)
        last += time
