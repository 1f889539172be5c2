"""Demo area C, a heater blower behind a dashboard: what each route costs, who may take it, and airbags.

The sums were worked out by hand from the demo's table: minutes off and on of what a route opens, expected
breakage and risks at usual rust, job work 34, 25 for a second person at the dashboard and 8 for the water
test at the cowl. Changes of tool and vantage count nothing in them. Of the 13 minutes at the battery 3 are
work and 10 a wait, which other work may fill.
"""

from fractions import Fraction
from functools import cache

import pint
import pytest

from putback import check, demo
from putback.area.state_file import with_variants
from putback.errors import NoWay
from putback.way import solve_core
from putback.way.from_area_missing import having, smallest_missing
from reference.demo_a import shop
from reference.demos import area, before, closed, groups, levels_at, owed, planned, row, steps, through, translated, used_up

UNITS = pint.UnitRegistry()
DASHBOARD, GLOVE_BOX, COWL = "the open dashboard", "beside the glove box", "the cowl"
AVOID = {DASHBOARD: ["strut", "cowl"], GLOVE_BOX: ["dashboard", "cowl"], COWL: ["dashboard", "airbag bracket"]}
ONE_PIECE, TWO_PIECE = "one-piece filter housing", "two-piece filter housing"


@cache
def route(name: str, no_setup: bool = True):
    return planned("c", avoid=AVOID[name], no_setup=no_setup)


def plans():
    return [route(name, no_setup) for name in AVOID for no_setup in (True, False)]


def test_the_file_is_clean_for_the_demo_shop():
    """In itself, for its threads, and for the shop."""
    assert check.check_area(demo.text("demo-c.yaml"), "demo-c.yaml", shop())[1] == []


@pytest.mark.parametrize(
    ("parts", "off", "on"),
    [
        (("battery clamp",), 3, 4),
        (("glove box",), 8, 10),
        (("airbag bracket",), 9, 11),
        (("strut",), 6, 8),
        (("lower duct",), 3, 3),
        (("dashboard",), 96, 128),
        (("wiper arms",), 7, 8),
        (("cowl",), 9, 12),
        (("wiper linkage",), 10, 13),
        (("filter housing",), 8, 11),
        (("blower motor plug", "power-module plug"), 2, 2),
    ],
)
def test_minutes_of_every_row_add_up_to_the_table(parts, off, on):
    """With fasteners, plugs and marks; at the battery the wait comes on top."""
    assert row("c", *parts) == (off, on)


@pytest.mark.parametrize(
    ("name", "in_full", "overlapped"),
    [
        (DASHBOARD, "358", "350"),  # 132 + 161 + 25 + 34, and 0.40 x 15; the glove box fills 8 of 10 minutes
        (GLOVE_BOX, "135", "125"),  # 49 + 49 + 34, and 0.50 x 6; glove box and duct fill the wait
        (COWL, "162.1", "152.1"),  # 55 + 59 + 8 + 34, and 0.30 x 12 + 0.25 x 10; so do wipers and cowl
    ],
)
def test_each_route_costs_what_the_table_says(name, in_full, overlapped):
    """With the wait counted in full, and with other work inside it."""
    full = planned("c", avoid=AVOID[name], no_setup=True, no_overlap=True)

    assert (through(full, "blower"), full.minutes) == (name, Fraction(in_full))
    assert (through(route(name), "blower"), route(name).minutes) == (name, Fraction(overlapped))


@pytest.mark.parametrize(("name", "more"), [(DASHBOARD, 0), (GLOVE_BOX, 0), (COWL, "2.5")])
def test_rust_seizes_the_wiper_arm_and_breaks_no_clip(name, more):
    """Twice the rust: 0.25 x 10 once more at the cowl, nothing elsewhere."""
    heavy = planned("c", avoid=AVOID[name], no_setup=True, rust="heavy")

    assert heavy.minutes == route(name).minutes + Fraction(more)


@pytest.mark.parametrize(
    ("variant", "without", "expected"),
    [
        (TWO_PIECE, (), GLOVE_BOX),
        (TWO_PIECE, ("airbags",), COWL),  # nobody trained for airbag work
        (ONE_PIECE, (), GLOVE_BOX),  # a housing that cannot be opened from above
        (TWO_PIECE, ("low-profile ratchet",), COWL),
        (TWO_PIECE, ("wiper-arm puller",), GLOVE_BOX),
        (ONE_PIECE, ("low-profile ratchet",), DASHBOARD),  # trained, two people
    ],
)
@pytest.mark.parametrize("no_setup", [True, False])
def test_each_shop_and_van_gets_its_cheapest_safe_route(variant, without, expected, no_setup):
    """Ways that cannot be done do not exist."""
    assert through(planned("c", variant, without=without, no_setup=no_setup), "blower") == expected


@pytest.mark.parametrize("without", [("airbags",), ("low-profile ratchet", "second person"), ("low-profile ratchet", "trestle")])
def test_a_one_piece_housing_may_leave_no_safe_route(without):
    """Nobody trained; or neither the small ratchet nor two people and trestles for the dashboard."""
    with pytest.raises(NoWay):
        solve_core(translated("c", ONE_PIECE, without=without).core, seconds=10)


def test_nobody_trained_and_a_one_piece_housing_want_a_person_trained_for_airbags():
    """Who opens the way beside the glove box."""
    state, untrained = with_variants(area("c"), None, [ONE_PIECE]), shop().without(["airbags"])
    sets = smallest_missing(area("c"), untrained, ["blower"], state)

    assert [list(map(str, one)) for one in sets] == [["certificate for airbags"]]
    assert through(planned("c", ONE_PIECE, shop=having(untrained, sets[0])), "blower") == GLOVE_BOX


def test_the_second_person_counts_once_and_is_there_for_both_lifts():
    """25 minutes, bundled at the dashboard; nowhere else."""
    entries = [entry for entry in route(DASHBOARD).translated.core["once"] if entry["id"].startswith("second person")]
    lifts = [(one.id, str(way.equipment[0])) for one, way in steps(route(DASHBOARD)) if one.name == "dashboard"]

    assert [entry["ops"] for entry in entries] == [[["dashboard: remove"]]]
    assert lifts == [("dashboard: remove", "second person"), ("dashboard: refit", "second person")]
    assert not route(GLOVE_BOX).does("dashboard: remove")


AIRBAG = {"airbag bracket", "airbag bracket screws", "yellow airbag plug"}


def test_airbag_work_is_for_certified_people_with_the_battery_off():
    """Out and back; the generic caution is there each time."""
    for found in (route(GLOVE_BOX), route(DASHBOARD), route(GLOVE_BOX, no_setup=False)):
        touched = [(levels, one) for levels, one in levels_at(found) if one.name in AIRBAG]
        assert len(touched) == 2 * len(AIRBAG)
        for levels, one in touched:
            assert levels["battery clamp"] == 1
            assert one.ways[0].certificates == ("airbags",)
            assert any(caution.startswith("airbag; battery off") for caution in one.cautions)


def test_no_airbag_work_begins_before_the_ten_minutes_are_over():
    """Nor is a plug of the blower pulled."""
    (wait,) = translated("c", no_setup=True).core["waits"]

    assert wait["after"] == ["battery clamp: remove"]
    assert {
        "airbag bracket screws: undo", "airbag bracket: swing", "yellow airbag plug: unplug",
        "blower motor plug: unplug", "power-module plug: unplug", "dashboard: remove",
    } <= set(wait["before"])  # fmt: skip


def test_the_bag_is_swung_up_at_once_and_its_plug_is_on_before_it_swings_down():
    """Nobody gets at the plug later, and the bag never hangs by its wires."""
    for found in (route(GLOVE_BOX), route(DASHBOARD), route(GLOVE_BOX, no_setup=False)):
        assert before(found, "airbag bracket: swing", "yellow airbag plug: unplug", "yellow airbag plug: plug in")
        assert before(found, "yellow airbag plug: plug in", "airbag bracket: refit", "battery clamp: refit")
    for found in (route(GLOVE_BOX, no_setup=False), route(DASHBOARD, no_setup=False)):
        assert found.position("airbag bracket: swing") == found.position("airbag bracket screws: undo") + 1


def test_the_battery_is_connected_after_every_plug():
    """The lamp of the glove box alone may come later."""
    plugs = [name for name, item in area("c").items.items() if item.kind == "plug" and name != "glove box lamp plug"]
    for found in plans():
        (levels,) = [levels for levels, one in levels_at(found) if one.id == "battery clamp: refit"]
        assert closed(levels, plugs)


def test_two_plugs_alike_are_marked_before_either_is_pulled():
    """They would fit each other's place."""
    for found in plans():
        for plug in ("blower motor plug", "power-module plug"):
            assert before(found, "plug marks: mark", f"{plug}: unplug")


def test_the_park_position_is_on_the_glass_before_a_wiper_arm_is_loosened():
    """Arms that are back in the wrong place hit the pillar."""
    for found in (route(COWL), route(COWL, no_setup=False)):
        assert before(found, "wiper marks: mark", "wiper-arm nuts: undo", "wiper arms: remove")


def test_the_dashboard_never_hangs_by_its_small_screws():
    """The frame bolts are out last and in first."""
    for found in (route(DASHBOARD), route(DASHBOARD, no_setup=False)):
        assert before(found, "dashboard screws: undo", "frame bolts: undo", "dashboard: remove")
        assert before(found, "dashboard: refit", "frame bolts: tighten", "dashboard screws: tighten")


def test_the_column_is_down_before_the_dashboard_comes_out():
    """Its minutes are among those of the dashboard."""
    assert before(route(DASHBOARD), "steering column: lower", "dashboard: remove")


def test_each_route_takes_its_new_parts_and_spares():
    """Coated screws of the airbag bracket, three trim clips, two push clips."""
    inside = {"airbag bracket screws": 3, "trim clips": 3}

    assert [used_up(route(name)) for name in AVOID] == [inside, inside, {"push clips": 2}]


def test_water_is_poured_over_the_cowl_when_it_was_off():
    """And only then."""
    test = {"pour water over the cowl and look for leaks inside"}

    assert [owed(route(name)) for name in AVOID] == [set(), set(), test]


TABLE = {
    "glove box screws": (5, "ST4.2x16", None, 1.4, False, "12 in-lb"),
    "trim clips": (4, "trim clip", None, None, False, None),
    "airbag bracket screws": (3, "M6x1.0x16", "8.8", 8, True, "71 in-lb"),
    "strut bolts": (2, "M8x1.25x22", "8.8", 25, False, "221 in-lb"),
    "wiper-arm nuts": (2, "M8x1.25", "8", 19, False, "168 in-lb"),
    "push clips": (6, "push clip", None, None, False, None),
    "linkage bolts": (3, "M6x1.0x22", "8.8", 8, False, "71 in-lb"),
    "filter housing screws": (6, "ST4.2x14", None, 1.4, False, "12 in-lb"),
    "blower screws": (3, "ST4.2x18", None, 1.4, False, "12 in-lb"),
    "frame bolts": (11, "M6x1.0x20", "8.8", 9, False, "80 in-lb"),
    "dashboard screws": (22, "ST4.2x16", None, 1.4, False, "12 in-lb"),
}


@pytest.mark.parametrize("name", TABLE)
def test_every_fastener_is_as_in_the_table(name):
    """In N·m, and in inch-pounds as the demo's table prints them by a general-purpose library of units."""
    *written, other = TABLE[name]

    assert groups("c")[name] == tuple(written)
    if other:
        inch_pounds = UNITS.Quantity(written[3], "newton * metre").to("inch * pound_force")
        assert f"{inch_pounds.magnitude:.0f} in-lb" == other


def test_the_strut_takes_the_low_profile_ratchet():
    """Out and back: no other tool gets between strut and bulkhead."""
    for one, way in steps(route(GLOVE_BOX)):
        if one.part == "strut":
            assert way.tools == (("13 mm socket", "low-profile ratchet"),)
