"""Where a job stands, in the planner's words: the ledger's state as a state of the area."""

from fractions import Fraction

from putback.area.model import Area
from putback.area.model import Item as Described
from putback.area.state_file import At, State
from putback.job.fold import minutes_between
from putback.job.state import CLOSED, UNTOUCHED, Group, JobState

STAYS_SHUT = ("seized", "broken")


def area_state(job: JobState, area: Area, now: str | None = None) -> State:
    """The state to plan on from.

    Parameters
    ----------
    job : JobState
    area : Area
        The frozen copy that the job was opened with.
    now : str, optional
        The time in UTC, for waits that are running; without it they count as not begun to run down.

    Returns
    -------
    state : State
        What no area describes is left out: nobody can plan with it. A fastener that is in its hole and not tight
        counts as out, since somebody has to go there again.
    """
    return State(
        file="",
        at=dict(_stands(job, area)),
        shut=dict(_shut(job, area)),
        absent=tuple(name for name in job.absent if name in area.items),
        posture=job.posture,
        swapped=bool(job.targets) and all(name in job.swapped for name in job.targets),
        done=tuple(work.name for work in area.job_work if work.name in job.work),
        variants=job.variants,
        waiting=dict(_waiting(job, area, now)),
    )


def targets_left(job: JobState) -> tuple[str, ...]:
    """The parts still to be swapped; all of them once every one is.

    Parameters
    ----------
    job : JobState
    """
    return tuple(name for name in job.targets if name not in job.swapped) or job.targets


def _stands(job: JobState, area: Area):
    for name, item in job.items.items():
        if name in area.items and not item.home:
            yield name, At(item.level, way=_way(area.items[name], item.ways))
    for name, group in job.groups.items():
        if name in area.items and not group.home:
            yield name, _of_group(area.items[name], group)


def _way(described: Described, taken: tuple[str, ...]) -> str | None:
    """Which way a thing was put in, where there are several."""
    names = [way.name for way in described.ways]
    return next((way for way in reversed(taken) if way in names), names[0] if names else None)


def _of_group(described: Described, group: Group) -> At:
    """How far a whole group has come; what is loose or run in by hand has to be gone to as well."""
    out, open_ = group.out, group.out + group.hand_tight
    if described.levels == 1:
        return At(1) if open_ == group.total else At(0, open_)
    if out == group.total:
        return At(described.levels)
    # Some tight and some out is more than one step apart: those that are tight count as loose, which costs a little too much.
    return At(1, out) if out or open_ == group.total else At(0, open_)


def _shut(job: JobState, area: Area):
    for found in job.differences:
        if found.what in STAYS_SHUT and not found.settled and found.item in area.items:
            group, item = job.groups.get(found.item), job.items.get(found.item)
            if (group is None or group.count(UNTOUCHED, CLOSED) or group.hand_tight) and (item is None or item.home):
                yield found.item, found.note or found.what


def _waiting(job: JobState, area: Area, now: str | None):
    for name, item in job.items.items():
        wait = area.items[name].wait if name in area.items else None
        if wait and not item.home:
            left = wait - (Fraction(minutes_between(item.left_at, now)).limit_denominator(100) if now else 0)
            if left > 0:
                yield name, left
