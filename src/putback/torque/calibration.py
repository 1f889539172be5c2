"""The calibration of a torque wrench: what it finds, and how long it counts.

References
----------
.. [1] ISO 6789:2003: after 12 months or about 5000 operations, whichever comes first, and a firm's own procedure goes
   before it; as quoted by calibration laboratories, the standard itself was not read. After an overload or a fall
   at once, which no date tells.
"""

from calendar import monthrange
from datetime import date
from typing import NamedTuple

from putback.errors import InputError
from putback.torque.wrench import TorqueWrench

MONTHS, OPERATIONS = 12, 5000  # [1]


def deviation_of(shown: float, reference: float) -> float:
    r"""Deviation of a wrench as a calibration finds it.

    .. math:: A = \frac{X_a - X_r}{X_r}

    Parameters
    ----------
    shown : float
        What the wrench was set to, or showed [N m]
    reference : float
        What the measuring device found [N m], above 0

    Returns
    -------
    deviation : float
        As a share; above 0 where the fastener gets less than the wrench says

    References
    ----------
    .. [1] ISO 6789-1, clause 7 (from memory).

    Examples
    --------
    >>> round(100 * deviation_of(100, 96.5), 3)
    3.627
    """
    if not reference > 0:
        raise InputError(f"the reference of a calibration is above 0 N·m, got {reference:g}")
    return (shown - reference) / reference


def due(wrench: TorqueWrench) -> date | None:
    """The last day on which the calibration of a wrench still counts; None where its last day is not known."""
    if wrench.calibrated is None:
        return None
    return _months_later(wrench.calibrated, _interval(wrench)[0])


class Calibration(NamedTuple):
    """How a wrench stands: 0 in date, 1 not known, 2 overdue; and a sentence where there is something to say."""

    rank: int
    words: str | None


def calibration(wrench: TorqueWrench, day: date | None) -> Calibration:
    """How the calibration of a wrench stands.

    An overdue wrench is a warning and goes on the record; it does not forbid the work.

    Parameters
    ----------
    wrench : TorqueWrench
    day : date or None
        The day of the work; None where nobody asks
    """
    operations = _interval(wrench)[1]
    if wrench.used is not None and wrench.used >= operations:
        return Calibration(2, f"used {wrench.used} times since its calibration, which is due after {operations}")
    if wrench.calibrated is None:
        return Calibration(1, "the day of its last calibration is not known")
    if day is None:
        return Calibration(1, None)
    if wrench.calibrated > day:
        return Calibration(1, f"calibrated on {wrench.calibrated}, which is still to come: look at the date")
    if day > due(wrench):
        return Calibration(2, f"its calibration of {wrench.calibrated} ran out on {due(wrench)}")
    return Calibration(0, None)


def _interval(wrench: TorqueWrench) -> tuple[int, int]:
    """Months and operations; a shop's own interval goes before the usual one, each of its two halves."""
    return wrench.months or MONTHS, wrench.operations or OPERATIONS


def _months_later(day: date, months: int) -> date:
    """The same day of a later month, or that month's last."""
    year, month = divmod(day.month - 1 + months, 12)
    year += day.year
    if year > date.max.year:
        return date.max
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))
