"""Units at the edge: what people type becomes SI, and SI becomes what people read.

A torque without a clear unit is refused with the question what to write: 25 in-lb taken for 25 ft-lb
shears the bolt.
"""

import re

from putback.errors import InputError

# Exact by definition: 1 ft = 0.3048 m, 1 lb = 0.453 592 37 kg, standard gravity 9.806 65 m/s^2.
FOOT_POUND = 0.3048 * 0.45359237 * 9.80665  # N·m
INCH_POUND = FOOT_POUND / 12  # N·m
KILOPOND_METRE = 9.80665  # N·m

_TORQUE_UNITS = {
    "n·m": 1.0, "nm": 1.0, "n.m": 1.0, "n m": 1.0, "n*m": 1.0, "n-m": 1.0, "n⋅m": 1.0,
    "ft-lb": FOOT_POUND, "ft·lb": FOOT_POUND, "ft lb": FOOT_POUND, "lb-ft": FOOT_POUND,
    "lbf·ft": FOOT_POUND, "lbf-ft": FOOT_POUND, "lbf ft": FOOT_POUND, "lbf.ft": FOOT_POUND, "ft-lbf": FOOT_POUND,
    "in-lb": INCH_POUND, "in·lb": INCH_POUND, "in lb": INCH_POUND, "lb-in": INCH_POUND,
    "lbf·in": INCH_POUND, "lbf-in": INCH_POUND, "lbf in": INCH_POUND, "lbf.in": INCH_POUND, "in-lbf": INCH_POUND,
    "kgf·m": KILOPOND_METRE, "kgf-m": KILOPOND_METRE, "kgf m": KILOPOND_METRE,
}  # fmt: skip
_UNCLEAR = {"", "lb", "lbs", "lbf", "pound", "pounds", "ft", "in", "n", "kg", "kgf", "j"}
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")


def torque_unit(text: str) -> float | None:
    """The size of a torque unit [N·m], or None when the word is no torque unit."""
    return _TORQUE_UNITS.get(" ".join(text.lower().replace("lbs", "lb").split()))


def torque(text: str) -> float:
    """Read a torque.

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
    found = _NUMBER.match(text.strip())
    if not found:
        raise InputError(f'"{text}" is no torque; write a number and a unit, as in "25 N·m"')
    size = torque_unit(text.strip()[found.end() :])
    if size is None:
        raise InputError(unclear_unit(text.strip(), found.group()))
    value = float(found.group().replace(",", ".")) * size
    if value <= 0:
        raise InputError(f'"{text}": a torque is above 0')
    return value


def unclear_unit(text: str, number: str) -> str:
    """The question to ask when a torque's unit cannot be told."""
    return f'torque "{text}" has no clear unit; write "{number} N·m", "{number} ft-lb" or "{number} in-lb"'


def looks_like_torque(text: str) -> bool:
    """Whether a phrase is a bare number, or a number with a torque unit, clear or not."""
    found = _NUMBER.match(text)
    if not found:
        return False
    rest = " ".join(text[found.end() :].lower().split())
    return rest in _UNCLEAR or torque_unit(rest) is not None


def show_number(value: float, digits: int = 4) -> str:
    """A number as people write it: no tail of zeros, `digits` figures that count."""
    return f"{float(f'{value:.{digits}g}'):.10g}"


def show_torque(value: float) -> str:
    """A torque [N·m] as people read it, number and unit together."""
    return f"{show_number(value)} N·m"
