"""Torque wrenches with an adapter."""

import pytest

from putback.errors import InputError
from putback.torque.adapter import Adapter, applied, gain, setting


@pytest.mark.parametrize(("angle", "expected"), [(0, 10.8), (90, 12.5), (180, 14.9)])
def test_a_crow_foot_of_38_mm_on_a_wrench_of_240_mm(angle, expected):
    """Straight on it takes less, square to the wrench the same, folded back more (balance of moments)."""
    assert round(setting(12.5, 0.240, Adapter(0.038, angle)), 1) == expected


def test_a_forgotten_adapter_overtightens_straight_on_and_falls_short_folded_back():
    """278/240 and 202/240 of what was wanted."""
    assert applied(12.5, 0.240, Adapter(0.038, 0)) == pytest.approx(14.479, abs=1e-3)
    assert applied(12.5, 0.240, Adapter(0.038, 180)) == pytest.approx(10.521, abs=1e-3)


def test_a_right_angle_changes_nothing_to_the_last_digit():
    """Nobody should see 12.499999."""
    assert setting(12.5, 0.240, Adapter(0.038, 90)) == 12.5


@pytest.mark.parametrize("adapter", [None, Adapter(0.0), Adapter(0.0, 30)])
def test_a_straight_socket_extension_changes_nothing(adapter):
    """Whatever its length: it lies along the axis, and has no lever. Nobody is asked for an angle."""
    assert gain(0.24, adapter) == 1.0


def test_trap_7_an_adapter_whose_angle_nobody_told_is_asked_about():
    """No setting is better than a wrong one."""
    with pytest.raises(InputError, match="at what angle"):
        setting(12.5, 0.240, Adapter(0.038))


@pytest.mark.parametrize(
    ("lever", "adapter", "words"),
    [
        (0.24, Adapter(0.24, 180), "reaches back to the middle of the grip"),  # at
        (0.24, Adapter(0.30, 180), "reaches back"),  # beyond
        (0.24, Adapter(0.04, 181), "from 0° to 180°"),
        (0.24, Adapter(0.04, -1), "from 0° to 180°"),
        (0.24, Adapter(0.04, float("nan")), "from 0° to 180°"),
        (0.24, Adapter(-0.04, 0), "not below 0 mm"),
        (0.0, Adapter(0.04, 0), "a lever above 0 mm"),
        (-0.2, Adapter(0.04, 0), "a lever above 0 mm"),
    ],
)
def test_what_gives_no_sense_is_refused(lever, adapter, words):
    """No division by zero, no negative setting."""
    with pytest.raises(InputError, match=words):
        setting(10, lever, adapter)


def test_an_adapter_just_short_of_the_grip_has_a_setting():
    """1 mm of lever is left of 240 mm."""
    assert setting(1, 0.24, Adapter(0.239, 180)) == pytest.approx(240, rel=1e-9)


@pytest.mark.parametrize("torque", [0, -1, float("nan"), float("inf")])
def test_a_torque_is_above_nought(torque):
    """And finite."""
    with pytest.raises(InputError, match="above 0"):
        setting(torque, 0.24, None)
