"""What falls due once, what must wait, and what every job has."""

from collections.abc import Iterator
from fractions import Fraction

from putback.area.model import OUT
from putback.way.from_area_described import Chain
from putback.way.from_area_job import Job
from putback.way.from_area_moves import Move, offers

NOTHING = Fraction(0)


def once(job: Job) -> list[dict]:
    """Follow-ups and second persons, each with the moves that oblige to it; what costs nothing is left out."""
    triggers: dict[str, list] = {}
    for move in job.moves if job.home is None else ():
        for name in dict.fromkeys(name for way in move.ways for name in way.path.follow_ups):
            triggers.setdefault(name, []).extend(_ways_of(move, lambda path, name=name: name in path.follow_ups))
    owed = _owed(job)
    found = [
        {"id": name, "ops": ops, "offers": offers(job.area.follow_ups[name], job.shop)[0]}
        for name, ops in triggers.items()
        if name not in owed
    ]
    return [entry for entry in found if any(any(offer.values()) for offer in entry["offers"])] + _helpers(job)


def _ways_of(move: Move, fitting) -> list[list]:
    """The move as a trigger: by any way, or by those ways that fit."""
    indexes = [index for index, way in enumerate(move.ways) if fitting(way.path)]
    return [[move.id]] if len(indexes) == len(move.ways) else [[move.id, index] for index in indexes]


def _helpers(job: Job) -> list[dict]:
    found = []
    for move in job.moves:
        for time in sorted({way.path.helper for way in move.ways if way.path.helper is not None}):
            ops = _ways_of(move, lambda path, time=time: path.helper == time)
            found.append({"id": f"second person: {move.id}", "ops": ops, "offers": [_entry(time, NOTHING)]})
    return found


def _owed(job: Job) -> list[str]:
    """Follow-ups of what was off already when the job was taken up."""
    names = [
        ref.name for chain in job.kept.values() if chain.start == chain.levels for ref in chain.item.base.follow_ups
    ]
    return list(dict.fromkeys(names))


def waits(job: Job) -> list[dict]:
    """For each item with a waiting time: from its last move out to whatever needs it out of the way."""
    if job.no_overlap:
        return []
    return [entry for chain in job.kept.values() if chain.item.wait for entry in _wait(job, chain)]


def _wait(job: Job, chain: Chain) -> Iterator[dict]:
    left = (job.state.waiting or {}).get(chain.item.name, NOTHING)
    moves = [move for move in job.moves if move.out]
    after = [move.id for move in moves if move.step.chain is chain and move.step.level == chain.levels]
    before = [
        move.id for move in moves if any(way.needs.get(chain.name, (0, 0))[0] == chain.levels for way in move.ways)
    ]
    if before and (after or left):
        entry = {"id": f"wait after {chain.name}", "after": after, "before": before, "time": chain.item.wait}
        yield entry | ({"left": left} if left else {})


def fixed(job: Job) -> list[dict]:
    """Job work that is still to do, what is always bought, and follow-ups owed from before.

    Work of one time stays in this order: the car is mended before it is read and driven. A plan that only brings some
    things home has none of it.
    """
    if job.home is not None:
        return []
    work = list(_work(job))
    until_swap = [entry for entry in work if entry["when"] != "after"]
    after = [entry for entry in work if entry["when"] == "after"]
    return [*until_swap, *_bought(job), *_added(job), *_follow_ups(job), *after]


def _work(job: Job) -> Iterator[dict]:
    skipped = ("before", "swap") if job.state.swapped else ()
    for work in job.area.job_work:
        if work.name not in job.state.done and work.when not in skipped:
            yield {"id": work.name, "when": work.when} | _entry(work.minutes.likely, NOTHING)


def _bought(job: Job) -> Iterator[dict]:
    prices = [(part.name, part.cost) for part in job.area.always_new]
    for name, cost in (*prices, *(job.state.broken or {}).items()):
        yield {"id": f"new {name}", "when": "before"} | _entry(NOTHING, cost)


def _added(job: Job) -> Iterator[dict]:
    for name, spread in job.state.added:
        yield {"id": name, "when": "after"} | _entry(spread.likely, NOTHING)


def _follow_ups(job: Job) -> Iterator[dict]:
    for name in _owed(job):
        found, _ = offers(job.area.follow_ups[name], job.shop)
        cheapest = min(found, key=lambda offer: job.shop.labour * offer["time"] / 60 + offer["cost"], default=None)
        if cheapest and any(cheapest.values()):
            yield {"id": name, "when": "after"} | cheapest


def _entry(time: Fraction, cost: Fraction) -> dict:
    return {"time": time, "cost": cost}


def waiting_minutes(move: Move, job: Job) -> Fraction:
    """The wait that a move carries itself where waits are counted in full."""
    step = move.step
    full = job.no_overlap and step.direction == OUT and step.level == step.chain.levels
    return step.chain.item.wait or NOTHING if full else NOTHING
