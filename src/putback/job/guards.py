"""What speaks against something before it is done. What has happened is always kept; these only warn, or bar the way.

    found = stops(state, car, step.closes, now, plan)
    [stop.text for stop in found if stop.hard]
"""

from collections.abc import Callable, Iterable, Iterator

from putback.job.accepted import is_accepted
from putback.job.asked import Asked, Stop
from putback.job.car import Car
from putback.job.guards_back import back_stops
from putback.job.guards_car import car_stops
from putback.job.guards_closing import closing_stops
from putback.job.guards_evidence import evidence_stops
from putback.job.guards_job import job_stops
from putback.job.guards_out import out_stops
from putback.job.kinds import check
from putback.job.refit import left
from putback.job.state import JobState

_GUARDS: tuple[Callable[[Asked], Iterator[Stop]], ...] = (
    job_stops, evidence_stops, car_stops, out_stops, back_stops, closing_stops,
)  # fmt: skip


def stops(
    state: JobState,
    car: Car,
    intended: Iterable[tuple[str, dict]],
    now: str,
    plan: dict | None = None,
    person: str = "",
) -> list[Stop]:
    """What speaks against events that are about to be logged, the hard ones first.

    Parameters
    ----------
    state : JobState
        Before any of them.
    car : Car
    intended : iterable of (kind, data)
        What somebody is about to do, as events say it.
    now : str
        The time in UTC, as events have it.
    plan : dict, optional
        The plan in force, as JSON has it.
    person : str, optional
        Who is about to do it.

    Returns
    -------
    stops : list of Stop
        A soft one that somebody has accepted by its key is left out.

    Raises
    ------
    InputError
        An event does not say what its kind must say.
    """
    found: dict[str, Stop] = {}
    for kind, data in intended:
        check(kind, data)
        for stop in _against(Asked(state, car, kind, data, now, plan, person)):
            found.setdefault(stop.key, stop)
    return sorted(found.values(), key=lambda stop: not stop.hard)


def _against(asked: Asked) -> Iterator[Stop]:
    """What every guard says, without what somebody has accepted since the thing was last opened."""
    opened = left(asked.name, asked.state)
    for guard in _GUARDS:
        for stop in guard(asked):
            if stop.hard or not is_accepted(stop.key, asked.state, max(stop.since, opened)):
                yield stop
