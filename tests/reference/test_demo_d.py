"""Demo area D, a rear wheel bearing unit: bolts free or seized, and what is done with the car on its wheels.

By the scenario the job takes 62 minutes, and 55 more when the hub bolts are seized. The file's head says
which minutes those are: likely ones, set-up changes not counted, the check of the rear toe among the 55.
"""

from fractions import Fraction
from functools import cache

import pytest

from putback import check, demo
from putback.area.model import BACK, ON_THE_GROUND
from putback.errors import NoWay
from putback.way import solve_core
from putback.way.from_area_missing import smallest_missing
from reference.demo_a import shop
from reference.demos import area, before, closed, groups, levels_at, owed, planned, row, state, steps, through, translated, used_up

FREE, SEIZED = "free hub bolts", "seized hub bolts"


@cache
def job(variant: str, no_setup: bool = True):
    return planned("d", variant, no_setup=no_setup)


def plans():
    return [job(variant, no_setup) for variant in (FREE, SEIZED) for no_setup in (True, False)]


def half_done():
    return state("d", "demo-d-hub-bolts-seized.yaml")


def test_the_file_is_clean_for_the_demo_shop():
    """In itself, for its threads, and for the shop."""
    assert check.check_area(demo.text("demo-d.yaml"), "demo-d.yaml", shop())[1] == []


@pytest.mark.parametrize(
    ("variant", "rust", "minutes"),
    [
        (FREE, "clean", "62"),
        (FREE, "usual", "78.5"),  # 0.30 x 55 expected
        (FREE, "heavy", "95"),
        (SEIZED, "clean", "117"),  # 62 + 55
        (SEIZED, "usual", "117"),  # known, and no risk any more
        (SEIZED, "heavy", "117"),
    ],
)
def test_it_takes_62_minutes_and_55_more_when_the_bolts_are_seized(variant, rust, minutes):
    """That they are is a risk only until it is known."""
    assert planned("d", variant, no_setup=True, rust=rust).minutes == Fraction(minutes)


@pytest.mark.parametrize(
    ("parts", "off", "on"),
    [
        (("right rear wheel",), 3, 4),
        (("parking-brake cable",), 2, 3),
        (("brake caliper",), 3, 4),
        (("brake disc",), 1, 1),
        (("wheel-speed sensor",), 2, 2),
        (("drive shaft end",), 3, 4),
        (("wheel bearing unit",), 4, 6),
    ],
)
def test_the_62_are_the_rows_that_the_file_names(parts, off, on):
    """42 off and on; 5, 3, 5, 4 and 3 are job work."""
    assert row("d", *parts) == (off, on)


def test_job_work_makes_the_rest():
    """Readings, comparison, road test and audit: 20 minutes."""
    assert sum(work.minutes.likely for work in area("d").job_work) == 62 - 42


def test_seized_bolts_lead_over_the_carrier_to_the_bench():
    """Free ones do not."""
    assert [through(job(variant), "wheel bearing unit") for variant in (FREE, SEIZED)] == ["in the car", "at the bench"]
    assert not job(FREE).does("hub carrier: remove")
    assert before(job(SEIZED), "hub carrier: remove", "hub bolts: undo", "wheel bearing unit: remove")
    assert before(job(SEIZED), "wheel bearing unit: refit", "hub bolts: tighten", "hub carrier: refit")


def test_without_a_press_seized_bolts_leave_no_safe_way():
    """A press would open one; the free ones never ask for it."""
    without = ["workshop press"]
    with pytest.raises(NoWay):
        solve_core(translated("d", SEIZED, without=without).core, seconds=10)
    sets = smallest_missing(area("d"), shop().without(without), ["wheel bearing unit"], half_done())

    assert [list(map(str, one)) for one in sets] == [["workshop press >= 5000 kg"]]
    assert planned("d", FREE, without=without, no_setup=True).minutes == job(FREE).minutes


def test_bolts_found_seized_half_way_lead_on_from_there():
    """What is off stays off: carrier and bench are left, the same way back, and no step is done twice."""
    found = planned("d", state=half_done(), no_setup=True)
    off = ("wheel nuts", "hub nut", "caliper bracket bolts", "sensor screw")

    assert through(found, "wheel bearing unit") == "at the bench"
    assert not any(one.name in off for one, _ in steps(found) if one.direction != BACK)
    assert owed(found) == {"check the rear toe"}
    # 117 less 5 of readings before and the 14 off of what is off already (wheel 3, cable 2, caliper 3, disc 1, sensor 2, shaft 3)
    assert found.minutes == 117 - 5 - 14


def test_wheel_nuts_and_hub_nut_are_broken_loose_and_finally_tightened_on_the_ground():
    """The hub nut while the wheel nuts hold the wheel, both times."""
    for found in plans():
        for name in ("wheel nuts", "hub nut"):
            for verb in ("break loose", "tighten finally"):
                assert found.context(f"{name}: {verb}")["posture"] == ON_THE_GROUND
        assert before(found, "hub nut: break loose", "wheel nuts: break loose")
        assert before(found, "wheel nuts: tighten finally", "hub nut: tighten finally")


def test_the_car_stands_on_the_ground_only_on_its_wheel():
    """With the bearing unit bolted and the hub nut run in."""
    for found in plans():
        for (levels, _), (_, _, context) in zip(levels_at(found), _operations(found), strict=True):
            assert context["posture"] != ON_THE_GROUND or closed(levels, ["right rear wheel", "wheel bearing unit", "hub bolts"])


def _operations(found):
    return [step for step in found.plan if step[0] in found.translated.operations]


def test_the_caliper_hangs_on_its_hook_and_never_by_its_hose():
    """From before its first bolt is out until its last one is tight."""
    for found in plans():
        touched = [levels for levels, one in levels_at(found) if one.part == "brake caliper"]
        assert len(touched) == 4
        assert all(levels["caliper hook"] == 1 for levels in touched)


def test_the_drive_shaft_is_tied_while_its_end_is_free():
    """From before the hub nut is out until it is run in."""
    for found in plans():
        free = [levels for levels, one in levels_at(found) if levels["drive shaft end"] == 1 or one.name == "drive shaft end"]
        assert all(levels["shaft tie"] == 1 for levels in free)


def test_the_parking_brake_cable_is_slackened_six_turns():
    """Before the disc comes off, and turned back after it is on."""
    operations = job(FREE).translated.operations

    assert area("d").items["parking-brake cable"].states[-1] == "slackened 6 turns"
    assert all("6 turns" in operations[f"parking-brake cable: {verb}"].text for verb in ("slacken", "adjust"))
    for found in plans():
        assert before(found, "parking-brake cable: slacken", "brake disc: remove")
        assert before(found, "brake disc: refit", "parking-brake cable: adjust")


def test_the_magnetic_side_faces_the_sensor_in_a_caution_and_in_the_comparison():
    """Said where the new unit goes in, and on the sheet of old and new."""
    cautions = job(FREE).translated.operations["wheel bearing unit: refit"].cautions

    assert any("magnetic side" in text and "sensor" in text and "test card" in text for text in cautions)
    assert "magnetic side" in dict(area("d").match)["encoder ring"]


def test_new_parts_and_follow_ups():
    """Hub bolts and hub nut are used once, carrier bolts as well; the toe is checked where the carrier was off."""
    once = {"hub bolts": 4, "hub nut": 1}
    nuts = {"re-check the wheel nuts after 80 km"}

    assert (used_up(job(FREE)), owed(job(FREE))) == (once, nuts)
    assert (used_up(job(SEIZED)), owed(job(SEIZED))) == (once | {"carrier bolts": 4}, nuts | {"check the rear toe"})


@pytest.mark.parametrize(
    ("name", "written"),
    [
        ("hub bolts", (4, "M10x1.25x38", "10.9", 56, True)),
        ("hub nut", (1, "M22x1.5", "10", 175, True)),
        ("caliper bracket bolts", (2, "M10x1.25x28", "10.9", 58, False)),
        ("sensor screw", (1, "M6x1.0x14", "8.8", 7, False)),
        ("wheel nuts", (5, "M12x1.5", "10", 108, False)),
    ],
)
def test_every_fastener_is_as_in_the_scenario(name, written):
    """Number, thread, class, torque, and whether it is used once."""
    assert groups("d")[name] == written


def test_angle_and_pattern():
    """56 N·m and 30 degrees at the hub bolts, a star in two passes at the wheel."""
    items = area("d").items

    assert items["hub bolts"].fastener.torque.angle == 30
    assert (items["wheel nuts"].fastener.pattern, items["wheel nuts"].fastener.torque.passes) == ("star pattern", 2)
