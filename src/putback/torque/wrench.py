"""What a torque wrench can do: its range of use, how far it may be off, and its scale.

A reading wrench (dial, display) is treated as a setting one: what one sets, the other is pulled to.

References
----------
.. [1] ISO 6789:2003, type II class A: permissible deviation ±6 % up to 10 N·m and ±4 % above, tested at 20, 60 and
   100 % of the maximum; as quoted by makers' manuals and calibration laboratories, the standard itself was not read.
   That wrenches that read may be off by the same is from memory.
.. [2] ISO 6789-1:2017: the range begins at the lowest value marked; as quoted by a calibration laboratory.
"""

from collections.abc import Sequence
from datetime import date
from math import ceil
from typing import NamedTuple, Protocol

from putback.units import TORQUE_UNITS, show_number

LOWEST_SHARE = 0.20  # of the maximum, where no lowest mark is known [1]
SMALL = 10.0  # N·m; wrenches up to this maximum may be off further [1]
SMALL_DEVIATION, USUAL_DEVIATION = 0.06, 0.04  # [1]
_SLACK = 1e-9  # of a step: what floats may be off


class TorqueWrench(Protocol):
    """What is to be known of a torque wrench; whatever has these attributes will do.

    Attributes
    ----------
    name : str
    low : float or None
        Lowest mark of the scale [N m]
    high : float
        Highest torque [N m]
    step : float or None
        From one mark to the next [N m]
    drive : str or None
        ``1/2 in``
    calibrated : date or None
        Day of the last calibration
    unit : str
        Of the scale, by its name in `TORQUE_UNITS`
    lever : float or None
        Middle of the grip to the square drive [m]
    deviation : float or None
        How far it may be off, as a share of what it shows
    kind : str
        ``setting`` or ``reading``
    months, operations : int or None
        The shop's own interval of calibration
    used : int or None
        Operations since the last calibration
    """

    name: str
    low: float | None
    high: float
    step: float | None
    drive: str | None
    calibrated: date | None
    unit: str
    lever: float | None
    deviation: float | None
    kind: str
    months: int | None
    operations: int | None
    used: int | None


class Band(NamedTuple):
    """What a torque lies between [N·m]."""

    low: float
    high: float

    def holds(self, other: "Band") -> bool:
        """Whether all of another band lies within this one; both borders belong to it."""
        return self.low * (1 - _SLACK) <= other.low and other.high <= self.high * (1 + _SLACK)


def lowest(wrench: TorqueWrench) -> float:
    """The lowest torque that a wrench may be used for [N·m]: its lowest mark, else a fifth of its maximum."""
    return LOWEST_SHARE * wrench.high if wrench.low is None else wrench.low


def covers(wrench: TorqueWrench, torque: float) -> bool:
    """Whether a torque [N·m] at the drive lies in the range of use; both ends belong to it."""
    return lowest(wrench) * (1 - _SLACK) <= torque <= wrench.high * (1 + _SLACK)


def deviation(wrench: TorqueWrench) -> float:
    """How far a wrench may be off, as a share of what it shows: what the shop says, else what the standard allows."""
    if wrench.deviation is not None:
        return wrench.deviation
    return SMALL_DEVIATION if wrench.high <= SMALL else USUAL_DEVIATION


def band(torque: float, share: float) -> Band:
    """What the fastener may get when a wrench says `torque`: the deviation is a share of the true torque.

    Parameters
    ----------
    torque : float
        What the wrench says [N m]
    share : float
        How far it may be off, from 0 to below 1

    Examples
    --------
    >>> [round(end, 2) for end in band(100, 0.04)]
    [96.15, 104.17]
    """
    return Band(torque / (1 + share), torque / (1 - share))


def on_scale(wrench: TorqueWrench, torque: float) -> float:
    """The mark of a wrench's scale that is nearest to a torque.

    Parameters
    ----------
    wrench : TorqueWrench
    torque : float
        At the drive [N m], within the range of use

    Returns
    -------
    number : float
        In the unit of the scale. Half-way between two marks the lower one; the torque as it is where no step is known.
    """
    size = TORQUE_UNITS[wrench.unit].size
    if wrench.step is None:
        return round(torque / size, 9)
    base, step = (wrench.low or 0.0) / size, wrench.step / size
    first, last = ceil((lowest(wrench) / size - base) / step - _SLACK), int((wrench.high / size - base) / step + _SLACK)
    nearest = ceil((torque / size - base) / step - 0.5 - _SLACK)
    return round(base + max(first, min(nearest, last)) * step, 9)


def show_range(wrench: TorqueWrench) -> str:
    """The range of use of a wrench in the unit of its scale: `5-25 N·m`."""
    size = TORQUE_UNITS[wrench.unit].size
    return f"{show_number(lowest(wrench) / size)}-{show_number(wrench.high / size)} {wrench.unit}"


def common_range(torque: float) -> str:
    """A usual range of wrenches that would do for a torque [N·m], not at its very top: `1-5 N·m`.

    Examples
    --------
    >>> common_range(3.8)
    '1-5 N·m'
    """
    # Maxima as wrenches are commonly sold, each used from a fifth on: common practice, no source.
    top = next((size for size in _MAXIMA if torque <= 0.8 * size), _MAXIMA[-1])
    return f"{show_number(LOWEST_SHARE * top)}-{show_number(top)} N·m"


_MAXIMA: Sequence[float] = (0.5, 1, 2.5, 5, 10, 25, 50, 100, 200, 400, 800, 1500, 3000)
