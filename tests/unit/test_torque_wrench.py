"""What a torque wrench can do."""

import pytest
from torque_samples import MEDIUM, a_wrench

from putback.torque.calibration import deviation_of
from putback.torque.wrench import Band, band, common_range, covers, deviation, lowest, on_scale, show_range
from putback.units import INCH_POUND


def test_the_range_begins_at_the_lowest_mark_or_at_a_fifth():
    """ISO 6789-1:2017: the lowest marked value; 20 % where no mark is known (2003 practice)."""
    assert lowest(a_wrench("20-110 N·m")) == 20
    assert lowest(a_wrench("up to 110 N·m")) == pytest.approx(22)


@pytest.mark.parametrize(("torque", "does"), [(4.99, False), (5, True), (25, True), (25.01, False)])
def test_both_ends_of_the_range_can_be_set(torque, does):
    """Below, at and above."""
    assert covers(MEDIUM, torque) is does


@pytest.mark.parametrize(
    ("line", "share"),
    [("2-10 N·m", 0.06), ("2-10.1 N·m", 0.04), ("20-110 N·m", 0.04), ("20-110 N·m, ±3 %", 0.03), ("20-88 in-lb", 0.06)],
)
def test_what_a_wrench_may_be_off(line, share):
    """ISO 6789 type II class A: 6 % up to a maximum of 10 N·m, 4 % above; what the shop says goes before it."""
    assert deviation(a_wrench(line)) == share


def test_the_band_turns_the_deviation_round():
    """The deviation is a share of the true torque: at each end of the band it is just what the wrench may be off."""
    low, high = band(100, 0.04)

    assert deviation_of(100, low) == pytest.approx(0.04)
    assert deviation_of(100, high) == pytest.approx(-0.04)


@pytest.mark.parametrize(
    ("line", "torque", "number"),
    [
        ("5-25 N·m in steps of 0.25 N·m", 10.791, 10.75),
        ("5-25 N·m in steps of 0.25 N·m", 10.875, 10.75),  # half-way: the lower one
        ("5-25 N·m in steps of 0.25 N·m", 10.876, 11.0),
        ("1-5 N·m in steps of 0.1 N·m", 3.8, 3.8),
        ("3-20 N·m in steps of 2 N·m", 19.9, 19),  # marks count from the lowest; above the last there is none
        ("up to 110 N·m in steps of 5", 22.5, 25),  # below a fifth there is none to use
        ("40-200 in-lb in steps of 2", 97 * INCH_POUND, 96),
        ("5-25 N·m", 10.791, 10.791),
    ],
)
def test_settings_are_marks_of_the_scale(line, torque, number):
    """In the unit of the scale, without a tail of digits."""
    assert on_scale(a_wrench(line), torque) == number


def test_ranges_are_shown_in_the_unit_of_the_scale():
    """As the wrench itself has it."""
    assert show_range(a_wrench("20-150 ft-lb")) == "20-150 ft-lb"


@pytest.mark.parametrize(
    ("torque", "wording"),
    [(3.8, "1-5 N·m"), (4, "1-5 N·m"), (4.1, "2-10 N·m"), (90, "40-200 N·m"), (9000, "600-3000 N·m")],
)
def test_a_wrench_that_would_do_is_named(torque, wording):
    """Not at the very top of its range."""
    assert common_range(torque) == wording


def test_a_band_holds_what_reaches_its_borders():
    """Borders belong to it."""
    assert Band(20, 25).holds(Band(20, 25))
    assert not Band(20, 25).holds(Band(19.9, 24))
    assert not Band(20, 25).holds(Band(21, 25.1))
