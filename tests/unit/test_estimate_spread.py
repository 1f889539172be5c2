"""Shapes of times; tests/reference/test_references_i.py holds them against outside values."""

import pytest

from putback.estimate.spread import SHAPES, Moments, Shape, chance_within


@pytest.mark.parametrize("kind", SHAPES)
def test_a_time_without_a_spread_is_sure(kind):
    """Its mean and all its quantiles are that time."""
    shape = Shape(kind, 5.0, 5.0, 5.0)

    assert (shape.mean, shape.variance, shape.quantile(0.1), shape.quantile(0.9)) == (5.0, 0.0, 5.0, 5.0)


@pytest.mark.parametrize("kind", ["beta", "triangular"])
@pytest.mark.parametrize("likely", [2.0, 3.0, 7.0])
def test_no_time_leaves_its_limits(kind, likely):
    """Wherever the top of the shape lies, at the limits too."""
    shape = Shape(kind, 2.0, likely, 7.0)

    assert 2.0 <= shape.quantile(1e-9) <= shape.quantile(0.5) <= shape.quantile(1 - 1e-9) <= 7.0
    assert 2.0 < shape.mean < 7.0


def test_a_log_normal_time_may_begin_at_nothing():
    """Then a hundredth of the longest stands for it."""
    shape = Shape("log-normal", 0.0, 1.0, 4.0)

    assert float(shape.quantile(0.05)) == pytest.approx(0.04, rel=1e-4)


def test_without_a_spread_a_limit_is_kept_or_not():
    """At the time itself it is kept."""
    assert [chance_within(limit, Moments(10.0, 0.0)) for limit in (9.9, 10.0, 10.1)] == [0.0, 1.0, 1.0]
