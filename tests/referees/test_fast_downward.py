"""The planner, the brute force and a general planner that proves agree on problems of version 1."""

import json
from random import Random

import pytest

from putback.way.replay import replay
from referees import brute_force, planner
from referees.random_problems import shop_1, tiny_1

pytest.importorskip("unified_planning", reason="the general planner is not installed")
pytest.importorskip("up_fast_downward", reason="the general planner is not installed")
from referees import fast_downward


def assert_agreed(core: dict, total: int | None, search: str = fast_downward.MERGE_AND_SHRINK) -> None:
    """The general planner's plan is right and costs as much as the other's; or neither has one."""
    found = fast_downward.solve(core, seconds=300, search=search)

    if found is None:
        assert total is None
        return
    done = replay(core, found.plan)
    assert (done.broken, done.total) == ((), found.total)
    assert total == found.total


@pytest.mark.parametrize("search", ["LM_CUT", "MERGE_AND_SHRINK"])
@pytest.mark.parametrize("seed", range(6))
def test_the_general_planner_agrees_with_the_brute_force(seed, search):
    """Two referees that share no line, by either of its searches."""
    core = tiny_1(Random(seed))
    best = brute_force.solve(core)

    assert_agreed(core, best and best.total, getattr(fast_downward, search))


@pytest.mark.parametrize(("parts", "seed"), [(3, 0), (3, 1), (3, 2), (4, 1), (4, 2), (4, 3)])
def test_the_general_planner_agrees_with_the_planner(parts, seed):
    """The same total where work looks like work; it knows nothing of the fewer changes."""
    core = shop_1(Random(seed), parts)

    assert_agreed(core, planner.solve(core)["total"])


@pytest.mark.parametrize("name", ["dense_6_3", "shop_10_3", pytest.param("dense_6_1", marks=pytest.mark.slow)])
def test_the_general_planner_agrees_on_our_own_problems(name, root):
    """Of the problems of tests/data/way it proves these three, the last in half a minute."""
    core = json.loads((root / "tests" / "data" / "way" / f"{name}.json").read_text())

    assert_agreed(core, planner.solve(core)["total"])
