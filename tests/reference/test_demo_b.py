"""Demo area B, a starter in the valley of a V6: what each route costs, who gets which, and what must not be forgotten.

The sums were worked out by hand from the demo's table: minutes off and on of what a route opens, expected
risks at usual rust, job work 47, and for the way from above a check of 10 for leaks and idle. Changes of
tool, vantage and posture count nothing in them. Labour is 92.00 an hour.
"""

from fractions import Fraction
from functools import cache

import pint
import pytest

from putback import check, demo
from putback.area.model import BACK
from putback.tightening import tightening
from putback.way.plan import plan_way
from reference.demo_a import shop
from reference.demos import area, before, closed, groups, levels_at, owed, planned, row, steps, through, translated, used_up

UNITS = pint.UnitRegistry()
ABOVE, BELOW = "between the banks", "past the exhaust"
AVOID = {ABOVE: ["exhaust section"], BELOW: ["lower manifold"]}


@cache
def route(name: str, no_setup: bool = True):
    return planned("b", avoid=AVOID[name], no_setup=no_setup)


def plans():
    return [route(name, no_setup) for name in AVOID for no_setup in (True, False)]


def test_the_file_is_clean_for_the_demo_shop():
    """In itself, for its threads, and for the shop."""
    assert check.check_area(demo.text("demo-b.yaml"), "demo-b.yaml", shop())[1] == []


@pytest.mark.parametrize(
    ("parts", "off", "on"),
    [
        (("battery clamp",), 3, 4),
        (("engine cover",), 1, 1),
        (("air duct",), 4, 5),
        (("exhaust-gas pipe",), 6, 8),
        (("upper plenum",), 11, 15),
        (("coolant", "coolant pan"), 9, 21),
        (("fuel feed line",), 6, 5),
        (("lower manifold",), 14, 22),
        (("knock-sensor plug",), 1, 1),
        (("starter cable", "control wire"), 4, 5),
        (("undertray", "exhaust section"), 19, 27),
        (("cooler-line bracket",), 3, 4),
    ],
)
def test_minutes_of_every_row_add_up_to_the_table(parts, off, on):
    """With fasteners, plugs, caps, cloths and rags."""
    assert row("b", *parts) == (off, on)


@pytest.mark.parametrize(
    ("name", "rust", "minutes"),
    [
        (ABOVE, "usual", "218.6"),  # 65 + 95 + 10 + 47, and 0.04 x 40
        (BELOW, "usual", "173.5"),  # 45 + 62 + 47, and 0.35 x 50 + 0.10 x 20
        (ABOVE, "clean", "217"),
        (BELOW, "clean", "156"),  # a brittle plug breaks without rust
        (ABOVE, "heavy", "220.2"),
        (BELOW, "heavy", "191"),
    ],
)
def test_each_route_costs_what_the_table_says(name, rust, minutes):
    """The wait of 3 minutes after the battery is filled with other work."""
    found = planned("b", avoid=AVOID[name], no_setup=True, rust=rust)

    assert (through(found, "starter"), found.minutes) == (name, Fraction(minutes))


@pytest.mark.parametrize(
    ("name", "minutes", "parts"),
    [(ABOVE, "218.6", "268.30"), (BELOW, "173.5", "217.90")],
)
def test_money_is_minutes_and_parts(name, minutes, parts):
    """Above: starter 214.00, gaskets 23.60 and 3.10, seals 14.40, coolant 13.20; below: three nuts at 1.30 besides."""
    assert route(name).money == Fraction(minutes) * 92 / 60 + Fraction(parts)


@pytest.mark.parametrize(
    ("variant", "without", "expected"),
    [
        ("rear-wheel drive", (), BELOW),
        ("all-wheel drive", (), ABOVE),
        ("rear-wheel drive", ("two-post lift", "axle stand"), ABOVE),
        ("rear-wheel drive", ("13 mm crow-foot",), ABOVE),
        ("rear-wheel drive", ("clean rag",), BELOW),
    ],
)
@pytest.mark.parametrize("no_setup", [True, False])
def test_rear_wheel_drive_and_a_lift_lead_below_and_anything_else_above(variant, without, expected, no_setup):
    """The transfer shaft of the all-wheel drive runs where the starter would come down."""
    assert through(planned("b", variant, without=without, no_setup=no_setup), "starter") == expected


def test_all_wheel_drive_has_no_way_below():
    """Not a dearer one: none."""
    operations = translated("b", "all-wheel drive").operations

    for name in ("starter bolts: undo", "steady bolt: undo", "starter: remove", "starter: refit"):
        assert [way.name for way in operations[name].ways] == [ABOVE]


def test_the_plug_under_the_manifold_is_on_before_the_manifold():
    """There is no later chance; the file says only what the plug is behind."""
    manifold, plug = area("b").items["lower manifold"], area("b").items["knock-sensor plug"]

    assert [ref.name for ref in plug.base.behind] == ["lower manifold"]
    assert "knock-sensor plug" not in {ref.name for ref in (*manifold.base.behind, *manifold.tighten_after)}
    for found in (route(ABOVE), route(ABOVE, no_setup=False)):
        assert before(found, "starter: refit", "knock-sensor plug: plug in", "lower manifold: refit")


@pytest.mark.parametrize(
    ("cover", "part", "count"),
    [
        ("port rags", "lower manifold: {}", "6 clean rags"),
        ("vacuum caps", "vacuum hoses: {}", "3 vacuum caps"),
        ("fuel line caps", "fuel feed line: {}", "2 fuel line caps"),
    ],
)
def test_what_covers_an_opening_is_counted_in_and_out(cover, part, count):
    """In as soon as the part is off, out before it is back, and just so many."""
    names = ("open", "join") if "lower" not in part else ("remove", "refit")
    for found in (route(ABOVE), route(ABOVE, no_setup=False)):
        assert before(found, part.format(names[0]), f"{cover}: put in", f"{cover}: take out", part.format(names[1]))
        assert [str(one) for one in found.translated.operations[f"{cover}: put in"].holds] == [count]


def test_nothing_behind_an_open_port_is_touched_before_the_rags_are_in():
    """Six ports of the cylinder heads lie open under the manifold."""
    hidden = {"knock-sensor plug", "starter", "starter bolts", "steady bolt", "main stud nut", "control stud nut"}
    for found in (route(ABOVE), route(ABOVE, no_setup=False)):
        touched = [levels for levels, one in levels_at(found) if one.name in hidden]
        assert touched
        assert all(levels["port rags"] == 1 for levels in touched)


def test_nothing_live_is_touched_and_no_fuel_line_is_open_with_the_battery_on():
    """Cables, their nuts, and the feed line, out and back."""
    careful = {"starter cable", "control wire", "main stud nut", "control stud nut", "fuel feed line"}
    for found in plans():
        touched = [levels for levels, one in levels_at(found) if one.name in careful]
        assert touched
        assert all(levels["battery clamp"] == 1 for levels in touched)


def test_the_battery_is_connected_after_every_plug():
    """No current before everything that takes some is plugged in."""
    plugs = [name for name, item in area("b").items.items() if item.kind == "plug"]
    for found in plans():
        (levels,) = [levels for levels, one in levels_at(found) if one.id == "battery clamp: refit"]
        assert closed(levels, [*plugs, "starter cable", "control wire", "fuel feed line"])


def test_cables_wait_three_minutes_after_the_battery():
    """Whatever is live does."""
    (wait,) = translated("b", no_setup=True).core["waits"]

    assert wait["after"] == ["battery clamp: remove"]
    assert {"main stud nut: undo", "control stud nut: undo"} <= set(wait["before"])


def test_coolant_is_drained_into_a_pan_before_the_manifold_and_filled_after_it():
    """2.2 litres, and the pan stays until the system is closed."""
    found = route(ABOVE)

    assert before(found, "coolant pan: put in", "coolant: drain", "manifold bolts: undo")
    assert before(found, "manifold bolts: tighten", "coolant: fill", "coolant pan: take out")
    assert found.translated.operations["coolant: fill"].fluid.litres == Fraction("2.2")
    assert not route(BELOW).does("coolant: drain")


def test_each_route_takes_its_new_parts():
    """Gaskets and seals above, copper nuts below."""
    above = {"exhaust-gas pipe gasket": 1, "port seals": 6, "manifold gaskets": 2}

    assert used_up(route(ABOVE)) == above
    assert used_up(route(BELOW)) == {"flange nuts": 3}


def test_leaks_and_idle_are_checked_after_the_way_from_above():
    """And the coolant level after the first cold start, at the hand-over."""
    asked = {"check for leaks and let it idle warm", "look at the coolant level after the first cold start"}

    assert owed(route(ABOVE)) == asked
    assert owed(route(BELOW)) == set()


# Number, thread, class, N·m, one-time; then the same torque in inch-pounds or foot-pounds as the demo's table prints it.
TABLE = {
    "clamp nut": (1, "M6x1.0x20", "8.8", 6, False, "53 in-lb"),
    "pipe nuts": (2, "M8x1.25", "8", 21, False, "186 in-lb"),
    "long plenum screws": (4, "M6x1.0x78", "8.8", 9, False, "80 in-lb"),
    "short plenum screws": (3, "M6x1.0x42", "8.8", 9, False, "80 in-lb"),
    "manifold bolts": (10, "M8x1.25x46", "8.8", 23, False, "204 in-lb"),
    "main stud nut": (1, "M8x1.25", "5.8", 12.5, False, "111 in-lb"),
    "control stud nut": (1, "M5x0.8", "5.8", 3.8, False, "34 in-lb"),
    "starter bolts": (2, "M10x1.5x62", "8.8", 45, False, "33 ft-lb"),
    "steady bolt": (1, "M8x1.25x28", "8.8", 22, False, "195 in-lb"),
    "flange nuts": (3, "M8x1.25", "8", 25, True, "221 in-lb"),
}


@pytest.mark.parametrize("name", TABLE)
def test_every_fastener_is_as_in_the_table(name):
    """In N·m, and in the table's other unit by a general-purpose library of units."""
    *written, other = TABLE[name]
    number, unit = other.split()
    pounds = UNITS.Quantity(float(number), "inch * pound_force" if unit == "in-lb" else "foot * pound_force")

    assert groups("b")[name] == tuple(written)
    assert pounds.to("newton * metre").magnitude == pytest.approx(written[3], abs=pounds.to("newton * metre").magnitude * 0.5 / float(number))


def test_the_manifold_is_tightened_in_three_passes_from_the_centre():
    """8, 16 and 23 N·m."""
    bolts = area("b").items["manifold bolts"].fastener

    assert (bolts.torque.stages, bolts.torque.passes, bolts.pattern) == ((8, 16, 23), 3, "centre outwards 2x5")


def test_the_main_nut_is_reached_from_below_with_a_crow_foot_whose_setting_is_told():
    """In line with a wrench of 240 mm a crow-foot of 38 mm takes 12.5 x 240 / (240 + 38) (balance of moments)."""
    sheet = plan_way(area("b"), shop())
    (step,) = [step for step in sheet.steps if step.id == "main stud nut: tighten"]
    how = tightening(sheet, step)

    assert step.way.tools == (("13 mm crow-foot",),)
    assert how.in_line.final.exact == pytest.approx(12.5 * 240 / (240 + 38))
    assert (how.in_line.final.shown, how.settings.final.shown) == ("10.75 N·m", "12.5 N·m")
    assert how.settings.final.wrench.name == "medium wrench"


def test_the_small_nut_has_a_wrench():
    """3.8 N·m is below the range of every wrench of the demo shop but the smallest."""
    (able,) = [wrench for wrench in shop().wrenches if wrench.low <= 3.8 <= wrench.high]

    assert able.name == "small wrench"


def test_the_starter_is_tight_at_the_front_before_its_rear_steady():
    """The steady takes no strain (common practice, no source)."""
    for found in plans():
        assert before(found, "starter bolts: tighten", "steady bolt: tighten")


def test_what_falls_without_its_nuts_is_not_left_hanging():
    """With set-up minutes, exhaust section and clamp are back and tight in one go."""
    for found in (route(ABOVE, no_setup=False), route(BELOW, no_setup=False)):
        parts = [(one.id, one.part) for one, _ in steps(found) if one.direction == BACK]
        for index, (name, part) in enumerate(parts):
            if name in ("exhaust section: refit", "battery clamp: refit"):
                assert parts[index + 1][1] == part
