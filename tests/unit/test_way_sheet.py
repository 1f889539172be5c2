"""A sheet says what the plan says, in words, minutes and money that add up."""

from dataclasses import replace
from fractions import Fraction

import pytest
from area_samples import PUMP, area, shop
from sheet_samples import from_above, from_under, under_way

from putback.errors import InputError, NoWay
from putback.way.plan import plan_way


def test_minutes_and_money_are_those_worked_out_by_hand():
    """4 off, 6 on, and the tool changed three times at 1 minute; 1.00 a minute and the new pump for 100.00."""
    sheet = from_above()

    assert (sheet.minutes, sheet.money) == (13, 11300)
    assert (sheet.likely.low, sheet.likely.likely, sheet.likely.high) == (10, 10, 10)
    assert (sheet.proved, sheet.gap) == (True, 0)


def test_all_minutes_of_a_sheet_add_up_to_its_total():
    """Steps 12, set-up 5 + 1 + 1 + 1 + 1, wait 11, job work 10, lowering 2."""
    sheet = from_under()
    parts = [sheet.likely.likely, sum(step.set_up for step in sheet.steps), sum(step.wait for step in sheet.steps)]
    work = sum(work.minutes.likely for work in sheet.job_work)
    lowering = sum(time for _, _, time in sheet.ending)

    assert [*parts, work, lowering] == [12, 9, 11, 10, 2]
    assert sum(parts) + work + lowering == sheet.minutes == 44


def test_steps_are_numbered_and_say_what_changes_before_them():
    """The first step comes after lifting the car and going under it."""
    first, second, third, *_ = from_under().steps

    assert (first.number, first.text, first.changes) == (1, "remove the drain plug", ("vantage", "posture"))
    assert (second.text, second.changes, second.wait) == ("undo the 2 pump bolts", ("tool",), 11)
    assert (third.text, third.set_up) == ("remove the pump", 1)


def test_the_reason_leads_to_the_target():
    """The plug is in the way of the pump; the pump itself needs no reason."""
    assert [step.reason for step in from_under().steps[:3]] == [("pump",), (), ()]


def test_the_swap_has_no_operation():
    """It is a step of its own, with words of its own."""
    [swap] = [step for step in from_above().steps if step.operation is None]
    assert (swap.text, swap.way) == ("swap pump: old and new side by side, then the new one", None)


def test_what_the_last_step_leaves_is_told():
    """The car is lowered at the end; where it never left the ground nothing is."""
    assert (from_above().ending, from_under().ending) == ((), (("posture", "on the ground", Fraction(2)),))


def test_a_job_under_way_has_no_work_that_is_done_and_all_that_was_added():
    """The look-over is done, mending the thread was added; 34 minutes by hand, the rest of the wait included."""
    # set-up 2 + 1, wait 4 - 3, bolts 2, pump 1 + 2, compare 2, pump 3, bolts 1 + 3, plug 1 + 1, down 2, after 5 + 7
    sheet = under_way(
        "posture: on a lift\ndone: [look it over]\nadded work: {mend the thread: 7 min}\n"
        "now: {drain plug: off}\nstill to wait: {drain plug: 4 min}\n"
    )
    assert [work.name for work in sheet.job_work] == ["compare", "mend the thread", "try it out"]
    assert sheet.minutes == 34
    assert sheet.steps[0].wait == 1


def test_what_is_owed_from_before_stays_owed():
    """The pump is off already, so no step of this plan takes it off; the leaks are still to be looked for."""
    sheet = under_way("swapped: yes\nposture: on a lift\nnow: {drain plug: off, pump: off}\n")

    assert sheet.due == from_under().due == (("look for leaks after a day", 0),)
    assert [step.text for step in sheet.steps] == [
        "refit the pump", "tighten the 2 pump bolts", "refit the drain plug",
    ]  # fmt: skip


def test_without_a_labour_rate_there_is_no_money():
    """A total of parts alone would be taken for the price of the job."""
    sheet = plan_way(area(PUMP), replace(shop(), labour=Fraction(0)), by="minutes")
    assert (sheet.minutes, sheet.money) == (13, None)


@pytest.mark.parametrize("by", ["money", "minutes"])
def test_both_totals_are_told_whatever_is_saved(by):
    """With one way only, both aims give one plan."""
    sheet = plan_way(area(PUMP), shop(), by=by)
    assert (sheet.by, sheet.minutes, sheet.money) == (by, 13, 11300)


def test_the_gap_is_the_share_that_could_still_be_saved():
    """Stopped after its first plan the planner says how much it does not know; the bound is below the total."""
    sheet = plan_way(area(PUMP), shop(), nodes=1)
    assert sheet.gap == Fraction(sheet.solved.total - sheet.solved.lower, sheet.solved.total)
    assert 0 <= sheet.gap < 1


def test_no_way_names_what_is_stuck_and_what_would_open_one():
    """Without the socket the bolts stay in."""
    with pytest.raises(NoWay) as caught:
        plan_way(area(PUMP), shop(), without=["13 mm socket"])
    assert str(caught.value).startswith("no safe way to the pump in sample shop: ")
    assert caught.value.missing == ("13 mm socket",)


@pytest.mark.parametrize("names", [{"targets": ["pmup"]}, {"avoid": ["pmup"]}, {"without": ["13 mm sokcet"]}])
def test_a_name_that_is_not_known_is_refused(names):
    """Targets, parts to avoid and things to do without are all looked up."""
    with pytest.raises(InputError, match="did you mean"):
        plan_way(area(PUMP), shop(), **names)
