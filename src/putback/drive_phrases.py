"""The short phrases of a drive file: places, angles, loads, speeds.

Each function takes the text of one phrase and gives a value in SI units, or raises InputError without a place; the
reader adds where it stood.
"""

import re
from math import radians, tau
from typing import NamedTuple

from putback.belt.drive import BACK, RIBS
from putback.belt.geometry import ANTICLOCKWISE, CLOCKWISE, Point
from putback.belt.profile import checked_length
from putback.belt.pull import EFFICIENCY, alternator_power
from putback.errors import InputError
from putback.units import number, torque
from putback.units.lengths import read_length
from putback.units.numbers import NUMBER, plain

LARGEST_PULLEY = 1.0  # m
SLOWEST, FASTEST = 50, 50_000  # rpm; "2.000 rpm" is a slip, not a speed
_SIGNED = rf"[-+]?\s*{NUMBER}"
_PLACE = re.compile(rf"({_SIGNED})\s*(?:mm)?\s*[,;]\s*({_SIGNED})\s*(\S.*)")
_DEGREES = r"\s*(?:°|deg\.?|degrees?)"
_ANGLES = re.compile(rf"({_SIGNED})(?:{_DEGREES})?\s+to\s+({_SIGNED}){_DEGREES}")
_CURRENT = re.compile(rf"({NUMBER})\s*A\s+(?:at|@)\s+({NUMBER})\s*V(?:\s*,\s*({NUMBER})\s*%)?")
_POWER = re.compile(rf"({NUMBER})\s*(W|kW|hp)")
_POWERS = {"W": 1.0, "kW": 1000.0, "hp": 745.6998715822702}  # the last: 550 ft-lbf each second, by definition
_SPEED = re.compile(rf"({NUMBER})\s*(?:rpm|r/min|1/min|/min|min-1)")
_MASS = re.compile(rf"({NUMBER})\s*(kg\s*/\s*m|g\s*/\s*m|lb\s*/\s*ft)")
_MASSES = {"kg/m": 1.0, "g/m": 0.001, "lb/ft": 0.45359237 / 0.3048}  # the last by the definitions of pound and foot
_FORCE = re.compile(rf"({NUMBER})\s*(N|kN|daN|lbf)")
_FORCES = {"N": 1.0, "kN": 1000.0, "daN": 10.0, "lbf": 4.4482216152605}  # the last by definition, see units.torques
_ROTATIONS = {
    "clockwise": CLOCKWISE,
    "anticlockwise": ANTICLOCKWISE,
    "anti-clockwise": ANTICLOCKWISE,
    "counterclockwise": ANTICLOCKWISE,
    "counter-clockwise": ANTICLOCKWISE,
}
BESIDE = r"[0-9]{1,2}\s+ribs?\s+off|[0-9]{1,2}\s+grooves?\s+bare|[0-9][^,]*?\s+out"  # how far a belt sits aside
_STOP = re.compile(rf"(.*?)(?:,?\s+(ribs|back))?(?:,?\s+({BESIDE}))?", re.IGNORECASE)


class Load(NamedTuple):
    """What a pulley takes off the belt: a power [W] or a torque [N m]."""

    power: float | None = None
    torque: float | None = None


class Pin(NamedTuple):
    """Where a pin holds the arm [rad], and how thick it is [m]."""

    angle: float
    diameter: float | None


def _signed(text: str) -> float:
    bare = text.lstrip("-+ ")
    return -number(bare) if text.lstrip().startswith("-") else number(bare)


def place(text: str) -> Point:
    """`-60, 245 mm`: to the right and up [m]."""
    found = _PLACE.fullmatch(plain(text))
    if not found:
        raise InputError(f'"{text}" is no place; write how far to the right and how far up, as in "-60, 245 mm"')
    scale = size(f"1 {found[3]}")
    point = tuple(round(_signed(part) * scale, 9) for part in found.groups()[:2])
    if max(map(abs, point)) > 5:
        raise InputError(f'"{text}": no drive is that large; look at the unit')
    return point


def size(text: str) -> float:
    """`150 mm`: a length above 0 [m]."""
    length = read_length(text, "drive")
    if length <= 0:
        raise InputError(f'"{text}": a length above 0 is wanted')
    return length


def belt_length(text: str) -> float:
    """`1538 mm`, `60 1/2 in`: the effective length of a belt [m]."""
    return checked_length(size(text), text)


def diameter(text: str) -> float:
    """`150 mm`, `Ø 150 mm`: of a pulley [m]."""
    found = size(text.strip().lstrip("Øø⌀").strip())
    if found > LARGEST_PULLEY:
        raise InputError(f'"{text}": no pulley is wider than {LARGEST_PULLEY * 1000:g} mm; look at the unit')
    return found


def rotation(text: str) -> int:
    """`clockwise` or `anticlockwise`, looking at the pulleys."""
    found = _ROTATIONS.get(text.strip().lower())
    if found is None:
        raise InputError(f'"{text}" is no rotation; write "clockwise" or "anticlockwise", looking at the pulleys')
    return found


def angles(text: str) -> tuple[float, float]:
    """`277 to 233 deg` [rad]."""
    found = _ANGLES.fullmatch(plain(text))
    if not found:
        raise InputError(f'"{text}" are no two angles; write them as in "277 to 233 deg"')
    return _angle(found[1]), _angle(found[2])


def _angle(text: str) -> float:
    value = _signed(text)
    if abs(value) > 720:
        raise InputError(f'"{text}" is more than two turns; an arm stands between 0° and 360°')
    return radians(value)


def angle(text: str) -> float:
    """`255 deg` [rad]."""
    found = re.fullmatch(rf"({_SIGNED}){_DEGREES}", plain(text))
    if not found:
        raise InputError(f'"{text}" is no angle; write it as in "255 deg"')
    return _angle(found[1])


def pin(text: str) -> Pin:
    """`237 deg, 4.5 mm`, or the angle alone."""
    where, _, thick = text.partition(",")
    try:
        return Pin(angle(where), size(thick.strip()) if thick else None)
    except InputError:
        raise InputError(f'"{text}" is no place of a pin; write angle and size, as in "237 deg, 4.5 mm"') from None


def spring(text: str) -> tuple[float, float]:
    """`30 N·m to 40 N·m` at the free and at the loaded stop, or one torque for both [N m]."""
    first, _, last = re.sub(r"\s+to\s+", "|", plain(text)).partition("|")
    if last and re.fullmatch(NUMBER, first):
        first += " " + re.sub(rf"^{NUMBER}\s*", "", last)
    return torque(first), torque(last or first)


def load(text: str) -> Load:
    """`135 A at 14 V`, with the alternator's efficiency if it is known; `12 N·m`; `2.5 kW`; `3 hp`."""
    typed = plain(text)
    if current := _CURRENT.fullmatch(typed):
        efficiency = number(current[3]) / 100 if current[3] else EFFICIENCY
        return Load(power=_at_most(alternator_power(number(current[1]), number(current[2]), efficiency), text))
    if power := _POWER.fullmatch(typed):
        return Load(power=_at_most(number(power[1]) * _POWERS[power[2]], text))
    try:
        return Load(torque=torque(typed))
    except InputError:
        raise InputError(f'"{text}" is no load; write it as "135 A at 14 V", "12 N·m" or "2.5 kW"') from None


def _at_most(power: float, text: str) -> float:
    if power > 200_000:
        raise InputError(f'"{text}": no belt on an engine carries that much; look at the unit')
    return power


def speed(text: str) -> float:
    """`2000 rpm` [rad/s]."""
    found = _SPEED.fullmatch(plain(text))
    if not found or not SLOWEST <= number(found[1]) <= FASTEST:
        raise InputError(f'"{text}" is no speed of an engine; write it as in "2000 rpm"')
    return number(found[1]) * tau / 60


def mass(text: str) -> float:
    """`0.14 kg/m`, `140 g/m` or `0.094 lb/ft` [kg/m]."""
    found = _MASS.fullmatch(plain(text))
    value = number(found[1]) * _MASSES[re.sub(r"\s", "", found[2])] if found else 0.0
    if not 0.001 <= value <= 5:
        raise InputError(f'"{text}" is no mass of a belt; write it for each metre, as in "0.14 kg/m"')
    return value


def force(text: str) -> float:
    """`300 N` [N]."""
    found = _FORCE.fullmatch(plain(text))
    value = number(found[1]) * _FORCES[found[2]] if found else 0.0
    if not 0 < value <= 20_000:
        raise InputError(f'"{text}" is no tension of a belt; write it as in "300 N"')
    return value


def friction(text: str) -> float:
    """`0.30`: a coefficient of friction."""
    value = number(text)
    if not 0.02 <= value <= 2:
        raise InputError(f'"{text}" is no friction of a belt; dry it is about 0.3, and between 0.02 and 2 at any rate')
    return value


class Said(NamedTuple):
    """What is said of a pulley on a route: its name, the side if it is told, and how the belt sits beside its place:
    ribs that hang over, grooves that are bare, or how far it stands out [m]."""

    name: str
    side: str | None = None
    ribs_off: int = 0
    bare: int = 0
    out: float = 0.0


def stop(text: str) -> Said:
    """`alternator`, `tensioner pulley back`, `alternator, 1 rib off`, `alternator, 1 groove bare`, `alternator, 3.5 mm
    out`.

    Parameters
    ----------
    text : str
    """
    found = _STOP.fullmatch(text.strip())
    side = {"ribs": RIBS, "back": BACK}.get((found[2] or "").lower())
    return Said(found[1].strip(), side, **_beside(found[3] or "0 ribs off"))


def _beside(text: str) -> dict[str, float]:
    amount, _, how = text.rpartition(" ")
    if how.lower() == "out":
        return {"out": size(amount.strip())}
    return {"bare" if how.lower() == "bare" else "ribs_off": int(amount.split()[0])}
