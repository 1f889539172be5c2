"""The identification number of a vehicle, and its check digit where one applies.

References
----------
.. [1] ISO 3779:2009, structure of the number: 17 signs, no I, O or Q (from memory).
.. [2] 49 CFR 565.15, the check digit in the ninth place for vehicles of North America (weights and values from memory;
   held against the worked example 1M8GDM9AXKP042788 that is published with the rule).
"""

import re
from typing import NamedTuple

_VALUES = dict(zip("0123456789ABCDEFGHJKLMNPRSTUVWXYZ", [*range(10), *range(1, 9), *range(1, 6), 7, 9, *range(2, 10)], strict=True))
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
_CHECK_PLACE = 8  # counted from 0
NORTH_AMERICA = "12345"  # how a number begins for which the check digit is law


class Number(NamedTuple):
    """An identification number as it was understood.

    Parameters
    ----------
    text : str
        In capitals, without blanks.
    trouble : str
        What is wrong with it, in one sentence; empty where nothing is.
    """

    text: str
    trouble: str


def read_vin(text: str) -> Number:
    """Read an identification number, and tell what is wrong with it.

    Parameters
    ----------
    text : str
        As it was typed; blanks and hyphens do not count.

    Notes
    -----
    Nothing is refused: an old car, a trailer or a machine may have a number of any form.

    Examples
    --------
    >>> read_vin("1m8gdm9axkp042788").trouble, read_vin("1M8GDM9A1KP042788").trouble[:22]
    ('', 'the ninth sign must be')
    """
    plain = re.sub(r"[\s-]", "", text).upper()
    return Number(plain, _trouble(plain))


def _trouble(text: str) -> str:
    if not text:
        return ""
    if confused := sorted(set(text) & set("IOQ")):
        return f"{' and '.join(confused)} never stand in such a number; look whether it is 1 or 0"
    if strange := sorted(set(text) - set(_VALUES)):
        return f'"{strange[0]}" is no sign of such a number'
    if len(text) != len(_WEIGHTS):
        return f"it has {len(text)} signs; a number by ISO 3779 has 17"
    if text[0] in NORTH_AMERICA and text[_CHECK_PLACE] != check_digit(text):
        return f'the ninth sign must be "{check_digit(text)}" for the others; one of them is misread'
    return ""


def check_digit(text: str) -> str:
    """The ninth sign that goes with the others.

    Parameters
    ----------
    text : str
        17 signs in capitals; what stands in the ninth place does not count.

    Returns
    -------
    digit : str
        0 to 9, or X for ten.
    """
    rest = sum(_VALUES[sign] * weight for sign, weight in zip(text, _WEIGHTS, strict=True)) % 11
    return "X" if rest == 10 else str(rest)
