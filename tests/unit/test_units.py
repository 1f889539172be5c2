"""Units at the edge."""

import pytest

from putback import units
from putback.errors import InputError


def test_foot_pounds_and_inch_pounds():
    """Exact by definition; NIST SP 811 B.8 prints 1.355818 and 0.1129848 (print values from memory)."""
    assert pytest.approx(1.3558179483314004, rel=1e-12) == units.FOOT_POUND
    assert pytest.approx(0.1129848290276167, rel=1e-12) == units.INCH_POUND


def test_units_agree_with_an_outside_library():
    """scipy.constants has foot, inch, pound and standard gravity from the same definitions."""
    constants = pytest.importorskip("scipy.constants")

    assert pytest.approx(constants.lbf * constants.foot, rel=1e-12) == units.FOOT_POUND
    assert pytest.approx(constants.lbf * constants.inch, rel=1e-12) == units.INCH_POUND
    assert pytest.approx(constants.kgf, rel=1e-12) == units.KILOPOND_METRE


@pytest.mark.parametrize("text", ["25 N·m", "25 Nm", "25N·m", "25 N.m", "25 N m", "25 n·m", "25 N⋅m"])
def test_one_torque_in_many_spellings(text):
    """All of them mean newton metres."""
    assert units.torque(text) == 25.0


@pytest.mark.parametrize("text", ["18 ft-lb", "18 ft-lbs", "18 lbf·ft", "18 lb-ft", "18 ft lb", "18 lbf.ft"])
def test_foot_pounds_in_many_spellings(text):
    """18 lbf·ft is 24.4047 N·m."""
    assert units.torque(text) == pytest.approx(24.4047, abs=1e-4)


@pytest.mark.parametrize("text", ["25", "25 lb", "25 lbs", "25 foot", "25 J", "0 N·m", "N·m", "-3 N·m", ""])
def test_what_is_no_torque_is_refused(text):
    """No unit, no clear unit, no number, no torque."""
    with pytest.raises(InputError):
        units.torque(text)


@pytest.mark.parametrize(
    ("value", "shown"), [(25.0, "25 N·m"), (10.9594, "10.96 N·m"), (131.5, "131.5 N·m"), (5.5, "5.5 N·m")]
)
def test_torques_are_shown_with_their_unit(value, shown):
    """Four figures that count, no tail of zeros."""
    assert units.show_torque(value) == shown
