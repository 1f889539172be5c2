"""A narrowed problem does what was insisted on, and its plans are plans of the problem that it was narrowed from."""

import pytest

from putback.errors import NoWay
from putback.way.forced import force, restored
from putback.way.replay import replay
from putback.way.solve import solve_core

# A lid that two tools open, over a part; a strap that nothing asks for.
CORE = {
    "core": 2,
    "rate": 1,
    "dims": [{"name": "tool", "values": ["none", "a", "b"], "start": "none", "change": 1}],
    "items": {"lid": {"levels": 1}, "part": {"levels": 1}, "strap": {"levels": 1}},
    "ops": [
        {"id": "lid off", "item": "lid", "dir": "out", "level": 1, "time": 1, "ways": [
            {"needs": {}, "in": {"tool": ["a"]}}, {"needs": {}, "in": {"tool": ["b"]}, "time": 4}]},
        {"id": "part off", "item": "part", "dir": "out", "level": 1, "time": 2, "ways": [{"needs": {"lid": [1, 1]}}]},
        {"id": "strap off", "item": "strap", "dir": "out", "level": 1, "time": 8, "ways": [{"needs": {}}]},
        {"id": "strap on", "item": "strap", "dir": "back", "level": 1, "time": 16, "ways": [{"needs": {}}]},
        {"id": "part on", "item": "part", "dir": "back", "level": 1, "time": 2, "ways": [{"needs": {"lid": [1, 1]}}]},
        {"id": "lid on", "item": "lid", "dir": "back", "level": 1, "time": 1, "ways": [{"needs": {}}]},
    ],
    "swaps": [{"id": "swap", "item": "part", "ways": [{}]}],
    "once": [{"id": "clean up", "ops": [["lid off", 1], ["strap off"]], "offers": [{"time": 32, "cost": 0}]}],
}  # fmt: skip


def total(core, ways, plan):
    """What a plan costs in the problem that it was narrowed from; nothing may be wrong with it there."""
    walked = replay(core, restored(plan, ways))
    assert walked.broken == ()
    return walked.total


def test_the_way_that_is_left_is_taken():
    """Free it costs 7; with the other tool 4 more, and the cleaning up that this way alone owes."""
    ways = {"lid off": (1,)}
    solved = solve_core(force(CORE, ways))

    assert solve_core(CORE).total == 1 + 1 + 2 + 2 + 1
    assert solved.total == total(CORE, ways, solved.plan) == 7 + 4 + 32


def test_a_cost_that_falls_due_by_one_way_goes_with_it():
    """The way without it is left: nothing is to be cleaned up."""
    ways = {"lid off": (0,)}
    assert solve_core(force(CORE, ways)).total == 7


def test_an_item_that_must_come_off_comes_off_and_goes_back():
    """Nothing asks for the strap; its 8, 16 and the cleaning up are paid all the same."""
    solved = solve_core(force(CORE, off=["strap"]))

    assert solved.total == total(CORE, {}, solved.plan) == 7 + 8 + 16 + 32
    assert {"strap off", "strap on"} <= {name for name, _, _ in restored(solved.plan)}


def test_only_plans_below_a_total_count():
    """At the total itself there is none, just above it there is the same one."""
    assert solve_core(CORE, below=8).total == 7
    with pytest.raises(NoWay, match="costs less"):
        solve_core(CORE, below=7)
