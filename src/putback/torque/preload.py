r"""Torque and preload: what a tightened bolt clamps with, and the torque that it takes.

Most of a torque is lost to friction, in the thread and under the head, and friction is known only as a
range. So is all that is computed with it.

References
----------
.. [1] VDI 2230 part 1:2015: torque after Kellermann and Klein, assembly preload (formulas from memory; they
   give the torque tables of the 2001 and 2003 editions as pages quote them).
.. [2] ISO 4014:2011 and ISO 273:1979, where a head bears.
"""

from math import pi, sqrt
from typing import NamedTuple

from putback.errors import InputError
from putback.torque.interval import Range, over
from putback.torque.tables import table
from putback.torque.threads import FLANK, Thread

# Friction of usual metal surfaces, phosphated or plated, dry or lightly oiled; VDI 2230 friction class B, from memory.
USUAL_FRICTION = Range(0.08, 0.16)
YIELD_SHARE = 0.9  # of the 0.2 % proof strength, pull and twist together
# Mean bearing diameter over thread diameter where the table has no such size; M5 to M24 have 1.23 to 1.29.
BEARING_OVER_DIAMETER = 1.28


class Split(NamedTuple):
    """Where a torque goes [N·m]: stretching the bolt, friction in the thread, friction under the head."""

    stretch: float
    thread: float
    head: float

    @property
    def total(self) -> float:
        """The whole torque [N·m]."""
        return sum(self)


def by_nut_factor(torque: float, thread: Thread, factor: Range) -> Range:
    r"""Preload from torque, with one factor for all friction.

    .. math:: F = \frac{T}{K d}

    Parameters
    ----------
    torque : float
        [N m]
    thread : Thread
    factor : Range
        Nut factor K: about 0.20 dry and plain, 0.22 zinc plated, 0.15 lubricated (common practice, no source)

    Returns
    -------
    preload : Range
        [N]
    """
    _sound(torque, factor)
    return over(lambda k: torque * 1000 / (k * thread.diameter), factor)


def torque_by_nut_factor(preload: float, thread: Thread, factor: Range) -> Range:
    r"""Torque for a preload, with one factor for all friction.

    .. math:: T = K d F

    Parameters
    ----------
    preload : float
        [N]
    thread : Thread
    factor : Range
        Nut factor K

    Returns
    -------
    torque : Range
        [N m]
    """
    _sound(preload, factor)
    return over(lambda k: k * thread.diameter * preload / 1000, factor)


def split(preload: float, thread: Thread, in_thread: float, under_head: float, bearing: float | None = None) -> Split:
    r"""Torque for a preload, part by part, after Kellermann and Klein.

    .. math:: T = F (0.16 P + 0.58 d_2 \mu_G + \tfrac{1}{2} D_{Km} \mu_K)

    Parameters
    ----------
    preload : float
        [N]
    thread : Thread
    in_thread, under_head : float
        Coefficients of friction
    bearing : float, optional
        Mean diameter on which the head or nut bears [mm]; that of a hexagon head when left out

    Returns
    -------
    split : Split
        [N m]

    Examples
    --------
    >>> from putback.torque.threads import metric
    >>> round(split(29597, metric(10), 0.12, 0.12).total, 1)
    48.4
    """
    # 0.16 = 1 / (2 pi) and 0.58 = 1 / (2 cos 30 deg), as the guideline rounds them.
    arms = (
        0.16 * thread.pitch,
        0.58 * thread.pitch_diameter * in_thread,
        (bearing or bearing_diameter(thread)) / 2 * under_head,
    )
    return Split(*(preload * arm / 1000 for arm in arms))


def torque_for(
    preload: float, thread: Thread, in_thread: Range, under_head: Range, bearing: float | None = None
) -> Range:
    """Torque for a preload, with friction in thread and under head apart; see `split`.

    Parameters
    ----------
    preload : float
        [N]
    thread : Thread
    in_thread, under_head : Range
        Coefficients of friction
    bearing : float, optional
        Mean bearing diameter [mm]

    Returns
    -------
    torque : Range
        [N m]
    """
    _sound(preload, in_thread, under_head)
    return over(lambda g, k: split(preload, thread, g, k, bearing).total, in_thread, under_head)


def preload_of(
    torque: float, thread: Thread, in_thread: Range, under_head: Range, bearing: float | None = None
) -> Range:
    """Preload from torque, with friction in thread and under head apart; the way back of `torque_for`.

    Parameters
    ----------
    torque : float
        [N m]
    thread : Thread
    in_thread, under_head : Range
        Coefficients of friction
    bearing : float, optional
        Mean bearing diameter [mm]

    Returns
    -------
    preload : Range
        [N]
    """
    _sound(torque, in_thread, under_head)
    return over(lambda g, k: torque / split(1.0, thread, g, k, bearing).total, in_thread, under_head)


def assembly_preload(thread: Thread, yields: float, in_thread: float, share: float = YIELD_SHARE) -> float:
    r"""Preload at which pull and twist together use a share of the bolt's yield strength.

    .. math:: F = \frac{\nu R_{p0.2} A_s}{\sqrt{1 + 3 \left[\tfrac{3}{2} \tfrac{d_2}{d_0}
              \left(\tfrac{P}{\pi d_2} + 1.155 \mu_G\right)\right]^2}}, \quad d_0 = \sqrt{4 A_s / \pi}

    Parameters
    ----------
    thread : Thread
    yields : float
        Lower yield point or 0.2 % proof strength [N/mm2]
    in_thread : float
        Coefficient of friction in the thread
    share : float
        Of the yield strength, 0 to 1

    Returns
    -------
    preload : float
        [N]
    """
    core = sqrt(4 * thread.stress_area / pi)
    lead = thread.pitch / (pi * thread.pitch_diameter)
    twist = 1.5 * thread.pitch_diameter / core * (lead + in_thread / FLANK)
    return share * yields * thread.stress_area / sqrt(1 + 3 * twist**2)


def assembly_torque(thread: Thread, yields: float, friction: float, bearing: float | None = None) -> float:
    """Torque that brings a bolt to its assembly preload, with one friction for thread and head.

    Parameters
    ----------
    thread : Thread
    yields : float
        [N/mm2]
    friction : float
    bearing : float, optional
        Mean bearing diameter [mm]

    Returns
    -------
    torque : float
        [N m]
    """
    return split(assembly_preload(thread, yields, friction), thread, friction, friction, bearing).total


def bearing_diameter(thread: Thread) -> float:
    """Mean diameter on which a hexagon head bears [mm]: halfway from the clearance hole to the bearing face's edge."""
    for row in () if thread.inch else table("iso-4014-2011-bearing"):
        if float(row["diameter"]) == thread.diameter:
            return (float(row["face"]) + float(row["hole"])) / 2
    return BEARING_OVER_DIAMETER * thread.diameter


def _sound(value: float, *frictions: Range) -> None:
    if not value > 0:
        raise InputError(f"a torque or preload is above 0, not {value:g}")
    for friction in frictions:
        if not 0 < friction.low <= friction.high < 1:
            raise InputError(f"friction lies between 0 and 1, not at {friction.low:g} to {friction.high:g}")
