"""Risks as chances, and rust that makes them come together."""

from fractions import Fraction

import pytest
from quote_samples import RICH, SUBLETS, job

from putback.area.model import OUT
from putback.estimate.risks import LESS, MORE, Chance, chances, risk_moments

HALF = Fraction(1, 2)


def chance(probability: str, minutes: int = 10, rusts: bool = True) -> Chance:
    return Chance("seized", Fraction(probability), Fraction(minutes), rusts)


def test_rust_makes_a_risk_likelier_or_less_likely():
    """By half, and on average not at all."""
    assert [chance("0.2").on(car) for car in (LESS, MORE)] == [Fraction("0.1"), Fraction("0.3")]
    assert [chance("0.2", rusts=False).on(car) for car in (LESS, MORE)] == [Fraction("0.2")] * 2


@pytest.mark.parametrize(("probability", "expected"), [("0.6", "0.9"), ("2/3", "1"), ("0.8", "1"), ("1", "1")])
def test_no_risk_is_surer_than_sure(probability, expected):
    """Below, at and above two thirds; the mean stays what it was."""
    found = chance(probability)

    assert found.on(MORE) == Fraction(expected)
    assert (found.on(LESS) + found.on(MORE)) / 2 == Fraction(probability)


def test_the_class_of_rust_counts_twice_or_not_at_all():
    """Clean, usual, heavy: nought, once, twice; breakage is left as it is, and nothing goes above one."""
    text = RICH.replace("bolt shears\"", "bolt shears\"").replace("20 % x 30 min", "70 % x 30 min")
    _, sheet = job(text, SUBLETS)
    steps = [step for step in sheet.steps if step.operation and step.operation.risks]

    assert [step.operation.direction for step in steps] == [OUT]
    assert [[one.probability for one in chances(sheet, rust)] for rust in (0, 1, 2)] == [[], [Fraction("0.7")], [1]]


def test_the_moments_of_one_risk():
    """0.2 x 10 min: mean 2, and variance 0.2 x 0.8 x 100, which rust shifts about without changing it."""
    found = risk_moments([chance("0.2")])

    assert found.moments.mean == 2.0
    assert found.moments.variance == pytest.approx(16.0)
    assert found.together == pytest.approx(1.0)  # means of 1 and 3 on the two kinds of car


def test_risks_of_one_rusty_car_spread_wider_than_independent_ones():
    """Twice 16, and besides twice the product of 0.5 x 0.2 x 10 by itself."""
    rusty = risk_moments([chance("0.2"), chance("0.2")]).moments.variance
    clips = risk_moments([chance("0.2", rusts=False), chance("0.2", rusts=False)]).moments.variance

    assert (clips, rusty) == (pytest.approx(32.0), pytest.approx(34.0))
