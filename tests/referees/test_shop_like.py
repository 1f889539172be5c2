"""The planner on problems that look like work, too large for the other judges: the replay checks every plan."""

from random import Random

import pytest

from putback.way.replay import replay
from referees import planner
from referees.random_problems import shop_1, shop_2

SECONDS = 20


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("parts", [10, 20, 30])
@pytest.mark.parametrize("shop", [shop_1, shop_2])
def test_a_plan_for_a_shop_is_right(shop, parts, seed):
    """No rule is broken, the figures are the replay's, and no plan costs less than its bound."""
    core = shop(Random(seed), parts, deep=True)

    found = planner.solve(core, seconds=SECONDS)

    if found["plan"] is None:
        assert shop is shop_2  # without equipment and a wheel to stand on there is always a way
        return
    done = replay(core, found["plan"])
    assert done.broken == ()
    assert (done.total, done.changes) == (found["total"], found["changes"])
    assert found["lower"] <= found["total"]
    assert found["proved"] == (found["lower"] == found["total"])


def test_some_of_these_jobs_are_long():
    """Among the largest some move more than twenty levels out and back."""
    lengths = [len(planner.solve(shop_1(Random(seed), 30, deep=True), seconds=SECONDS)["plan"]) for seed in range(6)]

    assert sum(length > 40 for length in lengths) >= 2
