"""A belt by numbers alone: the points where its runs touch by a root finder, its length as that of a fine polyline.

No formula for tangents or for the length of an arc stands here.
"""

from math import atan2, pi

import numpy as np
from scipy.optimize import fsolve

STEPS = 40_000  # pieces of an arc; chords of a full turn of 80 mm then fall short by less than 1e-6 mm


def polyline(circles: list[tuple[float, float, float, bool]]) -> np.ndarray:
    """The points of a belt that passes circles anticlockwise, those that are not inside with its back."""
    ends = [_touching(one, other) for one, other in zip(circles, [*circles[1:], circles[0]], strict=True)]
    pieces = [_arc(circle, ends[n - 1][1], ends[n][0]) for n, circle in enumerate(circles)]
    return np.concatenate(pieces)


def length(points: np.ndarray) -> float:
    """Along a closed polyline."""
    return float(np.hypot(*(np.roll(points, -1, axis=0) - points).T).sum())


def _touching(one: tuple, other: tuple) -> tuple[float, float]:
    """The angles at which a straight run leaves one circle and reaches another."""
    ahead = atan2(other[1] - one[1], other[0] - one[0])
    start = [ahead + (-pi / 2 if circle[3] else pi / 2) for circle in (one, other)]
    found, _, success, message = fsolve(_out_of_square, start, (one, other), xtol=1e-14, full_output=True)
    assert success == 1 or np.abs(_out_of_square(found, one, other)).max() < 1e-8, message
    return tuple(found)


def _out_of_square(angles: np.ndarray, one: tuple, other: tuple) -> list[float]:
    """How far a run is from standing square on both of its radii."""
    first, last = (_point(circle, angle) for circle, angle in zip((one, other), angles, strict=True))
    run = last - first
    return [run @ (first - np.array(one[:2])), run @ (last - np.array(other[:2]))]


def _point(circle: tuple, angle) -> np.ndarray:
    return np.array([circle[0] + circle[2] * np.cos(angle), circle[1] + circle[2] * np.sin(angle)])


def _arc(circle: tuple, begin: float, end: float) -> np.ndarray:
    """The points from one angle to another, the way the circle turns."""
    turn = (end - begin) % (2 * pi) if circle[3] else -((begin - end) % (2 * pi))
    return _point(circle, begin + turn * np.linspace(0, 1, STEPS)).T
