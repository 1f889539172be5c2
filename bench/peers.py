"""Our planner beside two general solvers, on the problems of tests/data/way."""

import sys
from collections.abc import Sequence

from bench.apart import ROOT, Failed, apart
from bench.figures import Table, middle, seconds, whole
from bench.options import Options
from bench.planned import planned, to_proof

INSTANCES = ("shop_10_2", "dense_6_3", "shop_10_1", "shop_10_3", "dense_6_1", "shop_50_1", "shop_25_1", "shop_100_1")
HEADINGS = ("problem", "moved", "total", "first plan", "proved", "Fast Downward", "CP-SAT", "its total")
SPARE = 5  # seconds for a solver to start, on top of half of its limit for making its model


def peers(options: Options, instances: Sequence[str] = INSTANCES) -> None:
    """Our planner and two general solvers on the problems of tests/data/way."""
    limit = f"{options.limit:g} s"
    table = Table(f"peers: seconds until a plan is proved cheapest; each peer may take {limit}", HEADINGS, first=10)
    for name in instances:
        core = (ROOT / "tests" / "data" / "way" / f"{name}.json").read_text(encoding="utf-8")
        table.row([name, *_our_cells(core, options), *_peer_cells(core, options)])


def _our_cells(core: str, options: Options) -> list[str]:
    found = [planned(core, options) for _ in range(options.runs)]
    first = middle(one["first_seconds"] for one in found)
    proved = middle(to_proof(one) for one in found)
    return [found[0]["moved"], whole(found[0]["total"]), seconds(first), seconds(proved, options.think)]


def _peer_cells(core: str, options: Options) -> list[str]:
    planner, programming = (_peer(job, core, options) for job in ("fast_downward", "cp_sat"))
    star = "" if programming.get("proved", True) else "*"
    return [_taken(planner, options), _taken(programming, options), whole(programming.get("total")) + star]


def _peer(job: str, core: str, options: Options) -> dict:
    try:
        return apart(job, {"core": core, "seconds": options.limit}, 1.5 * options.limit + SPARE) or {"total": None}
    except Failed as failure:
        print(failure, file=sys.stderr)
        return {"failed": True}


def _taken(found: dict, options: Options) -> str:
    for state, text in (("missing", "not installed"), ("failed", "failed")):
        if state in found:
            return text
    if found["total"] is None:
        return f"none in {options.limit:g}"
    return seconds(found["seconds"]) if found["proved"] else f">{options.limit:g}"
