"""How long a calibration counts."""

from dataclasses import replace
from datetime import date

import pytest
from torque_samples import DAY, MEDIUM

from putback.errors import InputError
from putback.torque.calibration import calibration, deviation_of, due


def test_a_reference_of_nought_is_refused():
    """Nothing is off by a share of nothing."""
    with pytest.raises(InputError, match="above 0"):
        deviation_of(100, 0)


def test_trap_21_a_calibration_that_ran_out_is_a_warning():
    """Twelve months from the day; the last day still counts."""
    one = replace(MEDIUM, calibrated=date(2025, 11, 25))

    assert calibration(one, date(2026, 11, 25)) == (0, None)  # at
    assert calibration(one, date(2026, 11, 26)) == (2, "its calibration of 2025-11-25 ran out on 2026-11-25")  # above


def test_a_shops_own_interval_goes_first():
    """Shorter or longer than the usual one."""
    assert due(replace(MEDIUM, calibrated=date(2026, 1, 31), months=1)) == date(2026, 2, 28)
    assert due(replace(MEDIUM, calibrated=date(2024, 2, 29), months=24)) == date(2026, 2, 28)
    assert due(replace(MEDIUM, calibrated=None)) is None
    assert due(replace(MEDIUM, calibrated=date(9999, 1, 31))) == date.max


@pytest.mark.parametrize(("used", "own", "rank"), [(4999, None, 0), (5000, None, 2), (2499, 2500, 0), (2500, 2500, 2)])
def test_operations_count_as_well_as_months(used, own, rank):
    """5000 of them by default, whichever comes first."""
    assert calibration(replace(MEDIUM, used=used, operations=own), DAY).rank == rank


def test_what_is_not_known_of_a_calibration_is_said():
    """No day, or one that is still to come."""
    assert "not known" in calibration(replace(MEDIUM, calibrated=None), DAY).words
    assert "still to come" in calibration(replace(MEDIUM, calibrated=date(2027, 1, 1)), DAY).words
    assert calibration(MEDIUM, None).words is None
