"""What a belt can carry: friction, tensions, slip; and the tone of a span."""

from math import exp, pi, radians, sin, sqrt

from putback.errors import InputError

HALF_GROOVE = radians(20)  # half the angle of a groove, 40 degrees for PK (from memory)
FRICTION = 0.30  # rubber on metal, dry; the figure of textbook examples, from memory
EFFICIENCY = 0.55  # of an alternator at high output; common practice, no source


def friction_ratio(friction: float, wrap: float) -> float:
    r"""How many times the tension on one side of a pulley may be that on the other before the belt slips.

    .. math:: \frac{T_1}{T_2} = e^{\mu \beta}

    Parameters
    ----------
    friction : float
        Coefficient of friction, from 0; in grooves that of `in_grooves`
    wrap : float
        Angle of contact [rad], from 0

    Returns
    -------
    ratio : float

    Raises
    ------
    InputError
        A value below 0.

    Examples
    --------
    >>> round(friction_ratio(0.3, pi), 4)
    2.5663

    References
    ----------
    .. [1] Belt friction; any statics text.
    """
    if friction < 0 or wrap < 0:
        raise InputError(f"friction and wrap are not below 0, got {friction:g} and {wrap:g}")
    return exp(friction * wrap)


def in_grooves(friction: float, half_angle: float = HALF_GROOVE) -> float:
    r"""The friction that ribs wedged in grooves amount to.

    .. math:: \mu' = \frac{\mu}{\sin \alpha}

    Parameters
    ----------
    friction : float
        Coefficient of friction
    half_angle : float
        Half the angle of a groove [rad], above 0, at most a right angle

    Raises
    ------
    InputError
        No such groove.

    Examples
    --------
    >>> round(in_grooves(1.0, radians(18)), 3)
    3.236

    References
    ----------
    .. [1] V-belt friction; any machine design text.
    """
    if not 0 < half_angle <= pi / 2:
        raise InputError("half the angle of a groove is above 0 and at most 90°")
    return friction / sin(half_angle)


def span_frequency(tension: float, length: float, mass: float) -> float:
    r"""The tone of a span that is plucked [Hz].

    .. math:: f = \frac{1}{2 L} \sqrt{\frac{T}{m}}

    Parameters
    ----------
    tension : float
        [N], from 0
    length : float
        Of the span [m], above 0
    mass : float
        Of the belt [kg/m], above 0

    Raises
    ------
    InputError
        A value out of its range.

    Notes
    -----
    A stiff belt on a short span sounds higher than a string, so that its tension is less than its tone says.

    Examples
    --------
    >>> round(span_frequency(400, 0.20, 0.12), 3)
    144.338

    References
    ----------
    .. [1] The string's equation; elementary physics.
    """
    _must_be(tension >= 0 and length > 0 and mass > 0)
    return sqrt(tension / mass) / (2 * length)


def span_tension(frequency: float, length: float, mass: float) -> float:
    r"""The tension of a span that is plucked and sounds at a frequency [N].

    .. math:: T = 4 m L^2 f^2

    Parameters
    ----------
    frequency : float
        [Hz], from 0
    length : float
        Of the span [m], above 0
    mass : float
        Of the belt [kg/m], above 0

    Raises
    ------
    InputError
        A value out of its range.

    Examples
    --------
    >>> round(span_tension(95, 0.25, 0.12), 2)
    270.75

    References
    ----------
    .. [1] The string's equation; elementary physics.
    """
    _must_be(frequency >= 0 and length > 0 and mass > 0)
    return 4 * mass * length**2 * frequency**2


def _must_be(holds: bool) -> None:
    if not holds:
        raise InputError("a span has a length and a mass above 0; its tension and frequency are not below 0")


def alternator_power(current: float, volts: float, efficiency: float = EFFICIENCY) -> float:
    """What an alternator takes off the belt [W].

    Parameters
    ----------
    current : float
        That it gives [A], from 0
    volts : float
        At its stud [V], from 0
    efficiency : float
        Electrical output over mechanical input, above 0, at most 1

    Raises
    ------
    InputError
        A value out of its range.

    Examples
    --------
    >>> round(alternator_power(110, 14.0, 0.55))
    2800
    """
    if not (current >= 0 and volts >= 0 and 0 < efficiency <= 1):
        raise InputError("current and voltage are not below 0, and an efficiency lies between 0 and 100 %")
    return current * volts / efficiency


def torque_of(power: float, speed: float) -> float:
    """The torque that a power takes at a speed [N m].

    Parameters
    ----------
    power : float
        [W]
    speed : float
        [rad/s], above 0

    Raises
    ------
    InputError
        Standing still, nothing has a power.

    Examples
    --------
    >>> round(torque_of(2800, 5000 * 2 * pi / 60), 3)
    5.348
    """
    if not speed > 0:
        raise InputError("a power is taken at a speed above 0")
    return power / speed
