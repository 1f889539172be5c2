"""Where a job stands, in the planner's words: the ledger's state as a state of the area."""

from fractions import Fraction

from putback.area.model import FASTENERS, Area, Spread
from putback.area.model import Item as Described
from putback.area.state_file import At, State
from putback.job.fold import minutes_between
from putback.job.state import CLOSED, UNTOUCHED, Difference, Group, JobState
from putback.way.from_area_words import is_clip

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
        broken=dict(_broken(job, area)),
        waiting=dict(_waiting(job, area, now)),
        added=tuple((name, _just(minutes)) for name, minutes in job.added.items() if name not in job.work),
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
        if name in area.items and area.items[name].fastener and not group.home:
            yield name, _of_group(area.items[name], group)


def _way(described: Described, taken: tuple[str, ...]) -> str | None:
    """Which way a thing was put in, where there are several."""
    names = [way.name for way in described.ways]
    return next((way for way in reversed(taken) if way in names), names[0] if names else None)


def _of_group(described: Described, group: Group) -> At:
    """How far a whole group has come; what is loose or run in by hand has to be gone to as well."""
    out, open_ = group.out, group.out + group.hand_tight
    # One more or less may be there than the file says, and the planner knows only what the file says: a single one is
    # open as long as any is.
    most = described.fastener.count - 1
    all_out, all_open = out == group.total or (out and not most), open_ == group.total or not most
    if described.levels == 1:
        return At(1) if all_open else At(0, min(open_, most))
    if all_out:
        return At(described.levels)
    # Some tight and some out is more than one step apart: those that are tight count as loose, which costs a little too much.
    return At(1, min(out, most)) if out or all_open else At(0, min(open_, most))


def _shut(job: JobState, area: Area):
    for found in job.differences:
        if found.item in area.items and stays_shut(found, area.items[found.item]):
            group, item = job.groups.get(found.item), job.items.get(found.item)
            if (group is None or group.count(UNTOUCHED, CLOSED) or group.hand_tight) and (item is None or item.home):
                yield found.item, found.note or found.what


def stays_shut(found: Difference, described: Described) -> bool:
    """Whether what was found keeps a thing from being opened: a stuck one, or a thread of which the head is gone.

    Parameters
    ----------
    found : Difference
    described : Item
        The same thing, as the area has it.
    """
    if found.what not in STAYS_SHUT or found.settled:
        return False
    return found.what == "seized" or (described.kind == FASTENERS and not is_clip(described))


def _broken(job: JobState, area: Area):
    """What was broken and has not been replaced yet, with the price of new ones; one-time fasteners are new anyway."""
    for found in job.differences:
        described = area.items.get(found.item)
        if found.what == "broken" and described is not None and not _is_replaced(job, found):
            fastener = described.fastener
            if found.price is not None:
                yield found.item, Fraction(found.price).limit_denominator(100)
            elif fastener is None or not fastener.one_time:
                each = fastener.price if fastener and fastener.price else Fraction(0)
                yield found.item, each * max(1, found.count)


def _is_replaced(job: JobState, found: Difference) -> bool:
    group, item = job.groups.get(found.item), job.items.get(found.item)
    new = group is not None and any(lot.new and lot.number > found.number for lot in group.lots)
    return new or (item is not None and item.returned > found.number)


def _just(minutes: float | None) -> Spread:
    exact = Fraction(minutes or 0).limit_denominator(100)
    return Spread(exact, exact, exact)


def _waiting(job: JobState, area: Area, now: str | None):
    for name, item in job.items.items():
        wait = area.items[name].wait if name in area.items else None
        if wait and not item.home:
            left = wait - (Fraction(minutes_between(item.left_at, now)).limit_denominator(100) if now else 0)
            if left > 0:
                yield name, left
