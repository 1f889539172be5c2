"""The dimensions of the context: tool, vantage, posture, and the settings that an area names."""

from collections.abc import Iterable
from fractions import Fraction

from putback.area.model import ON_THE_GROUND
from putback.area.tools import BARE_HANDS
from putback.way.from_area_job import Job
from putback.way.from_area_pools import Pools


def dims(job: Job, pools: Pools) -> list[dict]:
    """All dimensions that something asks for."""
    posture = _posture(job, pools)
    return [_tool(job), _vantage(job), *([posture] if posture else []), *_turns(job)]


def _tool(job: Job) -> dict:
    """Bare hands are a tool too: putting one down costs as much as taking one up."""
    used = [one[0] for way in job.ways() for one in way.tools]
    start = job.state.tool or BARE_HANDS
    return _dim("tool", [start, *used], start, job.change("tool"))


def _vantage(job: Job) -> dict:
    used = {name for way in job.ways() for name in way.path.vantages}
    start = job.state.vantage or next(iter(job.area.vantages))
    values = [name for name in job.area.vantages if name in used or name == start]
    return _dim("vantage", values, start, job.change("vantage"))


def _dim(name: str, values: Iterable[str], start: str, change: Fraction) -> dict:
    return {"name": name, "values": list(dict.fromkeys(values)), "start": start, "change": change}


def _posture(job: Job, pools: Pools) -> dict | None:
    """How the car stands; None where nobody asks, and it stands on the ground."""
    start = job.state.posture or ON_THE_GROUND
    asked = {posture for way in job.ways() for posture in way.postures}
    if not asked and start == ON_THE_GROUND:
        return None
    used = asked | {start, ON_THE_GROUND}
    raising = [one for one in job.raising if one.posture in used]
    return {
        "name": "posture",
        "values": [ON_THE_GROUND, *(one.posture for one in raising)],
        "start": start,
        "end": [ON_THE_GROUND],
        "change": _up_and_down(job, raising),
        "needs": {ON_THE_GROUND: job.needs(job.described.to_stand())},
        "holds": {one.posture: pools.taken(one.holds) for one in raising},
        "moving": {one.posture: pools.taken(one.moving) for one in raising}
        | {ON_THE_GROUND: pools.taken(equipment for one in raising for equipment in one.moving)},
    }


def _up_and_down(job: Job, raising: list) -> list[list[Fraction]]:
    """Minutes from posture to posture; from one raised posture to another by way of the ground."""
    none = Fraction(0)
    up, down = [none, *(one.up for one in raising)], [none, *(one.down for one in raising)]
    free = job.no_setup
    return [[none if free or old == new else down[old] + up[new] for new in range(len(up))] for old in range(len(up))]


def _turns(job: Job) -> list[dict]:
    found = []
    for name, values in job.area.turns.items():
        used = {value for way in job.ways() for turned, value in way.path.turned if turned == name}
        start = dict(job.state.turned).get(name, values[0])
        if used - {start} or start != values[0]:
            kept = [value for value in values if value in used or value in (start, values[0])]
            found.append(_dim(name, kept, start, job.change(name)) | {"end": [values[0]]})
    return found
