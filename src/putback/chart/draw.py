"""The chart as SVG: what was laid out, drawn with ink on paper."""

from collections.abc import Iterator
from fractions import Fraction
from math import ceil, sqrt

from putback.chart import layout, svg, words
from putback.chart.arcs import Arc, Plan, course
from putback.chart.layout import BAND, EDGE, GAP, LINE, OVER, SAMPLE, SIZE, Layout
from putback.errors import InputError
from putback.way.sheet import Sheet

NARROWEST = 320  # CSS px, the width of the narrowest phones
WIDTH = 360
_INK, _PAPER, _THIN = "#000", "#fff", "#999"
_ODD = {"stroke_width": 2.2, "stroke_dasharray": "7 3.5"}
_CLEAR = {"stroke": _PAPER, "stroke_width": 5, "stroke_opacity": "0.7"}  # beneath an arc that crosses others
_SHADE = 0.22  # how dark it is where all arcs lie over each other
_STEPS = (1, 2, 5, 10, 15, 30, 60, 120, 240, 480)  # minutes from tick to tick
_TICK_ROOM = 36  # from tick to tick


def chart_svg(sheet: Sheet | Plan, *, done: int | None = None, width: int = WIDTH) -> str:
    """The out-and-back chart of a plan.

    Parameters
    ----------
    sheet : Sheet or Plan
    done : int, optional
        How many steps are done, from 0 to all of them; draws a line there.
    width : int
        Of the picture [CSS px], 320 or more. Type is 12 px at any width; the height follows from the number of labels.

    Returns
    -------
    text : str
        One SVG element with a title and a description, to be a file of its own or to stand in a page.

    Raises
    ------
    InputError
        More steps done than there are, or a picture too narrow to read.
    """
    if width < NARROWEST:
        raise InputError(f"a chart {width} px wide cannot be read; make it {NARROWEST} px or wider")
    plan = course(sheet)
    if done is not None and not 0 <= done <= len(plan.spans):
        raise InputError(f"{done} steps cannot be done in a plan of {len(plan.spans)}")
    place = layout.layout(plan, done, width)
    lines = [
        svg.words("title", words.title(plan)),
        svg.words("desc", words.description(plan, done)),
        svg.element("rect", width=width, height=place.height, fill=_PAPER),
        *svg.group("head", _head(place)),
        *(_drawing(place) if plan.spans else ()),
    ]
    return svg.document(lines, width=width, height=place.height, font_family="sans-serif", font_size=SIZE)


def _head(place: Layout) -> Iterator[str]:
    for line in place.head:
        if line.sample:
            yield _level(EDGE, EDGE + SAMPLE - 8, line.y - 4, stroke=_INK, **(_ODD if line.sample == "odd" else {}))
        yield svg.words("text", line.text, x=line.x, y=line.y, font_size=line.size, **_weight(line.is_bold))


def _drawing(place: Layout) -> Iterator[str]:
    """From what lies beneath to what lies on top."""
    yield from svg.group("shade", _shades(place), stroke="none", fill=_INK)
    yield from svg.group("ticks", _ticks(place), stroke=_THIN, stroke_width=0.5)
    yield from svg.group("minutes", _tick_labels(place), text_anchor="end")
    yield from svg.group("arcs", _arcs(place), stroke=_INK, fill="none")
    yield from svg.group("across", _across(place), stroke=_INK)
    yield from svg.group("axis", _axis(place), stroke=_INK)
    yield from svg.group("leaders", _leaders(place), stroke=_INK, stroke_width=0.6, fill="none")
    yield from svg.group("labels", _labels(place), text_anchor="end")


# --- the arcs -------------------------------------------------------------------------------------


def _arcs(place: Layout) -> Iterator[str]:
    """Those out of order come last, so that they lie on top."""
    odd = set(place.course.odd)
    for arc in place.course.arcs:
        if arc not in odd:
            yield _arc(place, arc, stroke_width=_thin_enough(place))
    for arc in place.course.odd:
        yield svg.element("path", d="M" + _curve(place, arc), **_CLEAR)
        yield _arc(place, arc, **_ODD)


def _arc(place: Layout, arc: Arc, **look) -> str:
    return svg.element(
        "path", svg.words("title", words.arc_words(arc, place.course)), d="M" + _curve(place, arc), **look
    )


def _thin_enough(place: Layout) -> float:
    """A stroke that leaves white between the arcs, however many they are."""
    return min(1.0, max(0.2, (place.columns.right - place.columns.axis) / 3 / len(place.course.arcs)))


def _shades(place: Layout) -> Iterator[str]:
    """Each arc darkens what it spans by the same share."""
    share = 1 - (1 - _SHADE) ** (1 / max(1, len(place.course.arcs)))
    for arc in place.course.arcs:
        top, bottom = (f"{svg.number(place.columns.axis)} {svg.number(y)}" for y in _seen(place, arc))
        yield svg.element("path", d=f"M{top}L{_curve(place, arc)}L{bottom}Z", fill_opacity=f"{share:.4f}")


def _curve(place: Layout, arc: Arc) -> str:
    """From where an arc begins, or comes into the picture, to where it ends or leaves it."""
    begin, end = place.ends(arc)
    high = (end - begin) / 2
    first, last = (f"{svg.number(_reach(place, begin, end, y))} {svg.number(y)}" for y in _seen(place, arc))
    return f"{first}A{svg.number(high * place.flatness)} {svg.number(high)} 0 0 1 {last}"


def _seen(place: Layout, arc: Arc) -> tuple[float, float]:
    """The heights between which an arc is in the picture."""
    begin, end = place.ends(arc)
    return max(begin, place.scale.top - OVER / 2), min(end, place.scale.bottom + OVER / 2)


def _reach(place: Layout, begin: float, end: float, y: float) -> float:
    """How far to the right an arc is at a height."""
    high = (end - begin) / 2
    return place.columns.axis + place.flatness * sqrt(max(0.0, high**2 - (y - begin - high) ** 2))


# --- the axis -------------------------------------------------------------------------------------


def _axis(place: Layout) -> Iterator[str]:
    """The bar of the car, a line, and dots where one waits."""
    if place.course.postures:
        yield _bar(place)
    yield _along(place, place.scale.top, place.scale.bottom)
    for span in place.course.spans:
        if span.wait:
            ends = place.scale.y(span.start - span.wait), place.scale.y(span.start)
            yield _along(place, *ends, stroke=_PAPER, stroke_dasharray="2 2")


def _along(place: Layout, top: float, bottom: float, **look) -> str:
    return svg.element(
        "line", x1=place.columns.axis, x2=place.columns.axis, y1=top, y2=bottom, stroke_width=1.5, **look
    )


def _bar(place: Layout) -> str:
    """The car at the left of the axis: the wider, the higher it stands."""
    corners = [(place.scale.top, 0.0), *_car(place), (place.scale.bottom, 0.0)]
    outline = "L".join(f"{svg.number(place.columns.axis - wide)} {svg.number(y)}" for y, wide in corners)
    return svg.element("path", d=f"M{outline}Z", fill=_INK, stroke="none")


def _car(place: Layout) -> Iterator[tuple[float, float]]:
    """The outline of the bar, as (height on the axis, width): it widens and narrows while the car is moved."""
    wide = 0.0
    for n, posture in enumerate(place.course.postures):
        before, wide = wide, float(BAND if posture.is_raised else 0)
        yield from ((place.scale.y(posture.begin), before if n else wide), (place.scale.y(posture.end), wide))
    yield place.scale.bottom, wide


def _ticks(place: Layout) -> Iterator[str]:
    for minute in _tick_minutes(place):
        yield _level(place.columns.axis, place.columns.right, place.scale.y(minute))


def _tick_labels(place: Layout) -> Iterator[str]:
    right = place.width - EDGE
    for minute in _tick_minutes(place):
        yield svg.words("text", f"{minute}", x=right, y=place.scale.y(minute) + 4)
    yield svg.words("text", "min", x=right, y=place.scale.top - LINE + 4)


def _tick_minutes(place: Layout) -> list[Fraction]:
    total = place.course.minutes
    least = total * _TICK_ROOM / Fraction(place.scale.bottom - place.scale.top)
    step = next((step for step in _STEPS if step >= least), ceil(least / _STEPS[-1]) * _STEPS[-1])
    return [Fraction(minute) for minute in range(0, int(total) + 1, step)]


def _across(place: Layout) -> Iterator[str]:
    """Lines over the arcs: the swap from its begin to its end, and now."""
    for minute in dict.fromkeys(_swap(place)):
        yield _level(place.columns.axis, place.columns.right, place.scale.y(minute), stroke_width=1.4)
    for row in place.rows:
        if row.label.kind == "now":
            yield _level(place.columns.axis, place.columns.right, row.point, stroke_width=2.5, stroke_dasharray="2 3")


def _swap(place: Layout) -> tuple[Fraction, ...]:
    """The minutes at which the first swap begins and the last one ends."""
    steps = zip(place.course.spans, place.course.plan.stages, strict=True)
    swaps = [span for span, stage in steps if stage.is_swap]
    return (swaps[0].start, swaps[-1].end) if swaps else ()


# --- beside the axis ------------------------------------------------------------------------------


def _leaders(place: Layout) -> Iterator[str]:
    tip = place.columns.axis - BAND
    for row in place.rows:
        label = f"{svg.number(place.columns.numbers + 3)} {svg.number(row.middle)}"
        yield svg.element("path", d=f"M{label}L{svg.number(tip - 4)} {svg.number(row.point)}H{svg.number(tip)}")


def _labels(place: Layout) -> Iterator[str]:
    for row in place.rows:
        look = _weight(row.label.is_bold) | _slant(row.label.kind)
        right = place.columns.names if row.label.number else place.columns.numbers
        for n, line in enumerate(row.lines, 1):
            yield svg.words("text", line, x=right, y=row.top + GAP / 2 + n * LINE - 3, **look)
        if row.label.number:
            yield svg.words("text", f"{row.label.number}", x=place.columns.numbers, y=row.middle + 4, **look)


def _level(left: float, right: float, y: float, **look) -> str:
    return svg.element("line", x1=left, x2=right, y1=y, y2=y, **look)


def _weight(is_bold: bool) -> dict[str, str]:
    return {"font_weight": "bold"} if is_bold else {}


def _slant(kind: str) -> dict[str, str]:
    """What is no part and no landmark is set in italics."""
    return {"font_style": "italic"} if kind in ("posture", "wait", "edge") else {}
