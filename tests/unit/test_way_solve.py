"""From parsed JSON to a plan in the words of the problem's own version."""

import pytest
from core_samples import box

from putback.errors import InputError
from putback.way import solve_core
from putback.way.replay import replay

OLD_WAY = {"req": {}, "tool": "a", "vantage": "top", "postures": ["up"], "extra": 0}
OLD = {
    "tools": ["a"], "vantages": ["top"], "postures": ["down", "up"], "setup": {"tool": 1, "vantage": 1, "posture": 3},
    "start": {"tool": "a", "vantage": "top", "posture": "down"}, "end_posture": "down", "items": {"lid": 1},
    "ops": [
        {"id": "off", "item": "lid", "dir": "out", "level": 1, "minutes": 4, "alts": [OLD_WAY]},
        {"id": "on", "item": "lid", "dir": "back", "level": 1, "minutes": 5, "alts": [OLD_WAY]},
    ],
    "target": ["lid"], "swap": {"tool": "a", "vantage": "top", "postures": ["down", "up"], "minutes": 2},
}  # fmt: skip


def test_version_2_names_every_dimension():
    """Id, way, and the values in force."""
    assert solve_core(box()).plan[0] == ["lid out", 0, {"tool": "10 mm"}]


def test_version_1_names_the_posture():
    """Up and down once each: 4 + 2 + 5 and twice 3."""
    found = solve_core(OLD)
    assert found.total == 17
    assert found.plan == [["off", 0, "up"], ["swap", 0, "up"], ["on", 0, "up"]]


@pytest.mark.parametrize("said", [box(), OLD], ids=["version 2", "version 1"])
def test_the_replay_counts_the_same(said):
    """It shares no line with the planner."""
    found = solve_core(said)
    walked = replay(said, found.plan)
    assert (walked.broken, walked.total, walked.changes) == ((), found.total, found.changes)


def test_each_better_plan_is_told_in_the_same_words():
    """The last one told is the one returned."""
    told = []
    found = solve_core(box(), on_plan=told.append)
    assert (told[-1].total, told[-1].plan) == (found.total, found.plan)


def test_fixed_work_is_part_of_the_total_and_of_the_bound():
    """13 and 5 at rate 1."""
    found = solve_core(box(fixed=[{"id": "look", "when": "after", "time": 5}]))
    assert (found.total, found.lower) == (18, 18)


def test_what_is_no_problem_is_refused():
    """In a sentence."""
    with pytest.raises(InputError):
        solve_core({"core": 2})
