"""A belt on a drive: direction, tensioner, lengths, rotation, speeds."""

from dataclasses import replace
from itertools import permutations
from math import degrees, radians
from time import process_time

import pytest
from belt_samples import demo_drive, is_simple, named_route, turned_over, two_pulleys, with_belt_of

from putback.belt.drive import BACK, RIBS, Stop
from putback.belt.geometry import ANTICLOCKWISE, CLOCKWISE
from putback.belt.route import (
    Lengths,
    cord_radius,
    in_running_order,
    lay,
    length_at,
    lengths,
    rotation,
    side_on,
    slope,
    speed_ratio,
    track_of,
)
from putback.drive_file import read_drive
from putback.errors import InputError

ORDER = ["crankshaft", "tensioner pulley", "idler pulley", "alternator", "compressor"]


@pytest.fixture(scope="module")
def drive():
    return demo_drive()


def names(route) -> list[str]:
    return [stop.pulley for stop in route]


def test_a_route_may_be_read_in_either_direction(drive):
    """Wherever it begins, it comes out in the direction in which the driver pulls, the driver first."""
    for turn in range(5):
        round_about = [*ORDER[turn:], *ORDER[:turn]]
        for order in (round_about, round_about[::-1]):
            assert names(in_running_order(drive, named_route(drive, order))) == ORDER


def test_an_engine_that_turns_the_other_way_is_read_the_other_way(drive):
    """Rotation decides, not the order on paper."""
    turned = replace(drive, pulleys=tuple(replace(one, rotation=-one.rotation) for one in drive.pulleys))

    assert names(in_running_order(turned, drive.route)) == [ORDER[0], *ORDER[:0:-1]]


def test_the_side_follows_from_what_is_known(drive):
    """What is told, then rotation, then the face."""
    assert [side_on(drive, one) for one in ORDER] == [RIBS, BACK, RIBS, RIBS, RIBS]
    pump = replace(drive.pulley("compressor"), rotation=ANTICLOCKWISE)
    changed = replace(drive, pulleys=(*drive.pulleys[:2], pump, *drive.pulleys[3:]))

    assert side_on(changed, "compressor") == BACK


def test_the_arm_stands_where_the_belt_is_as_long_as_its_route(drive):
    """To a millionth of a millimetre, from stop to stop."""
    for millimetres in (1494, 1515.4, 1538, 1559, 1587):
        laid = lay(drive, drive.route, millimetres / 1000)
        assert 1000 * laid.loop.length == pytest.approx(millimetres, abs=1e-6)
        assert laid.spare == 0
        assert is_simple(laid.loop)


def test_beyond_its_stops_the_arm_cannot_follow(drive):
    """A longer belt hangs slack, a shorter one cannot be fitted."""
    limits = lengths(drive, drive.route)
    long, short = lay(drive, drive.route, limits.free + 0.01), lay(drive, drive.route, limits.loaded - 0.01)

    assert (long.angle, short.angle) == (drive.tensioner.free, drive.tensioner.loaded)
    assert (long.spare, short.spare) == (pytest.approx(0.01), pytest.approx(-0.01))


def test_lengths_fall_from_the_free_stop_to_the_loaded_one(drive):
    """Free stop, mark of the longest belt, of the shortest, pin, loaded stop."""
    found = lengths(drive, drive.route)

    assert list(found) == sorted(found, reverse=True)
    assert lengths(replace(drive, tensioner=replace(drive.tensioner, marks=None, pin=None)), drive.route) == Lengths(
        found.free, None, None, None, found.loaded
    )


@pytest.mark.parametrize("at", [235, 243, 253, 270])
def test_the_slope_is_that_of_the_length(drive, at):
    """Against differences of the length itself."""
    angle, step = radians(at), 1e-6
    found = slope(lay(drive, drive.route, length_at(drive, drive.route, angle)))
    before, after = (length_at(drive, drive.route, angle + one) for one in (-step, step))

    assert found == pytest.approx((after - before) / (2 * step), rel=1e-6)


def test_an_arm_of_wide_range_is_still_found():
    """Steps of Newton's that lead beyond the bounds are replaced by halving."""
    drive = demo_drive()
    wide = replace(drive, tensioner=replace(drive.tensioner, free=radians(300), loaded=radians(200)))
    for millimetres in (1500, 1538, 1590):
        laid = lay(wide, wide.route, millimetres / 1000)
        assert 1000 * length_at(wide, wide.route, laid.angle) == pytest.approx(millimetres, abs=1e-6)


def test_without_a_tensioner_the_spare_length_is_told():
    """Of the belt over its route."""
    laid = lay(two_pulleys(), two_pulleys().route)

    assert laid.angle is None
    assert laid.spare == pytest.approx(0.9123 - laid.loop.length)


def test_pulleys_on_the_back_turn_the_other_way(drive):
    """And the alternator as the crankshaft does."""
    laid = lay(drive, drive.route)
    turns = {stop.pulley: rotation(laid, stop) for stop in laid.route}

    assert turns == dict.fromkeys(ORDER, CLOCKWISE) | {"tensioner pulley": ANTICLOCKWISE}
    over = lay(drive, turned_over(drive, "alternator"))
    assert rotation(over, Stop("alternator", BACK)) == ANTICLOCKWISE


def test_the_cord_runs_at_the_same_speed_everywhere(drive):
    """Outside the effective diameter on ribs, inside of it on the back; 2 mm for PK (ISO 9981 as quoted)."""
    laid = lay(drive, drive.route)

    assert cord_radius(drive, Stop("alternator", RIBS)) == pytest.approx(0.0275 + 0.002)
    assert cord_radius(drive, Stop("tensioner pulley", BACK)) == pytest.approx(0.035 + 0.0024 - 0.002)
    for stop in laid.route:
        assert speed_ratio(laid, stop) * cord_radius(drive, stop) == pytest.approx(cord_radius(drive, laid.route[0]))


def test_the_back_of_the_belt_lies_higher_on_an_outside_diameter(drive):
    """So that the route takes up more belt by the wrap times the height."""
    plain = replace(drive, belt=replace(drive.belt, back=None))
    angle = radians(253)
    more = length_at(drive, drive.route, angle) - length_at(plain, plain.route, angle)
    wrap = track_of(drive, drive.route).loop(angle).wraps[1]

    assert more == pytest.approx(0.0024 * wrap, rel=0.02)  # the wrap itself grows a little


def test_pulleys_too_near_are_told_by_name(drive):
    """In place of circles and radii."""
    near = tuple(replace(one, centre=(0.31, -0.05)) if one.name == "compressor" else one for one in drive.pulleys)
    with pytest.raises(InputError, match="no belt passes between alternator and compressor"):
        lay(replace(drive, pulleys=near), turned_over(drive, "compressor"))


def test_one_belt_longer_moves_the_arm_towards_its_free_stop(drive):
    """Towards the mark of the longest belt."""
    angles = [lay(with_belt_of(drive, one), drive.route).angle for one in (1530, 1538, 1546)]

    assert angles == sorted(angles)
    assert degrees(angles[1]) == pytest.approx(253.2, abs=0.1)


def test_of_three_pulleys_every_order_is_the_same_route(root):
    """Read backwards it even turns once round; that it runs through a pulley then tells which reading is meant."""
    file = root / "tests" / "data" / "belt" / "small_car_one_accessory.yaml"
    drive = read_drive(file.read_bytes(), file.name)

    for order in permutations(drive.route):
        assert lay(drive, order) == lay(drive, drive.route)


@pytest.mark.slow
def test_a_thousand_drives_are_solved_in_a_second(root):
    """Arm, runs, wraps and speeds of drives with two to eight pulleys, in time of the processor (it takes about 0.2 s)."""
    files = sorted((root / "tests" / "data" / "belt").glob("*.yaml"))
    drives = [read_drive(file.read_bytes(), file.name) for file in files]
    begin = process_time()
    for n in range(1000):
        one = drives[n % len(drives)]
        laid = lay(one, one.route)
        assert all(speed_ratio(laid, stop) > 0 for stop in laid.route)

    assert process_time() - begin < 1
