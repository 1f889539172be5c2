"""Money whatever the prices: shown lines make the totals, discounts never turn tax round, no path of rounding differs."""

from decimal import ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from property.strategies import bills, exact_cents
from putback.estimate.bill import Bill, bill
from putback.estimate.money import cents, decimal
from putback.estimate.spread import LOG_NORMAL, SHAPES, Shape


@given(bills())
def test_totals_are_the_sums_of_the_shown_lines(drawn):
    """In whole cents, and by the decimal amounts that are printed, in any order."""
    found: Bill = bill(*drawn)
    shown = [decimal(line.cents) for line in found.lines if line.cents is not None]
    with localcontext() as exactly:
        exactly.prec = 60

        assert sum(shown) == sum(reversed(sorted(shown))) == decimal(found.net)
        assert decimal(found.net) + decimal(found.tax) == decimal(found.total)


@given(bills())
def test_a_discount_never_turns_anything_below_nought(drawn):
    """Neither the sum, nor the tax, nor the deposit; and the deposit is never more than what is to pay."""
    found = bill(*drawn)

    assert found.net >= 0 and found.tax >= 0
    assert 0 <= found.deposit <= found.total


@given(bills())
def test_tax_is_within_half_a_cent_of_the_exact_tax_on_the_shown_sum(drawn):
    """However many lines there are."""
    found = bill(*drawn)

    assert abs(found.tax - found.net * drawn[3]) <= Fraction(1, 2)


@given(bills())
def test_the_sum_is_off_the_exact_one_by_half_a_cent_a_line_at_most(drawn):
    """So that nothing but the rounding of shown lines ever changes a total."""
    labour, bought, charges, tax = drawn
    found = bill(labour, bought, charges, tax)
    plain = bill(labour, bought, type(charges)(mark_up=charges.mark_up), tax)
    exact = sum(one.minutes * one.rate / 60 for one in labour)
    exact += sum(good.count * good.each * (1 + charges.mark_up.get(good.kind, 0)) for good in bought if good.each is not None)

    assert abs(plain.net - exact) <= Fraction(len(plain.lines), 2)
    assert {line for line in plain.lines} <= set(found.lines)


@given(bills(), st.randoms(use_true_random=False))
def test_the_order_of_what_is_bought_changes_no_total(drawn, chance):
    """Nor does adding it up in another order."""
    labour, bought, charges, tax = drawn
    shuffled = chance.sample(bought, len(bought))
    one, two = bill(labour, bought, charges, tax), bill(labour, shuffled, charges, tax)

    assert (one.net, one.tax, one.total, one.deposit) == (two.net, two.tax, two.total, two.deposit)


@given(exact_cents())
def test_rounding_agrees_with_the_decimal_module(exact):
    """Half away from nought is its ROUND_HALF_UP, and what is rounded stays as it is."""
    with localcontext() as exactly:
        exactly.prec = 60
        judge = (Decimal(exact.numerator) / Decimal(exact.denominator)).quantize(Decimal(1), ROUND_HALF_UP)

    assert cents(exact) == judge == cents(Fraction(cents(exact)))


@given(st.sampled_from(SHAPES), st.tuples(*[st.floats(0.01, 1e4)] * 3).map(sorted), st.floats(0.01, 0.99))
def test_quantiles_rise_and_meet_the_mean(kind, times, share):
    """A larger share takes no less time, and the mean of many quantiles is the mean."""
    import numpy

    shape = Shape(kind, *times)
    many = shape.quantile((numpy.arange(4000) + 0.5) / 4000)
    near = 0.02 * shape.mean if kind == LOG_NORMAL else 0.005 * (shape.high - shape.low)  # its tail is long

    assert shape.quantile(share * 0.99) <= shape.quantile(share) + 1e-9
    assert abs(many.mean() - shape.mean) <= near + 1e-9
