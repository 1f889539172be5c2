"""The planner against the brute force: on problems small enough to look at every state, they agree.

The problems are drawn from numbered seeds; a failing test names its kind and seed, and
`brute_force.solve(tiny_2(Random(seed)))` shows what the answer should have been.
"""

from collections import Counter
from random import Random

import pytest

from putback.way.replay import replay
from referees import brute_force, planner
from referees.random_problems import scarce_2, shop_1, shop_2, tiny_1, tiny_2

KINDS = {
    "tiny_1": tiny_1,
    "tiny_2": tiny_2,
    "scarce_2": scarce_2,
    "shop_1": lambda rng: shop_1(rng, 2),
    "shop_2": lambda rng: shop_2(rng, 2),
}


def draw(kind: str, seed: int) -> dict:
    return KINDS[kind](Random(seed))


def cases(**seeds) -> list:
    return [(kind, seed) for kind, numbers in seeds.items() for seed in numbers]


def assert_agreed(core: dict) -> None:
    """Planner, brute force and replay have the same total and changes, or all say there is no way."""
    expected = brute_force.solve(core)

    found = planner.solve(core)

    if expected is None:
        assert found["plan"] is None
        return
    assert found["plan"] is not None, f"no way, but {expected.plan} costs {expected.total}"
    done = replay(core, found["plan"])
    assert done.broken == ()
    assert (done.total, done.changes) == (found["total"], found["changes"])
    assert (found["total"], found["changes"]) == (expected.total, expected.changes)
    assert (found["lower"], found["proved"]) == (expected.total, True)


@pytest.mark.parametrize(
    ("kind", "seed"),
    cases(tiny_1=range(100), tiny_2=range(100, 280), scarce_2=range(100, 200), shop_1=range(1, 5), shop_2=range(1, 5)),
)
def test_the_planner_finds_what_the_brute_force_finds(kind, seed):
    """Equal in total and, among equals, in changes of context; agreed, too, where there is no way."""
    assert_agreed(draw(kind, seed))


@pytest.mark.slow
@pytest.mark.parametrize("block", range(5))
def test_the_planner_finds_what_the_brute_force_finds_on_thousands(block):
    """The same on two thousand more of each, a hundred to a block."""
    for seed in range(1000 + 100 * block, 1100 + 100 * block):
        for kind in ("tiny_1", "tiny_2", "scarce_2"):
            assert_agreed(draw(kind, seed))


@pytest.mark.parametrize(("kind", "seed"), cases(tiny_1=range(20), tiny_2=range(50), scarce_2=range(50)))
def test_the_replay_agrees_with_the_brute_force(kind, seed):
    """Two readings of the contract, one walking and one searching, come to the same figures."""
    core = draw(kind, seed)
    best = brute_force.solve(core)
    if best is None:
        return

    done = replay(core, best.plan)

    assert (done.broken, done.total, done.changes) == ((), best.total, best.changes)


def test_the_small_problems_are_worth_solving():
    """Most have a way, some have none, and each rule that can cost shows in some."""
    seen = Counter()
    for seed in range(90):
        core = tiny_2(Random(seed))
        best = brute_force.solve(core)
        seen["way" if best else "no way"] += 1
        if best:
            done = replay(core, best.plan)
            seen["long"] += len(best.plan) > 6
            seen["idle"] += done.idle > 0
            seen["changes"] += done.changes > 2
            seen["once"] += _total_without(core, "once", best.plan) < done.total

    assert min(seen["way"] / 2, seen["no way"]) >= 20
    assert min(seen[what] for what in ("long", "idle", "changes", "once")) >= 5, seen


def _total_without(core: dict, key: str, plan: list) -> int:
    return replay(core | {key: []}, plan).total


def test_two_lids_by_hand():
    """Worked by hand: one tool for both, and the longer part of the wait filled with work.

    The lid is off at 3 + 10 = 13 and may go back at 43; the cap out, the look at the swap and the cap
    back take 10 + 5 + 10 and end at 38; 5 are left to wait, and the lid is back at 53. With the cap out
    first the wait would end at 53.
    """
    ways = {"lid": [{"in": {"tool": ["8 mm"]}}, {"in": {"tool": ["10 mm"]}}], "cap": [{"in": {"tool": ["10 mm"]}}]}
    core = {
        "core": 2,
        "rate": 1,
        "dims": [{"name": "tool", "values": ["none", "8 mm", "10 mm"], "start": "none", "change": 3}],
        "items": {"lid": {"levels": 1}, "cap": {"levels": 1}},
        "ops": [
            {"id": f"{item} {d}", "item": item, "dir": d, "level": 1, "time": 10, "ways": ways[item]}
            for item in ("lid", "cap")
            for d in ("out", "back")
        ],
        "swaps": [{"id": f"swap {item}", "item": item, "ways": [{}]} for item in ("lid", "cap")],
        "waits": [{"id": "rest", "after": ["lid out"], "before": ["lid back"], "time": 30}],
        "fixed": [{"id": "look", "when": "swap", "time": 5}],
    }

    best = brute_force.solve(core)

    assert (best.total, best.changes) == (53, 1)
    assert replay(core, best.plan).idle == 5
    assert best.plan[0][:2] == ["lid out", 1]


def test_a_level_further_may_give_equipment_free():
    """The bracket half off (1) holds the only stand, which the lid's refit uses; fully off (2) it does not.

    With the bracket at 1 the lid comes off for nothing instead of 9, and moving the bracket on costs
    nothing: worked by hand, 0 against 9.
    """
    cheap = {"needs": {"bracket": [1, 1]}}
    core = {
        "core": 2,
        "rate": 1,
        "dims": [],
        "pools": {"stand": 1},
        "items": {
            "bracket": {"levels": 2, "goal": [0, 2], "holds": {"1": {"stand": 1}}},
            "lid": {"levels": 1},
        },
        "ops": [
            {"id": "bracket half off", "item": "bracket", "dir": "out", "level": 1, "ways": [{}]},
            {"id": "bracket off", "item": "bracket", "dir": "out", "level": 2, "ways": [{}]},
            {"id": "lid off", "item": "lid", "dir": "out", "level": 1, "ways": [{"time": 9}, cheap]},
            {"id": "lid on", "item": "lid", "dir": "back", "level": 1, "ways": [{"uses": {"stand": 1}}]},
        ],
        "swaps": [{"id": "swap", "item": "lid", "ways": [{}]}],
    }

    assert brute_force.solve(core).total == 0
    assert_agreed(core)
