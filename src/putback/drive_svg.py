"""A belt drive as a picture: pulleys, the belt with its ribs and its back, directions, the tensioner's window.

Ink on paper, with a ground of its own, so that it reads on a light page, on a dark one and in print. Nothing is told by
colour, and all of it stands in words below the picture.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import cos, degrees, hypot, pi, radians, sin

from putback.belt.advise import KNOWN, PROPOSED
from putback.belt.drive import BACK, DRIVER, RIBS, Drive
from putback.belt.geometry import CLOCKWISE, Loop, Point, Wheel, loop, pull_on
from putback.belt.judge import turns
from putback.belt.route import Laid, length_at, rotation, window_lengths
from putback.belt_text import millimetres, route_words
from putback.chart import svg
from putback.chart.text import apart, wrapped
from putback.errors import InputError

WIDTH = 360  # CSS px, that of a phone
NARROWEST = 320
_EDGE, _LINE, _SIZE = 26, 18, 13  # margin round the pulleys, height of a line of text, its type
_TALLEST = 1.25  # times as tall as wide
_INK, _PAPER = "#000", "#fff"
_HALF = 2.0  # half of the belt's thickness as it is drawn
_GAUGE = 150  # height of the tensioner's scale
_ROOMY = 13  # radius of a pulley that holds its number and its arrow
_SHORTEST_RUN = 34  # px; shorter ones have no arrow


@dataclass(frozen=True)
class _Disc:
    """A pulley as drawn: middle, rim, number in the list, which way it turns, and where it is bare of belt."""

    x: float
    y: float
    radius: float
    number: int
    is_grooved: bool
    is_driver: bool
    sense: int
    bare: Point


@dataclass(frozen=True)
class _View:
    """From metres to pixels: y is turned over, so that up is up."""

    scale: float
    left: float
    top: float

    def at(self, point: Point) -> Point:
        return self.left + self.scale * point[0], self.top - self.scale * point[1]


def drive_svg(drive: Drive, laid: Laid, origin: str = KNOWN, *, width: int = WIDTH) -> str:
    """The picture of a drive with its belt on.

    Parameters
    ----------
    drive : Drive
    laid : Laid
        The belt on the route that is to be shown
    origin : str
        How that route is known: one of `advise.KNOWN`, `advise.AS_LAID`, `advise.PROPOSED`
    width : int
        Of the picture [CSS px], 320 or more

    Returns
    -------
    text : str
        One SVG element with a title and a description.

    Raises
    ------
    InputError
        A picture too narrow to read.
    """
    if width < NARROWEST:
        raise InputError(f"a picture {width} px wide cannot be read; make it {NARROWEST} px or wider")
    title = drive.name[0].upper() + drive.name[1:] + (": likely route, not known" if origin == PROPOSED else "")
    head = wrapped(title, _SIZE, width - 16, bold=True)
    view, bottom = _view(laid, width, 14 + _LINE * len(head))
    listed = _lines(_listed(laid), width)
    at_gauge = bottom + _LINE * (len(listed) + 1.7)
    gauge = list(_gauge(laid, width, at_gauge))
    under = at_gauge + (_GAUGE + 2.7 * _LINE if gauge else 0)
    legend = _lines(_legend(laid), width)
    height = under + _LINE * len(legend)
    discs = _discs(drive, laid, view)
    lines = [
        svg.words("title", title),
        svg.words("desc", description(laid)),
        svg.element("rect", width=width, height=height, fill=_PAPER),
        *(svg.words("text", line, x=width / 2, y=20 + 16 * n, text_anchor="middle", font_weight="bold")
          for n, line in enumerate(head)),
        *svg.group("arm", _arm(laid, view), stroke=_INK, fill=_PAPER),
        *svg.group("pulleys", _rims(discs), stroke=_INK, fill=_PAPER),
        *svg.group("rotation", _rotations(discs), stroke=_INK),
        *svg.group("belt", _belt(laid, view), stroke=_INK, fill="none"),
        *svg.group("running", _running(laid, view), fill=_INK, stroke=_PAPER, stroke_width=1),
        *svg.group("numbers", _numbers(discs), text_anchor="middle", font_weight="bold"),
        *svg.group("list", _text(listed, bottom + _LINE)),
        *svg.group("tensioner", gauge),
        *svg.group("words", _text(legend, under)),
    ]  # fmt: skip
    return svg.document(lines, width=width, height=height, font_family="sans-serif", font_size=_SIZE, fill=_INK)


def description(laid: Laid) -> str:
    """The picture in words, for whoever cannot see it.

    Parameters
    ----------
    laid : Laid
    """
    ways = ", ".join(f"{stop.pulley} {turns(laid, stop)}" for stop in laid.route)
    return f"The belt runs over {route_words(laid.route)}, and back to the first. They turn: {ways}."


# --- where things go ------------------------------------------------------------------------------


def _view(laid: Laid, width: float, top: float) -> tuple[_View, float]:
    """As wide as the picture, and no taller than that allows; and where the drawing ends."""
    points = [(wheel.x + dx * wheel.radius, wheel.y + dy * wheel.radius)
              for wheel in laid.loop.wheels for dx, dy in ((1, 1), (-1, -1))]  # fmt: skip
    if laid.angle is not None:
        points.append(laid.drive.tensioner.pivot)
    (left, right), (low, high) = ((min(values), max(values)) for values in zip(*points, strict=True))
    room = width - 2 * _EDGE
    scale = min(room / (right - left), _TALLEST * room / (high - low))
    indent = (width - scale * (right - left)) / 2
    below = top + _EDGE / 2 + scale * (high - low)
    return _View(scale, indent - scale * left, below + scale * low), below + _EDGE / 2


def _discs(drive: Drive, laid: Laid, view: _View) -> list[_Disc]:
    found = []
    for number, (stop, wheel) in enumerate(zip(laid.route, laid.loop.wheels, strict=True), 1):
        pulley, (x, y) = drive.pulley(stop.pulley), view.at((wheel.x, wheel.y))
        rim = max(view.scale * pulley.diameter / 2 - _HALF - 0.5, 4.0)
        grooved, drives = bool(pulley.grooves), pulley.kind == DRIVER
        found.append(_Disc(x, y, rim, number, grooved, drives, rotation(laid, stop), _bare(laid, number - 1)))
    return found


def _bare(laid: Laid, at: int) -> Point:
    """The direction from a pulley's middle that leads away from the belt on it; in pixels."""
    x, y = pull_on(laid.loop, at)
    far = hypot(x, y)
    return (-x / far, y / far) if far > 1e-6 else (0.0, 1.0)


def _drawn(laid: Laid, view: _View, outwards: float) -> Loop:
    """The belt in pixels, y upwards, moved so far towards its back."""
    wheels = []
    for stop, wheel in zip(laid.route, laid.loop.wheels, strict=True):
        radius = view.scale * wheel.radius + (outwards if stop.side == RIBS else -outwards)
        x, y = view.at((wheel.x, wheel.y))
        wheels.append(Wheel(x, -y, max(radius, 1.0), wheel.sense))
    return loop(wheels)


# --- the belt -------------------------------------------------------------------------------------


def _belt(laid: Laid, view: _View) -> Iterator[str]:
    """A band with two edges; on the sides that have ribs it has teeth."""
    yield _teeth(laid, view, -_HALF - 0.8)
    if laid.drive.belt.is_double:
        yield _teeth(laid, view, _HALF + 2.0)
    middle = _path(_drawn(laid, view, 0.6))
    yield svg.element("path", d=middle, stroke_width=2 * _HALF + 0.8)
    yield svg.element("path", d=middle, stroke=_PAPER, stroke_width=2 * _HALF - 1.8)


def _teeth(laid: Laid, view: _View, outwards: float) -> str:
    return svg.element("path", d=_path(_drawn(laid, view, outwards)), stroke_width=2.6, stroke_dasharray="1.3 2.1")


def _path(found: Loop) -> str:
    parts = [f"M{_pair(found.spans[-1].end)}"]
    for wheel, wrap, run in zip(found.wheels, found.wraps, found.spans, strict=True):
        large, sweep = int(wrap > pi), int(wheel.sense == CLOCKWISE)
        radius = svg.number(wheel.radius)
        parts.append(f"A{radius} {radius} 0 {large} {sweep} {_pair(run.start)}L{_pair(run.end)}")
    return "".join(parts) + "Z"


def _pair(point: Point) -> str:
    """A point of a drawing with y upwards."""
    return f"{point[0]:.2f} {-point[1]:.2f}"


def _running(laid: Laid, view: _View) -> Iterator[str]:
    """An arrow-head on each run that is long enough, the way the belt goes."""
    for run in _drawn(laid, view, 0.6).spans:
        if run.length >= _SHORTEST_RUN:
            middle = (run.start[0] + run.end[0]) / 2, -(run.start[1] + run.end[1]) / 2
            yield _head(middle, (run.along[0], -run.along[1]), 7.5)


def _head(point: Point, along: Point, size: float, **look) -> str:
    """An arrow-head about a point; both in pixels, y downwards."""
    (x, y), (ux, uy) = point, along
    tip = x + size * ux, y + size * uy
    back = [(x - size * ux + side * 0.75 * size * uy, y - size * uy - side * 0.75 * size * ux) for side in (1, -1)]
    corners = "L".join(f"{svg.number(a)} {svg.number(b)}" for a, b in (tip, *back))
    return svg.element("path", d=f"M{corners}Z", **look)


# --- the pulleys ----------------------------------------------------------------------------------


def _rims(discs: Sequence[_Disc]) -> Iterator[str]:
    """Two rings where there are grooves, one where there are none; heavy on the driver."""
    for disc in discs:
        weight = 2.6 if disc.is_driver else 1.3
        yield svg.element("circle", cx=disc.x, cy=disc.y, r=disc.radius, stroke_width=weight)
        if disc.is_grooved and disc.radius > 9:
            yield svg.element("circle", cx=disc.x, cy=disc.y, r=disc.radius - 3, stroke_width=0.7)


def _rotations(discs: Sequence[_Disc]) -> Iterator[str]:
    for disc in discs:
        yield from _turn(disc, max(disc.radius - 6.5, 5.0), radians(200))


def _turn(disc: _Disc, radius: float, sweep: float) -> Iterator[str]:
    """An arc with an arrow-head round a middle, over its upper side."""
    begin = pi / 2 - disc.sense * sweep / 2
    yield _arrow(disc.x, disc.y, radius, begin, begin + disc.sense * sweep)


def _arrow(x: float, y: float, radius: float, begin: float, end: float) -> str:
    """An arc from angle to angle, its head at the end; angles anticlockwise, as they are seen."""
    sense = 1 if end > begin else -1
    first, last = ((x + radius * cos(angle), y - radius * sin(angle)) for angle in (begin, end))
    along = -sense * sin(end), -sense * cos(end)
    large, sweep = int(abs(end - begin) > pi), int(sense == CLOCKWISE)
    size = svg.number(radius)
    start, stop = (f"{svg.number(a)} {svg.number(b)}" for a, b in (first, last))
    arc = svg.element("path", d=f"M{start}A{size} {size} 0 {large} {sweep} {stop}", fill="none", stroke_width=1.2)
    return arc + _head(last, along, 3.6, fill=_INK, stroke="none")


def _numbers(discs: Sequence[_Disc]) -> Iterator[str]:
    """In the middle; where there is no room beside the arrow, outside, away from the belt."""
    for disc in discs:
        size, aside = (min(16.0, 0.75 * disc.radius), 0.0) if disc.radius >= _ROOMY else (11.0, disc.radius + 9)
        x, y = disc.x + aside * disc.bare[0], disc.y + aside * disc.bare[1]
        yield svg.words("text", str(disc.number), x=x, y=y + 0.36 * size, font_size=size)


# --- the tensioner --------------------------------------------------------------------------------


def _arm(laid: Laid, view: _View) -> Iterator[str]:
    if laid.angle is None:
        return
    arm = laid.drive.tensioner
    (x, y), (px, py) = view.at(arm.centre(laid.angle)), view.at(arm.pivot)
    yield svg.element("line", x1=x, y1=y, x2=px, y2=py, stroke_width=7, stroke_linecap="round")
    yield svg.element("line", x1=x, y1=y, x2=px, y2=py, stroke=_PAPER, stroke_width=4.6, stroke_linecap="round")
    yield svg.element("circle", cx=px, cy=py, r=5, stroke_width=1.3)
    yield svg.element("circle", cx=px, cy=py, r=1.2, fill=_INK)
    yield _arrow(px, py, 11, laid.angle + arm.slackens * radians(40), laid.angle + arm.slackens * radians(300))


def _gauge(laid: Laid, width: float, top: float) -> Iterator[str]:
    """A scale of the arm's angles from stop to stop, the window between its marks in black, and where it stands."""
    if laid.angle is None:
        return
    arm, left = laid.drive.tensioner, 34.0

    def height(angle: float) -> float:
        return top + _LINE + _GAUGE * (angle - arm.free) / (arm.loaded - arm.free)

    yield svg.words("text", "Where the tensioner's arm stands", x=16, y=top, font_weight="bold")
    yield svg.element("line", x1=left, x2=left, y1=height(arm.free), y2=height(arm.loaded), stroke=_INK)
    if arm.marks:
        ends = sorted(map(height, arm.marks))
        yield svg.element("rect", x=left - 5, width=10, y=ends[0], height=ends[1] - ends[0], fill=_INK)
    rows = _rows(laid)
    wanted = [height(angle) for angle, _ in rows]
    tops = apart(wanted, [_LINE] * len(rows), top + _LINE / 2, top + _LINE * 1.5 + _GAUGE)
    for (_, text), y, at in zip(rows, wanted, tops, strict=True):
        yield from _row(text, left, y, at + _LINE / 2, width)
    yield _head((left - 12, height(laid.angle)), (1.0, 0.0), 5, fill=_INK)


def _row(text: str, left: float, y: float, middle: float, width: float) -> Iterator[str]:
    tick = f"M{svg.number(left - 7)} {svg.number(y)}H{svg.number(left + 7)}"
    leader = f"{tick}L{svg.number(left + 22)} {svg.number(middle)}"
    yield svg.element("path", d=leader, fill="none", stroke=_INK, stroke_width=0.8)
    (line,) = wrapped(text, _SIZE, width - left - 34, most=1)
    look = {"font_weight": "bold"} if text.startswith("now") else {}
    yield svg.words("text", line, x=left + 26, y=middle + 4.5, **look)


def _rows(laid: Laid) -> list[tuple[float, str]]:
    """Angles of the arm with what they are, from the free stop on."""
    arm = laid.drive.tensioner
    rows = [(arm.free, "free stop"), (arm.loaded, "loaded stop"), (laid.angle, "now")]
    if arm.marks:
        rows += [(arm.marks[0], "mark, longest belt"), (arm.marks[1], "mark, shortest belt")]
    if arm.pin is not None:
        rows.append((arm.pin, "pin" + (f" {millimetres(arm.pin_diameter, 1)}" if arm.pin_diameter else "")))
    rows.sort(key=lambda row: (row[0] - arm.free) / (arm.loaded - arm.free))
    return [(angle, f"{what}: {round(degrees(angle), 1):g}°, {_belt_at(laid, angle)}") for angle, what in rows]


def _belt_at(laid: Laid, angle: float) -> str:
    return f"belt {millimetres(length_at(laid.drive, laid.route, angle))}"


# --- in words -------------------------------------------------------------------------------------


def _lines(sentences: Iterable[str], width: float) -> list[str]:
    return [line for words in sentences for line in wrapped(words, _SIZE, width - 32, most=6)]


def _text(lines: Iterable[str], top: float) -> Iterator[str]:
    for n, line in enumerate(lines):
        yield svg.words("text", line, x=16, y=top + _LINE * n)


def _listed(laid: Laid) -> Iterator[str]:
    for number, stop in enumerate(laid.route, 1):
        side = "on the back" if stop.side == BACK else "on the ribs"
        yield f"{number}  {stop.pulley}: {turns(laid, stop)}, {side}"


def _legend(laid: Laid) -> Iterator[str]:
    yield "Teeth: the side of the ribs. Two rings: grooves. Heavy ring: it drives. Heads on the belt: how it runs."
    window = window_lengths(laid)
    if window:
        least, most = (millimetres(one) for one in window)
        yield f"Arrow at the pivot: turn it so to slacken the belt. Belts of {least} to {most} keep the arm in place."
