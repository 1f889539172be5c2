"""Several searches share one time."""

import pytest
from core_samples import box

from putback.errors import NoWay
from putback.way.stopwatch import Stopwatch


def test_without_a_limit_there_is_no_end():
    """Neither without a clock nor without seconds."""
    assert Stopwatch(None, None).left() is None
    assert Stopwatch(lambda: 0.0, None).left() is None
    assert Stopwatch(None, 5.0).left() is None


@pytest.mark.parametrize(("now", "left"), [(10.0, 5.0), (14.0, 1.0), (15.0, 0.0), (16.0, 0.0)])
def test_what_is_left_shrinks_to_nothing(now, left):
    """At the start, in between, at the end, after it."""
    times = iter([10.0, now])
    assert Stopwatch(lambda: next(times), 5.0).left() == left


def test_a_search_has_what_is_left_and_the_limit_given():
    """The box costs 13: below 14 there is that plan, below 13 there is none."""
    watch = Stopwatch(lambda: 0.0, 5.0)
    assert watch.solve(box()).total == watch.solve(box(), 14).total == 13
    with pytest.raises(NoWay):
        watch.solve(box(), 13)
