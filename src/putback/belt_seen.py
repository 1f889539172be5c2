"""What somebody says he has seen of a belt, in phrases: cracks, a wear gauge, torn ribs, an offset, a tone."""

import re
from collections.abc import Iterator, Mapping

from putback.belt.finding import Finding
from putback.belt.profile import profile
from putback.belt.wear import judge_alignment, judge_cracks, judge_gauge, judge_missing
from putback.drive_phrases import size
from putback.errors import InputError

_COUNTED = re.compile(r"([0-9]{1,4})\s+in\s+(.+)")
_OVER = re.compile(r"(.+?)\s+over\s+(.+)")
_GAUGE = re.compile(r"(?:(.+?)\s+)?(above|below|level)")
_TONE = re.compile(r"([0-9]{1,4}(?:[.,][0-9]{1,3})?)\s*Hz", re.IGNORECASE)


def seen(said: Mapping[str, str | None], name: str) -> Iterator[Finding]:
    """What is to be thought of what was seen.

    Parameters
    ----------
    said : mapping of str
        `cracks`, `gauge`, `torn` and `offset`, each as a phrase; None or not there where it was not looked at
    name : str
        The profile of the belt

    Raises
    ------
    InputError
        A phrase that is not understood.
    """
    readers = {"cracks": cracks, "gauge": gauge, "torn": torn, "offset": lambda text: offset(text, name)}
    return (read(said[key]) for key, read in readers.items() if said.get(key) is not None)


def cracks(text: str) -> Finding:
    """`4 in 76 mm`: cracks across one rib, on some length of it.

    Parameters
    ----------
    text : str
    """
    found = _COUNTED.fullmatch(text.strip())
    if not found:
        raise InputError(f'"{text}" does not say how many cracks in how much of a rib; write it as in "4 in 76 mm"')
    return judge_cracks(int(found[1]), size(found[2]))


def gauge(text: str) -> Finding:
    """`0.3 mm above`, `level`, `0.2 mm below`: where a wear gauge lies between two ribs.

    Parameters
    ----------
    text : str
    """
    found = _GAUGE.fullmatch(text.strip())
    if not found or (found[2] == "level") != (found[1] is None):
        raise InputError(f'"{text}" does not say where the gauge lies; write "0.3 mm above", "level" or "0.2 mm below"')
    depth = size(found[1]) if found[1] else 0.0
    return judge_gauge(depth if found[2] == "above" else -depth)


def torn(text: str) -> Finding:
    """`8 mm`: the longest piece torn out of the ribs.

    Parameters
    ----------
    text : str
    """
    return judge_missing(size(text))


def offset(text: str, name: str) -> Finding:
    """`1.2 mm over 200 mm`: the gap at a straight-edge.

    Parameters
    ----------
    text : str
    name : str
        The profile of the belt
    """
    found = _OVER.fullmatch(text.strip())
    if not found:
        raise InputError(f'"{text}" does not say what gap over what length; write it as in "1.2 mm over 200 mm"')
    return judge_alignment(size(found[1]), size(found[2]), profile(name))


def hertz(text: str) -> float:
    """`95 Hz`: what a run sounds like [Hz].

    Parameters
    ----------
    text : str
    """
    found = _TONE.fullmatch(text.strip())
    if not found:
        raise InputError(f'"{text}" is no frequency; write it as in "95 Hz"')
    return float(found[1].replace(",", "."))
