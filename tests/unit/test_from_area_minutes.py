"""Whose minutes are whose: shares always add up to what the file says."""

from fractions import Fraction

import pytest
from area_samples import PUMP, area
from hypothesis import given
from hypothesis import strategies as st

from putback.area.model import Spread
from putback.way.from_area_minutes import left_to_share, over_levels, share_out, shares


@given(
    st.fractions(min_value=0, max_value=200),
    st.lists(st.fractions(min_value=0, max_value=20), min_size=1, max_size=12),
)
def test_shares_add_up_exactly(total, weights):
    """Whatever the total and the weights."""
    assert sum(share_out(total, weights)) == total


@given(st.integers(0, 20000), st.lists(st.integers(0, 9), min_size=1, max_size=12))
def test_shares_are_whole_hundredths_when_the_total_is(hundredths, weights):
    """So the numbers stay small, and people can read them."""
    parts = share_out(Fraction(hundredths, 100), [Fraction(weight) for weight in weights])

    if any(weights):
        assert all((part * 100).denominator == 1 for part in parts)
        assert all(part == 0 for part, weight in zip(parts, weights, strict=True) if not weight)


def test_no_share_is_off_by_a_step_or_more():
    """Each differs from its exact part by less than a hundredth."""
    weights = [Fraction(7), Fraction(2), Fraction(2)]
    parts = share_out(Fraction(5), weights)

    assert all(
        abs(part - Fraction(5) * weight / 11) < Fraction(1, 100) for part, weight in zip(parts, weights, strict=True)
    )


def both(read) -> dict:
    return {name: (one.out.likely, one.back.likely) for name, one in shares(read).items()}


def test_a_part_shares_with_what_belongs_to_it():
    """Two bolts count one each, the part itself two."""
    assert both(area(PUMP)) == {"pump": (2, 3), "pump bolts": (2, 3)}


def test_minutes_given_for_a_group_are_taken_out_first():
    """The rest is shared among the others."""
    text = PUMP.replace("pump bolts: 2", 'pump bolts: {is: "2').replace("22 N·m", '22 N·m", minutes: "1 off, 2 on"}')

    assert both(area(text)) == {"pump": (3, 4), "pump bolts": (1, 2)}


def test_minutes_that_do_not_add_up_leave_less_than_nothing():
    """The check tells so."""
    text = PUMP.replace("pump bolts: 2", 'pump bolts: {is: "2').replace("22 N·m", '22 N·m", minutes: "5 off, 2 on"}')
    read = area(text)

    assert left_to_share(read, read.items["pump"]).out.likely == -1


def test_what_is_put_in_for_a_part_shares_its_minutes():
    """And marks take none on the way back, for they stay."""
    pin = "  pin: {secures: [pump], from: top, part of: pump}\n"
    line = "  line: {marks: [pump], from: top, part of: pump}\n"
    text = PUMP + "put in:\n" + pin + line
    found = both(area(text))

    assert sum(out for out, _ in found.values()) == 4
    assert sum(back for _, back in found.values()) == 6
    assert found["line"][1] == 0


def test_the_least_of_several_ways_is_the_parts_own():
    """What another way takes more falls on the part's move."""
    ways = '    out through:\n      a: {minutes: "5 off, 9 on"}\n      b: {minutes: "6 off, 8 on"}\n'
    text = PUMP.replace("    minutes: 4 off, 6 on\n", "") + ways
    found = both(area(text))

    assert [sum(part) for part in zip(*found.values(), strict=True)] == [5, 8]


@pytest.mark.parametrize("value", ["3", "1", "0.01", "0"])
def test_levels_share_an_items_minutes(value):
    """A third to break loose, the rest to take out; exact to the hundredth."""
    text = PUMP.replace("22 N·m", "22 N·m, on the ground")
    minutes = Spread(*[Fraction(value)] * 3)
    parts = over_levels(minutes, area(text).items["pump bolts"])

    assert sum(part.likely for part in parts) == Fraction(value)
    assert len(parts) == 2
