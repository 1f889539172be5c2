"""What no plan may ever do, and how totals move when a problem is made harder or easier.

The checks here are a third reading of docs/core-problem.md, beside the replay and the brute force: each looks
at one rule alone, in the plainest words it can be said in.
"""

from copy import deepcopy
from math import inf

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from property.strategies import anything, core_problems, core_problems_2, cores_and_pools, cores_and_ways, spoiled_plans
from putback.errors import InputError
from putback.way.replay import replay
from referees import planner

EXAMPLES = settings(max_examples=20)


def moments(core: dict, plan: list):
    """For each step of a plan of version 2: the step, the levels before it and after it."""
    ops = {op["id"]: op for op in core["ops"]}
    levels = {name: item.get("start", 0) for name, item in core["items"].items()}
    for step in plan:
        before = dict(levels)
        if step[0] in ops:
            op = ops[step[0]]
            levels[op["item"]] += 1 if op["dir"] == "out" else -1
        yield step, before, dict(levels)


def way_of(core: dict, step: list) -> dict:
    return next(op for op in [*core["ops"], *core["swaps"]] if op["id"] == step[0])["ways"][step[1]]


def within(ranges: dict, levels: dict) -> bool:
    return all(low <= levels[item] <= high for item, (low, high) in ranges.items())


def planned(core: dict) -> list:
    plan = planner.solve(core)["plan"]
    assume(plan is not None)
    return plan


def total(core: dict) -> float:
    found = planner.solve(core)["total"]
    return inf if found is None else found


@EXAMPLES
@given(core_problems())
def test_every_plan_is_right_and_costs_what_it_says(core):
    """The replay finds nothing broken, and the same figures; what is proved has no gap."""
    found = planner.solve(core)
    assume(found["plan"] is not None)

    done = replay(core, found["plan"])

    assert done.broken == ()
    assert (done.total, done.changes) == (found["total"], found["changes"])
    assert found["lower"] <= found["total"]
    assert found["proved"] == (found["lower"] == found["total"])


@EXAMPLES
@given(core_problems_2())
def test_no_plan_breaks_a_need(core):
    """Just before each step every item its way needs stands within its range."""
    for step, before, _ in moments(core, planned(core)):
        assert within(way_of(core, step).get("needs", {}), before)


@EXAMPLES
@given(core_problems_2())
def test_no_plan_works_in_a_value_whose_needs_fail(core):
    """A car that stands on its wheels has them on, before a step and after it."""
    for step, before, after in moments(core, planned(core)):
        for dim in core["dims"]:
            needs = dim.get("needs", {}).get(step[2][dim["name"]], {})
            assert within(needs, before)
            assert within(needs, after)


@EXAMPLES
@given(core_problems_2())
def test_no_plan_holds_more_equipment_than_there_is(core):
    """Items, values and the way itself together, before a step and after it."""
    for step, before, after in moments(core, planned(core)):
        for levels in (before, after):
            for pool in ("jack", "stand"):
                assert held(core, step, levels, pool) <= core["pools"].get(pool, 0)


def held(core: dict, step: list, levels: dict, pool: str) -> int:
    by_items = [item.get("holds", {}).get(str(levels[name]), {}) for name, item in core["items"].items()]
    by_values = [dim.get("holds", {}).get(step[2][dim["name"]], {}) for dim in core["dims"]]
    return sum(holds.get(pool, 0) for holds in [*by_items, *by_values, way_of(core, step).get("uses", {})])


@EXAMPLES
@given(core_problems_2())
def test_no_plan_ends_with_anything_displaced(core):
    """Every item ends within its goal, and every swap is done, once."""
    plan = planned(core)
    levels = {name: item.get("start", 0) for name, item in core["items"].items()}
    for _, _, after in moments(core, plan):
        levels = after

    assert within({name: item.get("goal", [0, 0]) for name, item in core["items"].items()}, levels)
    swaps = {swap["id"] for swap in core["swaps"]}
    assert sorted(step[0] for step in plan if step[0] in swaps) == sorted(swaps)


@EXAMPLES
@given(core_problems())
def test_the_same_problem_gives_the_same_plan(core):
    """Solved twice, to the last step."""
    assert planner.solve(core) == planner.solve(deepcopy(core))


@EXAMPLES
@given(core_problems())
def test_solving_leaves_the_problem_as_it_was(core):
    """The caller's problem is read, never written."""
    before = deepcopy(core)

    found = planner.solve(core)
    replay(core, found["plan"] or [])

    assert core == before


@EXAMPLES
@given(cores_and_pools())
def test_more_equipment_never_costs_more(core_and_pool):
    """One more of anything opens ways and closes none."""
    core, pool = core_and_pool
    richer = core | {"pools": core["pools"] | {pool: core["pools"][pool] + 1}}

    assert total(richer) <= total(core)


@EXAMPLES
@given(cores_and_ways())
def test_a_way_taken_away_never_saves(core_and_way):
    """And so a way that is added never costs; the once-only costs are taken along, as they count the ways."""
    core, place, way = core_and_way

    assert total(without_way(core, place, way)) >= total(core)


def without_way(core: dict, place: int, way: int) -> dict:
    poorer = deepcopy(core)
    name = poorer["ops"][place]["id"]
    del poorer["ops"][place]["ways"][way]
    for once in poorer["once"]:
        once["ops"] = [counted for owed in once["ops"] for counted in recounted(owed, name, way)]
    return poorer


def recounted(owed: list, name: str, gone: int) -> list:
    if owed[0] != name or len(owed) == 1:
        return [owed]
    return [] if owed[1] == gone else [[name, owed[1] - (owed[1] > gone)]]


@EXAMPLES
@given(core_problems_2(), st.sampled_from(["waits", "once", "fixed"]))
def test_what_only_costs_is_no_loss_when_it_goes(core, key):
    """Without its waits, its once-only costs or its fixed work a job takes no more."""
    assert total(core | {key: []}) <= total(core)


@EXAMPLES
@given(core_problems_2(), st.integers(2, 5))
def test_money_scales(core, factor):
    """With every cost and the rate in smaller coins, the same plans cost as many times more."""
    finer = deepcopy(core)
    finer["rate"] *= factor
    charged = [*finer["ops"], *finer["swaps"], *finer["fixed"]]
    charged += [way for op in [*finer["ops"], *finer["swaps"]] for way in op["ways"]]
    charged += [offer for once in finer["once"] for offer in once["offers"]]
    for raw in charged:
        raw["cost"] = raw.get("cost", 0) * factor

    assert total(finer) == total(core) * factor


@EXAMPLES
@given(spoiled_plans())
def test_the_replay_raises_for_no_plan(core_and_plan):
    """Whatever stands in a plan is carried out or reported, and the figures agree with each other."""
    core, plan = core_and_plan

    done = replay(core, plan)

    assert done.total >= core["rate"] * done.time
    assert done.idle <= done.time
    assert len(done.steps) <= len(plan)
    assert all(isinstance(sentence, str) for sentence in done.broken)


@EXAMPLES
@given(core_problems_2(), st.data())
def test_the_replay_refuses_a_spoiled_problem_with_one_sentence(core, data):
    """Any part may be replaced by anything: it is read all the same, or refused as an input error in one line."""
    place, key = data.draw(st.sampled_from(list(places(core))))
    place[key] = data.draw(anything())
    try:
        replay(core, [])
    except InputError as refused:
        assert "\n" not in str(refused)


def places(raw):
    """Every place in a problem: the mapping or list, and the key."""
    keys = raw.keys() if isinstance(raw, dict) else range(len(raw))
    for key in keys:
        yield raw, key
        if isinstance(raw[key], dict | list):
            yield from places(raw[key])


@pytest.mark.slow
@settings(max_examples=300)
@given(core_problems())
def test_every_plan_is_right_on_hundreds(core):
    """The first property again, on hundreds."""
    found = planner.solve(core)
    assume(found["plan"] is not None)

    done = replay(core, found["plan"])

    assert (done.broken, done.total, done.changes) == ((), found["total"], found["changes"])
