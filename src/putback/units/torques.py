"""One torque: a number and a unit.

Units are read from their parts, a force and a length in either order, so that every spelling of the same
unit counts: `lbf·ft`, `ft. lbs`, `foot-pounds`. Whatever may mean two things is refused with the question
which of them. Old metric sheets write `mkg` or `kgm` for the kilogram-force metre; no other torque is
written so, and it is read as that.
"""

import re
from typing import NamedTuple

from putback.errors import InputError
from putback.units.numbers import NUMBER, number, plain, show_number

# Exact by definition: 1 ft = 0.3048 m, 1 lb = 0.453 592 37 kg, standard gravity 9.806 65 m/s^2.
POUND = 0.45359237 * 9.80665  # N
FOOT_POUND = 0.3048 * POUND  # N·m
INCH_POUND = FOOT_POUND / 12  # N·m
KILOPOND_METRE = 9.80665  # N·m


class TorqueUnit(NamedTuple):
    """A unit of torque: its name here, and its size [N·m]."""

    name: str
    size: float


class Reading(NamedTuple):
    """A torque as it was typed: a number of some unit."""

    number: float
    unit: TorqueUnit

    @property
    def value(self) -> float:
        """The torque [N·m]."""
        return self.number * self.unit.size


_FORCES = {
    "N": ["n", "newton", "newtons"], "kN": ["kn", "kilonewton", "kilonewtons"], "cN": ["cn", "centinewton",
    "centinewtons"],
    "daN": ["dan", "decanewton", "decanewtons", "dekanewton", "dekanewtons"], "mN": ["millinewton", "millinewtons"],
    "lb": ["lb", "lbs", "lbf", "lbsf", "pound", "pounds", "#"], "oz": ["oz", "ozf", "ounce", "ounces"],
    "kgf": ["kgf", "kg", "kp", "kilopond", "kiloponds", "kilogram", "kilograms", "kilogramme", "kilogrammes"],
}  # fmt: skip
_LENGTHS = {
    "m": ["m", "metre", "metres", "meter", "meters"], "cm": ["cm", "centimetre", "centimetres", "centimeter",
    "centimeters"],
    "mm": ["mm", "millimetre", "millimetres", "millimeter", "millimeters"],
    "ft": ["ft", "foot", "feet"], "in": ["in", "ins", "inch", "inches"],
}  # fmt: skip
_FORCE = {word: name for name, words in _FORCES.items() for word in words}
_LENGTH = {word: name for name, words in _LENGTHS.items() for word in words}

# Which force goes with which length, what the pair is called here, and its size.
_PAIRS = {
    ("N", "m"): TorqueUnit("N·m", 1.0),
    ("N", "cm"): TorqueUnit("N·cm", 0.01),
    ("N", "mm"): TorqueUnit("N·mm", 0.001),
    ("mN", "m"): TorqueUnit("mN·m", 0.001),
    ("cN", "m"): TorqueUnit("cN·m", 0.01),
    ("daN", "m"): TorqueUnit("daN·m", 10.0),
    ("kN", "m"): TorqueUnit("kN·m", 1000.0),
    ("lb", "ft"): TorqueUnit("ft-lb", FOOT_POUND),
    ("lb", "in"): TorqueUnit("in-lb", INCH_POUND),
    ("oz", "in"): TorqueUnit("in-oz", INCH_POUND / 16),
    ("kgf", "m"): TorqueUnit("kgf·m", KILOPOND_METRE),
    ("kgf", "cm"): TorqueUnit("kgf·cm", KILOPOND_METRE / 100),
    ("kgf", "mm"): TorqueUnit("kgf·mm", KILOPOND_METRE / 1000),
}
TORQUE_UNITS = {unit.name: unit for unit in _PAIRS.values()}

# Words that are half a unit, and what they may have been meant for.
_ALL = ("N·m", "ft-lb", "in-lb")
_ASK = {
    **dict.fromkeys(_FORCES["lb"], ("ft-lb", "in-lb")),
    **dict.fromkeys(_FORCES["kgf"], ("kgf·m", "kgf·cm")),
    **dict.fromkeys(_FORCES["oz"], ("in-oz", "in-lb")),
    **dict.fromkeys(_FORCES["N"], ("N·m", "N·cm")),
    **dict.fromkeys(["mn", "mnm"], ("N·m", "mN·m")),
    **dict.fromkeys(_LENGTHS["m"] + ["j", "joule", "joules"] + _LENGTHS["ft"] + _LENGTHS["in"] + ["", "'", '"'], _ALL),
}


def torque_unit(text: str) -> TorqueUnit | None:
    """The torque unit that a word means, or None when it is none, or not a clear one.

    Parameters
    ----------
    text : str
        ``Nm``, ``lbf·ft``, ``inch pounds``.

    Examples
    --------
    >>> torque_unit("ft. lbs.").name
    'ft-lb'
    """
    text = plain(text)
    if text.endswith("·"):  # a star that points to a footnote
        return None
    if over := re.fullmatch(r"(\w+)/(\w+)", text):  # "ft/lbs" is said for foot-pounds; "lb/in" is a stiffness
        length, force = _LENGTH.get(over[1].lower()), _FORCE.get(over[2].lower())
        return _PAIRS.get((force, length)) if force in ("lb", "oz") else None
    parts = [part for part in re.split(r"[\s·.\-]+", text) if part and part.lower() != "force"]
    if len(parts) == 1:
        parts = _cut(parts[0])
    return _pair(*parts) if len(parts) == 2 else None


def _cut(word: str) -> list[str]:
    """`ftlb` as `ft` and `lb`; the first cut that gives a unit."""
    cuts = [[word[:at], word[at:]] for at in range(1, len(word))]
    return next((cut for cut in cuts if word != "mN" and _pair(*cut)), [])


def _pair(first: str, second: str) -> TorqueUnit | None:
    return _PAIRS.get((_force(first), _length(second))) or _PAIRS.get((_force(second), _length(first)))


def _force(word: str) -> str | None:
    return "mN" if word == "mN" else _FORCE.get(word.lower())  # MN would be a million newtons


def _length(word: str) -> str | None:
    return _LENGTH.get(word.lower())


def read_torque(text: str) -> Reading:
    """Read a torque, and keep the number and the unit as they were typed.

    Parameters
    ----------
    text : str
        A number and a unit, as in ``25 N·m``, ``18 ft-lb``, ``97 in-lb``.

    Returns
    -------
    reading : Reading
        Its value is above 0.

    Raises
    ------
    InputError
        No number, a unit that is missing or unclear, or a value of 0.
    """
    typed = plain(text)
    found = re.match(NUMBER, typed)
    if not found:
        raise InputError(f'"{text}" is no torque; write a number and a unit, as in "25 N·m"')
    unit = torque_unit(typed[found.end() :])
    if unit is None:
        raise InputError(unclear_unit(text.strip(), found.group(), typed[found.end() :]))
    reading = Reading(number(found.group()), unit)
    if reading.value <= 0:
        raise InputError(f'"{text}": a torque is above 0')
    return reading


def torque(text: str) -> float:
    """Read a torque; `read_torque` without the unit.

    Parameters
    ----------
    text : str
        A number and a unit, as in ``25 N·m``, ``18 ft-lb``, ``97 in-lb``.

    Returns
    -------
    value : float
        Torque [N·m], above 0.

    Raises
    ------
    InputError
        No number, a unit that is missing or unclear, or a value of 0.
    """
    return read_torque(text).value


def half_a_unit(word: str) -> bool:
    """Whether a word is no unit of torque, but may have been meant for one.

    Parameters
    ----------
    word : str
        ``lb``, ``kg``, ``lb/in``, or nothing at all
    """
    return all(part in _ASK for part in _parts(word))


def _parts(word: str) -> list[str]:
    return re.split(r"[\s·/.\-]+", word.strip().rstrip(".").lower())


def unclear_unit(text: str, number: str, word: str = "") -> str:
    """The question to ask when a torque's unit cannot be told.

    Parameters
    ----------
    text : str
        The whole torque, as typed
    number : str
        Its number
    word : str
        What stood where the unit should be

    Examples
    --------
    >>> unclear_unit("25 lb", "25", "lb")
    'torque "25 lb" has no clear unit; write "25 ft-lb" or "25 in-lb"'
    """
    *names, last = _offers(word)
    offered = ", ".join(f'"{number} {name}"' for name in names) + " or " if names else ""
    return f'torque "{text}" has no clear unit; write {offered}"{number} {last}"'


def _offers(word: str) -> tuple[str, ...]:
    """The units that a word may have been meant for."""
    if unit := torque_unit(word.rstrip(" ·*")):
        return (unit.name,)
    return next((_ASK[part] for part in _parts(word) if _ASK.get(part, _ALL) != _ALL), _ALL)


def show_torque(value: float) -> str:
    """A torque [N·m] as people read it, number and unit together."""
    return show_in(value, "N·m")


def show_in(value: float, unit: str) -> str:
    """A torque in a unit of one's choice.

    Parameters
    ----------
    value : float
        Torque [N·m]
    unit : str
        One of the names in `TORQUE_UNITS`

    Examples
    --------
    >>> show_in(10.96, "in-lb")
    '97 in-lb'
    """
    return f"{show_number(value / TORQUE_UNITS[unit].size)} {unit}"


def show_both(value: float, unit: str) -> str:
    """A torque in N·m, and in the shop's unit beside it where that is another.

    Parameters
    ----------
    value : float
        Torque [N·m]
    unit : str
        One of the names in `TORQUE_UNITS`

    Examples
    --------
    >>> show_both(131.516, "ft-lb")
    '131.5 N·m (97 ft-lb)'
    """
    own = show_torque(value)
    return own if unit == "N·m" else f"{own} ({show_in(value, unit)})"
