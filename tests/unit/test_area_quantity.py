"""The short phrases of figures."""

from fractions import Fraction

import pytest

from putback.area import quantity
from putback.area.model import SECOND_PERSON, Demand, Equipment, Fluid, FollowUp, Minutes, Risk, Spread
from putback.errors import InputError

OFF_ON = quantity.both_ways("off", "on")


def spread(low, likely, high) -> Spread:
    return Spread(Fraction(low), Fraction(likely), Fraction(high))


def refused(reader, text: str) -> str:
    with pytest.raises(InputError) as caught:
        reader(text)
    return str(caught.value)


def test_minutes_out_and_back():
    """In either order, with or without their spread, exactly as typed."""
    expected = Minutes(spread(4, 5, 8), spread("7.5", "7.5", "7.5"))

    assert OFF_ON("4-5-8 off, 7.5 on") == expected
    assert OFF_ON("7.5 min on, 4-5-8 off") == expected


@pytest.mark.parametrize("text", ["5 off", "5 off, 7 off", "5, 7", "off 5, on 7", "5 off, 7 on, 9 on", "-5 off, 7 on"])
def test_minutes_that_do_not_say_both_ways_are_refused(text):
    """With the form to write."""
    assert refused(OFF_ON, text).endswith('write minutes as "5 off, 7 on"')


def test_a_spread_rises():
    """Least, likely, most."""
    assert "rising order" in refused(OFF_ON, "8-5-4 off, 7 on")


@pytest.mark.parametrize(("text", "cents"), [("268.00", 26800), ("0.35", 35), ("12", 1200)])
def test_money_is_cents(text, cents):
    """Exact, whatever the number of decimals."""
    assert quantity.money(text) == cents


@pytest.mark.parametrize("text", ["12,50", "-3", "EUR 3", "1e3", ""])
def test_what_is_no_money_is_refused(text):
    """One form only."""
    assert "is no amount of money" in refused(quantity.money, text)


def test_money_for_several():
    """`4 x 0.35` is four at 0.35 each."""
    assert quantity.counted_money("4 x 0.35") == (4, 35)


def test_risks_and_breakage():
    """Rust makes the one likelier and leaves the other as it is; `on:` puts it on the way back."""
    assert quantity.risk("30 % x 12 min, link nut seized") == Risk("link nut seized", Fraction("0.3"), Fraction(12))
    assert quantity.breakage("0.5 x 6 min, clip breaks").rusts is False
    assert quantity.risk("on: 5 % x 2 min, thread strips").direction == "back"


def test_a_probability_is_at_most_one():
    """At 100 % it still is one, above it is none."""
    assert quantity.share("100 %") == 1  # at
    assert "is no probability" in refused(quantity.share, "101 %")  # above


def test_equipment_with_count_rating_and_choice():
    """What is there first will be taken."""
    assert quantity.demand("support table >= 150 kg") == Demand((Equipment("support table", 1, 150),))
    assert quantity.demand("2 drain pans") == Demand((Equipment("drain pan", 2),))
    assert quantity.demand("brake-pedal prop or second person") == Demand(
        (Equipment("brake-pedal prop"), SECOND_PERSON)
    )


def test_follow_ups():
    """The shop's own minutes, a sublet, both, or words at the hand-over."""
    rack = (Demand((Equipment("alignment rack"),)),)

    assert quantity.follow_up("6 min") == FollowUp("", Fraction(6))
    assert quantity.follow_up("45 min with alignment rack, or sublet wheel alignment") == FollowUp(
        "", Fraction(45), rack, "wheel alignment"
    )
    assert quantity.follow_up("sublet wheel alignment").minutes is None
    assert quantity.follow_up("at hand-over").at_hand_over


def test_fluids():
    """How much, of what, and what it costs altogether."""
    assert quantity.fluid("0.7 l gearbox oil, 11.20") == Fluid("gearbox oil", Fraction("0.7"), Fraction(1120))


@pytest.mark.parametrize(
    ("reader", "text"),
    [
        (quantity.minutes, "12"),
        (quantity.risk, "sometimes"),
        (quantity.fluid, "some oil"),
        (quantity.follow_up, "soon"),
        (quantity.mass, "heavy"),
        (quantity.count, "0"),
    ],
)
def test_everything_refused_says_what_to_write(reader, text):
    """The sentence quotes what was typed and shows the form."""
    message = refused(reader, text)

    assert f'"{text}"' in message
    assert "write" in message


@pytest.mark.parametrize(
    ("reader", "most", "above"),
    [
        (quantity.minutes, "10000 min", "10001 min"),
        (quantity.minutes_spread, "1-2-10000 min", "1-2-10001 min"),
        (quantity.both_ways("off", "on"), "10000 off, 1 on", "10001 off, 1 on"),
        (quantity.money, "1000000", "1000000.01"),
        (quantity.count, "1000", "1001"),
        (quantity.counted_money, "1000 x 1", "1001 x 1"),
        (quantity.mass, "50000 kg", "50000.1 kg"),
        (quantity.demand, "table >= 50000 kg", "table >= 50001 kg"),
        (quantity.fluid, "1000 l oil", "1001 l oil"),
        (quantity.follow_up, "10000 min", "10001 min"),
        (quantity.risk, "1 % x 10000 min, nut", "1 % x 10001 min, nut"),
    ],
)
def test_figures_beyond_all_measure_are_refused(reader, most, above):
    """At the limit, and just above it."""
    assert reader(most)
    with pytest.raises(InputError, match="that are taken for real; look at the figure"):
        reader(above)


@pytest.mark.parametrize("text", ["\u00b2", "2\u00b2", "-1", "1.5", ""])
def test_what_only_looks_like_a_number_is_refused(text):
    """A raised two is a digit for Unicode, and no number."""
    with pytest.raises(InputError, match="whole number from 1"):
        quantity.count(text)
