"""Times and money against outside values: three-point times, a network, shapes, rounding. Each row has its source."""

from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from fractions import Fraction
from math import log

import pytest
from scipy import stats

from putback.estimate.money import cents, decimal
from putback.estimate.spread import (
    BETA,
    LOG_NORMAL,
    TRIANGULAR,
    Moments,
    Shape,
    chance_within,
    log_normal,
    log_normal_quantile,
    three_point,
)


def test_i1_a_three_point_time():
    """(4, 6, 12): mean 6.67, deviation 1.33 (worked example of calhub.xyz)."""
    found = three_point(4, 6, 12)

    assert (round(found.mean, 4), round(found.deviation, 4)) == (6.6667, 1.3333)


def test_i2_a_chain_of_four():
    """Specification, building, testing, deployment: 17.83 with deviation 1.691 (example of schematex.js.org)."""
    chain = [three_point(2, 3, 5), three_point(5, 8, 14), Moments(4.17, 0.5**2), Moments(2.0, 0.333**2)]
    whole = sum(chain, Moments(0.0, 0.0))

    assert chain[0].mean == pytest.approx(3.1667, abs=1e-4) and chain[0].deviation == pytest.approx(0.5)
    assert chain[1].mean == pytest.approx(8.5) and chain[1].deviation == pytest.approx(1.5)
    assert whole.mean == pytest.approx(17.83, abs=0.01)
    assert whole.deviation == pytest.approx(1.691, abs=0.01)


# Render, Stair and Hanna, Quantitative Analysis for Management: the General Foundry network. Duration and path as the
# package pmcontrols describes them; the three-point times from memory.
FOUNDRY = {
    "A": ((1, 2, 3), ""), "B": ((2, 3, 4), ""), "C": ((1, 2, 3), "A"), "D": ((2, 4, 6), "B"), "E": ((1, 4, 7), "C"),
    "F": ((1, 2, 9), "C"), "G": ((3, 4, 11), "DE"), "H": ((1, 2, 3), "FG"),
}  # fmt: skip


def _longest(end: str) -> tuple[str, Moments]:
    """The longest chain that leads to an activity, and its moments."""
    times, before = FOUNDRY[end]
    path, sofar = max((_longest(one) for one in before), key=lambda chain: chain[1].mean, default=("", Moments(0.0, 0.0)))
    return path + end, sofar + three_point(*times)


def test_i3_a_project():
    """Duration 15 over A C E G H, variance 3.1111, and a chance of 0.7146 to be done within 16."""
    path, whole = _longest("H")

    assert [round(three_point(*times).mean) for times, _ in FOUNDRY.values()] == [2, 3, 2, 4, 4, 3, 5, 2]
    assert path == "ACEGH"
    assert whole.mean == pytest.approx(15)
    assert whole.variance == pytest.approx(3.1111, abs=1e-4)
    assert chance_within(16, whole) == pytest.approx(0.7146, abs=1e-4)


def test_i4_a_beta_time():
    """(3, 4, 11): mean 5, variance 1.714286, four of five within 6.1028 (scipy.stats.beta); not the rule of thumb's 1.7778."""
    shape, judge = Shape(BETA, 3, 4, 11), stats.beta(1 + 4 * 1 / 8, 1 + 4 * 7 / 8, 3, 8)

    assert (shape.mean, shape.variance) == pytest.approx((5, 1.714286), abs=1e-4)
    assert (shape.mean, shape.variance) == pytest.approx((judge.mean(), judge.var()))
    assert float(shape.quantile(0.8)) == pytest.approx(6.1028, abs=1e-4)
    assert three_point(3, 4, 11).variance == pytest.approx(1.7778, abs=1e-4)


def test_i5_a_triangular_time():
    """(4, 6, 12): mean 7.3333, variance 2.8889 (vignette of the R package triangle), four of five within 8.9016 (scipy)."""
    shape = Shape(TRIANGULAR, 4, 6, 12)

    assert (shape.mean, shape.variance) == pytest.approx((7.3333, 2.8889), abs=1e-4)
    assert float(shape.quantile(0.8)) == pytest.approx(8.9016, abs=1e-4)
    assert float(shape.quantile(0.8)) == pytest.approx(stats.triang(0.25, 4, 8).ppf(0.8))


def test_i6_a_log_normal_time():
    """Logarithm of mean 0 and deviation 0.5: mean 1.133148, median 1, four of five within 1.523196 (scipy.stats.lognorm)."""
    assert log_normal(0.0, 0.5).mean == pytest.approx(1.133148, abs=1e-6)
    assert float(log_normal_quantile(0.0, 0.5, 0.5)) == pytest.approx(1, abs=1e-6)
    assert float(log_normal_quantile(0.0, 0.5, 0.8)) == pytest.approx(1.523196, abs=1e-6)


def test_a_log_normal_time_between_two_limits():
    """One chance in twenty below the least and one above the most (scipy.stats.lognorm)."""
    shape = Shape(LOG_NORMAL, 2, 3, 8)
    judge = stats.lognorm(s=log(8 / 2) / 2 / stats.norm.ppf(0.95), scale=4)

    assert [float(shape.quantile(share)) for share in (0.05, 0.5, 0.95)] == pytest.approx([2, 4, 8], abs=1e-5)
    assert (shape.mean, shape.variance) == pytest.approx((judge.mean(), judge.var()), rel=1e-9)


@pytest.mark.parametrize(
    ("amount", "up", "even"), [("2.345", "2.35", "2.34"), ("1.005", "1.01", "1.00"), ("0.125", "0.13", "0.12")]
)
def test_i11_half_way_cases(amount, up, even):
    """Halves go up, as decimal's ROUND_HALF_UP has them and neither half-even nor binary floating point does."""
    judge = Decimal(amount)

    assert judge.quantize(Decimal("0.01"), ROUND_HALF_UP) == Decimal(up)
    assert judge.quantize(Decimal("0.01"), ROUND_HALF_EVEN) == Decimal(even)
    assert decimal(cents(Fraction(amount) * 100)) == Decimal(up)


@pytest.mark.parametrize(("amount", "expected"), [("24.784", "24.78"), ("24.785", "24.79")])
def test_i12_the_rule_for_the_euro(amount, expected):
    """Regulation (EC) 1103/97, article 5, and the examples of evro.si."""
    assert str(decimal(cents(Fraction(amount) * 100))) == expected
