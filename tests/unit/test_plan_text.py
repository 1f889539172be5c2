"""The printed plan: what a technician reads, at 80 columns, without colour."""

import re
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
from area_samples import HEAD, SHOP, area, shop
from sheet_samples import UNDER, WORK, from_above, from_under, under_way

from putback import plan_text
from putback.plan_text import clock_time, minutes, money, plan_lines, way_in_lines
from putback.way.plan import plan_way
from putback.way.sheet import Sheet
from reference import demo_a, demos

SMALL = [from_above, from_under]


@cache
def demo() -> Sheet:
    return plan_way(demo_a.area(), demo_a.shop())


@cache
def lines() -> list[str]:
    return list(plan_lines(demo()))


def phase(name: str, following: str) -> str:
    text = "\n".join(lines())
    return text[text.index(f"\n{name} ") : text.index(f"\n{following}")]


# --- figures --------------------------------------------------------------------------------------


def test_money_is_rounded_to_the_cent():
    """Below, at and above the half; half a cent goes away from zero, and what rounds to nothing has no sign."""
    cents = [Fraction(text) for text in ("1234.4", "1234.5", "1234.6", "0", "-0.4", "-1234.5")]
    assert [money(value) for value in cents] == ["12.34", "12.35", "12.35", "0.00", "0.00", "-12.35"]


def test_minutes_are_rounded_to_a_tenth_halves_up():
    """Below, at and above the half."""
    assert [minutes(Fraction(text)) for text in ("0.04", "0.05", "0.06", "12")] == ["0.0", "0.1", "0.1", "12.0"]


@pytest.mark.parametrize(
    ("value", "told"),
    [("59.4", "59 min"), ("59.5", "1 h 00 min"), ("60", "1 h 00 min"), ("61", "1 h 01 min"), ("278.2", "4 h 38 min")],
)
def test_a_long_time_is_told_in_hours(value, told):
    """From an hour on, rounded to the minute first."""
    assert clock_time(Fraction(value)) == told


# --- the whole sheet ------------------------------------------------------------------------------


@pytest.mark.parametrize("sheet", [*SMALL, demo])
def test_no_line_is_longer_than_80_columns(sheet):
    """It fits a terminal and a sheet of paper in fixed pitch."""
    assert [line for line in plan_lines(sheet()) if len(line) > 80 or line != line.rstrip()] == []


def test_long_names_are_broken_rather_than_run_over():
    """Job work, an area and a follow-up with names of 200 letters and no end of words."""
    sheet = from_under()
    long = " ".join(["endlessly"] * 20)
    work = tuple(replace(one, name=long) for one in sheet.job_work)
    longer = replace(sheet, job_work=work, due=((long, Fraction(1)),), area=replace(sheet.area, name=long + "x" * 100))

    assert max(map(len, plan_lines(longer))) <= 80


def test_the_head_says_what_it_comes_to_and_whether_it_is_proved():
    """The figures are those of the sheet: 44 minutes and 147.00."""
    head = list(plan_lines(from_under()))[:8]
    assert head == [
        "PUMP: THE WAY IN AND THE WAY BACK",
        "sample; sample shop",
        "",
        "147.00, parts and labour, before tax",
        "44 min expected (44.0 min, risks and set-up included)",
        "Proved: no other way and no other order costs less.",
        "The vehicle maker's instructions and figures come before everything here.",
        "",
    ]


def test_a_gap_is_told_in_percent():
    """A plan that is not proved says how much could still be saved."""
    text = "\n".join(plan_lines(replace(from_above(), proved=False, gap=Fraction(34, 1000))))
    assert "Not proved cheapest: at most 3.4 % could still be saved." in text


def test_without_money_no_amount_is_told():
    """Minutes only."""
    assert "before tax" not in "\n".join(plan_lines(replace(from_above(), money=None)))


def test_the_shops_currency_stands_with_the_amount():
    """Where the shop names one."""
    sheet = from_above()
    sheet = replace(sheet, shop=replace(sheet.shop, currency="EUR"))
    assert "113.00 EUR, parts and labour, before tax" in list(plan_lines(sheet))


def test_the_way_back_ends_with_the_car_on_the_ground():
    """Lowering is told even where no step follows, with its minutes and its caution."""
    text = "\n".join(plan_lines(from_under()))
    assert re.search(r"\n  >> LOWER THE CAR TO THE GROUND +2\.0\n       ! nobody and nothing under it", text)


def test_lifting_is_told_with_its_caution_before_the_first_step_under_the_car():
    """A car that is up already is not lifted again."""
    text = "\n".join(plan_lines(from_under()))
    order = [">> LIFT THE CAR", "! handbrake on, and chocks", "! arms at the vehicle maker's lifting points", "   1 remove"]
    assert sorted(order, key=text.index) == order
    assert ">> LIFT" not in "\n".join(plan_lines(under_way("posture: on a lift\n")))


def test_stands_are_told_of_with_handbrake_chocks_and_lifting_points():
    """Trial: a plan said to jack the car up, and not one word of chocks. Where nobody has a lift."""
    stands = SHOP.replace("on a lift: 3 min up, 2 min down", "on stands: 9 min up, 7 min down")
    stands = stands.replace("{two-post lift: 1}", "{floor jack: 1, axle stand: 4}")
    text = "\n".join(plan_lines(plan_way(area(UNDER, HEAD + WORK), shop(base=stands))))
    order = [">> JACK THE CAR UP", "handbrake on, chocks at the wheels", "vehicle maker's lifting points", "nobody under it"]
    assert sorted(order, key=text.index) == order


def test_a_car_that_never_leaves_the_ground_is_neither_lifted_nor_lowered():
    """An area without postures prints as well."""
    assert ">>" not in "\n".join(plan_lines(from_above()))


def test_a_wait_is_told_ahead_of_the_step_that_waits():
    """Eleven of the twelve minutes: the change of tool took one."""
    text = list(plan_lines(from_under()))
    place = text.index("  >> not before 12.0 min after step 1 are over; wait, 11.0 min of it are left")
    assert text[place + 2].startswith("   2 undo the 2 pump bolts")


def test_a_wait_that_other_work_fills_is_told_all_the_same():
    """Who works faster than planned must not open what has to wait."""
    sheet = plan_way(demos.area("c"), demo_a.shop())
    text = "\n".join(plan_lines(sheet))

    assert [step.wait for step in sheet.steps if step.wait] == []
    assert "  >> not before 10.0 min after step 2 are over\n   8 set the plug marks" in text


def test_waits_in_full_are_told_where_they_begin():
    """Ten minutes behind the battery clamp, when no work is to fill them."""
    text = list(plan_lines(plan_way(demos.area("c"), demo_a.shop(), no_overlap=True)))
    place = next(n for n, line in enumerate(text) if "remove the battery clamp" in line)

    assert "  >> then wait 10.0 min" in text[place : place + 4]


def test_parts_and_tools_stand_before_the_first_step():
    """Whoever starts has them at hand."""
    text = "\n".join(plan_lines(from_under()))
    order = ["NEW PARTS TO HAVE", "2 x pump bolts", "TO LAY OUT", "13 mm socket", "two-post lift", "FIRST", "WAY IN  "]
    places = [text.index(words) for words in order]
    assert places == sorted(places)


def test_tools_that_differ_in_size_alone_stand_together():
    """8, 10 mm socket, but not a T25 bit and a T30 bit, which are names."""
    together = plan_text.sizes_together(["T25 bit", "8 mm socket", "10 mm socket", "5 mm hex key"])
    assert together == ["T25 bit", "8, 10 mm socket", "5 mm hex key"]


def test_the_way_in_alone_ends_before_the_swap():
    """What goes on from a car that differs."""
    text = "\n".join(way_in_lines(from_under()))
    assert "remove the pump" in text
    assert "SWAP" not in text
    assert "refit the pump" not in text


# --- fasteners, on the demo -----------------------------------------------------------------------


def fastener_steps(direction: str) -> list[str]:
    steps = [step for step in demo().steps if step.operation and step.operation.fastener]
    return [step.operation.item for step in steps if step.operation.direction == direction]


def test_every_fastener_is_undone_once_and_done_up_once():
    """Each group that comes out goes back in, in as many steps: 17 groups, of which the wheel bolts take two steps."""
    out, back = fastener_steps("out"), fastener_steps("back")

    assert sorted(out) == sorted(back)
    assert len(set(out)) == 17
    assert [item for item in set(out) if out.count(item) > 1] == ["wheel bolts"]


@pytest.mark.parametrize("item", sorted(set(fastener_steps("out"))))
def test_each_fastener_is_named_on_the_way_in_and_on_the_way_back(item):
    """As often as it has steps there."""
    often = fastener_steps("out").count(item)
    for part in (phase("WAY IN", "SWAP"), phase("WAY BACK", "LAST")):
        steps = [line for line in part.splitlines() if re.match(r" *\d+ ", line)]
        assert sum(bool(re.search(rf"\b{item}\b", line)) for line in steps) == often


def test_left_hand_is_said_both_times():
    """The idler bolt: clockwise off, anticlockwise on."""
    assert phase("WAY IN", "SWAP").count("LEFT-HAND THREAD: undo clockwise") == 1
    assert phase("WAY BACK", "LAST").count("LEFT-HAND THREAD: tighten anticlockwise, to 43 N·m") == 1


def test_the_torque_stands_at_the_last_tightening_only():
    """The wheel bolts are run in on the lift and tightened on the ground."""
    run_in, tightened = phase("WAY BACK", "LAST").split("tighten the 4 wheel bolts finally")
    assert "104 N·m" not in run_in
    assert "to 104 N·m in 2 passes, cross pattern" in tightened
    assert "N·m" not in phase("WAY IN", "SWAP")


def test_cautions_are_shown():
    """Those of hazards and those of the file."""
    text = "\n".join(lines())
    for words in ("! the stud stands in plastic", "! connected to the battery; disconnect it first", "! heavy; carry it"):
        assert words in text


def test_new_fasteners_are_marked_on_the_way_back():
    """One-time nuts are not used again."""
    assert "to 77 N·m, NEW" in phase("WAY BACK", "LAST")
    assert "not to be used again" in phase("WAY IN", "SWAP")


def test_what_a_support_takes_stands_where_it_is_fitted():
    """The bar is named, and the hands that fit it are not."""
    [line] = [line for line in lines() if "put the engine support in" in line]
    assert "engine support bar" in line
    assert "bare hands" not in line
