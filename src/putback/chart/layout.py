"""Where everything in a chart goes, in CSS px."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

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
class Columns:
    """From left to right: where names end, where the numbers of steps end, the axis, and where the arcs' room ends."""

    names: float
    numbers: float
    axis: float
    right: float


@dataclass(frozen=True)
class Scale:
    """The axis: its ends, and the minutes between them."""

    top: float
    bottom: float
    minutes: Fraction

    def y(self, minute: Fraction) -> float:
        """The height of a minute."""
        return self.top + ((self.bottom - self.top) * float(minute / self.minutes) if self.minutes else 0)


@dataclass(frozen=True)
class Layout:
    """Where things go in a picture of this width."""

    course: Course
    width: float
    head: tuple[HeadLine, ...]
    rows: tuple[Row, ...]
    columns: Columns
    scale: Scale

    @property
    def height(self) -> float:
        """Of the picture; without steps there is nothing below the head."""
        return self.scale.bottom + OVER if self.course.spans else self.scale.top - OVER

    def ends(self, arc: Arc) -> tuple[float, float]:
        """Where an arc leaves the axis and where it returns; beyond the axis where it does not."""
        opens, closes = self.course.opens(arc), self.course.closes(arc)
        return (
            self.scale.top - OVER if opens is None else self.scale.y(opens),
            self.scale.bottom + OVER if closes is None else self.scale.y(closes),
        )

    @cached_property
    def flatness(self) -> float:
        """Half the width of an arc over half its height.

        It is the same for all, so that two arcs cross once if they interlace, and otherwise nowhere.
        """
        longest = max((end - begin for begin, end in map(self.ends, self.course.arcs)), default=0.0)
        return 2 * (self.columns.right - self.columns.axis - 4) / longest if longest else 0.0


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
    marks = tuple(words.labels(course, done))
    columns = _columns(marks, width)
    lines = [_lines(mark, columns) for mark in marks]
    heights = [len(one) * LINE + GAP for one in lines]
    top = head[-1].y + EDGE + OVER
    scale = Scale(top, top + max(_SHORTEST, _LOOSE * sum(heights)), course.minutes)
    points = [scale.y(mark.minute) for mark in marks]
    tops = apart(points, heights, scale.top - LINE / 2, scale.bottom + LINE / 2)
    return Layout(course, width, head, tuple(map(Row, marks, lines, tops, points)), columns, scale)


def _columns(marks: Sequence[Label], width: float) -> Columns:
    """The names have what they take, up to two fifths of the picture."""
    widest = max((text_width(clean(mark.text), SIZE, mark.is_bold) for mark in marks), default=0.0)
    names = EDGE + min(0.4 * width, widest)
    numbers = names + max((text_width(f" {mark.number or ''}", SIZE, bold=True) for mark in marks), default=0.0)
    return Columns(names, numbers, axis=numbers + _LEADER * width + BAND, right=width - EDGE - _TICKS)


def _lines(mark: Label, columns: Columns) -> tuple[str, ...]:
    """A label broken to its column; one without a number has the column of numbers as well."""
    room = (columns.names if mark.number else columns.numbers) - EDGE
    return tuple(wrapped(mark.text, SIZE, room, mark.is_bold, most=3))


def _head(course: Course, width: float) -> tuple[HeadLine, ...]:
    """The title, the totals, and what a heavy arc means, one below the other."""
    room = width - 2 * EDGE
    title = wrapped(words.title(course), TITLE_SIZE, room, True, most=4)
    totals = [line for text in words.summary(course) for line in wrapped(text, SIZE, room, most=3)]
    order = wrapped(words.order(course), SIZE, room - SAMPLE) if words.order(course) else []
    sample = "odd" if course.odd else "nested"
    lines = [HeadLine(line, EDGE, 0, TITLE_SIZE, True) for line in title]
    lines += [HeadLine(line, EDGE, 0) for line in totals]
    lines += [HeadLine(line, EDGE + SAMPLE, 0, sample="" if n else sample) for n, line in enumerate(order)]
    return tuple(_stacked(lines))


def _stacked(lines: Sequence[HeadLine]) -> Iterator[HeadLine]:
    y = EDGE - 2.0
    for line in lines:
        y += line.size + 4
        yield replace(line, y=y)
