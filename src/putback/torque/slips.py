"""Unit slips: a right number with a wrong unit. They are recognised and asked about, never corrected.

Between foot-pounds and inch-pounds the factor is 12, between newton metres and inch-pounds 8.85, between
newton metres and foot-pounds 1.36.
"""

from math import log
from typing import NamedTuple

from putback.units import TORQUE_UNITS, Reading, Tightening, TorqueUnit

# How nearly a value must agree with the one meant: the figures on sheets and wrenches are rounded. A small factor
# leaves less room, or an ordinary difference would look like a slip.
WIDE, NARROW, SMALL_FACTOR = 0.25, 0.04, 2.0
USUAL = ("N·m", "ft-lb", "in-lb")


class Slip(NamedTuple):
    """A torque, and the unit that was probably meant for its number."""

    meant: str  # the unit's name
    value: float  # the torque that was probably meant [N·m]


def slip(entered: Reading, wanted: Reading) -> Slip | None:
    """The slip that explains a torque that is not the one wanted.

    Parameters
    ----------
    entered : Reading
        As it was typed
    wanted : Reading
        As the sheet says it; its unit is one of those that may have been meant

    Returns
    -------
    slip : Slip or None
        That of the sheet's unit where it agrees, else the nearest, else None

    Notes
    -----
    What was typed in N·m may have been worked out before from a number with the wrong unit, so that of N·m every
    ratio of two units counts.
    """
    ratio = entered.value / wanted.value
    found = [
        (meant != wanted.unit, abs(log(ratio / (wrong.size / meant.size))), wrong, meant)
        for wrong, meant in _pairs(entered.unit, wanted.unit)
        if _agrees(ratio, wrong.size / meant.size)
    ]
    if not found:
        return None
    *_, wrong, meant = min(found, key=lambda one: one[:2])
    return Slip(meant.name, entered.value * meant.size / wrong.size)


def plausible_units(entered: Reading, low: float, high: float) -> tuple[Slip, ...]:
    """The units in which a number would make a torque of a sound size.

    Parameters
    ----------
    entered : Reading
        As it was typed, of no sound size
    low, high : float
        Between these a torque is sound [N·m]

    Returns
    -------
    slips : tuple of Slip
    """
    others = [TORQUE_UNITS[name] for name in USUAL if name != entered.unit.name]
    meant = [Slip(unit.name, entered.number * unit.size) for unit in others]
    return tuple(one for one in meant if low <= one.value <= high)


def last_reading(tightening: Tightening) -> Reading | None:
    """The last torque as typed; None where there is an angle alone."""
    return tightening.readings[-1] if tightening.readings else None


def _pairs(typed: TorqueUnit, wanted: TorqueUnit) -> list[tuple[TorqueUnit, TorqueUnit]]:
    """Pairs of a wrong unit and the one meant; those of the unit typed first."""
    names = list(dict.fromkeys((*USUAL, wanted.name, typed.name)))
    wrong = [typed.name] if typed.name != "N·m" else names
    return [(TORQUE_UNITS[one], TORQUE_UNITS[two]) for one in wrong for two in names if one != two]


def _agrees(ratio: float, factor: float) -> bool:
    room = WIDE if max(factor, 1 / factor) > SMALL_FACTOR else NARROW
    return factor * (1 - room) <= ratio <= factor * (1 + room)
