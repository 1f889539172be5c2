"""Old part beside the new one: feature by feature, before anything goes in."""

import re
from dataclasses import dataclass

from putback.job.car import Car
from putback.job.state import JobState

_NUMBER = r"([-+]?\d+(?:\.\d+)?)"
_TOLERANCE = re.compile(rf"{_NUMBER}\s*(?:±|\+/-|\+-)\s*{_NUMBER}\s*(.*)")
_RANGE = re.compile(rf"{_NUMBER}\s*(?:to|\.\.|–)\s*{_NUMBER}\s*(.*)")
_ONE = re.compile(rf"{_NUMBER}\s*(.*)")
NO_VALUES = ("same", "the same", "looks the same", "ok", "okay", "yes", "fine", "good", "match", "matches", "-", "?")


@dataclass(frozen=True)
class Mismatch:
    """A feature in which the new part is not what is wanted."""

    feature: str
    wanted: str
    old: str
    new: str


def features(part: str, state: JobState, car: Car) -> dict[str, str]:
    """What has to be compared, each with what is wanted; what was seen of the old part where no area says it.

    Parameters
    ----------
    part : str
    state : JobState
    car : Car
    """
    seen = state.compared.get(part, {}).get("old", {})
    return dict(car.area.match) if car.area and car.area.match else dict(seen)


def not_compared(part: str, state: JobState, car: Car) -> list[str]:
    """Features that nobody has given a value for; "looks the same" is none.

    Parameters
    ----------
    part : str
    state : JobState
    car : Car
    """
    new = state.compared.get(part, {}).get("new", {})
    wanted = features(part, state, car)
    return [name for name in wanted if not _is_value(new.get(name, ""))] if wanted else ["nothing was compared"]


def _is_value(text: str) -> bool:
    return bool(text.strip()) and text.strip().casefold() not in NO_VALUES


def mismatches(part: str, state: JobState, car: Car) -> list[Mismatch]:
    """Features in which the new part differs, without those accepted by name and reason.

    Parameters
    ----------
    part : str
    state : JobState
    car : Car
    """
    said = state.compared.get(part, {})
    old, new, accepted = said.get("old", {}), said.get("new", {}), said.get("accepted", {})
    return [
        Mismatch(name, wanted, old.get(name, ""), new[name])
        for name, wanted in features(part, state, car).items()
        if _is_value(new.get(name, "")) and not fits(wanted, new[name]) and name not in accepted
    ]


def fits(wanted: str, found: str) -> bool:
    """Whether what was found is what is wanted.

    Parameters
    ----------
    wanted : str
        `7`, `41.5 ± 0.5 mm`, `0 to 1.5 mm`, or words.
    found : str
        A figure, with or without the unit, or words.

    Examples
    --------
    >>> fits("41.5 ± 0.5 mm", "41.9"), fits("0 to 1.5 mm", "2.0 mm"), fits("3-pin, key at 4 o'clock", "3-pin, key at 8 o'clock")
    (True, False, False)
    """
    if _plain(wanted) == _plain(found):
        return True
    limits, value = _limits(wanted), _ONE.fullmatch(found.strip())
    if limits is None or value is None:
        return False
    low, high, unit = limits
    return low - 1e-9 <= float(value[1]) <= high + 1e-9 and (not value[2] or _plain(value[2]) == _plain(unit))


def _limits(wanted: str) -> tuple[float, float, str] | None:
    """Least, most and unit of what is wanted; None where it is words."""
    text = wanted.strip()
    if found := _TOLERANCE.fullmatch(text):
        return float(found[1]) - float(found[2]), float(found[1]) + float(found[2]), found[3]
    if found := _RANGE.fullmatch(text):
        return float(found[1]), float(found[2]), found[3]
    found = _ONE.fullmatch(text)
    return (float(found[1]), float(found[1]), found[2]) if found else None


def _plain(text: str) -> str:
    return " ".join(text.casefold().replace("’", "'").split())
