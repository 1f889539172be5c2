"""Where the minutes and the money of plans go, and what makes one dearer than another."""

from dataclasses import astuple, replace
from fractions import Fraction

import pytest
from area_samples import HEAD, area, shop
from sheet_samples import UNDER, WORK, from_above, from_under

from putback.way.breakdown import breakdown
from putback.way.compare import difference, reason
from putback.way.plan import plan_way
from reference import demo_a


def test_a_plan_is_taken_apart():
    """By hand: plug 1 + 1, pump 4 + 6; 9 of set-up and 2 of lowering; the wait of 12 less the tool change in it."""
    told = breakdown(from_under())

    assert (told.steps, told.risks, told.set_up) == (12, 0, 11)
    assert told.waits == 11
    assert told.job_work == 10
    assert (told.due, told.bought) == (0, 10300)


def test_a_wait_counted_in_full_is_due_once():
    """No work runs inside: no step waits, and the 12 minutes are owed."""
    told = breakdown(plan_way(area(UNDER, HEAD + WORK), shop(), no_overlap=True))
    assert told.waits == 0
    assert told.due + told.set_up + told.steps + told.job_work == 45


@pytest.mark.parametrize(
    "sheet",
    [
        from_above,
        from_under,
        lambda: plan_way(demo_a.area(), demo_a.shop()),
        lambda: plan_way(demo_a.area(), demo_a.shop(), by="minutes", rust="heavy"),
        lambda: plan_way(demo_a.area(), demo_a.shop(), avoid=["engine", "left drive shaft"]),
        lambda: plan_way(demo_a.area(), demo_a.shop(), state=demo_a.mount_nut_seized()),
    ],
)
def test_the_parts_of_a_plan_add_up_to_its_totals(sheet):
    """Minutes to the last fraction; money is minutes at the labour rate and what is bought."""
    sheet = sheet()
    *minutes, bought = astuple(breakdown(sheet))

    assert sum(minutes) == sheet.minutes
    assert sheet.shop.labour * sheet.minutes / 60 + bought == sheet.money
    assert all(one >= 0 for one in minutes)


def test_the_parts_of_a_difference_add_up_to_it():
    """Work, risks, set-up and waits make the minutes; these and what is bought the money."""
    best = plan_way(demo_a.area(), demo_a.shop())
    other = plan_way(demo_a.area(), demo_a.shop(), avoid=["engine"])
    more = difference(other, best)

    assert more.work + more.risks + more.set_up + more.waits == more.minutes == other.minutes - best.minutes
    assert demo_a.shop().labour * more.minutes / 60 + more.bought == more.money == other.money - best.money


def test_the_routes_of_demo_a_differ_as_its_table_says():
    """Below against above: 84 + 116 + 51 of work for 91 + 109, risks 7.2 for 0.5, parts 29.50 for 5.80 less."""
    best = plan_way(demo_a.area(), demo_a.shop(), avoid=["subframe", "left drive shaft"], no_setup=True)
    other = plan_way(demo_a.area(), demo_a.shop(), avoid=["engine", "left drive shaft"], no_setup=True)
    more = difference(other, best)

    assert (more.work, more.risks, more.set_up) == (51, Fraction("6.7"), 0)
    assert more.bought == 2950 - 580
    assert reason(other, best) == (
        "51.0 min of work, 6.7 min of what rust and breakage take on average, 23.70 for parts and work given out"
    )


def test_without_a_labour_rate_there_is_no_money():
    """Neither in the breakdown nor in the difference."""
    free = plan_way(area(UNDER, HEAD + WORK), replace(shop(), labour=Fraction(0)), by="minutes")
    assert breakdown(free).bought == 0
    assert difference(free, free).money is None


def reshaped(sheet, cents: Fraction, changes: int = 0):
    """A sheet that is dearer by some cents, with more changes of tool or place."""
    solved = replace(sheet.solved, changes=sheet.solved.changes + changes)
    return replace(sheet, money=sheet.money + cents, solved=solved)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (0, "costs the same; either will do"),
        (1, "costs the same; changes tool or place once more"),
        (2, "costs the same; changes tool or place 2 times more"),
    ],
)
def test_a_tie_is_told(changes, words):
    """The same worth: by the changes, else by the file."""
    assert reason(reshaped(from_above(), Fraction(0), changes), from_above()) == words


def test_a_difference_too_small_to_show_is_told_as_such():
    """Less than a cent."""
    assert reason(reshaped(from_above(), Fraction(1, 3)), from_above()) == "dearer by less than can be shown"


@pytest.mark.parametrize(
    ("cents", "words"), [(Fraction(99, 100), ""), (Fraction(1), "0.01 for"), (Fraction(101, 100), "0.01 for")]
)
def test_money_is_told_from_a_cent_on(cents, words):
    """Below, at and above one cent."""
    assert reason(reshaped(from_above(), cents), from_above()).startswith(words or "dearer by less")
