"""Where everything in a chart goes, in CSS px."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from putback.chart import words
from putback.chart.arcs import Arc, Course
from putback.chart.text import apart, clean, text_width, wrapped
from putback.chart.words import Label

SIZE, TITLE_SIZE = 12, 15  # of type
LINE, GAP = 14, 2  # height of a line, and between labels
EDGE = 8  # around the picture
SAMPLE = 36  # width of the sample before a line that explains a stroke
OVER = 24  # how far beyond the axis an arc would end that stays open
BAND = 5  # width of the bar of a car that is raised
_TICKS = 28  # width of the column of minutes
_LEADER = 0.06  # share of the width for what leads from the labels to the axis
_SHORTEST = 150  # axis
_LOOSE = 1.15  # how much longer the axis is than its labels need


@dataclass(frozen=True)
class HeadLine:
    """A line above the drawing, with its baseline; `sample` is the kind of arc that it explains."""

    text: str
    x: float
    y: float
    size: int = SIZE
    is_bold: bool = False
    sample: str = ""


@dataclass(frozen=True)
class Row:
    """A label in its place: its lines, the top of the first, and the height on the axis that it belongs to."""

    label: Label
    lines: tuple[str, ...]
    top: float
    point: float

    @property
    def middle(self) -> float:
        return self.top + (len(self.lines) * LINE + GAP) / 2


@dataclass(frozen=True)
class Layout:
    """Where things go.

    Attributes
    ----------
    names, numbers : float
        Right edges of the columns of names and of step numbers.
    axis, right : float
        Where the axis stands, and where the arcs' room ends.
    top, bottom : float
        Ends of the axis.
    flatness : float
        Half the width of an arc over half its height. It is the same for all, so that two arcs cross once if they
        interlace, and otherwise nowhere.
    """

    course: Course
    head: tuple[HeadLine, ...]
    rows: tuple[Row, ...]
    width: float
    height: float
    names: float
    numbers: float
    axis: float
    right: float
    top: float
    bottom: float
    flatness: float

    def y(self, minute: Fraction) -> float:
        """The height of a minute."""
        return _y(self.course, self.top, self.bottom, minute)

    def ends(self, arc: Arc) -> tuple[float, float]:
        """Where an arc leaves the axis and where it returns; beyond the axis where it does not."""
        return _ends(self.course, self.top, self.bottom, arc)


def layout(course: Course, done: int | None, width: float) -> Layout:
    """Everything in its place.

    Parameters
    ----------
    course : Course
    done : int or None
        How many steps are done.
    width : float
        Of the picture.
    """
    head = _head(course, width)
    top = head[-1].y + EDGE + OVER
    marks = tuple(words.labels(course, done))
    names = EDGE + min(0.4 * width, max((_width(mark) for mark in marks), default=0.0))
    numbers = names + max((text_width(f" {mark.number or ''}", SIZE) for mark in marks), default=0.0)
    lines = [_lines(mark, names, numbers) for mark in marks]
    heights = [len(one) * LINE + GAP for one in lines]
    bottom = top + max(_SHORTEST, _LOOSE * sum(heights))
    points = [_y(course, top, bottom, mark.minute) for mark in marks]
    tops = apart(points, heights, top - LINE / 2, bottom + LINE / 2)
    axis, right = numbers + _LEADER * width + BAND, width - EDGE - _TICKS
    return Layout(
        course=course,
        head=head,
        rows=tuple(map(Row, marks, lines, tops, points)),
        width=width,
        height=bottom + OVER if course.spans else top - OVER,
        names=names,
        numbers=numbers,
        axis=axis,
        right=right,
        top=top,
        bottom=bottom,
        flatness=_flatness([_ends(course, top, bottom, arc) for arc in course.arcs], right - axis),
    )


def _head(course: Course, width: float) -> tuple[HeadLine, ...]:
    """The title, the totals, and what a heavy arc means, one below the other."""
    room = width - 2 * EDGE
    found = [
        HeadLine(line, EDGE, 0, TITLE_SIZE, True) for line in wrapped(words.title(course), TITLE_SIZE, room, True, 4)
    ]
    for text in words.summary(course):
        found += [HeadLine(line, EDGE, 0) for line in wrapped(text, SIZE, room, most=3)]
    for n, line in enumerate(wrapped(words.order(course), SIZE, room - SAMPLE) if words.order(course) else ()):
        found.append(HeadLine(line, EDGE + SAMPLE, 0, sample="" if n else ("odd" if course.odd else "nested")))
    return tuple(_stacked(found))


def _stacked(lines: Sequence[HeadLine]) -> Iterator[HeadLine]:
    y = EDGE - 2.0
    for line in lines:
        y += line.size + 4
        yield replace(line, y=y)


def _width(mark: Label) -> float:
    return text_width(clean(mark.text), SIZE, mark.is_bold)


def _lines(mark: Label, names: float, numbers: float) -> tuple[str, ...]:
    """A label broken to its column; one without a number has that column, too."""
    return tuple(wrapped(mark.text, SIZE, (names if mark.number else numbers) - EDGE, mark.is_bold, most=3))


def _y(course: Course, top: float, bottom: float, minute: Fraction) -> float:
    return top + ((bottom - top) * float(minute / course.minutes) if course.minutes else 0)


def _ends(course: Course, top: float, bottom: float, arc: Arc) -> tuple[float, float]:
    opens, closes = course.opens(arc), course.closes(arc)
    return (
        top - OVER if opens is None else _y(course, top, bottom, opens),
        bottom + OVER if closes is None else _y(course, top, bottom, closes),
    )


def _flatness(ends: Sequence[tuple[float, float]], room: float) -> float:
    longest = max((end - begin for begin, end in ends), default=0.0)
    return 2 * (room - 4) / longest if longest else 0.0
