"""The simulation agrees with what is known exactly, and is the same each time."""

from fractions import Fraction
from math import sqrt

import pytest

from putback.estimate.risks import Chance, risk_moments
from putback.estimate.simulate import DRAWS, simulate
from putback.estimate.spread import SHAPES, Moments, Shape

CHANCES = [
    Chance("seized", Fraction(1, 5), Fraction(12), True),
    Chance("spins", Fraction(7, 10), Fraction(30), True),
    Chance("breaks", Fraction(1, 2), Fraction(6), False),
]


@pytest.mark.parametrize("kind", SHAPES)
@pytest.mark.parametrize("seed", [0, 1, 2])
def test_mean_and_variance_are_within_three_standard_errors(kind, seed):
    """Of ten thousand draws; the variance's error from the fourth moment of the draws themselves."""
    shapes = [Shape(kind, 3, 4, 11), Shape(kind, 10, 12, 12.5), Shape(kind, 1, 5, 9)]
    exact = sum((shape.moments for shape in shapes), Moments(7.0, 0.0)) + risk_moments(CHANCES).moments
    drawn = simulate(shapes, CHANCES, 7.0, seed=seed)
    off = drawn - drawn.mean()
    error = sqrt(((off**4).mean() - (off**2).mean() ** 2) / DRAWS)

    assert abs(drawn.mean() - exact.mean) < 3 * exact.deviation / sqrt(DRAWS)
    assert abs(off.var() - exact.variance) < 3 * error


def test_the_same_seed_gives_the_same_jobs():
    """To the last bit; another seed gives others."""
    first, again, other = (simulate([Shape("beta", 3, 4, 11)], CHANCES, seed=seed).tolist() for seed in (5, 5, 6))

    assert first == again != other
    assert first == sorted(first)


def test_a_risk_that_is_sure_comes_each_time():
    """And nothing else does."""
    sure = Chance("stuck", Fraction(1), Fraction(9), True)

    assert set(simulate([], [sure], 1.0, draws=50).tolist()) == {10.0}
