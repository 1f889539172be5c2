"""A taut belt round wheels."""

from math import hypot, pi, tau

import pytest
from belt_samples import is_simple

from putback.belt.geometry import (
    ANTICLOCKWISE,
    CLOCKWISE,
    Wheel,
    crosses,
    crossings,
    distance,
    loop,
    pull_on,
    span,
    struck,
)
from putback.errors import InputError

SQUARE = [Wheel(x, y, 0.5, ANTICLOCKWISE) for x, y in ((0, 0), (4, 0), (4, 4), (0, 4))]


def test_round_four_equal_wheels():
    """Straight sides and quarter turns."""
    found = loop(SQUARE)

    assert found.length == pytest.approx(16 + pi)
    assert found.wraps == pytest.approx([pi / 2] * 4)
    assert found.turning == pytest.approx(tau)
    assert is_simple(found)


def test_equal_wheels_share_half_a_turn_each():
    """Where a wrap of just half a turn could be told as none or as all."""
    for sense in (ANTICLOCKWISE, CLOCKWISE):
        assert loop([Wheel(0, 0, 1, sense), Wheel(5, 0, 1, sense)]).wraps == pytest.approx([pi, pi])


def test_runs_touch_both_wheels_squarely():
    """At a right angle to both radii, on the side to which the wheel turns."""
    for senses in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
        one, other = Wheel(0, 0, 2, senses[0]), Wheel(7, 3, 1, senses[1])
        run = span(one, other)
        for wheel, (x, y) in ((one, run.start), (other, run.end)):
            out = x - wheel.x, y - wheel.y
            assert hypot(*out) == pytest.approx(wheel.radius)
            assert wheel.sense * (out[0] * run.along[1] - out[1] * run.along[0]) == pytest.approx(wheel.radius)


def test_a_wheel_that_the_belt_only_touches_has_no_wrap():
    """Neither a full turn, by rounding."""
    found = loop([*SQUARE[:1], Wheel(2, -1, 0.5, CLOCKWISE), *SQUARE[1:]])

    assert found.wraps[1] == pytest.approx(0, abs=1e-9)
    assert found.length == pytest.approx(16 + pi)


def test_wheels_too_near_for_a_belt_are_refused():
    """One within the other, or opposite turns where they touch."""
    with pytest.raises(InputError, match="too near"):
        loop([Wheel(0, 0, 2, 1), Wheel(0.5, 0, 1, 1)])
    with pytest.raises(InputError, match="too near"):
        loop([Wheel(0, 0, 2, 1), Wheel(2.9, 0, 1, -1)])
    assert loop([Wheel(0, 0, 2, 1), Wheel(3.1, 0, 1, -1), Wheel(0, 9, 1, 1)])  # just far enough


def test_a_belt_that_crosses_itself_is_seen():
    """Two wheels in the wrong order."""
    found = loop([SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3]])

    assert crossings(found)
    assert not is_simple(found)


def test_a_belt_that_runs_through_a_wheel_is_seen():
    """Between its neighbours, and only beyond the slack that is given."""
    found = loop([SQUARE[0], SQUARE[1], Wheel(2, -0.2, 0.5, CLOCKWISE), *SQUARE[2:]])

    assert (0, 2) in list(struck(found))
    assert (0, 2) not in list(struck(found, slack=2))


def test_a_wheel_inside_that_the_belt_does_not_reach_is_wound_round():
    """The belt would turn twice."""
    found = loop([*SQUARE[:2], Wheel(2, 2, 0.5, ANTICLOCKWISE), *SQUARE[2:]])

    assert found.turning == pytest.approx(2 * tau)
    assert not is_simple(found)


def test_runs_that_only_touch_do_not_cross():
    """Within the slack."""
    one = span(Wheel(0, 0, 1, 1), Wheel(8, 0, 1, 1))
    near = span(Wheel(4, -0.95, 0.05, -1), Wheel(4, -9, 0.05, -1))

    assert not crosses(one, near, slack=0.06)
    assert crosses(one, span(Wheel(4, 3, 0.1, 1), Wheel(4, -9, 0.1, 1)))


def test_distance_counts_to_the_ends_of_a_run():
    """Beside it square, beyond it from the end."""
    run = span(Wheel(0, 0, 1, 1), Wheel(8, 0, 1, 1))

    assert distance(run, (4, 1)) == pytest.approx(2)
    assert distance(run, (11, 3)) == pytest.approx(5)


def test_the_pull_is_the_slope_of_the_length():
    """In both directions, against differences of the length itself."""
    wheels = [*SQUARE[:1], Wheel(2, -0.6, 0.5, CLOCKWISE), *SQUARE[1:]]
    found = pull_on(loop(wheels), 1)
    step = 1e-6
    for axis in (0, 1):
        moved = [list(wheels[1]), list(wheels[1])]
        moved[0][axis] -= step
        moved[1][axis] += step
        before, after = (loop([wheels[0], Wheel(*one), *wheels[2:]]).length for one in moved)
        assert found[axis] == pytest.approx((after - before) / (2 * step), abs=1e-6)
