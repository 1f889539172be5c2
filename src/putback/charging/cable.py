"""Copper cables: what they measure, what they drop, and what a drop says of a path.

References
----------
.. [1] ASTM B258, the rule of wire gauges, as quoted by a page (opened 2026-11-25): No. 36 is 0.0050 in, 4/0 is
   0.4600 in, 39 equal ratios between.
.. [2] IEC 60228, tables 2 and 3, as quoted by three pages (opened).
"""

from math import isfinite, pi

from putback.charging.tables import table
from putback.errors import InputError

RESISTIVITY = 17.241  # ohm mm2/km of annealed copper at 20 degC: the IEC's value on a laboratory's page (opened)
PER_KELVIN = 0.00393  # of copper's resistance at 20 degC: a note on resistivity (opened)
INCH = 25.4
LEAST_AMPS = 1.0  # A from which on a drop may be divided by a current


def gauge_diameter(gauge: int) -> float:
    """Diameter of a solid wire by its American gauge [mm] [1]_.

    Parameters
    ----------
    gauge : int
        4 for No. 4; 0 for 1/0, -1 for 2/0, -3 for 4/0

    Examples
    --------
    >>> round(gauge_diameter(4), 3)
    5.189
    """
    return 0.005 * INCH * 92 ** ((36 - gauge) / 39)


def gauge_area(gauge: int) -> float:
    """Copper of a wire by its American gauge [mm2]; see `gauge_diameter` for `gauge`."""
    return pi / 4 * gauge_diameter(gauge) ** 2


def solid_resistance(area: float) -> float:
    """Resistance of solid copper at 20 degC [ohm/km].

    Parameters
    ----------
    area : float
        [mm2], above 0
    """
    return RESISTIVITY / _above_0(area, "an area", "mm2")


def largest_resistance(size: float, make: str = "flexible") -> float:
    """The most resistance that a copper conductor of a size may have at 20 degC [ohm/km] [2]_.

    Parameters
    ----------
    size : float
        Nominal [mm2]
    make : str
        "flexible" (class 5) or "stranded" (class 2)

    Raises
    ------
    InputError
        A size or a make that the table does not have.
    """
    rows = {float(row["size"]): row.get(make) for row in table("iec-60228-resistance")}
    known = {one: text for one, text in rows.items() if text}
    if size not in known:
        there = ", ".join(f"{one:g}" for one in known) or "none"
        raise InputError(f"{size:g} mm2 {make} copper: the table has {there} mm2 of that make")
    return float(known[size])


def warm(resistance: float, celsius: float) -> float:
    """A copper resistance given for 20 degC, at another temperature, in the unit it came in.

    Parameters
    ----------
    resistance : float
        At 20 degC
    celsius : float
        Of the conductor [degC]
    """
    return resistance * (1 + PER_KELVIN * (celsius - 20.0))


def cable_resistance(size: float, metres: float, celsius: float = 20.0, make: str = "flexible") -> float:
    """The most that a whole cable may measure [ohm].

    Parameters
    ----------
    size : float
        Nominal [mm2]
    metres : float
        One way [m], above 0
    celsius : float
        Of the conductor [degC]
    make : str
        "flexible" (class 5) or "stranded" (class 2)

    Examples
    --------
    >>> round(drop(cable_resistance(25, 1.5), 180), 4)
    0.2106
    """
    return warm(largest_resistance(size, make), celsius) * _above_0(metres, "a length", "m") / 1000


def drop(ohms: float, amps: float) -> float:
    """What is lost over a resistance [V].

    Parameters
    ----------
    ohms : float
        [ohm]
    amps : float
        [A]
    """
    return ohms * amps


def path_resistance(volts: float, amps: float) -> float:
    """What a path measures by its drop under load [ohm].

    Parameters
    ----------
    volts : float
        Lost from end to end [V]
    amps : float
        Flowing meanwhile [A], 1 or more

    Raises
    ------
    InputError
        No current to speak of: without it a drop says nothing.

    Examples
    --------
    >>> round(path_resistance(0.90, 61), 5)
    0.01475
    """
    if not (isfinite(volts) and amps >= LEAST_AMPS):
        raise InputError(f"a drop at {amps:g} A says nothing of a path; load it with {LEAST_AMPS:g} A or more")
    return volts / amps


def largest_drop(part: str) -> float:
    """What a part of a path may drop under load [V]: common practice, no source; the maker's figure goes before.

    Parameters
    ----------
    part : str
        "connection", "cable", "switch" or "ground side"

    Raises
    ------
    InputError
        No such part.
    """
    rows = {row["part"]: float(row["volts"]) for row in table("drop-common-practice")}
    if part not in rows:
        raise InputError(f'"{part}" is none of {", ".join(rows)}')
    return rows[part]


def smallest_size(amps: float, metres: float, volts: float, celsius: float = 20.0) -> float | None:
    """The thinnest flexible conductor that drops no more than it may [mm2]; None where the table ends before.

    Drop alone: what a cable may carry without growing hot is another question; the vehicle maker's size goes before.

    Parameters
    ----------
    amps : float
        [A]
    metres : float
        One way [m]
    volts : float
        What it may drop [V]
    celsius : float
        Of the conductor [degC]
    """
    sizes = [float(row["size"]) for row in table("iec-60228-resistance")]
    return next((one for one in sizes if drop(cable_resistance(one, metres, celsius), amps) <= volts), None)


def _above_0(value: float, what: str, unit: str) -> float:
    if not (isfinite(value) and value > 0):
        raise InputError(f"{what} of {value:g} {unit}; it is above 0")
    return value
