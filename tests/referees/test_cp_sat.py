"""The planner, the brute force and constraint programming agree where all of them can be had."""

import json
from random import Random

import pytest

from putback.way.replay import replay
from referees import brute_force, planner
from referees.random_problems import shop_1, shop_2, tiny_1, tiny_2, without_waits_and_equipment

pytest.importorskip("ortools", reason="the constraint solver is not installed")
from referees import cp_sat

LARGEST = 36  # modes; beyond, a proof may take minutes where many orders cost the same

KINDS = {
    "tiny_1": tiny_1,
    "tiny_2": tiny_2,
    "shop_1": lambda rng: shop_1(rng, 2),
    "shop_2": lambda rng: shop_2(rng, 2),
}


def draw(kind: str, seed: int) -> dict:
    return without_waits_and_equipment(KINDS[kind](Random(seed)))


def assert_agreed(core: dict, other) -> None:
    """The constraint solver's plan is right, proved, and as good as the other's; or neither has one."""
    found = cp_sat.solve(core, seconds=300)

    if found is None:
        assert other is None
        return
    done = replay(core, found.plan)
    assert done.broken == ()
    assert (done.total, done.changes) == (found.total, found.changes)
    assert found.proved
    assert other == (found.total, found.changes)


@pytest.mark.parametrize("kind", ["tiny_1", "tiny_2"])
def test_constraint_programming_agrees_with_the_brute_force(kind):
    """Two referees that share no line, on the smallest of fifty problems each."""
    cores = [core for core in (draw(kind, seed) for seed in range(50)) if cp_sat.size(core) <= LARGEST]
    assert len(cores) >= 20
    for core in cores:
        best = brute_force.solve(core)
        assert_agreed(core, best and (best.total, best.changes))


@pytest.mark.parametrize("kind", ["tiny_1", "tiny_2", "shop_1", "shop_2"])
def test_constraint_programming_agrees_with_the_planner(kind):
    """Total and changes, on the smallest of problems that the brute force was not asked."""
    cores = [core for core in (draw(kind, seed) for seed in range(100, 120)) if cp_sat.size(core) <= LARGEST]
    assert len(cores) >= 5
    for core in cores:
        found = planner.solve(core)
        assert_agreed(core, None if found["plan"] is None else (found["total"], found["changes"]))


def test_constraint_programming_agrees_on_one_of_our_own_problems(root):
    """Of the problems of tests/data/way it proves this one in a few seconds."""
    core = json.loads((root / "tests" / "data" / "way" / "dense_6_3.json").read_text())
    found = planner.solve(core)

    assert_agreed(core, (found["total"], found["changes"]))


def test_constraint_programming_says_what_it_does_not_know():
    """A wait or a pool is refused, never overlooked."""
    core = tiny_2(Random(0)) | {"waits": [{"id": "w", "after": [], "before": ["end"], "time": 1}]}

    with pytest.raises(cp_sat.NotMine):
        cp_sat.solve(core)
