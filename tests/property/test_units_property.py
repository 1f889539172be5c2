"""Units hold for any number, and no text breaks their reading."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback import units
from putback.errors import InputError

NAMES = st.sampled_from(sorted(units.TORQUE_UNITS))
TORQUES = st.decimals(min_value="0.001", max_value="2000", places=3).map(float)
# Bits of torques in any order find more than letters by chance.
BITS = [
    "25",
    "1/2",
    "7,5",
    "N·m",
    "ft-lb",
    "lb",
    "°",
    "+",
    "±",
    "-",
    "/",
    "(",
    ")",
    "%",
    "turn",
    "then",
    "passes",
    "snug",
    " ",
    ",",
]


@given(TORQUES, NAMES)
def test_what_is_typed_comes_back(number, name):
    """Read, shown in the same unit, read again: the same torque, to the four figures that are shown."""
    value = units.torque(f"{number} {name}")

    assert units.torque(units.show_in(value, name)) == pytest.approx(value, rel=5.1e-4)


@given(TORQUES, NAMES, NAMES)
def test_units_change_into_one_another_and_back(number, one, other):
    """Through any second unit, without loss."""
    there = number * units.TORQUE_UNITS[one].size / units.TORQUE_UNITS[other].size
    back = there * units.TORQUE_UNITS[other].size / units.TORQUE_UNITS[one].size

    assert back == pytest.approx(number, rel=1e-12)


@given(TORQUES, NAMES)
def test_comma_and_point_are_the_same(number, name):
    """Unless the comma may part thousands, which is asked about."""
    text = f"{number:.2f}"
    if float(text) > 0:
        assert units.torque(f"{text} {name}") == units.torque(f"{text.replace('.', ',')} {name}")


@given(st.one_of(st.text(max_size=30), st.lists(st.sampled_from(BITS), max_size=9).map("".join)))
def test_no_text_breaks_the_reading(text):
    """Whatever is typed is understood or refused in one sentence; what is understood has sound figures."""
    try:
        told = units.read_tightening(text)
    except InputError as error:
        assert "\n" not in str(error)
        return
    assert told.stages or told.angles
    assert all(stage > 0 for stage in told.stages)
    assert told.low is None or 0 < told.low <= told.final <= told.high
