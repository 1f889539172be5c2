"""Tightening orders."""

from itertools import pairwise

import pytest

from putback.errors import InputError
from putback.torque.order import circle, circle_points, grid, grid_points, outwards, positions


@pytest.mark.parametrize("count", range(1, 61))
def test_every_order_visits_each_fastener_once(count):
    """On a circle of any size, and in a row."""
    everyone = list(range(1, count + 1))

    assert sorted(circle(count)) == everyone
    assert sorted(grid(1, count)) == everyone


@pytest.mark.parametrize("count", range(2, 61, 2))
def test_crosswise_lands_opposite(count):
    """With an even number every second step lies just opposite the one before."""
    order = circle(count)

    assert all((order[at + 1] - order[at]) % count == count // 2 for at in range(0, count, 2))


@pytest.mark.parametrize("count", range(6, 61, 2))
def test_crosswise_crosses_between_the_pairs_as_well(count):
    """From pair to pair it goes at least a quarter of the circle, less what the places do not allow."""
    order = circle(count)
    hops = [abs(order[at + 1] - order[at]) % count for at in range(1, count - 1, 2)]

    assert min(min(hop, count - hop) for hop in hops) >= count // 4


@pytest.mark.parametrize("count", range(3, 61, 2))
def test_a_star_steps_as_near_to_the_opposite_side_as_there_is_a_fastener(count):
    """Each step turns by 180 degrees less half a place: 144 for 5, above 154 from 7 on."""
    order = circle(count)
    steps = [(order[at + 1] - order[at]) % count for at in range(count - 1)]

    assert {min(step, count - step) * 360 / count for step in steps} == {180 * (count - 1) / count}


@pytest.mark.parametrize("count", [0, -1, 61])
def test_a_number_that_no_joint_has_is_refused(count):
    """Below and above."""
    with pytest.raises(InputError, match="for 1 to 60 fasteners"):
        circle(count)


def test_a_row_goes_outwards_and_changes_sides():
    """From the middle one, or the middle two."""
    assert grid(1, 5) == (3, 2, 4, 1, 5)
    assert grid(1, 6) == (3, 4, 2, 5, 1, 6)
    assert grid(6, 1) == (3, 4, 2, 5, 1, 6)


def test_two_rows_go_outwards_crosswise():
    """As for a cylinder head of ten bolts; the outermost last."""
    assert grid(2, 5) == (3, 8, 2, 9, 4, 7, 1, 10, 5, 6)


@pytest.mark.parametrize(("rows", "columns"), [(2, 4), (2, 7), (3, 3), (3, 5), (4, 4), (5, 12)])
def test_no_step_leaves_a_nearer_fastener_for_later(rows, columns):
    """The outermost are not before the innermost: the distance from the centre hardly falls from pair to pair."""
    points, order = grid_points(rows, columns), grid(rows, columns)
    away = [(x - (columns - 1) / 2) ** 2 + (y + (rows - 1) / 2) ** 2 for x, y in points]
    size = max(away) ** 0.5
    gone = [away[number - 1] ** 0.5 for number in order]

    assert sorted(order) == list(range(1, rows * columns + 1))
    assert all(later >= earlier - 0.06 * size for earlier, later in pairwise(gone))


@pytest.mark.parametrize(("rows", "columns"), [(0, 4), (4, 0), (7, 9)])
def test_a_grid_that_cannot_be_is_refused(rows, columns):
    """Nothing at all, or too much."""
    with pytest.raises(InputError):
        grid(rows, columns)


@pytest.mark.parametrize("count", [4, 5, 8, 12, 17])
def test_places_on_a_circle_are_tightened_as_a_circle(count):
    """Whatever its radius and where it lies."""
    points = [(120 + 55 * x, -30 + 55 * y) for x, y in circle_points(count)]

    assert positions(points) == circle(count)


def test_places_on_a_circle_may_be_named_in_any_order():
    """It is the place that counts: opposite is opposite."""
    assert positions([(0, 1), (0, -1), (1, 0), (-1, 0)]) == (1, 2, 3, 4)


def test_a_rim_begins_in_the_middle_of_its_long_sides():
    """A pan with four fasteners along each long side and one at each end: ends last."""
    pan = [(-3, 1), (-1, 1), (1, 1), (3, 1), (5, 0), (3, -1), (1, -1), (-1, -1), (-3, -1), (-5, 0)]

    assert positions(pan)[:2] == (2, 7)
    assert set(positions(pan)[-2:]) == {5, 10}


def test_two_fasteners_in_one_place_are_refused():
    """A slip in the coordinates."""
    with pytest.raises(InputError, match="fasteners 1 and 3 have the same place"):
        positions([(0, 0), (1, 0), (0, 0)])


def test_one_and_two_places_have_an_order():
    """However trivial."""
    assert positions([(3, 4)]) == (1,)
    assert outwards([(0, 0), (5, 5)]) == (1, 2)
