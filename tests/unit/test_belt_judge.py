"""What speaks against a route."""

from dataclasses import replace
from math import cos, radians, sin

import pytest
from belt_samples import demo_drive, swapped, turned_over, two_pulleys, with_belt_of

from putback.belt.drive import BACK, RIBS, Stop
from putback.belt.finding import Finding, worst
from putback.belt.judge import judge_route
from putback.belt.propose import propose
from putback.belt.route import lay, lengths, window_lengths
from putback.drive_file import read_drive


@pytest.fixture(scope="module")
def drive():
    return demo_drive()


def codes(drive, route, *, stop: bool = True) -> list[str]:
    return [one.code for one in judge_route(drive, route) if not stop or one.verdict == "stop"]


def with_pulley(drive, name: str, **changes):
    return replace(drive, pulleys=tuple(replace(one, **changes) if one.name == name else one for one in drive.pulleys))


def test_nothing_speaks_against_the_right_route(drive):
    """Not even a question."""
    assert judge_route(drive, drive.route) == ()


def test_a_pulley_that_would_turn_the_wrong_way_is_named(drive):
    """With both rotations."""
    found = judge_route(drive, turned_over(drive, "alternator"))

    assert found[0].code == "rotation"
    assert found[0].pulley == "alternator"
    assert "would turn anticlockwise, and must turn clockwise" in found[0].words


def test_a_smooth_back_on_grooves_is_seen(drive):
    """Ribs on a flat pulley are asked about, unless they belong there."""
    assert "face" in codes(drive, turned_over(drive, "idler pulley"))
    unknown = with_pulley(drive, "tensioner pulley", side=None)
    belongs = with_pulley(drive, "tensioner pulley", side=RIBS)
    over = turned_over(drive, "tensioner pulley")

    assert "face" in codes(unknown, over, stop=False)
    assert "face" not in codes(unknown, over)
    assert "face" not in codes(belongs, over, stop=False)


def test_a_wrong_side_is_seen_where_no_rotation_is_known(drive):
    """By the side that the drive tells."""
    assert codes(drive, turned_over(drive, "tensioner pulley"))[0] == "side"


def test_pulleys_in_the_wrong_order_cross_the_belt(drive):
    """Or lead it through another pulley."""
    assert "crossing" in codes(drive, swapped(drive, "alternator", "idler pulley"))


def test_a_route_that_geometry_allows_is_held_against_the_known_one(root):
    """Nothing else speaks against the second of two routes of a drive with eight pulleys."""
    drive = read_drive((root / "tests" / "data" / "belt" / "eight_pulleys.yaml").read_bytes(), "eight")
    right, other = propose(drive).routes
    found = judge_route(drive, other.route)

    assert judge_route(drive, right.route) == ()
    assert [(one.code, one.pulley) for one in found if one.verdict == "stop"] == [("side", "upper idler")]


def test_another_order_than_the_known_one_is_told(drive):
    """With what comes in place of what."""
    known = replace(drive, route=swapped(drive, "alternator", "compressor"))
    found = judge_route(known, drive.route)

    assert [(one.code, one.verdict) for one in found] == [("order", "stop")]
    assert "on the known route to the" in found[0].words


def test_a_pulley_left_out_is_seen(drive):
    """And that the belt would run through it, where it would."""
    short = tuple(stop for stop in drive.route if stop.pulley != "idler pulley")

    assert "left out" in codes(drive, short)


def test_a_rib_off_is_seen(drive):
    """By how much the belt sits out of line: a pitch for each rib."""
    route = tuple(stop._replace(ribs_off=2) if stop.pulley == "alternator" else stop for stop in drive.route)
    found = judge_route(drive, route)

    assert [one.code for one in found] == ["rib off"]
    assert "7.1 mm" in found[0].words


@pytest.mark.parametrize(("grooves", "verdict"), [(6, "stop"), (7, None), (8, "ask")])
def test_ribs_are_held_against_grooves(drive, grooves, verdict):
    """More ribs than grooves hang over; fewer are asked about."""
    found = judge_route(with_pulley(drive, "compressor", grooves=grooves), drive.route)

    assert [one.verdict for one in found if one.code == "ribs"] == ([verdict] if verdict else [])


def test_a_pulley_smaller_than_its_profile_allows_is_asked_about(drive):
    """45 mm for PK (ISO 9981 as quoted)."""
    for diameter, asked in ((0.0449, ["diameter"]), (0.045, [])):
        found = judge_route(with_pulley(drive, "alternator", diameter=diameter), drive.route)
        assert [one.code for one in found if one.code == "diameter"] == asked


def test_the_length_is_judged_at_both_borders_of_the_marks(drive):
    """Inside, a little beyond a mark, and beyond a stop."""
    limits = [1000 * one for one in lengths(drive, drive.route)]
    longest, shortest = limits[1:3]
    for millimetres, ok in ((longest - 0.1, True), (longest + 1, False), (shortest + 0.1, True), (shortest - 1, False)):
        assert ("length" not in codes(with_belt_of(drive, millimetres), drive.route)) == ok
    too_long, too_short = (
        judge_route(with_belt_of(drive, one), drive.route)[0].words for one in (limits[0] + 5, limits[4] - 5)
    )
    assert "5 mm too long" in too_long
    assert "5 mm too short" in too_short


@pytest.mark.parametrize(
    ("spare", "verdict"), [(0.004, None), (0.006, "ask"), (-0.006, "ask"), (0.031, "stop"), (-0.031, "stop")]
)
def test_without_a_tensioner_a_belt_must_fit_as_it_is(spare, verdict):
    """Within half a percent; what an adjuster may take up is asked about (common practice, no source)."""
    drive = two_pulleys()
    fitted = with_belt_of(drive, 1000 * (1 + spare) * lay(drive, drive.route).loop.length)
    found = [one.verdict for one in judge_route(fitted, fitted.route) if one.code == "length"]

    assert found == ([verdict] if verdict else [])


def test_too_little_wrap_is_seen():
    """Of a driven pulley: 60° and 90° (common practice, no source)."""
    drive = two_pulleys()
    crank, alternator = (replace(one, diameter=0.1, centre=(n * 0.4, 0.0)) for n, one in enumerate(drive.pulleys))
    for wrap, verdict in ((91, []), (89, ["ask"]), (61, ["ask"]), (59, ["stop"])):
        corner = radians(180 - wrap)  # pulleys of one size: the belt turns by what the corner lacks of half a turn
        third = replace(alternator, name="third", centre=(0.4 - 0.4 * cos(corner), -0.4 * sin(corner)))
        three = replace(drive, pulleys=(crank, alternator, third))
        route = tuple(Stop(one.name, RIBS) for one in three.pulleys)
        found = [one.verdict for one in judge_route(three, route) if one.code == "wrap" and one.pulley == "alternator"]
        assert found == verdict, wrap


def test_an_arm_that_does_not_slacken_all_the_way_is_asked_about(drive):
    """It passes the point where the belt is longest."""
    wide = replace(drive, tensioner=replace(drive.tensioner, free=radians(400), marks=None, pin=None))

    assert "tensioner" in codes(wide, wide.route, stop=False)


def test_pulleys_too_near_end_as_a_finding(drive):
    """In place of an exception."""
    near = with_pulley(drive, "compressor", centre=(0.31, -0.05))

    assert "crossing" in codes(near, turned_over(near, "compressor"))


def test_the_worst_verdict_counts():
    """None at all is fine."""
    assert worst([]) == "fine"
    assert worst([Finding("a", "ask", ""), Finding("b", "stop", ""), Finding("c", "fine", "")]) == "stop"


def test_the_window_is_that_of_the_marks(drive):
    """Or of the stops where there are none."""
    free = replace(drive, tensioner=replace(drive.tensioner, marks=None))
    limits = lengths(drive, drive.route)

    assert window_lengths(lay(drive, drive.route)) == (limits.shortest, limits.longest)
    assert window_lengths(lay(free, free.route)) == (limits.loaded, limits.free)
    assert window_lengths(lay(two_pulleys(), two_pulleys().route)) is None


def test_a_driver_on_the_back_turns_all_the_others_round(drive):
    """Every rotation that is known is then wrong."""
    route = tuple(stop._replace(side=BACK) if stop.pulley == "crankshaft" else stop for stop in drive.route)

    assert {one.pulley for one in judge_route(drive, route) if one.code == "rotation"} == {"alternator", "compressor"}
