"""Copper cable against printed figures. Each test names where its numbers come from.

"Opened" means that a page was read on 2026-11-25; the standards that pages quote were not opened themselves.
"""

import pytest

from putback.charging.cable import (
    PER_KELVIN,
    cable_resistance,
    drop,
    gauge_area,
    gauge_diameter,
    largest_drop,
    largest_resistance,
    path_resistance,
    smallest_size,
    solid_resistance,
    warm,
)
from putback.errors import InputError


@pytest.mark.parametrize(("gauge", "mm"), [(4, 5.189), (2, 6.544), (0, 8.251), (-1, 9.266), (-3, 11.684)])
def test_d1_gauge_diameter(gauge, mm):
    """ASTM B258's rule as quoted by a page (opened): 4, 2, 1/0, 2/0 and 4/0 AWG."""
    assert gauge_diameter(gauge) == pytest.approx(mm, rel=5e-4)


@pytest.mark.parametrize(("gauge", "mm2"), [(4, 21.15), (2, 33.63), (0, 53.48), (-1, 67.43)])
def test_d2_gauge_area(gauge, mm2):
    """Worked out from the rule, no outside table."""
    assert gauge_area(gauge) == pytest.approx(mm2, rel=1e-3)


@pytest.mark.parametrize(("gauge", "ohm_km"), [(4, 0.8159), (2, 0.5128), (0, 0.3225)])
def test_d3_solid_copper(gauge, ohm_km):
    """An old dictionary's table in ohms for 1000 ft, turned into ohm/km (opened)."""
    assert solid_resistance(gauge_area(gauge)) == pytest.approx(ohm_km, rel=3e-3)


@pytest.mark.parametrize(
    ("mm2", "ohm_km"), [(10, 1.91), (16, 1.21), (25, 0.780), (35, 0.554), (50, 0.386), (70, 0.272)]
)
def test_d4_flexible_copper(mm2, ohm_km):
    """IEC 60228 table 3, class 5, plain, as quoted by three pages (opened)."""
    assert largest_resistance(mm2) == ohm_km


@pytest.mark.parametrize(("mm2", "ohm_km"), [(16, 1.15), (25, 0.727), (35, 0.524)])
def test_d5_stranded_copper(mm2, ohm_km):
    """IEC 60228 table 2, class 2, as quoted by the same pages (opened)."""
    assert largest_resistance(mm2, "stranded") == ohm_km


def test_d6_temperature_coefficient():
    """0.00393 for each kelvin at 20 degC: a note on resistivity (opened)."""
    assert PER_KELVIN == 0.00393


@pytest.mark.parametrize(("celsius", "factor"), [(5, 1.064), (25, 0.980), (40, 0.926), (90, 0.781)])
def test_d7_correction_to_20(celsius, factor):
    """IEC 60228 annex B as quoted (opened); its 250/(230+t) differs from the coefficient by up to 0.5 %."""
    assert 1 / warm(1.0, celsius) == pytest.approx(factor, rel=5e-3)


def test_d8_drop_of_a_cable():
    """25 mm2 class 5, 1.5 m, 180 A at 20 degC: table by length by current, no outside table."""
    assert drop(cable_resistance(25, 1.5), 180) == pytest.approx(0.2106, rel=5e-3)


def test_d9_drop_of_a_warm_cable():
    """The same at 60 degC, no outside table."""
    assert drop(cable_resistance(25, 1.5, 60), 180) == pytest.approx(0.2437, rel=5e-3)


def test_d10_largest_drops():
    """Attributed to the SAE by several texts of the trade, the document was not opened: common practice, no source."""
    assert [largest_drop(part) for part in ("connection", "cable", "switch", "ground side")] == [0.1, 0.2, 0.3, 0.3]


def test_d11_ohms_law():
    """200 A through 0.01 ohm are 2.0 V: a battery trade's notes on electrics (opened)."""
    assert drop(0.01, 200) == 2.0
    assert path_resistance(2.0, 200) == 0.01


def test_a_conductor_is_thick_enough_or_none_is():
    """By d8 25 mm2 drops 0.21 V, so that 0.20 V asks for the next size, and 2000 A for more than the table has."""
    assert smallest_size(180, 1.5, 0.22) == 25
    assert smallest_size(180, 1.5, 0.20) == 35
    assert smallest_size(2000, 5, 0.20) is None


@pytest.mark.parametrize("ask", [lambda: largest_resistance(12), lambda: path_resistance(0.2, 0.5)])
def test_what_cannot_be_said_is_refused(ask):
    """A size that no table has, and a drop without current, are refused in one sentence."""
    with pytest.raises(InputError):
        ask()
