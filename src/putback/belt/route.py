"""A belt on a drive: which way it runs, where the tensioner stands, and what follows for every pulley."""

from collections.abc import Callable
from math import inf, tau
from typing import NamedTuple

from putback.belt.drive import BACK, DRIVER, RIBS, Drive, Route, Stop, Tensioner, radius_of
from putback.belt.geometry import Loop, Wheel, beside, crossings, loop, pull_on, span, struck
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
    track = running(drive, route)
    angle, found = arm_angle(track, length)
    spare = length - found.length
    return Laid(drive, track.route, found, angle, 0.0 if angle is not None and abs(spare) < 10 * NEAR else spare)


class Track(NamedTuple):
    """A route in running order, as wheels; `at` is the place of the one on the tensioner's arm, which the arm moves."""

    route: Route
    wheels: tuple[Wheel, ...]
    at: int | None
    arm: Tensioner | None
    inside: int

    def loop(self, angle: float | None) -> Loop:
        """The belt while the arm stands at an angle [rad]; None where the belt passes no tensioner.

        Parameters
        ----------
        angle : float or None

        Raises
        ------
        InputError
            Two pulleys that follow each other are too near for a belt.
        """
        wheels = self.wheels
        if self.at is not None:
            x, y = self.arm.centre(angle)
            moved = Wheel(x, y, wheels[self.at].radius, wheels[self.at].sense)
            wheels = (*wheels[: self.at], moved, *wheels[self.at + 1 :])
        try:
            return loop(wheels)
        except InputError:
            raise _too_near(self.route, wheels) from None

    def slope(self, found: Loop, angle: float) -> float:
        """How the length of the route changes with the angle of the arm [m/rad].

        Parameters
        ----------
        found : Loop
            The belt at that angle
        angle : float
            [rad]
        """
        (x, y), (px, py), (gx, gy) = self.arm.centre(angle), self.arm.pivot, pull_on(found, self.at)
        return gy * (x - px) - gx * (y - py)


def _too_near(route: Route, wheels: tuple[Wheel, ...]) -> InputError:
    for n in range(len(wheels)):
        try:
            span(wheels[n - 1], wheels[n])
        except InputError:
            pair = f"{route[n - 1].pulley} and {route[n].pulley}"
            return InputError(f"no belt passes between {pair} like this: they are too near each other")
    raise AssertionError("the loop found a pair that the spans do not")


def track_of(drive: Drive, route: Route) -> Track:
    """A route as wheels.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
        In running order
    """
    sense, arm = inside(drive, route), drive.tensioner
    wheels = tuple(wheel(drive, stop, sense) for stop in route)
    at = next((n for n, stop in enumerate(route) if arm and stop.pulley == arm.pulley), None)
    return Track(route, wheels, at, arm, sense)


def wheel(drive: Drive, stop: Stop, sense: int, angle: float | None = None) -> Wheel:
    """A pulley as the belt sees it.

    Parameters
    ----------
    drive : Drive
    stop : Stop
    sense : int
        How pulleys on the ribs turn
    angle : float, optional
        Of the tensioner's arm [rad]; the middle of its window when left out
    """
    pulley = drive.pulley(stop.pulley)
    x, y = pulley.centre or drive.tensioner.centre(sum(drive.tensioner.window) / 2 if angle is None else angle)
    return Wheel(x, y, radius_of(pulley, stop.side, drive.belt), sense if stop.side == RIBS else -sense)


def inside(drive: Drive, route: Route) -> int:
    """How the pulleys on the ribs turn: as the driver does, unless the belt lies on that with its back.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
    """
    driver = drive.driver
    is_on_back = any(stop.pulley == driver.name and stop.side == BACK for stop in route)
    return -driver.rotation if is_on_back else driver.rotation


# --- the direction --------------------------------------------------------------------------------


def in_running_order(drive: Drive, route: Route) -> Route:
    """A route in the direction in which the driver pulls the belt, the driver first.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
        In either direction
    """
    return running(drive, route).route


def running(drive: Drive, route: Route) -> Track:
    """A route as wheels in the direction in which the driver pulls the belt, the driver first.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
        In either direction

    Notes
    -----
    A belt that runs through nothing turns once round, the way its inner pulleys turn. Read against its direction the
    same route hardly ever does. Where that is not plain, a reading counts that only passes beside a pulley, and else
    the one that runs through less.
    """
    ahead = _from_driver(drive, route)
    readings = [track_of(drive, one) for one in (ahead, (ahead[0], *reversed(ahead[1:])))]
    likely = _likely(readings)
    return min(likely, key=_disorder) if len(likely) > 1 and len(route) > 2 else likely[0]


def _from_driver(drive: Drive, route: Route) -> Route:
    at = next((n for n, stop in enumerate(route) if drive.pulley(stop.pulley).kind == DRIVER), 0)
    return (*route[at:], *route[:at])


def _likely(readings: list[Track]) -> list[Track]:
    """Those that are plainly possible; where none is, the next best."""
    for test in (_lies_plainly, beside, turns_once):
        if passed := [one for one in readings if _holds(test, one)]:
            return passed
    return readings


def _holds(test: Callable[[Loop, int], object], track: Track) -> bool:
    try:
        return bool(test(loop(track.wheels), track.inside))
    except InputError:
        return False


def _disorder(track: Track) -> int:
    """How often a belt runs through something; more than ever where it cannot be laid at all."""
    try:
        found = loop(track.wheels)
    except InputError:
        return len(track.wheels) ** 2
    return len(crossings(found)) + len(list(struck(found)))


def turns_once(found: Loop, sense: int) -> bool:
    """Whether a belt turns once round, the way its inner pulleys turn; turnings are whole turns but for rounding.

    Parameters
    ----------
    found : Loop
    sense : int
    """
    return abs(found.turning - sense * tau) < 1


def _lies_plainly(found: Loop, sense: int) -> bool:
    return turns_once(found, sense) and not crossings(found) and not any(struck(found))


# --- the tensioner --------------------------------------------------------------------------------


def arm_angle(track: Track, length: float) -> tuple[float | None, Loop]:
    """Where the tensioner's arm stands with a belt of some length.

    Parameters
    ----------
    track : Track
    length : float
        [m]

    Returns
    -------
    angle : float or None
        [rad]; at a stop where the arm cannot follow; None where there is no arm
    found : Loop
        The belt there

    Notes
    -----
    The spring moves the arm from its loaded stop towards the free one until the belt is taut. Found by Newton's method
    from the middle, kept between bounds that close in; the free stop is looked at only when a step leads beyond it.
    """
    if track.at is None:
        return None, track.loop(None)
    free, tight = track.arm.free, track.arm.loaded
    found = track.loop(tight)
    if found.length >= length:
        return tight, found
    slack, angle = None, (free + tight) / 2
    for _ in range(TRIES):
        found = track.loop(angle)
        over = found.length - length  # above 0 nearer to the free stop than the belt lets the arm come
        if abs(over) < NEAR or (angle == free and over < 0):
            break
        slack, tight = (angle, tight) if over > 0 else (slack, angle)
        steep = track.slope(found, angle)
        angle = _closer(angle - over / steep if steep else inf, slack, tight, free)
    return angle, found


def _closer(step: float, slack: float | None, tight: float, free: float) -> float:
    """The next angle to try: where the tangent leads, or half-way between the bounds where that lies beyond them."""
    end = free if slack is None else slack
    if min(end, tight) < step < max(end, tight):
        return step
    return free if slack is None else (slack + tight) / 2


def length_at(drive: Drive, route: Route, angle: float | None) -> float:
    """The length of belt that a route takes up while the arm stands at an angle [m].

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
        In running order
    angle : float or None
        [rad]; None where the belt passes no tensioner
    """
    return track_of(drive, route).loop(angle).length


def slope(laid: Laid) -> float:
    """How the length of the route changes with the angle of the arm, where it stands [m/rad].

    Parameters
    ----------
    laid : Laid
        With a tensioner
    """
    return track_of(laid.drive, laid.route).slope(laid.loop, laid.angle)


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
    arm, track = drive.tensioner, track_of(drive, route)
    angles = (arm.free, *(arm.marks or (None, None)), arm.pin, arm.loaded)
    return Lengths(*(None if angle is None else track.loop(angle).length for angle in angles))


def window_lengths(laid: Laid) -> tuple[float, float] | None:
    """The shortest and the longest belt that keep the tensioner inside its marks, or its stops where it has none [m].

    Parameters
    ----------
    laid : Laid

    Returns
    -------
    window : (float, float) or None
        None where the belt passes no tensioner.
    """
    if laid.angle is None:
        return None
    found = lengths(laid.drive, laid.route)
    ends = (found.longest, found.shortest) if laid.drive.tensioner.marks else (found.free, found.loaded)
    return min(ends), max(ends)


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
