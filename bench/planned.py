"""Our planner on one problem, in a process of its own."""

from math import inf

from bench.apart import Failed, apart
from bench.options import Options

PATIENCE = 20  # times its own limit: a planner that overruns it so far is a fault to be seen


def planned(core: str, options: Options) -> dict:
    """What it found; its seconds are there even where it went on past its limit."""
    found = apart("ours", {"core": core, "seconds": options.think}, PATIENCE * options.think)
    if found is None:
        raise Failed(f"our planner did not stop after {options.think:g} s")
    return found


def to_proof(found: dict) -> float:
    """Seconds until the plan was proved cheapest; endless where it was not."""
    return found["seconds"] if found["proved"] else inf


def gap(found: dict) -> float:
    """How much of the total is not proved to be needed."""
    return 1 - found["lower"] / found["total"]
