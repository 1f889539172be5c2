"""Preload, ranges and the generic torque. Figures against tables are in tests/reference."""

import pytest

from putback.errors import InputError
from putback.torque import preload as p
from putback.torque.classes import proof_torque
from putback.torque.generic import generic_range
from putback.torque.interval import Range, over
from putback.torque.threads import metric, read_thread

FRICTION = Range(0.10, 0.16)


def test_a_range_runs_upwards():
    """A single value is a range as well; the wrong way round is refused."""
    assert 0.1 in Range(0.1, 0.1)
    assert Range(1, 2).times(-1) == Range(-2, -1)
    with pytest.raises(InputError):
        Range(2, 1)


def test_a_function_over_ranges_takes_its_ends():
    """Rising in one, falling in the other."""
    assert over(lambda a, b: a - b, Range(1, 2), Range(0, 5)) == Range(-4, 2)


def test_more_friction_means_less_preload_for_the_same_torque():
    """The low end of the preload belongs to the high end of the friction."""
    thread = metric(10)
    wide = p.preload_of(46, thread, FRICTION, FRICTION)

    assert wide.low == p.preload_of(46, thread, Range(0.16, 0.16), Range(0.16, 0.16)).low
    assert wide.high == p.preload_of(46, thread, Range(0.10, 0.10), Range(0.10, 0.10)).low
    assert wide.high > 1.4 * wide.low


def test_torque_and_preload_are_ways_there_and_back():
    """With friction known, either gives the other."""
    thread, exact = metric(12, 1.25), Range(0.12, 0.12)

    torque = p.torque_for(48000, thread, exact, exact).low
    assert p.preload_of(torque, thread, exact, exact).low == pytest.approx(48000)
    assert p.by_nut_factor(
        p.torque_by_nut_factor(48000, thread, Range(0.2, 0.2)).low, thread, Range(0.2, 0.2)
    ).low == pytest.approx(48000)


def test_a_wide_flange_takes_more_torque():
    """It bears further out."""
    assert p.split(30000, metric(10), 0.12, 0.12, 17.0).total > p.split(30000, metric(10), 0.12, 0.12).total


def test_where_the_table_has_no_such_size_the_bearing_is_estimated():
    """Within 4 % of what the table has for its neighbours."""
    assert p.bearing_diameter(metric(7)) == pytest.approx(1.28 * 7)
    for diameter in (5, 8, 10, 12, 16, 20, 24):
        assert p.bearing_diameter(metric(diameter)) == pytest.approx(1.28 * diameter, rel=0.04)


@pytest.mark.parametrize(
    ("torque", "friction"), [(0, FRICTION), (-1, FRICTION), (46, Range(0, 0.1)), (46, Range(0.1, 1.0))]
)
def test_what_cannot_be_is_refused(torque, friction):
    """No torque, no friction, or as much friction as force."""
    with pytest.raises(InputError):
        p.preload_of(torque, metric(10), friction, friction)


@pytest.mark.parametrize(
    ("thread", "grade"),
    [
        ("M6", "8.8"),
        ("M8", "5.8"),
        ("M10", "8"),
        ("M12x1.5", "10.9"),
        ("3/8-16", "5"),
        ("1/2-20", "8"),
        ("M8", "A2-70"),
    ],
)
def test_the_generic_torque_is_a_range_below_the_proof_torque(thread, grade):
    """Low at low friction, and at its highest still nothing that the judge would stop."""
    found = generic_range(read_thread(thread), grade)

    assert 0.4 * found.proof_torque < found.torque.low < found.torque.high < found.proof_torque
    assert found.proof_torque == proof_torque(read_thread(thread), grade)


def test_the_generic_torque_with_friction_of_ones_own():
    """M10, 8.8 at 0.14: 54 N·m, VDI 2230:2003 table A1, from memory."""
    assert generic_range(metric(10), "8.8", Range(0.14, 0.14)).torque.low == pytest.approx(54, rel=0.015)


def test_no_generic_torque_without_a_known_class():
    """The sentence lists what is known."""
    with pytest.raises(InputError, match=r"known are 4.6, "):
        generic_range(metric(10), "7.7")
