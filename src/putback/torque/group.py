"""Fasteners that are tightened together: how they sit, and their order."""

from collections.abc import Sequence
from dataclasses import dataclass

from putback.torque import order as orders


@dataclass(frozen=True)
class Group:
    """Fasteners that are tightened together.

    Parameters
    ----------
    what : str
        How they sit, in words
    order : tuple of int
        Their numbers, from 1, as they are tightened
    points : tuple of (x, y)
        Where they sit, y upwards
    in_turn : tuple of int
        Their numbers for a last round: round the circle; elsewhere the order once more
    names : tuple of str
        What they are called, where they have names
    """

    what: str
    order: tuple[int, ...]
    points: tuple[tuple[float, float], ...]
    in_turn: tuple[int, ...]
    names: tuple[str, ...] = ()


def on_a_circle(count: int) -> Group:
    """So many fasteners on a circle, numbered in turn."""
    return Group(f"{count} on a circle", orders.circle(count), orders.circle_points(count), tuple(range(1, count + 1)))


def in_rows(rows: int, columns: int) -> Group:
    """Rows of fasteners, numbered row by row."""
    order = orders.grid(rows, columns)
    what = f"a row of {columns}" if rows == 1 else f"{rows} rows of {columns}"
    return Group(what, order, orders.grid_points(rows, columns), order)


def in_places(places: Sequence[tuple[str, float, float]]) -> Group:
    """Fasteners by name and coordinates."""
    points = tuple((x, y) for _, x, y in places)
    order = orders.positions(points)
    return Group(f"{len(places)} by their places", order, points, order, tuple(name for name, *_ in places))
