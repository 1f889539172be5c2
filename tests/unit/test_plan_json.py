"""The plan for other programs: plain values, with the same figures as the sheet."""

import json
import re
from collections.abc import Iterator
from functools import cache
from time import perf_counter

from sheet_samples import from_above, from_under

from putback.area.order_file import read_order
from putback.plan_json import no_way_object, others_object, plan_object, priced_object
from putback.way.alternatives import alternatives
from putback.way.from_area_stuck import stuck
from putback.way.no_way import NoSafeWay
from putback.way.one_more import savings
from putback.way.openings import openings
from putback.way.plan import plan, plan_way
from putback.way.price_order import price_order
from putback.way.task import make_task
from reference import demo_a


@cache
def demo() -> dict:
    return plan_object(plan_way(demo_a.area(), demo_a.shop()))


def test_it_is_plain_json():
    """What goes out comes back the same."""
    for told in (demo(), plan_object(from_above())):
        assert json.loads(json.dumps(told, allow_nan=False)) == told


def test_totals_are_minutes_and_money_before_tax():
    """44 minutes; 44.00 of labour, 100.00 and 3.00 of parts."""
    told = plan_object(from_under())
    assert (told["minutes"], told["money"], told["proved"], told["gap"]) == (44, 147, True, 0)


def test_whole_numbers_stay_whole():
    """13, not 13.0; a tenth is a tenth."""
    assert repr(plan_object(from_above())["minutes"]) == "13"
    assert repr(demo()["minutes"]) == "278.2"


def test_the_minutes_of_all_parts_add_up():
    """Steps, set-up, waits, job work and what the end takes: 44."""
    told = plan_object(from_under())
    steps = sum(step.get("minutes", 0) + step["set_up_minutes"] + step["wait_minutes"] for step in told["steps"])
    assert steps + sum(one["minutes"] for one in [*told["job_work"], *told["ending"]]) == 44


def test_steps_stand_in_order_and_tell_their_direction():
    """In, swap, back; numbered from 1."""
    steps = plan_object(from_above())["steps"]
    assert [(step["number"], step["direction"]) for step in steps] == [
        (1, "in"), (2, "in"), (3, "swap"), (4, "back"), (5, "back"),
    ]  # fmt: skip


def test_the_torque_stands_at_the_last_tightening_only_and_says_its_source():
    """Undoing has none, running in has none."""
    told = {step["id"]: (step["torque"], step["torque_source"]) for step in demo()["steps"] if "torque" in step}
    assert told["wheel bolts: tighten finally"] == ("104 N·m in 2 passes", "invented for this demo")
    assert told["wheel bolts: run in"][0] is None
    assert told["wheel bolts: break loose"] == (None, None)


def test_raising_and_lowering_are_told_with_their_cautions():
    """Before the first step under the car, and behind the last; nowhere else."""
    told = plan_object(from_under())
    moved = [step["car"]["text"] for step in told["steps"] if step["car"]]
    [ending] = told["ending"]

    assert (moved, ending["car"]["text"]) == (["lift the car"], "lower the car to the ground")
    assert all("handbrake" in " ".join(car["cautions"]) for car in (told["steps"][0]["car"], ending["car"]))
    assert "lifting points" in " ".join(told["steps"][0]["car"]["cautions"])


def test_what_to_have_before_the_start_is_told():
    """Parts with the price of each, tools, equipment."""
    told = plan_object(from_under())
    assert told["new_parts"] == [
        {"name": "pump", "each": 100, "count": 1},
        {"name": "pump bolts", "each": 1.5, "count": 2},
    ]
    assert (told["tools"], told["equipment"]) == (["13 mm socket"], ["two-post lift"])


def test_what_is_owed_and_what_is_not_possible_is_told():
    """A follow-up of no minutes; ways that the shop has not the means for, each with its reason."""
    assert plan_object(from_under())["owed"] == [{"name": "look for leaks after a day", "minutes": 0}]
    assert all(one["operation"] and one["reason"] for one in demo()["not_possible_here"])


def test_every_key_is_told_of(root):
    """What `--json` prints has its meaning on the page: a plan, other ways, a given order, and a no."""
    task = make_task(demo_a.area(), demo_a.shop().without(["support table"]))
    best = plan(task)
    order = read_order((root / "docs/examples/manual-order.yaml").read_bytes(), "order.yaml", demo_a.area())
    nothing = make_task(demo_a.area(), demo_a.shop().without(["trim fork"]))
    printed = [
        plan_object(best),
        others_object(alternatives(task, best), savings(task, best)),
        priced_object(price_order(make_task(demo_a.area(), demo_a.shop()), order, clock=perf_counter, seconds=0.01)),
        no_way_object(NoSafeWay(nothing, stuck(nothing.missing()), openings(nothing), "")),
    ]
    page = (root / "docs/plan-json.md").read_text(encoding="utf-8")

    assert {key for told in printed for key in keys(told)} - set(re.findall(r"`(\w+)`", page)) == set()


def keys(told) -> Iterator[str]:
    """Every key, however deep; settings have names of their own."""
    if isinstance(told, dict):
        for key, value in told.items():
            yield key
            yield from () if key == "context" else keys(value)
    elif isinstance(told, list):
        for one in told:
            yield from keys(one)
