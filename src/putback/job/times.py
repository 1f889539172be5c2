"""How long things took: from what people said, else from the time between two things that one person logged."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from putback.area.model import BACK, OUT, Area
from putback.job.events import Event
from putback.job.fold import minutes_between
from putback.job.state import HOME, JobState

LONGEST = 60.0  # minutes between two taps; whoever took longer was called away and did not say so (own estimate)
_OUT = ("fasteners off", "fasteners loosened")
_BACK = ("fasteners on", "fasteners tightened")


@dataclass(frozen=True)
class Spent:
    """The time that one logged step took.

    Attributes
    ----------
    number : int
        Of the event.
    item : str
        What was moved; the work that was done; empty for anything else.
    direction : "out", "back" or ""
        Empty for work that moves nothing.
    said : bool
        Whether the person gave the minutes himself.
    """

    number: int
    person: str
    item: str
    direction: str
    minutes: float
    said: bool


def spent(logged: Iterable, state: JobState, area: Area | None = None) -> list[Spent]:
    """The time of each step that counts, in the order of the log.

    Parameters
    ----------
    logged : iterable
        Events with their numbers.
    state : JobState
        What they add up to: it knows which of them are steps, and when work stood still.
    area : Area, optional
        The description; without one the words for "home" are those of `putback.job.state.HOME`.

    Returns
    -------
    spent : list of Spent
        Without those whose time nobody knows: the first step of a person, and a gap that is longer than an hour.
    """
    steps = {report.number for report in state.steps}
    return list(_spent(logged, state, steps, area))


def _spent(logged: Iterable, state: JobState, steps: set[int], area: Area | None) -> Iterator[Spent]:
    last: dict[str, str] = {}
    for row in logged:
        event = row.event
        before, last[event.person] = last.get(event.person), event.at
        if row.number not in steps:
            continue
        said = event.data.get("minutes")
        minutes = said if said is not None else _gap(before, event.at, state)
        if minutes is not None:
            item = event.data.get("item", event.data.get("work", event.data.get("part", "")))
            yield Spent(row.number, event.person, item, _direction(event, area), float(minutes), said is not None)


def _gap(before: str | None, at: str, state: JobState) -> float | None:
    """Minutes since the same person's last word, pauses apart; None where they are not known."""
    if before is None:
        return None
    gap = minutes_between(before, at)
    gap -= sum(minutes_between(max(begin, before), min(end, at)) for begin, end in state.pauses if begin < at and end > before)
    return gap if 0 < gap <= LONGEST else None


def _direction(event: Event, area: Area | None) -> str:
    if event.kind in _OUT:
        return OUT
    if event.kind in _BACK:
        return BACK
    if event.kind != "item moved":
        return ""
    described = area.items.get(event.data["item"]) if area else None
    home = HOME if described is None else described.states[:1]
    return BACK if event.data["state"] in home else OUT


def by_person(times: Iterable[Spent]) -> dict[str, float]:
    """Minutes of each person.

    Parameters
    ----------
    times : iterable of Spent
    """
    found: dict[str, float] = {}
    for one in times:
        found[one.person] = found.get(one.person, 0.0) + one.minutes
    return found
