"""12 V lead-acid batteries against printed figures. Each test names where its numbers come from.

"Opened" means that a page was read on 2026-11-25; the standards that pages quote were not opened themselves.
"""

import pytest

from putback.charging.battery import (
    LEAST_CHARGED,
    REST_SLOPE,
    at_reference,
    charge,
    cold_cranking_share,
    has_surface_charge,
    load_test_minimum,
    rated_resistance,
    reserve_left,
)
from putback.charging.tables import table
from putback.charging.window import BATTERY_SLOPE, RUNNING, charging_window, compensated, off_target
from putback.errors import InputError
from putback.models import load


@pytest.mark.parametrize(("volts", "percent"), [(12.65, 100), (12.45, 75), (12.24, 50), (12.06, 25), (11.89, 0)])
def test_e1_rest_voltage(volts, percent):
    """A battery maker's table at 26.7 degC (opened); makers differ by 10 % of charge, which the band holds."""
    found = charge(volts)

    assert found.likely == percent
    assert found.low <= max(percent - 10, 0) and found.high >= min(percent + 10, 100)


@pytest.mark.parametrize(("volts", "percent"), [(12.6, 100), (12.4, 75), (12.2, 50), (12.0, 25), (11.7, 0)])
def test_e2_coarse_table(volts, percent):
    """TM 5-3805-262-20 page 5-142 (opened): the band holds it; below 12.4 V charge first."""
    found = charge(volts)

    assert found.low <= percent <= found.high
    assert LEAST_CHARGED == 12.4


@pytest.mark.parametrize(("volts", "percent"), [(12.00, 16.2), (12.55, 87.5)])
def test_e3_between_the_points(volts, percent):
    """Straight lines between the points of E1, no outside table."""
    assert charge(volts).likely == pytest.approx(percent, abs=0.1)


@pytest.mark.parametrize(
    ("volts", "percent"), [(12.66, 100), (12.45, 75), (12.30, 50), (12.15, 25), (12.4, 75), (12.2, 50), (11.6, 0)]
)
def test_e4_other_sets(volts, percent):
    """Two pages that print other figures (opened): how far sources lie apart is in the band."""
    found = charge(volts)

    assert found.low <= percent <= found.high


def test_e5_temperature_of_the_rest_voltage():
    """0.024 V off for each 10 degF below 80 degF: a battery maker's table 7 (opened)."""
    assert at_reference(12.0, 26.7) == 12.0
    assert at_reference(12.0, 26.7 - 10 / 1.8) == pytest.approx(12.0 - 0.024, abs=1e-3)
    assert REST_SLOPE == pytest.approx(0.00432)


def test_e6_worked_correction():
    """12.40 V at 30 degF is as 12.28 V, 54.8 % (the same table, worked out)."""
    assert at_reference(12.40, -1.1) == pytest.approx(12.28, abs=0.01)
    assert charge(12.40, -1.1).likely == pytest.approx(54.8, abs=0.5)


@pytest.mark.parametrize(
    ("standard", "celsius", "seconds", "volts"), [("SAE J537", -18, 30, 7.2), ("EN 50342-1", -18, 10, 7.5)]
)
def test_e7_e8_cold_cranking_ratings(standard, celsius, seconds, volts):
    """Two battery makers' pages quoting the standards (opened): what a rated battery must still have."""
    (row,) = (row for row in table("cold-cranking-ratings") if row["standard"] == standard)

    assert (float(row["celsius"]), float(row["seconds"]), float(row["volts"])) == (celsius, seconds, volts)
    assert rated_resistance(500, standard) == pytest.approx((12.65 - volts) / 500)  # a full battery rests at 12.65 V


def test_e9_reserve_capacity():
    """Minutes at 25 A, general texts (opened): 120 min are 50 Ah, which 0.05 A empty in 1000 h."""
    assert reserve_left(120, 0.05) == pytest.approx(1000)


def test_e10_load_test_when_warm():
    """9.6 V at 21 degC and above: a rule of the trade; common practice, no source."""
    assert [load_test_minimum(celsius) for celsius in (21, 30, 60)] == [9.6, 9.6, 9.6]


@pytest.mark.parametrize(("celsius", "volts"), [(21, 9.6), (10, 9.4), (4, 9.3), (-1, 9.1), (-7, 8.9), (-18, 8.5)])
def test_e11_load_test_by_temperature(celsius, volts):
    """A table of the trade; common practice, no source. Sources differ at the cold end."""
    assert load_test_minimum(celsius) == pytest.approx(volts, abs=0.05)


def test_e12_slope_of_the_charging_voltage():
    """-3 mV/K for each of six cells, reference 25 degC: three pages on batteries (opened)."""
    assert pytest.approx(6 * -0.003) == BATTERY_SLOPE
    assert compensated(14.4, 25) == 14.4


@pytest.mark.parametrize(("celsius", "volts"), [(0, 14.85), (40, 14.13)])
def test_e13_window_by_that_slope(celsius, volts):
    """14.4 V at 25 degC: slope by difference, no outside table."""
    assert compensated(14.4, celsius) == pytest.approx(volts, abs=0.01)


def test_e14_running_window():
    """About 13.5 to 14.8 V at 20 to 25 degC: common practice, no source. A command goes before the window."""
    assert charging_window(25) == RUNNING == (13.5, 14.8)
    assert off_target(12.8) == pytest.approx(-0.7)
    assert off_target(12.8, command=12.8) == 0


def test_e15_current_with_the_key_off():
    """50 mA or less after the modules sleep: common practice, no source. It is the limit for proof."""
    (limit,) = (limit for limit in load("charging").limits if limit.reading == "key_off_ma")

    assert limit.high == 50


def test_the_window_widens_in_the_cold():
    """At -10 degC 14.9 V are healthy, at 40 degC they are not (slopes of regulators from memory)."""
    assert off_target(14.9, -10) == 0
    assert off_target(14.9, 40) > 0


def test_surface_charge():
    """More than 12.9 V at 26.7 degC is no rest voltage; common practice, no source."""
    assert not has_surface_charge(12.90)
    assert has_surface_charge(12.91)  # just above


def test_a_discharged_battery_is_not_taken_for_a_worn_one():
    """A tester shows less of an empty battery; how much less is judgement."""
    assert cold_cranking_share(320, 640) == 0.5
    assert cold_cranking_share(320, 640, 0) > 0.6


@pytest.mark.parametrize(
    "ask",
    [lambda: charge(-1), lambda: rated_resistance(0), lambda: reserve_left(0, 1), lambda: cold_cranking_share(1, 0)],
)
def test_what_cannot_be_is_refused(ask):
    """Voltages, currents and ratings that cannot be are refused in one sentence."""
    with pytest.raises(InputError):
        ask()
