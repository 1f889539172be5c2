"""Tensions along a belt at work, and how far each pulley is from slipping."""

from dataclasses import dataclass

from putback.belt.drive import DRIVER, Drive, Stop
from putback.belt.judge import MOST_SPARE
from putback.belt.pull import FRICTION, friction_ratio, in_grooves, torque_of
from putback.belt.route import Laid, cord_radius, driver_stop, slope, speed_ratio
from putback.errors import InputError

SPRING, REST = "spring", "rest"  # what the tension is known from


@dataclass(frozen=True)
class Grip:
    """How a belt grips a pulley that takes power off it, or gives it some.

    Attributes
    ----------
    stop : Stop
    torque : float
        [N m]
    pull : float
        Tight side less slack side [N].
    tight, slack : float
        Tension of its two spans that presses the belt on the pulley [N].
    limit : float
        The ratio of the two at which the belt slips.
    """

    stop: Stop
    torque: float
    pull: float
    tight: float
    slack: float
    limit: float

    @property
    def ratio(self) -> float:
        """Tight side over slack side; endless where the slack side has no tension left."""
        return self.tight / self.slack if self.slack > 0 else float("inf")

    @property
    def margin(self) -> float:
        """The pull at which the belt would slip here, over the pull there is; below 1 it slips."""
        if self.pull <= 0:
            return float("inf")
        return max(self.slack, 0.0) * (self.limit - 1) / self.pull


@dataclass(frozen=True)
class Working:
    """A drive at work: the tension of each span in running order [N], the grip on each loaded pulley, and the source
    of the tension, SPRING or REST; `speed` is that of the belt [m/s]."""

    spans: tuple[float, ...]
    grips: tuple[Grip, ...]
    source: str
    speed: float


def rest_tension(laid: Laid) -> float | None:
    """The tension of the belt at rest [N]: that of the tensioner's spring, or as it is told; None if neither is known.

    Parameters
    ----------
    laid : Laid

    Notes
    -----
    When the arm turns by a little, the work of its spring is that of the belt, so the tension is the spring's torque
    over the change of length with the angle. Where the belt cannot be taut neither counts.
    """
    return (spring_tension(laid) or laid.drive.belt.tension) if is_taut(laid) else None


def is_taut(laid: Laid) -> bool:
    """Whether a belt can lie taut on its route: else it hangs slack, or does not go on.

    Parameters
    ----------
    laid : Laid
    """
    most = 0.0 if laid.angle is not None else MOST_SPARE * laid.loop.length
    return abs(laid.spare) <= most


def spring_tension(laid: Laid) -> float | None:
    """The tension that the tensioner's spring gives the belt [N]; None where it is not known.

    Parameters
    ----------
    laid : Laid
    """
    if laid.angle is None:
        return None
    torque = laid.drive.tensioner.spring_at(laid.angle)
    steep = abs(slope(laid))
    return torque / steep if torque and steep else None


def at_work(laid: Laid, speed: float, friction: float | None = None) -> Working:
    """Tensions and slip margins while the driver turns at a speed.

    Parameters
    ----------
    laid : Laid
    speed : float
        Of the driver [rad/s], above 0
    friction : float, optional
        Coefficient of friction; the drive's own when left out, or else 0.30

    Returns
    -------
    working : Working

    Raises
    ------
    InputError
        The tension at rest is not known, or the speed is not above 0.

    Notes
    -----
    Along the belt the tension rises at every pulley that takes power, and falls at the driver. A spring keeps up the
    grip at its own pulley. Without one the belt stretches: its mean tension over the spans stays what it was at rest,
    less what its mass takes away at speed, which needs the mass of the belt.
    """
    rest = rest_tension(laid)
    if rest is None:
        raise InputError("for tensions at work say the tensioner's spring torque, or the belt's tension at rest")
    if not speed > 0:
        raise InputError("a drive at work has a speed above 0")
    friction = friction if friction is not None else laid.drive.friction or FRICTION
    torques = _torques(laid, speed)
    pulls = [torque / cord_radius(laid.drive, stop) for torque, stop in zip(torques, laid.route, strict=True)]
    source = SPRING if spring_tension(laid) else REST
    belt_speed = speed * cord_radius(laid.drive, driver_stop(laid))
    spans = _tensions(laid, pulls, rest, source, belt_speed)
    return Working(spans, tuple(_grips(laid, torques, pulls, spans, friction)), source, belt_speed)


def _torques(laid: Laid, speed: float) -> list[float]:
    """What each pulley takes off the belt [N m]; the driver gives what the others take, so that its own is below 0."""
    taken = [_torque(laid, stop, speed) for stop in laid.route]
    pull = sum(torque / cord_radius(laid.drive, stop) for torque, stop in zip(taken, laid.route, strict=True))
    at = laid.route.index(driver_stop(laid))
    taken[at] = -pull * cord_radius(laid.drive, laid.route[at])
    return taken


def _torque(laid: Laid, stop: Stop, speed: float) -> float:
    pulley = laid.drive.pulley(stop.pulley)
    if pulley.kind == DRIVER:
        return 0.0
    if pulley.torque is not None:
        return pulley.torque
    return torque_of(pulley.power, speed * speed_ratio(laid, stop)) if pulley.power else 0.0


def _tensions(laid: Laid, pulls: list[float], rest: float, source: str, belt_speed: float) -> tuple[float, ...]:
    """The tension of each span [N], the first being that which leaves the first pulley."""
    rises = []
    for pull in pulls:
        rises.append((rises[-1] if rises else 0.0) + pull)
    if source == SPRING:
        names = [stop.pulley for stop in laid.route]
        base = rest - rises[names.index(laid.drive.tensioner.pulley)]
    else:
        weights = [span.length for span in laid.loop.spans]
        mean = sum(rise * weight for rise, weight in zip(rises, weights, strict=True)) / sum(weights)
        base = rest - mean - (laid.drive.belt.mass or 0.0) * belt_speed**2
    return tuple(base + rise for rise in rises)


def _grips(laid: Laid, torques: list[float], pulls: list[float], spans: tuple[float, ...], friction: float):
    for n, stop in enumerate(laid.route):
        if not pulls[n]:
            continue
        tight, slack = max(spans[n - 1], spans[n]), min(spans[n - 1], spans[n])
        grip = in_grooves(friction) if _is_wedged(laid.drive, stop) else friction
        limit = friction_ratio(grip, laid.loop.wraps[n])
        yield Grip(stop, abs(torques[n]), abs(pulls[n]), tight, slack, limit)


def _is_wedged(drive: Drive, stop: Stop) -> bool:
    """Whether ribs lie in grooves."""
    return bool(drive.pulley(stop.pulley).grooves) and drive.belt.has_ribs_on(stop.side)
