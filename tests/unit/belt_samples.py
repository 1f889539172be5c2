"""Drives for the tests of belts, invented."""

from collections.abc import Iterable
from dataclasses import replace
from math import tau

from putback import demo
from putback.belt.drive import BACK, DRIVEN, DRIVER, RIBS, Belt, Drive, Pulley, Stop
from putback.belt.geometry import CLOCKWISE, Loop, crossings, struck
from putback.belt.profile import profile
from putback.belt.route import side_on
from putback.drive_file import read_drive

NAME = "demo-a-drive.yaml"


def demo_drive() -> Drive:
    """The drive of demo car A."""
    return read_drive(demo.text(NAME), NAME)


def two_pulleys(**belt) -> Drive:
    """Two grooved pulleys of 140 and 55 mm, 300 mm apart, without a tensioner."""
    pulleys = (
        Pulley("crankshaft", DRIVER, 0.140, grooves=6, centre=(0.0, 0.0), rotation=CLOCKWISE),
        Pulley("alternator", DRIVEN, 0.055, grooves=6, centre=(0.3, 0.0)),
    )
    route = tuple(Stop(one.name, RIBS) for one in pulleys)
    return Drive("two", pulleys, Belt(6, profile("PK"), 0.9123, **belt), route=route)


def named_route(drive: Drive, names: Iterable[str]) -> tuple[Stop, ...]:
    """A route by the names of its pulleys, each on the side that belongs on it."""
    return tuple(Stop(name, side_on(drive, name)) for name in names)


def is_simple(found: Loop) -> bool:
    """Whether a belt turns round once, winds round no wheel, and runs through nothing."""
    once = abs(abs(found.turning) - tau) < 1
    return once and not crossings(found) and not any(struck(found))


def with_belt_of(drive: Drive, millimetres: float) -> Drive:
    """The same drive with a belt of another length."""
    return replace(drive, belt=replace(drive.belt, length=millimetres / 1000))


def turned_over(drive: Drive, name: str) -> tuple[Stop, ...]:
    """The drive's route with the belt on the other side of one pulley."""
    other = {RIBS: BACK, BACK: RIBS}
    return tuple(one._replace(side=other[one.side]) if one.pulley == name else one for one in drive.route)


def swapped(drive: Drive, name: str, other: str) -> tuple[Stop, ...]:
    """The drive's route with two pulleys in each other's place."""
    stops = {one.pulley: one for one in drive.route}
    change = {name: other, other: name}
    return tuple(stops[change.get(one.pulley, one.pulley)] for one in drive.route)
