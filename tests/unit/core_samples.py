"""Small core problems for the tests of the planner, each small enough to plan by hand."""

from putback.way.problem import Problem, read_problem

TOOL = {"name": "tool", "values": ["none", "10 mm", "13 mm"], "start": "none", "change": 3}


def way(tool: str | None = None, **said) -> dict:
    """A way, with a tool if one is named."""
    return ({"in": {"tool": [tool]}} if tool else {}) | said


def op(item: str, direction: str, *ways: dict, level: int = 1, time: int = 1, **said) -> dict:
    """An operation called "lid out" or "lid back", of time 1."""
    name = f"{item} {direction}" + (f" {level}" if level > 1 else "")
    return {"id": name, "item": item, "dir": direction, "level": level, "time": time, "ways": list(ways or [{}])} | said


def core(ops: list[dict], **said) -> dict:
    """A problem of items of one level and no dimensions, unless more is said."""
    items = {one["item"]: {"levels": 1} for one in ops}
    return {"core": 2, "rate": 1, "dims": [], "items": items, "ops": ops} | said


BEHIND = {"needs": {"lid": [1, 1]}}


def box(**said) -> dict:
    """A part under a lid: 10 mm for the lid, 13 mm for the part.

    By hand: 4 steps of 1, and 3 changes of 3 (10, 13, the swap and the refit with 13 still, 10): 13.
    """
    ops = [
        op("lid", "out", way("10 mm")),
        op("part", "out", way("13 mm", **BEHIND)),
        op("part", "back", way("13 mm", **BEHIND)),
        op("lid", "back", way("10 mm")),
    ]
    return core(ops, dims=[TOOL], swaps=[{"id": "swap", "item": "part", "ways": [{}]}]) | said


def awkward_box(extra: int) -> dict:
    """The part can also be had past the lid, out and back, for so much more time each."""
    said = box()
    for one in said["ops"][1:3]:
        one["ways"].append(way("13 mm", time=extra))
    return said


def problem(said: dict | None = None) -> Problem:
    """The box, or another problem, as the planner sees it."""
    return read_problem(box() if said is None else said)
