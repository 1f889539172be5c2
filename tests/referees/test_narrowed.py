"""Narrowed problems and limits against the exhaustive search, on random problems of every kind.

The least over all ways of one operation, and over not doing it at all, is the least of the whole problem: so forcing
each of them in turn, with the answers of the exhaustive search, must give back what the planner says of the whole.
"""

from random import Random

import pytest

from putback.errors import NoWay
from putback.way.forced import force, restored
from putback.way.replay import replay
from putback.way.solve import solve_core
from referees import brute_force
from referees.random_problems import shop_2, tiny_2

DRAW = {"tiny_2": tiny_2, "shop_2": lambda rng: shop_2(rng, 2)}
CASES = [("tiny_2", seed) for seed in range(60)] + [("shop_2", seed) for seed in range(25)]


def total_of(core: dict, **limits) -> int | None:
    try:
        return solve_core(core, **limits).total
    except NoWay:
        return None


@pytest.mark.parametrize(("kind", "seed"), CASES)
def test_each_way_forced_costs_what_the_exhaustive_search_says(kind, seed):
    """And the plan, with its ways numbered as before, is one of the whole problem at the same total."""
    core = DRAW[kind](Random(seed))
    several = [op for op in core["ops"] if len(op["ways"]) > 1][:3]
    for op in several:
        for way in range(len(op["ways"])):
            ways = {op["id"]: (way,)}
            forced = force(core, ways)
            expected = brute_force.solve(forced)

            assert total_of(forced) == (expected and expected.total)

            if expected:
                walked = replay(core, restored(solve_core(forced).plan, ways))
                assert (walked.broken, walked.total) == ((), expected.total)


@pytest.mark.parametrize(("kind", "seed"), CASES)
def test_a_limit_is_kept_to(kind, seed):
    """At the least total nothing is left; one above it the least is found again."""
    core = DRAW[kind](Random(seed))
    least = total_of(core)
    if least is not None:
        assert total_of(core, below=least) is None  # at
        assert total_of(core, below=least + 1) == least  # just above
