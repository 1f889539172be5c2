"""The measured jobs. Each takes a task and gives an answer, both of plain JSON; bench/apart.py starts this module.

What a solver needs is imported before its clock starts.
"""

import json
import sys
from importlib.util import find_spec
from time import perf_counter

from putback.way.replay import replay

MISSING = {"missing": True}  # the solver is not installed


def ours(task: dict) -> dict:
    """Read and plan the core problem in the text `core`, for at most `seconds`."""
    from putback.way import find_way, read_problem
    from putback.way.solve import solved

    begun = perf_counter()
    core = json.loads(task["core"])
    problem = read_problem(core)
    read = perf_counter() - begun
    found = find_way(problem, clock=perf_counter, seconds=task["seconds"])
    memory = peak_memory()
    figures = ("total", "lower", "proved", "nodes", "first_seconds", "seconds")
    answer = {name: getattr(found, name) for name in figures}
    return answer | checked(core, found.total, solved(problem, found).plan) | {"read": read, "memory": memory}


def cp_sat(task: dict) -> dict:
    """The same by constraint programming; `proved` says whether it knows that nothing is cheaper."""
    if not find_spec("ortools"):
        return MISSING
    from referees import cp_sat

    return _peer(cp_sat, task)


def fast_downward(task: dict) -> dict:
    """The same by a general planner that gives no plan but the cheapest."""
    if not (find_spec("unified_planning") and find_spec("up_fast_downward")):
        return MISSING
    from referees import fast_downward

    return _peer(fast_downward, task)


def _peer(solver, task: dict) -> dict:
    core, begun = json.loads(task["core"]), perf_counter()
    try:
        found = solver.solve(core, seconds=task["seconds"])
    except solver.OutOfTime:
        return {"total": None}
    taken = perf_counter() - begun
    return {"proved": getattr(found, "proved", True), "seconds": taken} | checked(core, found.total, found.plan)


def checked(core: dict, total: int, plan: list) -> dict:
    """The total of a plan that the replay agrees with, and how many levels it moves."""
    done = replay(core, plan)
    if done.broken or done.total != total:
        raise AssertionError(f"a wrong plan: {done.broken or (done.total, total)}")
    return {"total": total, "moved": len(plan) // 2}


def peak_memory() -> float:
    """The most memory that this process had so far [MB]."""
    import resource

    unit = 1 if sys.platform == "darwin" else 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * unit / 1e6


def area(task: dict) -> dict:
    """Median seconds of each stage of demo A, over `runs` runs."""
    from bench.stages import stages

    return stages(task["runs"])


JOBS = {job.__name__: job for job in (ours, cp_sat, fast_downward, area)}

if __name__ == "__main__":
    print(json.dumps(JOBS[sys.argv[1]](json.load(sys.stdin))))
