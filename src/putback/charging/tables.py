"""The tables of this room: data files named by what they hold and whose figures they are."""

import csv
from functools import cache
from importlib import resources


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """The rows of a data file, in its order.

    Parameters
    ----------
    name : str
        Of the file, without its ending
    """
    text = resources.files(__package__).joinpath("data").joinpath(f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


def between(points: list[tuple[float, float]], x: float) -> float:
    """A straight line between points in rising order of x; level beyond the first and the last.

    Parameters
    ----------
    points : list of (float, float)
    x : float

    Examples
    --------
    >>> between([(0.0, 1.0), (10.0, 2.0)], 5.0), between([(0.0, 1.0), (10.0, 2.0)], 99.0)
    (1.5, 2.0)
    """
    inside = min(max(x, points[0][0]), points[-1][0])
    for (x0, y0), (x1, y1) in zip(points, points[1:], strict=False):
        if inside <= x1:
            return y0 + (y1 - y0) * (inside - x0) / (x1 - x0)
    return points[-1][1]
