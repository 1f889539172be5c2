"""Odd drives: ribs on both sides, idlers that the belt does not reach, inches, belts that fit no route."""

from dataclasses import replace
from math import tau

import pytest
from belt_samples import demo_drive, two_pulleys, with_belt_of

from putback.belt.advise import PROPOSED, advise
from putback.belt.drive import BACK, IDLER, RIBS, Pulley, Stop
from putback.belt.finding import worst
from putback.belt.geometry import loop
from putback.belt.judge import judge_route
from putback.belt.load import at_work, rest_tension
from putback.belt.profile import read_mark
from putback.belt.propose import propose
from putback.belt.replacement import judge_belt
from putback.belt.route import cord_radius, lay, speed_ratio
from putback.drive_file import read_drive, read_stop
from putback.errors import InputError


@pytest.fixture
def read(root):
    """Reads a drive of the tests by its name."""
    folder = root / "tests" / "data" / "belt_odd"
    return lambda name: read_drive((folder / f"{name}.yaml").read_bytes(), name)


# --- ribs on both sides ---------------------------------------------------------------------------


def test_grooves_at_the_back_are_right_for_a_belt_with_ribs_on_both_sides(read):
    """And wrong for one with a smooth back."""
    drive = read("ribs_on_both_sides")
    smooth = replace(drive, belt=replace(drive.belt, is_double=False))

    assert drive.belt.mark == "6DPK1493"
    assert worst(judge_route(drive, drive.route)) != "stop"
    assert "face" in [one.code for one in judge_route(smooth, drive.route)]


def test_the_cord_of_a_double_belt_keeps_its_length(read):
    """Laid by the cord, which runs 2 mm outside each effective radius, the belt is longer by a turn of 2 mm.

    The outside of a closed strip is longer than a line along its inside by 2 pi times their distance; plane geometry.
    """
    drive = read("ribs_on_both_sides")
    laid = lay(drive, drive.route)
    cord = loop([wheel._replace(radius=cord_radius(drive, stop))
                 for wheel, stop in zip(laid.loop.wheels, laid.route, strict=True)])  # fmt: skip

    assert [cord_radius(drive, stop) for stop in laid.route] == pytest.approx([0.077, 0.032, 0.062, 0.0595])
    assert cord.length == pytest.approx(laid.loop.length + tau * 0.002, abs=1e-12)


def test_a_pulley_turns_as_fast_on_either_side_of_a_double_belt(read):
    """Effective diameters 150 and 120 mm with 2 mm twice: 154 to 124 (ISO 9981 as quoted; twice from memory)."""
    drive = read("ribs_on_both_sides")

    assert speed_ratio(lay(drive, drive.route), Stop("water pump", BACK)) == pytest.approx(154 / 124)


def test_grooves_wedge_at_the_back_as_well(read):
    """The limit of a double belt on grooves is that of ribs, for the same wrap."""
    drive = read("ribs_on_both_sides")
    pumps = tuple(replace(one, torque=5.0) if one.name == "water pump" else one for one in drive.pulleys)
    loaded = replace(drive, pulleys=pumps, belt=replace(drive.belt, tension=300.0))
    smooth = replace(loaded, belt=replace(loaded.belt, is_double=False))
    wedged, flat = (
        next(grip.limit for grip in at_work(lay(one, one.route), 200.0).grips if grip.stop.side == BACK)
        for one in (loaded, smooth)
    )

    assert wedged > 1.5 * flat


def test_a_smooth_back_does_not_do_in_place_of_ribs(read):
    """Nor ribs in place of a smooth back."""
    drive = read("ribs_on_both_sides")
    smooth = demo_drive()

    assert "where ribs belong" in judge_belt(lay(drive, drive.route), read_mark("6PK1493"))[0].words
    assert "where a smooth back belongs" in judge_belt(lay(smooth, smooth.route), read_mark("7DPK1538"))[0].words
    assert judge_belt(lay(drive, drive.route), read_mark("6 dpk 1493"))[0].verdict == "fine"


def test_the_route_of_a_double_belt_is_proposed_with_grooves_on_either_side(read):
    """Also where no rotation of the pump is known."""
    drive = read("ribs_on_both_sides")
    unknown = tuple(replace(one, rotation=0) if one.name == "water pump" else one for one in drive.pulleys)
    routes = [one.route for one in propose(replace(drive, route=(), pulleys=unknown)).routes]

    assert lay(drive, drive.route).route in routes


# --- pulleys that are not reached -----------------------------------------------------------------


@pytest.mark.parametrize(("gap", "codes"), [(0.006, ["not touched"]), (-0.020, [])])
def test_a_pulley_that_a_taut_belt_passes_is_told(gap, codes):
    """With how far beside: two wheels of 140 mm, their upper run 70 mm up, and an idler above it."""
    drive = two_pulleys()
    wheels = tuple(replace(one, diameter=0.140) for one in drive.pulleys)
    idler = Pulley("idler", IDLER, 0.060, centre=(0.15, 0.070 + 0.030 + gap))
    three = replace(drive, pulleys=(*wheels, idler))
    route = (Stop("crankshaft", RIBS), Stop("idler", BACK), Stop("alternator", RIBS))
    found = judge_route(with_belt_of(three, 1040), route)

    assert [one.code for one in found if one.verdict == "stop"] == codes
    assert all("passes 6 mm beside the idler" in one.words for one in found if one.code == "not touched")


def test_of_idlers_in_a_row_those_not_reached_are_named(read):
    """And nothing is said of crossings that only come of it."""
    drive = read("idlers_that_are_not_reached")
    found = judge_route(drive, drive.route)

    assert [(one.code, one.pulley) for one in found] == [("not touched", "idler a"), ("not touched", "idler c")]


# --- belts that fit no route ----------------------------------------------------------------------


def test_a_belt_that_fits_no_route_leaves_the_likely_one(read):
    """Two pulleys have one route, whatever the belt; the belt is what is wrong."""
    drive = with_belt_of(two_pulleys(), 1200)
    advice = advise(replace(drive, route=()))

    assert (advice.origin, advice.verdict) == (PROPOSED, "stop")
    assert [stop.pulley for stop in advice.right.route] == ["crankshaft", "alternator"]
    assert [one.code for one in advice.findings] == ["length"]


def test_a_belt_that_hangs_slack_has_no_tension():
    """Beyond three percent; up to there an adjuster may have taken it up (common practice, no source)."""
    drive = two_pulleys(tension=400.0)
    length = 1000 * lay(drive, drive.route).loop.length
    tensions = [rest_tension(lay(one, one.route)) for one in (with_belt_of(drive, k * length) for k in (1.029, 1.031))]

    assert tensions == [400.0, None]


def test_inches_and_a_belt_without_a_mark_are_read(read):
    """50 1/4 in are 1276.35 mm, 60 lbf are 266.89 N (by the definitions of inch and pound-force)."""
    drive = read("in_inches")

    assert drive.belt.mark == "5PK1276.35"
    assert drive.belt.tension == pytest.approx(266.893, abs=1e-3)
    assert advise(drive).verdict == "fine"


# --- a rib off ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "ribs_off"),
    [
        ("alternator, 1 groove bare", 1),
        ("alternator 2 grooves bare", 2),
        ("alternator, 3.5 mm out", 1),
        ("alternator, 0.28 in out", 2),
        ("alternator ribs, 0.4 mm out", 0),
        ("alternator, 0 ribs off", 0),
    ],
)
def test_a_rib_off_is_told_by_ribs_by_grooves_and_by_the_offset(said, ribs_off):
    """Grooves of a PK pulley are 3.56 mm apart (ISO 9982, as a glossary quotes it)."""
    assert read_stop(demo_drive(), said) == Stop("alternator", RIBS, ribs_off)


def test_a_bare_groove_is_right_where_the_pulley_has_one_more_than_the_belt():
    """Two are not."""
    drive = demo_drive()
    wide = tuple(replace(one, grooves=8) if one.name == "alternator" else one for one in drive.pulleys)
    offs = [read_stop(replace(drive, pulleys=wide), f"alternator, {n} grooves bare").ribs_off for n in (1, 2)]

    assert offs == [0, 1]


def test_more_ribs_off_than_the_belt_has_are_refused():
    """Seven hang beside all the same, eight are a slip."""
    assert read_stop(demo_drive(), "alternator, 7 ribs off").ribs_off == 7
    with pytest.raises(InputError, match="the belt has only 7"):
        read_stop(demo_drive(), "alternator, 8 ribs off")


def test_an_offset_of_no_whole_number_of_ribs_asks_for_a_count():
    """Half a rib is a pulley out of line, or a slip of the ruler."""
    with pytest.raises(InputError, match="0.5 ribs, no whole number"):
        read_stop(demo_drive(), "alternator, 1.8 mm out")
