"""Groups that were closed as they should be, and groups that still count as open."""

import pytest

from putback.torque.closing import Tightened, turned, what_is_open
from putback.torque.order import circle
from putback.torque.passes import passes

STAR = circle(5)


def done(*rounds) -> list[Tightened]:
    """What was done, from orders and torques."""
    return [Tightened(number, torque) for order, torque in rounds for number in order]


def test_trap_15_a_group_closed_in_order_and_in_all_passes_is_closed():
    """Nothing to say."""
    assert what_is_open(done((STAR, 50), (STAR, 104)), passes(STAR, stages=[50, 104])) == ()


def test_trap_15_one_pass_where_two_are_asked_leaves_it_open():
    """Straight to the full torque: the first pass was not made as such, the second not at all."""
    reasons = what_is_open(done((STAR, 104)), passes(STAR, stages=[50, 104]))

    assert reasons == ("pass 1 of 2 (50 N·m): fastener 1 got 104 N·m", "pass 2 of 2 (104 N·m): not made")


def test_trap_15_another_order_leaves_it_open():
    """Round the circle instead of across."""
    reasons = what_is_open(done(((1, 2, 3, 4, 5), 104)), passes(STAR, stages=[104]), on_a_circle=True)

    assert reasons == ("pass 1 of 1 (104 N·m): made in the order 1-2-3-4-5, not 1-3-5-2-4",)


def test_trap_15_a_fastener_left_out_leaves_it_open():
    """By its number."""
    reasons = what_is_open(done((STAR[:4], 104)), passes(STAR, stages=[104]))

    assert reasons == ("pass 1 of 1 (104 N·m): left out: 4",)


@pytest.mark.parametrize("order", [(3, 5, 2, 4, 1), (1, 4, 2, 5, 3)])
def test_a_star_may_begin_anywhere_and_go_either_way(order):
    """On a circle; where numbers sit elsewhere that cannot be told."""
    assert what_is_open(done((order, 104)), passes(STAR, stages=[104]), on_a_circle=True) == ()
    assert what_is_open(done((order, 104)), passes(STAR, stages=[104])) != ()


def test_an_angle_that_is_missing_leaves_it_open():
    """A torque in its place does not count."""
    rounds = passes((1, 2), stages=[92], angles=[90])
    torqued = done(((1, 2), 92))

    assert what_is_open(torqued, rounds) == ("pass 2 of 2 (90°): not made",)
    assert what_is_open([*torqued, *done(((1, 2), 92))], rounds) == ("pass 2 of 2 (90°): fastener 1 got 92 N·m",)
    assert what_is_open([*torqued, Tightened(1, angle=90), Tightened(2, angle=90)], rounds) == ()


def test_a_pass_is_known_by_its_torque_roughly():
    """A mark beside it still counts; whether the value is right is judged elsewhere."""
    assert what_is_open(done((STAR, 103)), passes(STAR, stages=[104])) == ()
    assert what_is_open(done((STAR, None)), passes(STAR, stages=[104])) == ()  # not recorded
    assert what_is_open(done((STAR, 90)), passes(STAR, stages=[104])) != ()


def test_tightening_on_after_the_last_pass_is_told():
    """Somebody went over the torque."""
    assert what_is_open(done((STAR, 104), ((2,), 104)), passes(STAR, stages=[104])) == (
        "fastener 2 was tightened once more after the last pass",
    )


def test_an_order_on_a_circle_turns_and_mirrors():
    """Ten ways to walk a star of five."""
    assert len(set(turned(STAR))) == 10
    assert STAR in turned(STAR)
