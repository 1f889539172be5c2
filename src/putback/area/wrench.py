"""A torque wrench in one line.

    20-110 N·m in steps of 1 N·m, 1/2 in, lever 400 mm, ±4 %, calibrated 2026-09-02, every 12 months, reading

The line begins with the scale; the other phrases may stand in any order.
"""

import re
from dataclasses import dataclass
from datetime import date

from putback.errors import InputError
from putback.units import read_torque, show_number
from putback.units.lengths import read_length, show_length
from putback.units.numbers import NUMBER, number, plain

SETTING, READING = "setting", "reading"
# The driving squares of ISO 1174-1 and their metric names, from memory; hexagons take bits.
_SQUARES = {"1/4": "6.3", "3/8": "10", "1/2": "12.5", "3/4": "20", "1": "25", "1 1/2": "40"}
DRIVES = (*(f"{inches} in" for inches in _SQUARES), "1/4 in hex")
_METRIC = {f"{metric} mm square": f"{inches} in" for inches, metric in _SQUARES.items()}
_LEVERS = (0.03, 3.0)  # m; a shorter or longer one is a slip
_LARGEST_DEVIATION = 0.25  # beyond it nothing is measured


@dataclass(frozen=True)
class Wrench:
    """A torque wrench of a shop.

    Parameters
    ----------
    name : str
        What the shop calls it
    low : float or None
        Lowest mark of its scale [N·m]; None where the shop names none
    high : float
        Highest torque [N·m]
    step : float, optional
        From one mark to the next [N·m]
    drive : str, optional
        One of `DRIVES`
    calibrated : date, optional
        Day of the last calibration
    unit : str
        The unit of its scale, by its name in `putback.units.TORQUE_UNITS`
    lever : float, optional
        Middle of the grip to the square drive [m]
    deviation : float, optional
        How far it may be off, as a share of what it shows
    kind : str
        `SETTING`: trips at what was set; `READING`: shows what is reached
    months, operations : int, optional
        The shop's own interval of calibration
    used : int, optional
        Operations since the last calibration
    """

    name: str
    low: float | None
    high: float
    step: float | None = None
    drive: str | None = None
    calibrated: date | None = None
    unit: str = "N·m"
    lever: float | None = None
    deviation: float | None = None
    kind: str = SETTING
    months: int | None = None
    operations: int | None = None
    used: int | None = None


def read_wrench(text: str) -> dict:
    """Read the line of a torque wrench.

    Parameters
    ----------
    text : str
        As shown at the head of this module.

    Returns
    -------
    values : dict
        The fields of a `Wrench`, without its name.

    Raises
    ------
    InputError
        The first phrase that is not understood, or says again what another has said.
    """
    first, *rest = [part.strip() for part in plain(text).split(",")]
    values = _scale(first)
    for phrase in rest:
        said = _phrase(phrase)
        if again := values.keys() & said.keys():
            raise InputError(f'"{phrase}": the {min(again)} of this torque wrench is said twice; leave one')
        values |= said
    return values


_SCALE = re.compile(rf"(?:up to\s+|({NUMBER})\s*(?:-|to)\s*)({NUMBER})\s*([^\d\s][^\d]*?)(?:\s+in steps of\s+(.+))?")


def _scale(phrase: str) -> dict:
    """`5-25 N·m in steps of 0.25 N·m`, or `up to 110 N·m` where the lowest mark is not known."""
    found = _SCALE.fullmatch(phrase)
    if not found:
        raise InputError(f'"{phrase}" is not understood; begin a torque wrench as "5-25 N·m in steps of 0.25 N·m"')
    high = read_torque(f"{found[2]} {found[3]}")
    low = read_torque(f"{found[1]} {found[3]}").value if found[1] else None
    if low is not None and low >= high.value:
        raise InputError(f'"{phrase}": the range runs from the smaller torque to the larger')
    step = _step(found[4], high.unit.name, high.value - (low or 0)) if found[4] else None
    return {"low": low, "high": high.value, "unit": high.unit.name, "step": step}


def _step(text: str, unit: str, span: float) -> float:
    """The step, in the unit of the scale; that unit need not be said again."""
    step = read_torque(f"{text} {unit}" if re.fullmatch(NUMBER, text) else text)
    if step.unit.name != unit:
        raise InputError(f'"in steps of {text}": the scale is in {unit}; write its steps in {unit} as well')
    if step.value > span:
        raise InputError(f'"in steps of {text}": a step is smaller than the range')
    return step.value


def _phrase(phrase: str) -> dict:
    word, _, rest = phrase.partition(" ")
    match word:
        case "calibrated":
            return {"calibrated": _day(phrase, rest)}
        case "lever":
            return {"lever": _lever(rest)}
        case "every":
            return _interval(phrase, rest)
        case "setting" | "reading" if not rest:
            return {"kind": word}
    if found := re.fullmatch(rf"±\s*({NUMBER})\s*%", phrase):
        return {"deviation": _deviation(phrase, number(found[1]) / 100)}
    if found := re.fullmatch(r"(\d{1,7}) operations since", phrase):
        return {"used": int(found[1])}
    return {"drive": read_drive(phrase)}


def read_drive(text: str) -> str:
    """Read a drive.

    Parameters
    ----------
    text : str
        ``1/2 in``, ``1/2 in square drive``, ``12.5 mm square``.

    Returns
    -------
    drive : str
        One of `DRIVES`

    Raises
    ------
    InputError
        No drive, or one of a size that there is not.
    """
    phrase = plain(text)
    size = re.sub(r" (?:square|drive|square drive)$", "", phrase) if " in" in phrase else phrase
    drive = _METRIC.get(size, size)
    if re.match(r"[\d ]+(/\d+)? (?:in|mm)\b", phrase) and drive not in DRIVES:
        raise InputError(f'"{phrase}" is no square drive; write {", ".join(DRIVES[:-1])} or {DRIVES[-1]}')
    if drive not in DRIVES:
        raise InputError(
            f'"{phrase}" is not understood; a torque wrench takes a drive such as "1/4 in", and phrases such as '
            '"lever 240 mm", "±4 %", "calibrated 2026-04-14", "every 12 months", "1200 operations since", "reading"'
        )
    return drive


def _day(phrase: str, text: str) -> date:
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise InputError(f'"{phrase}": write the day as "calibrated 2026-04-14"') from None


def _lever(text: str) -> float:
    lever = read_length(text)
    shortest, longest = _LEVERS
    if not shortest <= lever <= longest:
        raise InputError(
            f'"lever {text}": the lever of a wrench, from the middle of its grip to its drive, lies between '
            f"{show_length(shortest)} and {show_length(longest)}; look at the unit"
        )
    return lever


def _deviation(phrase: str, share: float) -> float:
    if not 0 < share <= _LARGEST_DEVIATION:
        most = show_number(100 * _LARGEST_DEVIATION)
        raise InputError(f'"{phrase}": what a torque wrench may be off is above 0 and at most {most} %')
    return share


def _interval(phrase: str, text: str) -> dict:
    """`every 12 months`, `every 5000 operations`, `every 12 months or 5000 operations`."""
    found = re.fullmatch(r"(?:(\d{1,3}) months?)?(?: or )?(?:(\d{1,7}) operations)?", text)
    months, operations = (int(part) if part else None for part in found.groups()) if found else (None, None)
    if not (months or operations) or 0 in (months, operations):
        raise InputError(f'"{phrase}" is no interval; write "every 12 months" or "every 12 months or 5000 operations"')
    values = {"months": months, "operations": operations}
    return {key: value for key, value in values.items() if value}
