r"""Metric threads: pitch, stress area, and the torque that brings a bolt to its proof load.

References
----------
.. [1] ISO 261:1998, general plan of metric screw threads.
.. [2] ISO 898-1:2013, table 3 (stress under proof load) and clause 9.1.6 (nominal stress area).
.. [3] ISO 898-2:2012, table 1 (nuts and the bolts that they are made for).
"""

import csv
from functools import cache
from importlib import resources
from math import pi

from putback.errors import InputError

# T = K d F; charts for SAE-grade bolts print 0.20 for dry, plain steel.
NUT_FACTOR = 0.20


def stress_area(diameter: float, pitch: float) -> float:
    r"""Nominal stress area of a metric thread.

    .. math:: A_s = \frac{\pi}{4} (d - 0.9382 P)^2

    Parameters
    ----------
    diameter : float
        Nominal diameter [mm]
    pitch : float
        Pitch [mm], below the diameter

    Returns
    -------
    area : float
        [mm2]

    Raises
    ------
    InputError
        A pitch or diameter that no thread can have.

    Examples
    --------
    >>> round(stress_area(10, 1.5), 1)
    58.0
    """
    if not 0 < pitch < diameter:
        raise InputError(f"no thread has a diameter of {diameter:g} mm and a pitch of {pitch:g} mm")
    return pi / 4 * (diameter - 0.9382 * pitch) ** 2


def pitches(diameter: float) -> tuple[float, ...]:
    """The pitches of ISO 261 for a diameter [mm], coarse first; empty where the table has no such thread."""
    return _pitches().get(float(diameter), ())


def proof_strength(property_class: str, diameter: float) -> float | None:
    """Stress under proof load.

    Parameters
    ----------
    property_class : str
        Of a bolt (``8.8``) or of a nut (``10``), which stands for the bolt that it is made for
    diameter : float
        Nominal diameter [mm]

    Returns
    -------
    stress : float or None
        [N/mm2]; None where the table has no such class and size
    """
    bolt = _mating_bolts().get(property_class, property_class)
    fitting = [stress for name, up_to, stress in _strengths() if name == bolt and diameter <= up_to]
    return fitting[0] if fitting else None


def proof_torque(diameter: float, pitch: float, property_class: str) -> float | None:
    r"""Torque at which the bolt reaches its proof load.

    .. math:: T = K d A_s S_p

    Parameters
    ----------
    diameter : float
        Nominal diameter [mm]
    pitch : float
        Pitch [mm]
    property_class : str
        Of the bolt, or of the nut

    Returns
    -------
    torque : float or None
        [N m]; None where the class is not in the table

    Notes
    -----
    A rule of thumb for finding slips. The vehicle maker's figure goes before it.

    Examples
    --------
    >>> round(proof_torque(8, 1.25, "8.8"), 1)
    34.0
    """
    stress = proof_strength(property_class, diameter)
    if stress is None:
        return None
    return NUT_FACTOR * diameter * stress_area(diameter, pitch) * stress / 1000


@cache
def _pitches() -> dict[float, tuple[float, ...]]:
    rows = _table("iso-261-1998-pitches.csv")
    return {float(row["diameter"]): tuple(map(float, row["pitches"].split())) for row in rows}


@cache
def _strengths() -> list[tuple[str, float, float]]:
    rows = _table("iso-898-1-2013-proof-strength.csv")
    return [(row["class"], float(row["diameter_up_to"]), float(row["stress"])) for row in rows]


@cache
def _mating_bolts() -> dict[str, str]:
    return {row["nut"]: row["bolt"] for row in _table("iso-898-2-2012-mating-bolts.csv")}


def _table(name: str) -> list[dict[str, str]]:
    lines = resources.files(__package__).joinpath("data").joinpath(name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))
