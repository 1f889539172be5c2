"""The whole search: a plan at once, a proof in the end, and the truth about what lies between."""

import json

import pytest
from core_samples import TOOL, awkward_box, box, core, op, problem

from putback.errors import NoWay
from putback.way.replay import replay
from putback.way.search import find_way, may_detour

SHOPS = ["shop_10_1", "shop_25_1", "dense_6_1"]


@pytest.fixture(params=SHOPS)
def large(request, root) -> dict:
    return json.loads((root / "tests" / "data" / "way" / f"{request.param}.json").read_text(encoding="utf-8"))


def test_the_cheapest_way_is_found_and_proved():
    """The box: 13, by hand."""
    found = find_way(problem(box()))
    assert (found.total, found.lower, found.changes, found.proved) == (13, 13, 3, True)
    assert [name for name, _, _ in found.steps] == ["lid out", "part out", "swap", "part back", "lid back"]


@pytest.mark.parametrize(("extra", "total", "is_off"), [(3, 11, False), (4, 13, False), (5, 13, True)])
def test_one_more_part_off_may_be_cheaper_than_an_awkward_reach(extra, total, is_off):
    """Past the lid: 2 steps of 1, 1 change of 3, twice the extra. With the lid: 13.

    At 3 the reach costs 11 and wins; at 4 both cost 13, and the one with fewer changes wins; at 5 the lid comes off.
    """
    found = find_way(problem(awkward_box(extra)))
    assert (found.total, found.proved) == (total, True)
    assert ("lid out" in [name for name, _, _ in found.steps]) is is_off


def test_plans_come_before_the_proof_and_only_get_better(large):
    """Each one told is cheaper than the one before, has no bound above it, and is a plan by the rules."""
    told = []
    found = find_way(problem(large), on_plan=told.append)

    assert told
    assert [plan.total for plan in told] == sorted((plan.total for plan in told), reverse=True)
    assert all(plan.lower <= plan.total for plan in told)
    assert max(plan.lower for plan in told) <= found.total == told[-1].total
    assert found.proved
    assert told[0].nodes < found.nodes


@pytest.mark.parametrize("nodes", [1, 10, 100, 1000])
def test_a_plan_under_a_limit_is_never_worse_than_it_says(large, nodes):
    """The true least lies between the stated bound and the total; the plan keeps to the rules and costs what it says."""
    version = large.get("core", 1)
    limited, whole = find_way(problem(large), nodes=nodes), find_way(problem(large))

    assert limited.lower <= whole.total <= limited.total
    assert not limited.proved or limited.lower == limited.total
    steps = [[name, way, values[2]] for name, way, values in limited.steps]
    assert version == 1
    walked = replay(large, steps)
    assert (walked.broken, walked.total) == ((), limited.total)


def test_a_limit_of_nodes_gives_the_same_plan_every_time(large):
    """Steps and bounds alike."""
    one, other = (find_way(problem(large), nodes=60) for _ in range(2))
    assert one == other


def test_a_clock_stops_it_after_the_first_plan():
    """The clock runs out at once; the first plan is there all the same."""
    ticks = iter(range(0, 10**6, 100))
    found = find_way(problem(box()), clock=lambda: float(next(ticks)), seconds=1)
    assert found.total == 13
    assert 0 < found.first_seconds <= found.seconds


def test_no_way_names_the_operation_that_is_stuck():
    """Nothing brings the lid back on."""
    said = box()
    said["ops"][3]["ways"] = []
    with pytest.raises(NoWay, match="^stuck at: lid back$"):
        find_way(problem(said))


def test_a_circle_is_told_as_one():
    """Two parts that wait for each other: nothing is missing, and yet there is no way."""
    ops = [
        op("part", "out", {"needs": {"lid": [1, 1]}}), op("part", "back"),
        op("lid", "out", {"needs": {"part": [1, 1]}}), op("lid", "back"),
    ]  # fmt: skip
    with pytest.raises(NoWay, match="some steps wait for each other"):
        find_way(problem(core(ops, swaps=[{"id": "swap", "item": "part", "ways": [{}]}])))


def test_nothing_to_do_is_a_plan():
    """Everything is where it belongs, and nothing is to be swapped."""
    said = box(swaps=[])
    found = find_way(problem(said))
    assert (found.total, found.steps, found.proved) == (0, (), True)


def test_what_was_left_over_is_fetched():
    """The part is out and the lid is on: the lid comes off first, and the part goes in behind it."""
    items = {"lid": {"levels": 1}, "part": {"levels": 1, "start": 1}}
    found = find_way(problem(box(items=items, swaps=[])))
    assert [name for name, _, _ in found.steps] == ["lid out", "part back", "lid back"]


@pytest.mark.parametrize(("straight", "is_so"), [(2, False), (3, True)])
def test_detours_are_only_looked_for_where_they_can_help(straight, is_so):
    """A change over a third value takes 1 + 1: at that border the straight one is as good."""
    table = [[0, 1, straight], [1, 0, 1], [straight, 1, 0]]
    assert may_detour(problem(box(dims=[{**TOOL, "change": table}]))) is is_so


def test_a_step_that_nothing_asks_for_can_be_a_stop_on_a_detour():
    """From none straight to 13 mm takes 9, by way of 10 mm 1 + 1: the lid is opened for the stop.

    Out: 1 to 10 mm, lid 1, 1 to 13 mm, part 1. Back: part 1, then the lid with 10 mm, 1 + 1. In all 7 and not
    past the lid: 9 + 1 + 1 = 11.
    """
    said = awkward_box(0)
    said["dims"] = [{**TOOL, "change": [[0, 1, 9], [1, 0, 1], [9, 1, 0]]}]
    found = find_way(problem(said))
    assert (found.total, found.proved) == (7, True)
