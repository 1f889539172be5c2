"""Money is rounded once, where it shows."""

from decimal import Decimal
from fractions import Fraction

import pytest

from putback.estimate.money import Totals, cents, decimal, totals


@pytest.mark.parametrize(
    ("exact", "expected"), [("0.49", 0), ("0.5", 1), ("0.51", 1), ("-0.49", 0), ("-0.5", -1), ("-1.5", -2)]
)
def test_halves_go_away_from_nought(exact, expected):
    """Below, at and above the half, on both sides."""
    assert cents(Fraction(exact)) == expected


def test_a_third_is_exact_until_it_is_rounded():
    """A third of a cent three hundred times is a euro, not 0.99."""
    assert cents(sum([Fraction(1, 3)] * 300)) == 100


def test_amounts_of_any_size_are_shown_to_the_cent():
    """More digits than the decimal module keeps by itself."""
    assert (decimal(5), decimal(-69847)) == (Decimal("0.05"), Decimal("-698.47"))
    assert str(decimal(10**40 + 1)) == "1" + "0" * 38 + ".01"


def test_tax_is_taken_of_the_sum():
    """Three times 0.33 at 20 %: 0.20 on 0.99, where line by line it would be 0.21."""
    assert totals([33, 33, 33], Fraction(1, 5)) == Totals(99, 20, 119)
    assert totals([], Fraction(1, 5)) == Totals(0, 0, 0)
