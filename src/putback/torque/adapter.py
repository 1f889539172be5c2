r"""A torque wrench that carries an adapter: the fastener turns about another axis than the wrench's square drive.

.. math:: T_s = T \frac{L}{L + E \cos\theta}

T at the fastener, T_s at the wrench's drive, lever L from the middle of the grip to the drive, extension E from the
drive to the fastener's axis, and the angle between the two: 0 where the extension carries straight on from the grip,
180° where it points back at it.

The wrench trips (or reads) by the moment about its own drive, and the hand turns the fastener by its moment about the
fastener's axis; both come from one force at the middle of the grip, square to the wrench. That a long adapter bends,
or that the hand sits elsewhere, is not in the formula. A socket extension along the axis of the drive changes nothing.

References
----------
.. [1] Balance of moments about the fastener's axis; any textbook of statics.
"""

from dataclasses import dataclass
from math import cos, isfinite, radians

from putback.errors import InputError

ASK_ANGLE = (
    "at what angle does the adapter stand to the wrench? 0° carries straight on from the grip, 90° is square to it, "
    "180° points back at the grip; without the angle there is no setting"
)


@dataclass(frozen=True)
class Adapter:
    """An adapter that moves the fastener's axis away from the wrench's drive.

    Parameters
    ----------
    extension : float
        Square drive of the wrench to the axis of the fastener [m], from 0
    angle : float, optional
        Between adapter and wrench [degrees], 0 to 180; None where nobody has said
    """

    extension: float
    angle: float | None = None


def counts(adapter: Adapter | None) -> bool:
    """Whether an adapter changes the torque, so that the lever of the wrench and the angle must be known.

    Parameters
    ----------
    adapter : Adapter or None
        None for nothing, or for a socket extension along the axis
    """
    return adapter is not None and adapter.extension != 0 and adapter.angle != 90


def gain(lever: float | None, adapter: Adapter | None) -> float:
    r"""Torque at the fastener for each unit of torque at the wrench's drive.

    .. math:: \frac{L + E \cos\theta}{L}

    Parameters
    ----------
    lever : float or None
        Middle of the grip to the square drive [m], above 0; not asked for where it does not count
    adapter : Adapter or None
        What sits between wrench and socket; None for nothing, or for a socket extension along the axis

    Returns
    -------
    gain : float
        1 without an adapter, and for one at right angles to the wrench

    Raises
    ------
    InputError
        An angle that is not known, a length that cannot be, or an adapter that reaches back to the grip.

    Examples
    --------
    >>> gain(0.24, Adapter(0.06, 0))
    1.25
    """
    if not counts(adapter):
        return 1.0
    _checked(lever, adapter)
    reach = adapter.extension * cos(radians(adapter.angle))
    if lever + reach <= 0:
        raise InputError(
            f"an adapter of {adapter.extension * 1000:g} mm at {adapter.angle:g}° reaches back to the middle of the "
            f"grip ({lever * 1000:g} mm) or beyond: the hand has no lever left to turn the fastener; turn the adapter"
        )
    return 1 + reach / lever


def setting(torque: float, lever: float | None, adapter: Adapter | None) -> float:
    """What to set on the wrench, so that the fastener gets its torque.

    Parameters
    ----------
    torque : float
        Wanted at the fastener [N m], above 0
    lever : float or None
        Middle of the grip to the square drive [m], above 0; not asked for where it does not count
    adapter : Adapter or None
        As for `gain`

    Returns
    -------
    setting : float
        [N m]

    Raises
    ------
    InputError
        As for `gain`, or a torque that is not above 0.

    Examples
    --------
    >>> setting(100, 0.24, Adapter(0.06, 0))
    80.0
    """
    return _positive(torque) / gain(lever, adapter)


def applied(setting: float, lever: float | None, adapter: Adapter | None) -> float:
    """What the fastener gets at a setting: the other way round.

    With the wanted torque as the setting it is what a wrench gives whose adapter was forgotten.

    Parameters
    ----------
    setting : float
        On the wrench [N m], above 0
    lever : float or None
        Middle of the grip to the square drive [m], above 0; not asked for where it does not count
    adapter : Adapter or None
        As for `gain`

    Returns
    -------
    torque : float
        [N m]

    Raises
    ------
    InputError
        As for `setting`.

    Examples
    --------
    >>> applied(100, 0.24, Adapter(0.06, 0))
    125.0
    """
    return _positive(setting) * gain(lever, adapter)


def _positive(torque: float) -> float:
    if not (isfinite(torque) and torque > 0):
        raise InputError(f"a torque is above 0 N·m, got {torque:g}")
    return torque


def _checked(lever: float, adapter: Adapter) -> None:
    if adapter.angle is None:
        raise InputError(ASK_ANGLE)
    if not 0 <= adapter.angle <= 180:
        raise InputError(f"the angle of an adapter goes from 0° to 180°, got {adapter.angle:g}°")
    if not (isfinite(adapter.extension) and adapter.extension > 0):
        raise InputError(f"the length of an adapter is not below 0 mm, got {adapter.extension * 1000:g} mm")
    if lever is None:
        raise InputError("with an adapter the lever of the wrench counts, and it is not known")
    if not (isfinite(lever) and lever > 0):
        raise InputError(f"a wrench has a lever above 0 mm, got {lever * 1000:g} mm")
