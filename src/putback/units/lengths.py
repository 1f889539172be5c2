"""Lengths of tools and parts, and the angle of an adapter to its wrench."""

import re

from putback.errors import InputError
from putback.units.numbers import FRACTION, NUMBER, number, plain, show_number

# An inch is 25.4 mm by definition.
_LENGTHS = {
    **dict.fromkeys(["mm", "millimetre", "millimetres", "millimeter", "millimeters"], 0.001),
    **dict.fromkeys(["cm", "centimetre", "centimetres", "centimeter", "centimeters"], 0.01),
    **dict.fromkeys(["m", "metre", "metres", "meter", "meters"], 1.0),
    **dict.fromkeys(["in", "in.", "inch", "inches", '"', "''"], 0.0254),
    **dict.fromkeys(["ft", "ft.", "foot", "feet"], 0.3048),
}
_LONGEST = 10.0  # m; no wrench and no belt is longer, so what is was typed with the wrong unit
_DEGREES = ("", "°", "deg", "deg.", "degree", "degrees")
_LEADING = re.compile(rf"({NUMBER}|{FRACTION})\s*(.*)")


def read_length(text: str, of: str = "wrench") -> float:
    """Read a length.

    Parameters
    ----------
    text : str
        ``240 mm``, ``24 cm``, ``9 1/2 in``.
    of : str
        What it is the length of, for messages.

    Returns
    -------
    length : float
        [m], from 0 to 10

    Raises
    ------
    InputError
        No number, no unit of length, or a length beyond all measure.

    Examples
    --------
    >>> read_length("240mm")
    0.24
    """
    found = _LEADING.fullmatch(plain(text))
    if not found:
        raise InputError(f'"{text}" is no length; write a number and a unit, as in "240 mm" or "9 1/2 in"')
    size = _LENGTHS.get(found[2].lower())
    if size is None:
        raise InputError(
            f'length "{text}" has no clear unit; write "{found[1]} mm", "{found[1]} cm" or "{found[1]} in"'
        )
    length = round(number(found[1]) * size, 9)  # to the nanometre, so that 240 mm and 24 cm are the same number
    if length > _LONGEST:
        raise InputError(f'"{text}" is longer than any {of}; look at the unit')
    return length


def read_angle(text: str) -> float:
    """Read the angle between an adapter and its wrench.

    Parameters
    ----------
    text : str
        ``90°``, ``90 deg``, ``90``.

    Returns
    -------
    angle : float
        [degrees], from 0 to 180

    Raises
    ------
    InputError
        No number, another unit, or more than half a turn.

    Examples
    --------
    >>> read_angle("45deg")
    45.0
    """
    found = _LEADING.fullmatch(plain(text))
    if not found or found[2].lower() not in _DEGREES:
        raise InputError(f'"{text}" is no angle; write degrees, as in "90°" or "90deg"')
    angle = number(found[1])
    if angle > 180:
        raise InputError(
            f'"{text}": the angle of an adapter goes from 0° (straight on from the grip) to 180° (back towards it)'
        )
    return angle


def show_length(length: float) -> str:
    """A length [m] in millimetres, as people read it.

    Examples
    --------
    >>> show_length(0.24)
    '240 mm'
    """
    return f"{show_number(length * 1000)} mm"
