"""Passes over a group."""

import pytest

from putback.errors import InputError
from putback.torque.order import circle
from putback.torque.passes import AGAIN, ANGLE, PASS, ROUND, SNUG, passes, snug

STAR = circle(5)


def test_usual_passes_rise_to_the_torque():
    """Snug first, then 30, 60 and 100 %, once round at the full torque, and again after driving."""
    rounds = passes(STAR, 100, last_round=range(1, 6), again=True)

    assert [(one.kind, one.torque) for one in rounds] == [
        (SNUG, 20), (PASS, 30), (PASS, 60), (PASS, 100), (ROUND, 100), (AGAIN, 100),
    ]  # fmt: skip
    assert (rounds[1].order, rounds[4].order) == (STAR, (1, 2, 3, 4, 5))


def test_the_makers_stages_go_first_and_angles_follow_in_the_same_order():
    """All fasteners get the torque before the first is turned on; no round after it, which would turn them again."""
    rounds = passes((1, 3, 2, 4), stages=[20, 92], angles=[90], last_round=[1, 2, 3, 4])

    assert [(one.kind, one.torque, one.angle) for one in rounds[1:]] == [
        (PASS, 20, None), (PASS, 92, None), (ANGLE, None, 90),
    ]  # fmt: skip
    assert {one.order for one in rounds} == {(1, 3, 2, 4)}


def test_without_a_torque_passes_are_shares():
    """And snug is just by hand."""
    assert [(one.torque, one.share) for one in passes(STAR)] == [(None, None), (None, 0.3), (None, 0.6), (None, 1.0)]


@pytest.mark.parametrize("shares", [(0.3, 0.6), (0.6, 0.3, 1), (0.5, 0.5, 1), (0, 1), ()])
def test_shares_must_rise_to_the_whole(shares):
    """From above nought."""
    with pytest.raises(InputError, match="rise to 100 %"):
        passes(STAR, 100, shares=shares)


@pytest.mark.parametrize(
    ("target", "low", "high"), [(300, 13.56, 27.12), (135.6, 13.56, 27.12), (100, 13.56, 20), (23, 4.6, 4.6)]
)
def test_snug_is_never_above_a_fifth(target, low, high):
    """10 to 20 lbf·ft where that is less (a gasket maker's work sheet)."""
    assert snug(target) == pytest.approx((low, high), abs=0.01)
