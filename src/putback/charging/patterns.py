"""What a sound bridge and a broken one leave in the spectrum: orders against the main one, and its size."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from putback.charging.tables import table

SIX, OPEN, SHORTED, LOST = "six-pulse", "one diode open", "one diode shorted", "phase lost"
BRIDGES = (SIX, OPEN, SHORTED, LOST)
PLACES = ("posts", "stud")
ORDERS = 24


@dataclass(frozen=True)
class Pattern:
    """The orders of one state of the bridge, seen from one place.

    Parameters
    ----------
    bridge : str
        Of `BRIDGES`
    at : str
        Of `PLACES`
    main : int
        The order that the others are held against
    middle, spread : ndarray
        Decimal logarithm of each order's amplitude over that of the main one, from order 1 to `ORDERS`
    size, size_spread : float
        Decimal logarithm of the main order's amplitude [V]
    """

    bridge: str
    at: str
    main: int
    middle: np.ndarray
    spread: np.ndarray
    size: float
    size_spread: float


@cache
def patterns(at: str | None = None) -> tuple[Pattern, ...]:
    """The patterns that may be seen from a place; on a short cable the stud looks as the posts do.

    Parameters
    ----------
    at : str, optional
        Of `PLACES`
    """
    rows = [row for row in table("ripple-orders-simulation") if at != "posts" or row["at"] == at]
    keys = dict.fromkeys((row["bridge"], row["at"]) for row in rows)
    return tuple(_pattern([row for row in rows if (row["bridge"], row["at"]) == key]) for key in keys)


def _pattern(rows: list[dict[str, str]]) -> Pattern:
    figures = {row["order"]: (float(row["middle"]), float(row["spread"])) for row in rows}
    main = int(rows[0]["main"])
    orders = [figures.get(str(order), figures["rest"]) for order in range(1, ORDERS + 1)]
    orders[main - 1] = (0.0, 1.0)
    middle, spread = np.array(orders).T
    return Pattern(rows[0]["bridge"], rows[0]["at"], main, middle, spread, *figures["size"])
