"""The quote of a job by its first plan: read back from the ledger, not planned again."""

import json
from time import perf_counter

import pytest
from desk_samples import THINKING, Desk, half_way_on_a

from putback import demo
from putback.area.area_file import read_area
from putback.area.shop_file import read_shop
from putback.desk.planning import Thinking
from putback.desk.quoted import quote_of, stored_sheet
from putback.errors import InputError
from putback.estimate.quote import make_quote
from putback.plan_json import plan_object
from putback.way.plan import plan
from putback.way.task import make_task


def task_of(letter: str):
    """The whole job on a demo car."""
    name = f"demo-{letter}.yaml"
    return make_task(read_area(demo.text(name), name), read_shop(demo.text("demo-shop.yaml"), "demo-shop.yaml"))


@pytest.mark.parametrize("letter", "abcd")
def test_a_stored_plan_is_the_sheet_that_it_was_made_from(letter):
    """Steps, minutes, money and the whole quote are the same; only how long the planner thought is not kept."""
    task = task_of(letter)
    sheet = plan(task, clock=perf_counter, seconds=20.0)
    again = stored_sheet(task, json.loads(json.dumps(plan_object(sheet))))
    assert (again.steps, again.minutes, again.money, again.due) == (sheet.steps, sheet.minutes, sheet.money, sheet.due)
    assert again.proved == sheet.proved
    assert make_quote(task, again).bill == make_quote(task, sheet).bill


@pytest.mark.parametrize("change", [{"way": "through the roof"}, {"id": "no such step"}, {"context": {}}])
def test_a_plan_that_does_not_fit_is_not_read_back(change):
    """Another area, or a step that breaks a rule: then it is planned anew."""
    task = task_of("d")
    stored = plan_object(plan(task, clock=perf_counter, seconds=20.0))
    stored["steps"][0] |= change
    assert stored_sheet(task, stored) is None


def test_what_was_quoted_stays_whatever_comes_after(tmp_path):
    """By the first plan, with the most that was agreed at the opening; no planner is asked."""
    with Desk(tmp_path) as desk:
        desk.open("a", cap=76000)
        desk.plan()
        before = quote_of(desk.ledger, desk.look(), never())
        half_way_on_a(desk)
        desk.plan()
        after = quote_of(desk.ledger, desk.look(), never())
    assert after.bill == before.bill
    assert float(after.consent.cap.most) == 76000


def never() -> Thinking:
    """A planner that must not think."""

    def clock() -> float:
        raise AssertionError("it was planned again")

    return Thinking(clock, 0.0)


def test_without_a_plan_there_is_nothing_to_quote(tmp_path):
    """One sentence, for a car that is described and one that is not."""
    with Desk(tmp_path) as desk:
        desk.open("a")
        with pytest.raises(InputError, match="nothing is planned yet"):
            quote_of(desk.ledger, desk.look(), THINKING)
