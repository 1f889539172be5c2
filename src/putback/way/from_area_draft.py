"""The core problem of a job, its times still minutes and its costs still cents.

Nothing is kept that cannot matter: ways that the shop has not got the means for, items that no way to the
goal can need, equipment of which there is enough whatever happens.
"""

from collections.abc import Iterable
from fractions import Fraction

from putback.area.model import MARKS, Risk
from putback.way.from_area_described import Chain
from putback.way.from_area_dims import dims
from putback.way.from_area_due import fixed, once, waiting_minutes, waits
from putback.way.from_area_job import Job
from putback.way.from_area_moves import Doable, Move
from putback.way.from_area_pools import Pools
from putback.way.from_area_whole import Draft

NOTHING = Fraction(0)


def draft(job: Job) -> Draft:
    """Put the parts together; ways that differ in nothing the core can see become one."""
    pools = Pools(job)
    for move in job.moves:
        move.ways = _distinct(job, pools, move)
    found = Draft(
        name=f"{', '.join(job.targets)}: {job.area.name}",
        rate=job.shop.labour,
        dims=dims(job, pools),
        pools={},
        items={chain.name: _item(job, pools, chain) for chain in job.kept.values()},
        ops=[_op(job, pools, move) for move in job.moves],
        swaps=_swaps(job),
        once=once(job),
        waits=waits(job),
        fixed=fixed(job),
    )
    pools.settle(found)
    return found


def expected(risks: Iterable[Risk], rust: int) -> Fraction:
    """The minutes that risks take on average; rust makes those likelier that grow with it."""
    return sum((risk.probability * risk.minutes * (rust if risk.rusts else 1) for risk in risks), NOTHING)


def _distinct(job: Job, pools: Pools, move: Move) -> list[Doable]:
    seen: dict[str, Doable] = {}
    for way in move.ways:
        same = repr((_way(job, pools, way), way.path.follow_ups, way.path.helper))
        seen.setdefault(same, way)
    return list(seen.values())


def _item(job: Job, pools: Pools, chain: Chain) -> dict:
    entry: dict = {"levels": chain.levels}
    if chain.start:
        entry["start"] = chain.start
    if chain.item.kind == MARKS or job.may_stay(chain):
        entry["goal"] = [0, chain.levels]
    held = next((move.holds for move in job.moves if move.step.chain is chain and move.holds), ())
    if held:
        entry["holds"] = {str(chain.levels): pools.taken(held)}
    return entry


def _op(job: Job, pools: Pools, move: Move) -> dict:
    step = move.step
    ways = [_way(job, pools, way) for way in move.ways]
    # A way may take less than the part's own minutes; whole numbers start at zero, so the move takes the difference.
    least = min((way.get("time", NOTHING) for way in ways), default=NOTHING)
    if least < 0:
        ways = [way | {"time": way.get("time", NOTHING) - least} for way in ways]
    time = step.minutes.likely + expected(step.risks, job.rust) + waiting_minutes(move, job) + min(least, NOTHING)
    op = {"id": move.id, "item": step.chain.name, "dir": step.direction, "level": step.level}
    return op | {"time": time, "cost": _cost(move), "ways": ways}


def _cost(move: Move) -> Fraction:
    fluid = move.step.fluid.price if move.step.fluid else NOTHING
    return sum((part.cost for part in move.step.new_parts), NOTHING) + fluid


def _way(job: Job, pools: Pools, way: Doable) -> dict:
    within = {"tool": [one[0] for one in way.tools], "vantage": list(way.path.vantages), "posture": list(way.postures)}
    within |= {name: [value] for name, value in way.path.turned}
    entry = {
        "needs": job.needs(way.needs),
        "in": {name: values for name, values in within.items() if values},
        "time": way.path.extra.likely + expected(way.path.risks, job.rust),
        "uses": pools.taken(way.equipment),
    }
    return {key: value for key, value in entry.items() if value or key == "needs"}


def _swaps(job: Job) -> list[dict]:
    if job.state.swapped:
        return []
    prices = {target.name.name: target.new for target in job.area.targets}
    return [
        {"id": f"swap {name}", "item": name, "time": NOTHING, "cost": prices.get(name, NOTHING), "ways": [{}]}
        for name in job.targets
    ]
