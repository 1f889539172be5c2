"""A tightening order as a picture: where each fastener sits, and when its turn comes. Ink on paper."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import dist

from putback.chart import svg
from putback.chart.text import wrapped

WIDTH = 360  # CSS px, that of a phone
_EDGE, _LINE, _SIZE = 44, 18, 13  # margin round the places, height of a line of text, its type
_CLOSEST = 14.2  # from place to place; two figures of the least type fit
_WIDEST = 6  # phones side by side; beyond that places come close after all
_LARGEST = 20  # radius of a place
_MOST_LINES = 8  # up to so many fasteners on a rim thin lines lead from one to the next
_INK, _PAPER = "#000", "#fff"

Point = tuple[float, float]


@dataclass(frozen=True)
class _Place:
    """Where a fastener is drawn, its step, and its number."""

    x: float
    y: float
    step: int
    number: int


def order_svg(
    order: Sequence[int], points: Sequence[Point], title: str, *, names: Sequence[str] = (), below: Sequence[str] = ()
) -> str:
    """The picture of an order.

    Parameters
    ----------
    order : sequence of int
        Numbers of the points, from 1, as they are tightened
    points : sequence of (x, y)
        Where each fastener sits, y upwards, in any unit; no two at the same place
    title : str
        What it shows
    names : sequence of str
        What the fasteners are called, listed in their order; without them each place bears its number
    below : sequence of str
        Sentences beneath the picture, such as its passes

    Returns
    -------
    text : str
        One SVG element with a title and a description. The step stands in the ring, the number of the fastener small
        beside it; nothing is told by colour.
    """
    scale, width, top = _scale(points), _width(points), _EDGE + 2 * _LINE
    places = _places(order, points, scale, width, top)
    radius = min(_LARGEST, 0.46 * _nearest(points) * scale) if len(points) > 1 else _LARGEST
    bottom = max(place.y for place in places) + _EDGE + _LINE
    text = list(_text(order, names, below, width))
    height = bottom + _LINE * len(text) + 10
    lines = [
        svg.words("title", title),
        svg.words("desc", description(order, names)),
        svg.element("rect", width=width, height=height, fill=_PAPER),
        *(svg.words("text", line, x=width / 2, y=22 + 16 * n, text_anchor="middle", font_weight="bold")
          for n, line in enumerate(wrapped(title, _SIZE, width - 16, bold=True))),
        *svg.group("course", _course(places), stroke=_INK, stroke_width=0.8, stroke_dasharray="1 4"),
        *svg.group("places", _rings(places, radius), fill=_PAPER, stroke=_INK, stroke_width=1.6 if radius > 10 else 1),
        *svg.group("steps", _steps(places, radius), text_anchor="middle", font_weight="bold"),
        *svg.group("numbers", () if names else _numbers(places, radius), text_anchor="middle"),
        *svg.group("words", (svg.words("text", line, x=16, y=bottom + _LINE * n) for n, line in enumerate(text))),
    ]  # fmt: skip
    return svg.document(lines, width=width, height=height, font_family="sans-serif", font_size=_SIZE, fill=_INK)


def description(order: Sequence[int], names: Sequence[str] = ()) -> str:
    """The order in words, for whoever cannot see the picture: `First 1, then 3, 5, 2, 4.`

    Parameters
    ----------
    order : sequence of int
    names : sequence of str
        As for `order_svg`
    """
    first, *rest = [names[number - 1] if names else str(number) for number in order]
    return f"First {first}, then {', '.join(rest)}." if rest else f"Only {first}."


# --- where things go ------------------------------------------------------------------------------


def _nearest(points: Sequence[Point]) -> float:
    return min(dist(one, other) for one, other in combinations(points, 2))


def _span(points: Sequence[Point], axis: int) -> float:
    values = [point[axis] for point in points]
    return max(values) - min(values)


def _scale(points: Sequence[Point]) -> float:
    """Pixels for each unit: as wide as a phone and no taller than wide, unless places came too close to be read."""
    if len(points) == 1:
        return 1.0
    room = WIDTH - 2 * _EDGE
    fitting = room / max(_span(points, 0), _span(points, 1))
    return min(max(fitting, _CLOSEST / _nearest(points)), _WIDEST * fitting)


def _width(points: Sequence[Point]) -> float:
    return max(WIDTH, _span(points, 0) * _scale(points) + 2 * _EDGE)


def _places(order: Sequence[int], points: Sequence[Point], scale: float, width: float, top: float) -> list[_Place]:
    """The places as drawn, in order, the middle of them in the middle of the picture."""
    left, upper = min(x for x, _ in points), max(y for _, y in points)
    indent = (width - _span(points, 0) * scale) / 2
    return [
        _Place(
            indent + (points[number - 1][0] - left) * scale, top + (upper - points[number - 1][1]) * scale, step, number
        )
        for step, number in enumerate(order, 1)
    ]


# --- what is drawn --------------------------------------------------------------------------------


def _course(places: Sequence[_Place]) -> Iterator[str]:
    if len(places) > _MOST_LINES or not _on_a_rim(places):
        return
    for one, other in pairwise(places):
        yield svg.element("line", x1=one.x, y1=one.y, x2=other.x, y2=other.y)


def _rings(places: Sequence[_Place], radius: float) -> Iterator[str]:
    for place in places:
        yield svg.element("circle", cx=place.x, cy=place.y, r=radius)
    first = places[0]
    if radius > 12:
        yield svg.element("circle", cx=first.x, cy=first.y, r=radius - 3, stroke_width=0.8)


def _middle(places: Sequence[_Place]) -> Point:
    return sum(place.x for place in places) / len(places), sum(place.y for place in places) / len(places)


def _on_a_rim(places: Sequence[_Place]) -> bool:
    """Whether all lie about equally far from their middle."""
    away = [dist((place.x, place.y), _middle(places)) for place in places]
    return len(places) > 2 and min(away) > 0.9 * max(away)


def _type(radius: float) -> float:
    """Type that two figures in a ring can have."""
    return max(9, min(18, 1.1 * radius))


def _steps(places: Sequence[_Place], radius: float) -> Iterator[str]:
    size = _type(radius)
    for place in places:
        yield svg.words("text", str(place.step), x=place.x, y=place.y + 0.36 * size, font_size=size)


def _numbers(places: Sequence[_Place], radius: float) -> Iterator[str]:
    """The numbers of the fasteners: on the outer side of a rim, else just below each."""
    size = max(8.5, 0.62 * _type(radius))
    gap, middle, rim = radius + size, _middle(places), _on_a_rim(places)
    for place in places:
        aside = _outwards(place, middle) if rim else (0.0, 1.0)
        x, y = place.x + gap * aside[0], place.y + gap * aside[1] + (0.36 * size if rim else 0)
        yield svg.words("text", str(place.number), x=x, y=y, font_size=size)


def _outwards(place: _Place, middle: Point) -> Point:
    """The direction from the middle to a place."""
    reach = dist((place.x, place.y), middle)
    return (place.x - middle[0]) / reach, (place.y - middle[1]) / reach


def _text(order: Sequence[int], names: Sequence[str], below: Sequence[str], width: float) -> Iterator[str]:
    listed = [f"{step}  {names[number - 1]}" for step, number in enumerate(order, 1)] if names else []
    legend = [] if names else ["In the rings: the order. Beside them: the numbers of the fasteners."]
    for sentence in [*listed, *legend, *below]:
        yield from wrapped(sentence, _SIZE, width - 32, most=9)
