"""Whose bolt is this? A loose fastener against all that this car has, by thread, length and tool."""

import re
from dataclasses import dataclass

from putback.area.model import Fastener, Thread
from putback.job.car import Car
from putback.job.state import JobState

_THREAD = re.compile(r"\b(M|ST)\s?(\d+(?:\.\d+)?)(?:\s*[x×]\s*(\d+(?:\.\d+)?))?(?:\s*[x×]\s*(\d+(?:\.\d+)?))?", re.IGNORECASE)
_SIZE = re.compile(r"\b(\d+(?:\.\d+)?)\s?mm\b|\b([TE]\d{1,2})\b", re.IGNORECASE)
_COARSEST = 3.0  # mm; no pitch of a car's bolt is coarser, so a greater second figure is a length
LENGTH_SLACK = 2.0  # mm that a rule held beside a dirty bolt is off; own estimate


@dataclass(frozen=True)
class Match:
    """A group that a loose fastener may belong to.

    Attributes
    ----------
    item, part : str
        The group, and the part it belongs to.
    words : str
        What it is and where it sits.
    out : int
        How many of it are out at this moment.
    trays : tuple of str
    agrees : tuple of str
        In what it agrees: thread, length, size, name.
    """

    item: str
    part: str
    words: str
    out: int
    trays: tuple[str, ...]
    agrees: tuple[str, ...]


def whose(asked: str, state: JobState, car: Car) -> list[Match]:
    """The groups that a fastener may belong to, the likeliest first.

    Parameters
    ----------
    asked : str
        What is seen of it: `M8x30`, `M8x1.25x30, 13 mm`, `T30`, or words of its name.
    state : JobState
    car : Car

    Returns
    -------
    matches : list of Match
        Only those that contradict nothing of what was asked. Of two that agree in as much the one with a fastener out
        comes first.
    """
    names = dict.fromkeys([*state.groups, *(name for name in car.items if car.fastener(name))])
    found = (_match(name, asked, state, car) for name in names)
    return sorted((one for one in found if one), key=lambda one: (-len(one.agrees), -one.out, one.item))


def _match(name: str, asked: str, state: JobState, car: Car) -> Match | None:
    agrees = _agrees(name, asked, state, car)
    if not agrees:
        return None
    group, described = state.groups.get(name), car.items.get(name)
    part = (described.owner if described else group.belongs_to) or ""
    words = car.named(name) if described else ", ".join(one for one in (name, group.size) if one)
    return Match(name, part, words, group.out if group else 0, tuple(group.trays) if group else (), agrees)


def _agrees(name: str, asked: str, state: JobState, car: Car) -> tuple[str, ...]:
    """In what a group agrees; nothing where it contradicts."""
    fastener, group = car.fastener(name), state.groups.get(name)
    tools = _tools(name, car) | ({group.size.casefold()} if group and group.size else set())
    verdicts = {
        **_thread(asked, fastener, group.size if group else ""),
        "size": _size(asked, tools),
        "name": _named(asked, name),
    }
    if False in verdicts.values():
        return ()
    return tuple(what for what, agreed in verdicts.items() if agreed)


def _thread(asked: str, fastener: Fastener | None, size: str) -> dict[str, bool | None]:
    """Whether thread and length agree; None for what was not asked or is not known."""
    found = _THREAD.search(asked)
    if found is None:
        return {}
    seen = fastener.thread if fastener else _seen(size)
    if seen is None:
        return {"thread": False if size else None}
    pitch, length = _pitch_and_length(found)
    same = seen.kind.upper() == found[1].upper() and seen.diameter == float(found[2])
    same = same and (pitch is None or seen.pitch is None or abs(pitch - seen.pitch) < 1e-6)
    return {"thread": same, "length": _near(length, seen.length, fastener)}


def _near(asked: float | None, known: float | None, fastener: Fastener | None) -> bool | None:
    """Whether a length agrees; what has a length is no nut."""
    if asked is None:
        return None
    if known is None:
        return False if fastener and fastener.noun.endswith("nut") else None
    return abs(asked - known) <= LENGTH_SLACK


def _seen(size: str) -> Thread | None:
    """A thread from what somebody wrote of a group that no area describes."""
    found = _THREAD.search(size)
    return Thread(found[1].upper(), float(found[2]), *_pitch_and_length(found)) if found else None


def _pitch_and_length(found: re.Match) -> tuple[float | None, float | None]:
    second, third = (None if one is None else float(one) for one in (found[3], found[4]))
    if third is None and second is not None and second > _COARSEST:
        return None, second
    return second, third


def _size(asked: str, tools: set[str]) -> bool | None:
    sizes = [next(filter(None, one)) for one in _SIZE.findall(_THREAD.sub(" ", asked))]
    if not sizes or not tools:
        return None
    return any(re.search(rf"(?<![\d.]){re.escape(size)}(?![\d.])", tool) for size in map(str.casefold, sizes) for tool in tools)


def _tools(name: str, car: Car) -> set[str]:
    item = car.items.get(name)
    manners = (item.base, *item.ways) if item else ()
    return {tool.casefold() for manner in manners for tools in manner.tools for tool in tools}


def _named(asked: str, name: str) -> bool | None:
    words = [word for word in _SIZE.sub(" ", _THREAD.sub(" ", asked)).casefold().split() if word.isalpha() and len(word) > 2]
    return None if not words else any(word.removesuffix("s") in name.casefold() for word in words) or None
