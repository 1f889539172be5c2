"""What it costs to come back to an open point."""

from fractions import Fraction
from time import process_time

import pytest
from desk_samples import THINKING, Desk, half_way_on_a

from putback.desk.reach import reaches


@pytest.fixture
def desk(tmp_path):
    with Desk(tmp_path) as desk:
        yield desk


def reach(desk: Desk) -> dict:
    return reaches(desk.look(), desk.stamp.now(), THINKING)


def test_the_lower_alternator_bolt_lies_behind_the_compressor(desk):
    """Story 5: wheel, tray, liner, belt, idler pulley and compressor, 36 min off + 49 min on."""
    desk.open("a")
    desk.off("lower alternator bolt", 1)
    found = reach(desk)["out: lower alternator bolt"]

    assert (found.off, found.on) == (36, 49)
    assert {one.part for one in found.parts} == {
        "left front wheel", "undertray", "wheel-arch liner", "belt", "idler pulley", "compressor",
    }  # fmt: skip
    assert found.words.endswith("= 36 min off + 49 min on")
    assert found.cost.minutes > 36 + 49  # lifting the car, tools, and the bolt itself


def test_a_live_stud_beside_it_is_told_of(desk):
    """Trap 42: the charge cable stays on for the bolt, so the battery comes off first."""
    desk.open("a")
    desk.off("lower alternator bolt", 1)
    assert "charge cable is on and live" in reach(desk)["out: lower alternator bolt"].cautions[0]
    desk.moved("battery clamp", "off")
    assert reach(desk)["out: lower alternator bolt"].cautions == ()


def test_what_lies_open_costs_nothing_to_reach(desk):
    """Half way in everything that is off is in hand, or will be."""
    desk.open("a")
    half_way_on_a(desk)
    found = reach(desk)["out: lower alternator bolt"]
    assert (found.off, found.on, found.parts) == (0, 0, ())


def test_a_torque_out_of_range_is_reached_like_a_bolt_that_is_out(desk):
    """It is in, and has to be gone to all the same."""
    desk.open("a")
    desk.off("lower alternator bolt", 1)
    desk.on("lower alternator bolt", 1, 12.0, at="lower")
    assert reach(desk)["torque: lower alternator bolt"].off == 36


def test_a_hidden_plug_costs_the_manifold(desk):
    """Trap 52, story 16: the knock-sensor plug of demo B lies under the lower manifold, 14 min off and 22 on alone."""
    desk.open("b")
    desk.moved("knock-sensor plug", "unplugged")
    found = reach(desk)["away: knock-sensor plug"]
    assert "lower manifold" in {one.part for one in found.parts} and found.off > 14 and found.on > 22


def test_every_point_of_a_demo_job_is_there_within_two_seconds(desk):
    """Nobody waits at the car for it; what else runs on the machine does not count."""
    desk.open("a")
    half_way_on_a(desk)
    desk.moved("belt", "on")
    for item in ("wheel-arch liner", "left front wheel", "undertray"):
        desk.moved(item, "fitted")
    view, now = desk.look(), desk.stamp.now()
    begin = process_time()
    found = reaches(view, now, THINKING)

    assert process_time() - begin < 2
    assert len(found) >= 20 and all(one.off is not None for one in found.values())


def test_on_a_car_that_nobody_described_the_log_tells_what_may_lie_over_it(desk):
    """What came off before it and is back on; minutes where people logged them; nothing where it came off first."""
    desk.open()
    desk.moved("cover", "off", minutes=2)
    desk.moved("bracket", "off", minutes=5)
    desk.moved("hose", "off")
    desk.moved("sensor plug", "unplugged")
    for item in ("bracket", "cover"):
        desk.moved(item, "fitted", minutes=6)
    found = reach(desk)["away: sensor plug"]

    assert [one.part for one in found.parts] == ["cover", "bracket"] and found.guessed
    assert (found.off, found.on) == (7, 12)
    assert "nobody has described" in found.words


def test_minutes_that_nobody_logged_are_not_made_up(desk):
    """They stay unknown."""
    desk.open()
    desk.moved("cover", "off")
    desk.moved("sensor plug", "unplugged")
    desk.moved("cover", "fitted")
    found = reach(desk)["away: sensor plug"]
    assert found.off is None and found.on is None and [one.part for one in found.parts] == ["cover"]
    assert Fraction(0) not in (found.off, found.on)
