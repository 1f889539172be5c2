"""A belt drive in values: pulleys, tensioner, belt, and routes of a belt round the pulleys.

Everything is seen looking at the pulleys: x to the right, y up, angles anticlockwise from "to the right".
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, hypot, radians, sin
from typing import NamedTuple

from putback.belt.geometry import ANTICLOCKWISE, CLOCKWISE, Point
from putback.belt.profile import Mark, Profile

RIBS, BACK = "ribs", "back"  # the side of the belt that touches a pulley; the ribs face the inside of the loop
DRIVER, DRIVEN, IDLER = "driver", "driven", "idler"
KINDS = (DRIVER, DRIVEN, IDLER)
SAID = {CLOCKWISE: "clockwise", ANTICLOCKWISE: "anticlockwise"}


@dataclass(frozen=True)
class Pulley:
    """A pulley.

    Attributes
    ----------
    name : str
    kind : str
        DRIVER, DRIVEN or IDLER.
    diameter : float
        Effective or outside diameter [m].
    is_outside : bool
        Whether the diameter is the outside one. On grooves both count as equal; a belt whose back runs on an outside
        diameter lies higher by `Belt.back`.
    grooves : int
        How many; 0 where the pulley is flat.
    centre : (float, float), optional
        [m]; None for the pulley that sits on the tensioner's arm.
    rotation : int
        How it must turn, ANTICLOCKWISE or CLOCKWISE; 0 where that is not known. A driver's is always known.
    side : str, optional
        The side of the belt that belongs on it, RIBS or BACK; None where that is not known.
    power : float, optional
        What it takes off the belt [W].
    torque : float, optional
        What it takes off the belt [N m].
    what : str
        What else there is to say of it.
    """

    name: str
    kind: str
    diameter: float
    is_outside: bool = False
    grooves: int = 0
    centre: Point | None = None
    rotation: int = 0
    side: str | None = None
    power: float | None = None
    torque: float | None = None
    what: str = ""


@dataclass(frozen=True)
class Belt:
    """A belt.

    Attributes
    ----------
    ribs : int
    profile : Profile
    length : float
        Effective length [m].
    mass : float, optional
        Mass per length [kg/m].
    back : float, optional
        How far its back lies outside the effective diameter of a pulley that its ribs run on [m].
    tension : float, optional
        Tension at rest [N]; where a spring keeps the tension, that of the spring counts.
    is_double : bool
        Whether it has ribs on its back as well.
    """

    ribs: int
    profile: Profile
    length: float
    mass: float | None = None
    back: float | None = None
    tension: float | None = None
    is_double: bool = False

    @property
    def mark(self) -> str:
        """What it bears, as in ``7PK1538``."""
        return str(Mark(self.ribs, self.profile, self.length, self.is_double))

    def has_ribs_on(self, side: str) -> bool:
        """Whether a side of it has ribs.

        Parameters
        ----------
        side : str
            RIBS or BACK
        """
        return side == RIBS or self.is_double


@dataclass(frozen=True)
class Tensioner:
    """An arm that turns about a pivot, with a pulley at its end that a spring lays on the belt.

    Angles are those of the arm from its pivot to its pulley [rad].

    Attributes
    ----------
    pulley : str
        The name of its pulley.
    pivot : (float, float)
        [m]
    arm : float
        Length of the arm, from the pivot to the middle of the pulley [m], above 0.
    free, loaded : float
        Where the arm stops with no belt on, and where it stops when it is turned against its spring.
    marks : (float, float), optional
        Where the arm stands for the longest and for the shortest belt that will do.
    pin : float, optional
        Where a pin holds it.
    pin_diameter : float, optional
        [m]
    spring : (float, float), optional
        Torque of the spring at the free and at the loaded stop [N m].
    tool : str
        What the arm is turned with.
    """

    pulley: str
    pivot: Point
    arm: float
    free: float
    loaded: float
    marks: tuple[float, float] | None = None
    pin: float | None = None
    pin_diameter: float | None = None
    spring: tuple[float, float] | None = None
    tool: str = ""

    @property
    def window(self) -> tuple[float, float]:
        """Between which angles the arm may stand: its marks, or its stops where there are none [rad]."""
        return self.marks or (self.free, self.loaded)

    @property
    def slackens(self) -> int:
        """How the arm turns to slacken the belt: ANTICLOCKWISE or CLOCKWISE."""
        return ANTICLOCKWISE if self.loaded > self.free else CLOCKWISE

    def centre(self, angle: float) -> Point:
        """Where its pulley is when the arm stands at an angle [rad]."""
        return self.pivot[0] + self.arm * cos(angle), self.pivot[1] + self.arm * sin(angle)

    def holds(self, angle: float, bounds: tuple[float, float]) -> bool:
        """Whether an angle lies between two others [rad], as near as arms are read: a tenth of a degree.

        Parameters
        ----------
        angle : float
        bounds : (float, float)
        """
        return min(bounds) - radians(0.1) <= angle <= max(bounds) + radians(0.1)

    def spring_at(self, angle: float) -> float | None:
        """The torque of its spring [N m] at an angle [rad], in proportion between the stops; None if not known."""
        if self.spring is None:
            return None
        at_free, at_loaded = self.spring
        return at_free + (at_loaded - at_free) * (angle - self.free) / (self.loaded - self.free)


class Stop(NamedTuple):
    """A pulley on a route: its name, the side of the belt that touches it, and how many ribs hang beside it."""

    pulley: str
    side: str
    ribs_off: int = 0


Route = tuple[Stop, ...]


@dataclass(frozen=True)
class Drive:
    """A whole drive.

    Attributes
    ----------
    name : str
    pulleys : tuple of Pulley
        Two or more with different names, one of them the driver; in the order of the file.
    belt : Belt
    tensioner : Tensioner, optional
    route : tuple of Stop
        The right route as far as it is known: all pulleys, or none.
    laid : tuple of Stop
        A route as somebody laid the belt, to be judged.
    speed : float, optional
        Speed of the driver at which the loads are what they are [rad/s].
    friction : float, optional
        Coefficient of friction between belt and pulley.
    source : str
        Where the figures are from.
    """

    name: str
    pulleys: tuple[Pulley, ...]
    belt: Belt
    tensioner: Tensioner | None = None
    route: Route = ()
    laid: Route = ()
    speed: float | None = None
    friction: float | None = None
    source: str = ""

    @property
    def driver(self) -> Pulley:
        """The pulley that drives all others."""
        return next(one for one in self.pulleys if one.kind == DRIVER)

    def pulley(self, name: str) -> Pulley:
        """The pulley of a name that is there."""
        return next(one for one in self.pulleys if one.name == name)


def radius_of(pulley: Pulley, side: str, belt: Belt) -> float:
    """The radius of the belt's effective line round a pulley [m].

    Parameters
    ----------
    pulley : Pulley
    side : str
        The side of the belt that touches it
    belt : Belt

    Notes
    -----
    Ribs on both sides are taken for alike: the cord runs in the middle, as far from the one effective line as from
    the other.
    """
    if side == BACK and pulley.grooves and belt.is_double:
        return pulley.diameter / 2 + 2 * belt.profile.line_differential
    lies_on_top = side == BACK and (pulley.is_outside or pulley.grooves)
    return pulley.diameter / 2 + (belt.back or 0.0 if lies_on_top else 0.0)


def overlaps(drive: Drive) -> Iterator[tuple[str, str, float]]:
    """Pairs of pulleys that would touch each other, and by how much [m]; that of the tensioner is left out.

    Parameters
    ----------
    drive : Drive
    """
    fixed = [one for one in drive.pulleys if one.centre is not None]
    for n, one in enumerate(fixed):
        for other in fixed[n + 1 :]:
            gap = hypot(one.centre[0] - other.centre[0], one.centre[1] - other.centre[1])
            over = (one.diameter + other.diameter) / 2 - gap
            if over > 0:
                yield one.name, other.name, over
