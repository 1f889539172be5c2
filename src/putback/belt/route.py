"""A belt on a drive: which way it runs, where the tensioner stands, and what follows for every pulley."""

from collections.abc import Iterable
from math import tau
from typing import NamedTuple

from putback.belt.drive import BACK, DRIVER, RIBS, Drive, Route, Stop, radius_of
from putback.belt.geometry import Loop, Wheel, crossings, loop, pull_on, span, struck
from putback.errors import InputError

NEAR = 1e-11  # m; a length is met when it is this close
TRIES = 80  # halvings of any range of an arm lead below the rounding of a float


class Laid(NamedTuple):
    """A belt laid on a drive.

    Attributes
    ----------
    drive : Drive
    route : tuple of Stop
        In the direction in which the belt runs, the driver first.
    loop : Loop
        Its wheels in the same order.
    angle : float or None
        Of the tensioner's arm [rad]; None where there is no tensioner.
    spare : float
        How much longer the belt is than its route [m]. With a tensioner that is 0, unless the arm stands at one of its
        stops: above 0 the belt hangs slack, below 0 it cannot be fitted.
    """

    drive: Drive
    route: Route
    loop: Loop
    angle: float | None
    spare: float


def named_route(drive: Drive, names: Iterable[str] | None = None) -> Route:
    """A route by the names of its pulleys, each on the side that belongs on it.

    Parameters
    ----------
    drive : Drive
    names : iterable of str, optional
        In the order in which the belt passes them; all pulleys in the order of the drive when left out
    """
    pulleys = [drive.pulley(name) for name in names] if names is not None else drive.pulleys
    return tuple(Stop(one.name, side_on(drive, one.name)) for one in pulleys)


def side_on(drive: Drive, name: str) -> str:
    """The side of the belt that belongs on a pulley: as the drive says, or as its rotation or its face asks for.

    Parameters
    ----------
    drive : Drive
    name : str
    """
    pulley = drive.pulley(name)
    if pulley.side:
        return pulley.side
    if pulley.rotation:
        return RIBS if pulley.rotation == drive.driver.rotation else BACK
    return RIBS if pulley.grooves else BACK


# --- the belt on the pulleys ----------------------------------------------------------------------


def lay(drive: Drive, route: Route, length: float | None = None) -> Laid:
    """Lay a belt on a drive, and let the tensioner come up.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
        Two or more pulleys in the order in which the belt passes them, in either direction
    length : float, optional
        Effective length of the belt [m]; that of the drive's own belt when left out

    Returns
    -------
    laid : Laid

    Raises
    ------
    InputError
        Two pulleys that follow each other are too near for a belt.
    """
    length = drive.belt.length if length is None else length
    running = in_running_order(drive, route)
    if not has_arm(drive, running):
        found = loop_at(drive, running, None)
        return Laid(drive, running, found, None, length - found.length)
    angle = arm_angle(drive, running, length)
    found = loop_at(drive, running, angle)
    spare = length - found.length
    return Laid(drive, running, found, angle, spare if abs(spare) > 10 * NEAR else 0.0)


def has_arm(drive: Drive, route: Route) -> bool:
    """Whether the belt passes the tensioner.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
    """
    return drive.tensioner is not None and any(stop.pulley == drive.tensioner.pulley for stop in route)


def loop_at(drive: Drive, route: Route, angle: float | None) -> Loop:
    """The belt on a route while the tensioner's arm stands at an angle.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
        In running order
    angle : float or None
        [rad]; None where the belt passes no tensioner

    Raises
    ------
    InputError
        Two pulleys that follow each other are too near for a belt.
    """
    wheels = [wheel(drive, stop, angle, inside(drive, route)) for stop in route]
    try:
        return loop(wheels)
    except InputError:
        raise _too_near(route, wheels) from None


def _too_near(route: Route, wheels: list[Wheel]) -> InputError:
    for n in range(len(wheels)):
        try:
            span(wheels[n - 1], wheels[n])
        except InputError:
            pair = f"{route[n - 1].pulley} and {route[n].pulley}"
            return InputError(f"no belt passes between {pair} like this: they are too near each other")
    raise AssertionError("the loop found a pair that the spans do not")


def wheel(drive: Drive, stop: Stop, angle: float | None, sense: int) -> Wheel:
    """A pulley as the belt sees it.

    Parameters
    ----------
    drive : Drive
    stop : Stop
    angle : float or None
        Of the tensioner's arm [rad]
    sense : int
        How pulleys on the ribs turn
    """
    pulley = drive.pulley(stop.pulley)
    is_on_arm = drive.tensioner is not None and drive.tensioner.pulley == stop.pulley
    x, y = drive.tensioner.centre(angle) if is_on_arm else pulley.centre
    return Wheel(x, y, radius_of(pulley, stop.side, drive.belt), sense if stop.side == RIBS else -sense)


def inside(drive: Drive, route: Route) -> int:
    """How the pulleys on the ribs turn: as the driver does, unless the belt lies on that with its back.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
    """
    sides = {stop.pulley: stop.side for stop in route}
    return drive.driver.rotation * (-1 if sides.get(drive.driver.name) == BACK else 1)


# --- the direction --------------------------------------------------------------------------------


def in_running_order(drive: Drive, route: Route) -> Route:
    """A route in the direction in which the driver pulls the belt, the driver first.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
        In either direction

    Notes
    -----
    A belt that runs through nothing turns once round, the way its inner pulleys turn. Read against its direction the
    same route does not. Where neither reading does, the route is wrong, and the one that crosses itself less counts.
    """
    ahead = _from_driver(drive, route)
    readings = (ahead, (ahead[0], *reversed(ahead[1:])))
    return min(readings, key=lambda one: _disorder(drive, one)) if len(route) > 2 else ahead


def _from_driver(drive: Drive, route: Route) -> Route:
    at = next((n for n, stop in enumerate(route) if drive.pulley(stop.pulley).kind == DRIVER), 0)
    return (*route[at:], *route[:at])


def _disorder(drive: Drive, route: Route) -> tuple[bool, int]:
    """Whether a belt fails to turn once round; and then, how often it runs through something."""
    angle = sum(drive.tensioner.window) / 2 if has_arm(drive, route) else None
    try:
        found = loop_at(drive, route, angle)
    except InputError:
        return True, len(route) ** 2
    if turns_once(found, inside(drive, route)):
        return False, 0
    return True, len(crossings(found)) + len(list(struck(found)))


def turns_once(found: Loop, sense: int) -> bool:
    """Whether a belt turns once round, the way its inner pulleys turn; turnings are whole turns but for rounding.

    Parameters
    ----------
    found : Loop
    sense : int
    """
    return abs(found.turning - sense * tau) < 1


# --- the tensioner --------------------------------------------------------------------------------


def arm_angle(drive: Drive, route: Route, length: float) -> float:
    """Where the tensioner's arm stands with a belt of some length [rad]; at a stop where it cannot follow.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
        In running order
    length : float
        [m]

    Notes
    -----
    Newton's method with `slope`, kept between bounds that close in on the answer.
    """
    arm = drive.tensioner
    slack, tight = arm.free, arm.loaded  # the route is longer than the belt at the first, shorter at the second
    if loop_at(drive, route, slack).length <= length:
        return slack
    if loop_at(drive, route, tight).length >= length:
        return tight
    angle = (slack + tight) / 2
    for _ in range(TRIES):
        found = loop_at(drive, route, angle)
        over = found.length - length
        if abs(over) < NEAR:
            break
        slack, tight = (angle, tight) if over > 0 else (slack, angle)
        angle = _closer(angle, over, slope(drive, route, found, angle), (slack, tight))
    return angle


def _closer(angle: float, over: float, steep: float, bounds: tuple[float, float]) -> float:
    """The next angle to try: where the tangent leads, or half-way where that lies beyond the bounds."""
    step = angle - over / steep if steep else bounds[0]
    return step if min(bounds) < step < max(bounds) else sum(bounds) / 2


def slope(drive: Drive, route: Route, found: Loop, angle: float) -> float:
    """How the length of the route changes with the angle of the tensioner's arm [m/rad].

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
    found : Loop
        The belt at that angle
    angle : float
        [rad]
    """
    arm = drive.tensioner
    at = next(n for n, stop in enumerate(route) if stop.pulley == arm.pulley)
    (x, y), (px, py), (gx, gy) = arm.centre(angle), arm.pivot, pull_on(found, at)
    return gy * (x - px) - gx * (y - py)


def length_at(drive: Drive, route: Route, angle: float | None) -> float:
    """The length of belt that a route takes up while the arm stands at an angle [m].

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
        In running order
    angle : float or None
        [rad]
    """
    return loop_at(drive, route, angle).length


class Lengths(NamedTuple):
    """The lengths of belt [m] that put the arm at its free stop, its two marks, its pin and its loaded stop."""

    free: float
    longest: float | None
    shortest: float | None
    pin: float | None
    loaded: float


def lengths(drive: Drive, route: Route) -> Lengths:
    """What belts a drive with a tensioner can take.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
        In running order, past the tensioner
    """
    arm = drive.tensioner
    angles = (arm.free, *(arm.marks or (None, None)), arm.pin, arm.loaded)
    return Lengths(*(None if angle is None else length_at(drive, route, angle) for angle in angles))


# --- the pulleys ----------------------------------------------------------------------------------


def rotation(laid: Laid, stop: Stop) -> int:
    """How a pulley turns: ANTICLOCKWISE or CLOCKWISE.

    Parameters
    ----------
    laid : Laid
    stop : Stop
    """
    sense = inside(laid.drive, laid.route)
    return sense if stop.side == RIBS else -sense


def cord_radius(drive: Drive, stop: Stop) -> float:
    """The radius at which the cord of the belt runs, which alone keeps its length [m].

    Parameters
    ----------
    drive : Drive
    stop : Stop

    References
    ----------
    .. [1] ISO 9981:2020, 5.4, as quoted by a page: the effective line differential. That it counts twice in the
       diameter is from memory.
    """
    radius = radius_of(drive.pulley(stop.pulley), stop.side, drive.belt)
    differential = drive.belt.profile.line_differential
    return radius + differential if stop.side == RIBS else max(radius - differential, radius / 2)


def speed_ratio(laid: Laid, stop: Stop) -> float:
    """Turns of a pulley to one turn of the driver, without slip.

    Parameters
    ----------
    laid : Laid
    stop : Stop
    """
    return cord_radius(laid.drive, driver_stop(laid)) / cord_radius(laid.drive, stop)


def driver_stop(laid: Laid) -> Stop:
    """The driver on the route.

    Parameters
    ----------
    laid : Laid
    """
    return next(stop for stop in laid.route if stop.pulley == laid.drive.driver.name)
