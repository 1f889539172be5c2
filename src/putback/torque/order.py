"""In which order to tighten fasteners that hold one joint: across a circle, or from the centre outwards.

References
----------
.. [1] Crosswise order for flanges: the pattern long used with ASME PCC-1 (from memory), the same as on the work sheets
   of gasket makers: 1-3-2-4 for 4 bolts, 1-5-3-7-2-6-4-8 for 8, 1-7-4-10-2-8-5-11-3-9-6-12 for 12.
.. [2] Star order for 5 studs, 1-3-5-2-4, and from the centre outwards for rows: common practice, no source.
"""

from collections.abc import Sequence
from itertools import zip_longest
from math import atan2, cos, dist, pi, sin

from putback.errors import InputError

MOST = 60  # fasteners of one joint
Point = tuple[float, float]
_ALIKE = 0.05  # of the joint's size: positions as near as that to the centre count as equally near


def circle(count: int) -> tuple[int, ...]:
    """The order for fasteners evenly spread on a circle, numbered in turn.

    An even number is tightened crosswise: every second step lands on the fastener just opposite the one before; the
    pairs halve what is left open. An odd number is tightened as a star: every step goes as near to the opposite side
    as there is a fastener, which is 180° (1 - 1/N): 144° for 5, and more for more.

    Parameters
    ----------
    count : int
        1 to 60

    Returns
    -------
    order : tuple of int
        Numbers from 1, each once

    Examples
    --------
    >>> circle(5)
    (1, 3, 5, 2, 4)
    >>> circle(8)
    (1, 5, 3, 7, 2, 6, 4, 8)
    """
    _checked(count)
    return _crosswise(count) if count % 2 == 0 else _star(count)


def _star(count: int) -> tuple[int, ...]:
    """Steps of (N - 1) / 2 places; that has no factor in common with N, so each is met once."""
    return tuple(step * (count // 2) % count + 1 for step in range(count))


def _crosswise(count: int) -> tuple[int, ...]:
    """Pairs of opposites; of each pair that one first which lies farther from where the last one was."""
    half, order = count // 2, []
    for first in _halving(half):
        ends = (first, first + half)
        if order and _apart(order[-1], ends[1], count) > _apart(order[-1], ends[0], count):
            ends = ends[::-1]
        order += ends
    return tuple(order)


def _halving(half: int) -> list[int]:
    """The first ones of the pairs, alternating between the two halves of the half circle: 1, 4, 2, 5, 3, 6."""
    middle = (half + 1) // 2
    both = zip_longest(range(1, middle + 1), range(middle + 1, half + 1))
    return [number for pair in both for number in pair if number is not None]


def _apart(one: int, other: int, count: int) -> int:
    """How many places two numbers lie apart on the circle, the shorter way round."""
    between = abs(one - other) % count
    return min(between, count - between)


def grid(rows: int, columns: int) -> tuple[int, ...]:
    """The order for rows of fasteners, numbered row by row: from the centre outwards, changing sides.

    Parameters
    ----------
    rows, columns : int
        From 1, at most 60 fasteners together

    Returns
    -------
    order : tuple of int
        Numbers from 1, each once

    Examples
    --------
    >>> grid(1, 5)
    (3, 2, 4, 1, 5)
    >>> grid(2, 5)
    (3, 8, 2, 9, 4, 7, 1, 10, 5, 6)
    """
    if rows < 1 or columns < 1:
        raise InputError(f"{rows} rows of {columns} hold no fastener; both are from 1")
    _checked(rows * columns)
    return outwards(grid_points(rows, columns))


def grid_points(rows: int, columns: int) -> tuple[Point, ...]:
    """Where the fasteners of a grid sit, one apart, row by row from above."""
    return tuple((float(column), float(-row)) for row in range(rows) for column in range(columns))


def circle_points(count: int) -> tuple[Point, ...]:
    """Where the fasteners of a circle of radius 1 sit, the first on top and on clockwise."""
    return tuple((sin(2 * pi * place / count), cos(2 * pi * place / count)) for place in range(count))


def positions(points: Sequence[Point]) -> tuple[int, ...]:
    """The order for fasteners of which only the places are known.

    Where all lie equally far from their centre they are taken for a circle and tightened across it, beginning with the
    first; else they are tightened from the centre outwards.

    Parameters
    ----------
    points : sequence of (x, y)
        In any unit, y upwards; 1 to 60, no two at the same place

    Returns
    -------
    order : tuple of int
        Numbers of the points, from 1, each once

    Examples
    --------
    >>> positions([(0, 1), (1, 0), (0, -1), (-1, 0)])
    (1, 3, 2, 4)
    """
    _checked(len(points))
    _no_two_alike(points)
    centre = _centre(points)
    away = [dist(point, centre) for point in points]
    if len(points) > 3 and min(away) >= (1 - _ALIKE) * max(away):
        turn = _clockwise(points, centre)
        return tuple(turn[step - 1] for step in circle(len(points)))
    return outwards(points)


def _clockwise(points: Sequence[Point], centre: Point) -> list[int]:
    """The numbers of the points around their centre, from the first one on."""
    angles = [atan2(x - centre[0], y - centre[1]) for x, y in points]
    turns = [(angle - angles[0]) % (2 * pi) for angle in angles]
    return [1 + place for place in sorted(range(len(points)), key=lambda place: turns[place] if place else 0.0)]


def outwards(points: Sequence[Point]) -> tuple[int, ...]:
    """The order from the centre outwards, changing sides.

    In turns: of those nearest to the centre the one that lies farthest from all that are done, then the one nearest to
    its mirror image on the other side. Ties go to the lower number.

    Parameters
    ----------
    points : sequence of (x, y)
        As for `positions`

    Returns
    -------
    order : tuple of int
        Numbers of the points, from 1, each once
    """
    centre, left, done = _centre(points), list(range(len(points))), []
    slack = _ALIKE * max(dist(point, centre) for point in points)
    while left:
        one = _next_outwards(points, centre, left, done, slack)
        left.remove(one)
        done.append(one)
        if left and dist(points[one], centre) > slack:
            mirror = (2 * centre[0] - points[one][0], 2 * centre[1] - points[one][1])
            other = min(left, key=lambda place: (round(dist(points[place], mirror), 9), place))
            left.remove(other)
            done.append(other)
    return tuple(place + 1 for place in done)


def _next_outwards(points: Sequence[Point], centre: Point, left: list[int], done: list[int], slack: float) -> int:
    nearest = min(dist(points[place], centre) for place in left)
    near = [place for place in left if dist(points[place], centre) <= nearest + slack]

    def clear(place: int) -> float:
        return round(min((dist(points[place], points[other]) for other in done), default=0.0), 9)

    return min(near, key=lambda place: (-clear(place), place))


def _centre(points: Sequence[Point]) -> Point:
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def _no_two_alike(points: Sequence[Point]) -> None:
    seen: dict[Point, int] = {}
    for number, point in enumerate(points, 1):
        if point in seen:
            raise InputError(f"fasteners {seen[point]} and {number} have the same place; look at their coordinates")
        seen[point] = number


def _checked(count: int) -> None:
    if not 1 <= count <= MOST:
        raise InputError(f"an order is made for 1 to {MOST} fasteners, not for {count}")
