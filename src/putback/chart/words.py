"""What a chart says, in its head, in its alternative text and beside its axis."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from putback.chart.arcs import Arc, Course, Posture, crossings
from putback.plan_text import minutes


@dataclass(frozen=True)
class Label:
    """Words beside a minute of the axis.

    Attributes
    ----------
    kind : str
        "part", "swap", "now", "posture", "wait", or "edge" for what is open before the first or after the last step.
    number : int or None
        The step that opens or closes the part.
    """

    kind: str
    minute: Fraction
    text: str
    number: int | None = None
    is_bold: bool = False


# --- the head -------------------------------------------------------------------------------------


def title(course: Course) -> str:
    """What the chart shows."""
    return f"{_and(course.plan.targets)}: out and back"


def summary(course: Course) -> Iterator[str]:
    """The lines below the title."""
    yield course.plan.area
    if course.spans:
        yield f"{_count(len(course.spans), 'step')}, {_count(len(course.arcs), 'part')}"
        yield f"{minutes(course.minutes)} min at the car, {minutes(course.plan.expected)} min expected in all"
    else:
        yield "Nothing to do: no step is needed."


def order(course: Course) -> str:
    """Whether the way back is the reverse of the way in; empty where that is no question."""
    arcs = course.arcs
    if course.odd:
        verb = "does" if len(course.odd) == 1 else "do"
        return f"{len(course.odd)} of {_count(len(arcs), 'part')} {verb} not go back in reverse order"
    is_known = any(arc.first for arc in arcs) and sum(arc.last <= len(course.spans) for arc in arcs) > 1
    return "part by part, the way back is the reverse" if is_known else ""


# --- in place of the picture ----------------------------------------------------------------------


def description(course: Course, done: int | None) -> str:
    """The chart in words: totals, the order out and back, what is out of order, how the car stands.

    Parameters
    ----------
    course : Course
    done : int or None
        How many steps are done.
    """
    return " ".join(f"{text[0].upper()}{text[1:]}." for text in _sentences(course, done) if text)


def _sentences(course: Course, done: int | None) -> Iterator[str]:
    arcs, after = course.arcs, len(course.spans) + 1
    yield from summary(course)
    yield _list("open already", (arc for arc in arcs if not arc.first))
    yield _list("order out", (arc for arc in arcs if arc.first))
    yield _and(stage.name for stage in course.plan.stages if stage.is_swap)
    yield _list("order back", sorted((arc for arc in arcs if arc.last < after), key=lambda arc: arc.last))
    yield _list("staying open", (arc for arc in arcs if arc.last == after))
    if course.odd:
        yield _list(order(course), course.odd)
        yield f"the arcs cross {_count(crossings(arcs), 'time')}"
    else:
        yield order(course)
    yield "; ".join(f"minute {minutes(one.begin)}: {posture(one)}" for one in course.postures)
    if done is not None:
        yield f"{done} of {_count(len(course.spans), 'step')} done"
        yield _list("open now", (arc for arc in arcs if arc.first <= done < arc.last))


def arc_words(arc: Arc, course: Course) -> str:
    """One arc in words.

    Parameters
    ----------
    arc : Arc
    course : Course
    """
    since = f"from step {arc.first}" if arc.first else "from the start"
    until = f"to step {arc.last}" if arc.last <= len(course.spans) else "to the end"
    return f"{arc.name}: {'in' if arc.is_put_in else 'open'} {since} {until}"


# --- beside the axis ------------------------------------------------------------------------------


def labels(course: Course, done: int | None) -> Iterator[Label]:
    """All labels in the order of time.

    Parameters
    ----------
    course : Course
    done : int or None
        How many steps are done.
    """
    moved = iter(course.postures)
    first = next(moved, None)
    if first and first.is_raised:
        yield _posture(first)
    yield from _edge(course, Fraction(0), [arc for arc in course.arcs if not arc.first], "open already")
    for number in range(1, len(course.spans) + 1):
        yield from _now(course, number - 1, done)
        yield from _step(course, number, moved)
    yield from _now(course, len(course.spans), done)
    yield from map(_posture, moved)
    yield from _edge(course, course.minutes, [arc for arc in course.arcs if arc.last > len(course.spans)], "left open")


def _step(course: Course, number: int, moved: Iterator[Posture]) -> Iterator[Label]:
    stage, span = course.plan.stages[number - 1], course.spans[number - 1]
    if stage.posture:
        yield from map(_posture, (next(moved),))
    if span.wait:
        yield Label("wait", span.start - span.wait, f"wait {minutes(span.wait)} min")
    if stage.is_swap:
        yield Label("swap", span.start, stage.name, is_bold=True)
    for arc in course.arcs:
        is_odd = arc in course.odd
        if arc.first == number:
            yield Label("part", span.start, arc.name, number, is_odd)
        if arc.last == number:
            yield Label("part", span.end, arc.name, number, is_odd)


def _posture(one: Posture) -> Label:
    return Label("posture", one.begin, posture(one))


def posture(one: Posture) -> str:
    """How the car stands."""
    return f"car {one.name}"


def _now(course: Course, steps: int, done: int | None) -> Iterator[Label]:
    if steps == done:
        yield Label("now", course.after(steps), f"now: {done} of {len(course.spans)} done", is_bold=True)


def _edge(course: Course, minute: Fraction, arcs: list[Arc], how: str) -> Iterator[Label]:
    if arcs:
        yield Label("edge", minute, f"{_count(len(arcs), 'part')} {how}")


# --- small words ----------------------------------------------------------------------------------


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}{'' if number == 1 else 's'}"


def _list(what: str, arcs: Iterable[Arc]) -> str:
    names = ", ".join(arc.name for arc in arcs)
    return f"{what}: {names}" if names else ""


def _and(names: Iterable[str]) -> str:
    return " and ".join(names)
