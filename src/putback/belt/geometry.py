"""A taut belt laid round wheels: its straight spans, its arcs, and its length.

All of it is plane geometry; which wheel is which, and which side of the belt touches it, others know.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import hypot, sqrt, tau
from math import atan2 as angle_of
from typing import NamedTuple

from putback.errors import InputError

Point = tuple[float, float]

ANTICLOCKWISE, CLOCKWISE = 1, -1
# A wrap that is less than this short of a full turn is none at all, spoilt by rounding [rad].
_ROUNDING = 1e-9
_WOUND = 0.75 * tau  # a wrap that no pulley of a belt has [rad]


class Wheel(NamedTuple):
    """A circle that a belt passes.

    `x`, `y` and `radius` are those of the line along the belt whose length counts [m]; `sense` is how the wheel turns
    when the belt runs in the order of the wheels, ANTICLOCKWISE or CLOCKWISE.
    """

    x: float
    y: float
    radius: float
    sense: int


class Span(NamedTuple):
    """A straight run of a belt from one wheel to the next; `along` is its direction as a unit vector."""

    start: Point
    end: Point
    along: Point
    length: float


class Loop(NamedTuple):
    """A belt round all of its wheels.

    ``spans[n]`` runs from wheel n to the next, `wraps` are the angles of contact [rad], each from 0 to a full turn,
    `length` is that of the whole belt [m], and `turning` how far the belt turns altogether, anticlockwise [rad].
    """

    wheels: tuple[Wheel, ...]
    spans: tuple[Span, ...]
    wraps: tuple[float, ...]
    length: float
    turning: float


def loop(wheels: Sequence[Wheel]) -> Loop:
    r"""Lay a taut belt round wheels.

    A span touches both of its wheels such that the belt leaves the one and reaches the other the way they turn. For
    wheels of radius :math:`r_1, r_2` that turn by :math:`s_1, s_2 = \pm 1`, at the distance :math:`d`,

    .. math:: \ell = \sqrt{d^2 - (s_1 r_1 - s_2 r_2)^2}

    Parameters
    ----------
    wheels : sequence of Wheel
        Two or more, in the order in which the belt passes them

    Returns
    -------
    loop : Loop

    Raises
    ------
    InputError
        Neighbours so near that no belt fits between them.

    Examples
    --------
    An open belt on wheels of 300 and 200 mm, one metre apart:

    >>> found = loop([Wheel(0, 0, 0.15, ANTICLOCKWISE), Wheel(1, 0, 0.1, ANTICLOCKWISE)])
    >>> round(found.length, 6)
    2.787899

    References
    ----------
    .. [1] Common tangents of two circles; with both wheels inside, Shigley's Mechanical Engineering Design, equations
       17-1 and 17-2.
    """
    spans = [span(wheels[n - 1], wheel) for n, wheel in enumerate(wheels)]  # the first leads to the first wheel
    spans.append(spans.pop(0))
    wraps, length, turning = [], 0.0, 0.0
    for n, wheel in enumerate(wheels):
        wrap = _wrap(spans[n - 1].along, spans[n].along, wheel.sense)
        wraps.append(wrap)
        length += spans[n].length + wheel.radius * wrap
        turning += wheel.sense * wrap
    return Loop(tuple(wheels), tuple(spans), tuple(wraps), length, turning)


def span(one: Wheel, other: Wheel) -> Span:
    """The straight run from one wheel to another; see `loop`.

    Parameters
    ----------
    one, other : Wheel

    Raises
    ------
    InputError
        The wheels are so near that no belt fits between them.
    """
    x, y, radius, sense = one
    other_x, other_y, other_radius, other_sense = other
    dx, dy = other_x - x, other_y - y
    lift, other_lift = sense * radius, other_sense * other_radius
    across, square = lift - other_lift, dx * dx + dy * dy
    rest = square - across * across
    if rest <= 0:
        raise InputError("two pulleys that follow each other are too near for a belt to pass between them")
    length = sqrt(rest)
    ux, uy = (length * dx - across * dy) / square, (length * dy + across * dx) / square
    end = other_x + other_lift * uy, other_y - other_lift * ux
    return Span((x + lift * uy, y - lift * ux), end, (ux, uy), length)


def _wrap(before: Point, after: Point, sense: int) -> float:
    """How far a wheel turns the belt from one direction to another, in its own sense [rad]."""
    (ax, ay), (bx, by) = before, after
    turned = sense * angle_of(ax * by - ay * bx, ax * bx + ay * by)
    return max(turned, 0.0) if turned > -_ROUNDING else turned + tau


def crossings(found: Loop, slack: float = 0.0) -> list[tuple[int, int]]:
    """Where a belt would run through itself: pairs of spans that cross.

    Parameters
    ----------
    found : Loop
    slack : float
        As much as spans may lie over each other [m], for coordinates that were measured by hand
    """
    pairs = combinations(range(len(found.spans)), 2)
    return [(n, m) for n, m in pairs if crosses(found.spans[n], found.spans[m], slack)]


def crosses(one: Span, other: Span, slack: float = 0.0) -> bool:
    """Whether two spans cross, each by more than some slack.

    Parameters
    ----------
    one, other : Span
    slack : float
        [m]
    """
    return _parted(one, other, slack) and _parted(other, one, slack)


def _parted(line: Span, other: Span, slack: float) -> bool:
    """Whether the ends of another span lie on either side of a line."""
    first, last = side_of(line, other.start), side_of(line, other.end)
    return min(first, last) < -slack and max(first, last) > slack


def side_of(line: Span, point: Point) -> float:
    """How far a point lies to the left of a span, looking along it [m].

    Parameters
    ----------
    line : Span
    point : (x, y)
    """
    (x, y), (ux, uy) = line.start, line.along
    return ux * (point[1] - y) - uy * (point[0] - x)


def distance(line: Span, point: Point) -> float:
    """How far a point lies from the nearest point of a span [m].

    Parameters
    ----------
    line : Span
    point : (x, y)
    """
    (x, y), (ux, uy) = line.start, line.along
    at = min(max(ux * (point[0] - x) + uy * (point[1] - y), 0.0), line.length)
    return hypot(point[0] - x - at * ux, point[1] - y - at * uy)


def struck(found: Loop, slack: float = 0.0) -> Iterator[tuple[int, int]]:
    """Where a span would run through a wheel that is not one of its own: pairs of (span, wheel).

    Parameters
    ----------
    found : Loop
    slack : float
        How far it may run into the wheel [m], for coordinates that were measured by hand
    """
    count = len(found.wheels)
    for n, line in enumerate(found.spans):
        for m, wheel in enumerate(found.wheels):
            if m not in (n, (n + 1) % count) and distance(line, (wheel.x, wheel.y)) < wheel.radius - slack:
                yield n, m


def beside(found: Loop, sense: int) -> tuple[tuple[int, float], ...]:
    """Wheels that a taut belt would not touch although it is led round them, and how far it passes beside them [m].

    Parameters
    ----------
    found : Loop
        A belt that does not turn once round
    sense : int
        How its inner wheels turn

    Returns
    -------
    beside : tuple of (int, float)
        By their place in the loop; none where the belt does not become a simple one without them.

    Notes
    -----
    Round a wheel that it does not reach a belt would have to wind by nearly a full turn.
    """
    kept = _reached(found, sense)
    rest = loop([found.wheels[n] for n in kept]) if kept else None
    if rest is None or crossings(rest) or any(struck(rest)):
        return ()
    gaps = [(n, _gap(rest, wheel)) for n, wheel in enumerate(found.wheels) if n not in kept]
    return tuple(gaps) if all(gap >= 0 for _, gap in gaps) else ()


def _reached(found: Loop, sense: int) -> list[int]:
    """The wheels that are left when those are given up which the belt winds round most, until it turns once round."""
    kept = list(range(len(found.wheels)))
    while abs(found.turning - sense * tau) > 1:
        most = max(range(len(kept)), key=lambda n: found.wraps[n])
        if found.wraps[most] < _WOUND or len(kept) == 2:
            return []
        del kept[most]
        try:
            found = loop([found.wheels[n] for n in range(len(found.wheels)) if n != most])
        except InputError:
            return []
    return kept


def _gap(found: Loop, wheel: Wheel) -> float:
    return min(distance(run, (wheel.x, wheel.y)) for run in found.spans) - wheel.radius


def pull_on(found: Loop, wheel: int) -> Point:
    """How the length of a belt grows with the centre of a wheel: the gradient of `Loop.length`, without unit.

    It is also the force with which a belt of tension 1 pulls at the wheel, turned round.

    Parameters
    ----------
    found : Loop
    wheel : int
        Its place in the loop

    Notes
    -----
    Arcs do not change in first order: a taut belt is a shortest one.
    """
    (ax, ay), (bx, by) = found.spans[wheel - 1].along, found.spans[wheel].along
    return ax - bx, ay - by
