"""The replay, rule by rule: for each one a plan at the border that is right and a plan that breaks just it.

All problems are made up here, small enough to add up by hand; the rules are those of docs/core-problem.md.
"""

import copy

import pytest

from putback.errors import InputError
from putback.way.replay import Change, replay

TOOL = {"name": "tool", "values": ["none", "10 mm", "13 mm"], "start": "none", "change": 3}
POSTURE = {"name": "posture", "values": ["ground", "raised"], "start": "ground", "change": [[0, 30], [20, 0]]}


def way(**said):
    return said


def op(item, direction, level=1, *ways, time=10, **said):
    name = f"{item} {direction} {level}"
    ways = list(ways or [way()])
    return {"id": name, "item": item, "dir": direction, "level": level, "time": time, "ways": ways} | said


def core(*items, ops=None, **said):
    """Items of one level each, with an operation out and back of 10 each, and whatever else is said."""
    items = items or ("lid",)
    ops = ops if ops is not None else [op(item, d) for d in ("out", "back") for item in items]
    return {"core": 2, "rate": 1, "dims": [], "items": {i: {"levels": 1} for i in items}, "ops": ops} | said


def steps(*names, **context):
    """Steps done in their first way, all in one context."""
    return [[name, 0, dict(context)] for name in names]


def only(problem, plan):
    """The one sentence that the replay has about a plan, without its place."""
    broken = replay(problem, plan).broken
    assert len(broken) == 1, broken
    return broken[0]


def assert_right(problem, plan):
    assert replay(problem, plan).broken == ()


OUT_AND_BACK = steps("lid out 1", "lid back 1")


# --- what it adds up to ---------------------------------------------------------------------------


def test_a_plan_is_timed_and_charged_step_by_step():
    """Times are multiplied by the rate, costs are not, and each step knows what went before it."""
    lid_out = op("lid", "out", 1, way(**{"in": {"tool": ["10 mm"]}}, time=2, cost=7), time=10, cost=100)
    problem = core(ops=[lid_out, op("lid", "back", time=11)], dims=[TOOL], rate=5)
    plan = steps("lid out 1", "lid back 1", tool="10 mm")

    done = replay(problem, plan)

    assert done.broken == ()
    assert (done.time, done.changes, done.idle) == (3 + 12 + 11, 1, 0)
    assert done.total == 5 * 26 + 107
    first, second = done.steps
    assert (first.id, first.way, first.context) == ("lid out 1", 0, {"tool": "10 mm"})
    assert (first.start, first.end, first.changes) == (3, 15, (Change("tool", "none", "10 mm"),))
    assert (second.start, second.end, second.changes) == (15, 26, ())


def test_an_empty_plan_is_right_where_nothing_is_to_do():
    """A goal that holds from the start asks for no step and costs only the fixed work."""
    problem = core(fixed=[{"id": "look", "when": "after", "time": 4, "cost": 9}])

    done = replay(problem, [])

    assert (done.total, done.time, done.steps, done.broken) == (13, 4, (), ())


def test_a_change_table_is_read_from_row_to_column():
    """Up costs 30 and down 20; a number that stands for all changes costs the same both ways."""
    up = op("lid", "out", 1, way(**{"in": {"posture": ["raised"]}}))
    down = op("lid", "back", 1, way(**{"in": {"posture": ["ground"]}}))
    plan = [["lid out 1", 0, {"posture": "raised"}], ["lid back 1", 0, {"posture": "ground"}]]

    done = replay(core(ops=[up, down], dims=[POSTURE]), plan)

    assert [step.start for step in done.steps] == [30, 30 + 10 + 20]
    assert (done.total, done.changes) == (70, 2)


def test_fixed_work_stands_before_at_the_swap_and_after():
    """All fixed work counts, and shifts only what comes behind it."""
    fixed = [{"id": when, "when": when, "time": time} for when, time in (("before", 1), ("swap", 100), ("after", 1000))]
    problem = core(fixed=fixed, swaps=[{"id": "change lid", "item": "lid", "time": 5, "ways": [way()]}])
    plan = steps("lid out 1", "change lid", "lid back 1")

    done = replay(problem, plan)

    assert [step.start for step in done.steps] == [1, 11, 116]
    assert done.time == 1126


@pytest.mark.parametrize(
    ("plan", "starts"),
    [(("lid out 1", "cap back 1"), [0, 110]), (("cap back 1",), [100])],
)
def test_without_swaps_the_swap_work_follows_the_last_removal(plan, starts):
    """With no swap to follow it comes after the last "out", and ahead of all where nothing comes out."""
    fixed = [{"id": "look", "when": "swap", "time": 100}]
    problem = core("lid", "cap", fixed=fixed)
    problem["items"] = {"lid": {"levels": 1, "goal": [0, 1]}, "cap": {"levels": 1, "start": 1}}

    done = replay(problem, steps(*plan))

    assert done.broken == ()
    assert [step.start for step in done.steps] == starts


# --- operations and levels ------------------------------------------------------------------------


def test_an_operation_starts_from_its_own_level():
    """Level 2 is reached from level 1 only, out and back."""
    ops = [op("nut", d, level) for d in ("out", "back") for level in (1, 2)]
    problem = core(ops=ops, items={"nut": {"levels": 2}})

    assert_right(problem, steps("nut out 1", "nut out 2", "nut back 2", "nut back 1"))
    assert only(problem, steps("nut out 2", "nut back 2", "nut back 1")) == (
        'step 1 (nut out 2): "nut" stands at 0, and it moves from 1'
    )


def test_an_item_stands_where_it_starts():
    """An item that is half off now goes on from there."""
    ops = [op("nut", d, level) for d in ("out", "back") for level in (1, 2)]
    problem = core(ops=ops, items={"nut": {"levels": 2, "start": 1}})

    assert_right(problem, steps("nut back 1"))
    assert only(problem, steps("nut out 1", "nut back 1")).startswith("step 1 (nut out 1)")


def test_every_item_ends_within_its_goal():
    """Left out, the goal is 0; given, both ends of the range will do, and nothing beyond them."""
    ops = [op("nut", "out", level) for level in (1, 2, 3)]
    problem = core(ops=ops, items={"nut": {"levels": 3, "goal": [1, 2]}})

    assert only(problem, []) == 'end: the goal is "nut" at 1 to 2, and it stands at 0'  # below
    assert_right(problem, steps("nut out 1"))  # at the lower end
    assert_right(problem, steps("nut out 1", "nut out 2"))  # at the upper end
    assert "stands at 3" in only(problem, steps("nut out 1", "nut out 2", "nut out 3"))  # above
    assert only(core(), steps("lid out 1")) == 'end: the goal is "lid" at 0, and it stands at 1'


def test_a_way_needs_the_other_items_within_their_ranges():
    """Both ends of a need will do just before the step; one level beyond either end will not."""
    nuts = [op("nut", "out", level) for level in (1, 2, 3)]
    lid = op("lid", "out", 1, way(needs={"nut": [1, 2]}))
    items = {"nut": {"levels": 3, "goal": [0, 3]}, "lid": {"levels": 1, "goal": [0, 1]}}
    problem = core(ops=[*nuts, lid], items=items)

    assert only(problem, steps("lid out 1")) == (
        'step 1 (lid out 1): this way needs "nut" at 1 to 2, and it stands at 0'
    )  # below
    assert_right(problem, steps("nut out 1", "lid out 1"))  # at the lower end
    assert_right(problem, steps("nut out 1", "nut out 2", "lid out 1"))  # at the upper end
    assert "stands at 3" in only(problem, steps("nut out 1", "nut out 2", "nut out 3", "lid out 1"))  # above


def test_the_way_named_is_the_way_that_counts():
    """Another way of the same operation may have other needs, times and costs."""
    ways = way(needs={"cap": [1, 1]}, time=1), way(time=50)
    problem = core("lid", "cap", ops=[op("lid", "out", 1, *ways), op("lid", "back")])
    plan = [["lid out 1", 1, {}], ["lid back 1", 0, {}]]

    assert replay(problem, plan).total == 70
    assert replay(problem, plan).broken == ()
    assert "cap" in only(problem, OUT_AND_BACK)


# --- phases and swaps -----------------------------------------------------------------------------

SWAPS = [{"id": f"change {item}", "item": item, "ways": [way()]} for item in ("lid", "cap")]


def test_nothing_comes_out_once_something_went_back():
    """Without swaps the phases are out, then back."""
    problem = core("lid", "cap")

    assert_right(problem, steps("lid out 1", "cap out 1", "lid back 1", "cap back 1"))
    assert only(problem, steps("lid out 1", "lid back 1", "cap out 1", "cap back 1")) == (
        'step 3 (cap out 1): an "out" operation comes after the plan has come to "back"'
    )


def test_nothing_comes_out_once_a_swap_is_done():
    """Between the first swap and the last there is no other work."""
    problem = core("lid", "cap", swaps=SWAPS[:1])

    assert_right(problem, steps("cap out 1", "lid out 1", "change lid", "cap back 1", "lid back 1"))
    plan = steps("lid out 1", "change lid", "cap out 1", "cap back 1", "lid back 1")
    assert 'come to "swap"' in only(problem, plan)


def test_no_swap_is_done_once_something_went_back():
    """A refit ends the swaps."""
    problem = core("lid", "cap", swaps=SWAPS[:1])
    plan = steps("lid out 1", "cap out 1", "cap back 1", "change lid", "lid back 1")

    assert only(problem, plan) == 'step 4 (change lid): a swap comes after the plan has come to "back"'


def test_every_swap_is_done_in_any_order():
    """All swaps of the problem are done; which one first is free."""
    problem = core("lid", "cap", swaps=SWAPS)
    plan = steps("lid out 1", "cap out 1", "change cap", "change lid", "lid back 1", "cap back 1")

    assert_right(problem, plan)
    assert only(problem, plan[:3] + plan[4:]) == 'end: the swap "change lid" is not done'


def test_a_swap_is_done_once():
    """A second time is one too many."""
    problem = core(swaps=SWAPS[:1])
    plan = steps("lid out 1", "change lid", "change lid", "lid back 1")

    assert only(problem, plan) == "step 3 (change lid): this swap is done already"


def test_at_every_swap_all_targets_stand_at_their_last_level():
    """The first swap waits for the last target, and half off is not off."""
    ops = [op("nut", d, level) for d in ("out", "back") for level in (1, 2)]
    problem = core(ops=ops, items={"nut": {"levels": 2}}, swaps=[{"id": "change nut", "item": "nut", "ways": [way()]}])
    whole = steps("nut out 1", "nut out 2", "change nut", "nut back 2", "nut back 1")
    two = core("lid", "cap", swaps=SWAPS)
    two["items"]["cap"]["goal"] = [0, 1]
    two["swaps"][1] = {"id": "change cap", "item": "cap", "ways": [way()]}

    assert_right(problem, whole)
    assert only(problem, steps("nut out 1", "change nut", "nut back 1")) == (
        'step 2 (change nut): a swap needs "nut" at 2, and it stands at 1'
    )
    broken = replay(two, steps("lid out 1", "change lid", "change cap", "lid back 1")).broken
    assert [sentence[:6] for sentence in broken] == ["step 2", "step 3"]  # the lid's swap minds the cap too


def test_a_swap_obeys_the_context_of_its_way():
    """A swap's way names values like any other way."""
    at_bench = way(**{"in": {"vantage": ["bench"]}})
    vantage = {"name": "vantage", "values": ["top", "bench"], "start": "top", "change": 5}
    problem = core(dims=[vantage], swaps=[{"id": "change lid", "item": "lid", "ways": [at_bench]}])
    plan = steps("lid out 1", vantage="top") + steps("change lid", "lid back 1", vantage="bench")
    lazy = steps("lid out 1", "change lid", "lid back 1", vantage="top")

    assert_right(problem, plan)
    assert only(problem, lazy) == 'step 2 (change lid): "vantage" is "top", and this way needs "bench"'


# --- context --------------------------------------------------------------------------------------


def test_a_dimension_a_way_names_has_one_of_the_listed_values():
    """Any listed value will do, no other."""
    lid = op("lid", "out", 1, way(**{"in": {"tool": ["10 mm", "13 mm"]}}))
    problem = core(ops=[lid, op("lid", "back")], dims=[TOOL])

    for tool in ("10 mm", "13 mm"):
        assert_right(problem, steps("lid out 1", "lid back 1", tool=tool))
    assert only(problem, steps("lid out 1", "lid back 1", tool="none")) == (
        'step 1 (lid out 1): "tool" is "none", and this way needs "10 mm" or "13 mm"'
    )


def test_a_dimension_a_way_does_not_name_may_have_any_value_and_may_change():
    """The plan says what is in force; a change that no way asks for is right, and is charged."""
    problem = core(dims=[TOOL])

    for tool in TOOL["values"]:
        assert_right(problem, steps("lid out 1", "lid back 1", tool=tool))
    assert replay(problem, steps("lid out 1", "lid back 1", tool="13 mm")).changes == 1


def test_a_dimension_changes_by_a_detour_only_with_a_step_on_the_way():
    """The direct change costs 50, by way of another value 2; between two steps it is the direct one."""
    gear = {"name": "gear", "values": ["a", "b", "c"], "start": "a", "change": [[0, 1, 50], [1, 0, 1], [1, 1, 0]]}
    problem = core(ops=[op("lid", "out"), op("lid", "back", 1, way(**{"in": {"gear": ["c"]}}))], dims=[gear])
    detour = steps("lid out 1", gear="b") + steps("lid back 1", gear="c")
    direct = steps("lid out 1", gear="a") + steps("lid back 1", gear="c")

    assert (replay(problem, detour).total, replay(problem, direct).total) == (22, 70)
    assert replay(problem, detour).broken == replay(problem, direct).broken == ()


def gear(**said):
    """A dimension with a change table; from a the cheapest change goes to c and d, then to b."""
    change = [[0, 4, 3, 3], [1, 0, 1, 1], [1, 1, 0, 1], [1, 1, 1, 0]]
    return {"name": "gear", "values": ["a", "b", "c", "d"], "start": "a", "change": change} | said


def ends(*dims, **said):
    """Total and changes of a plan without steps: what the end alone makes of these dimensions."""
    done = replay(core(dims=list(dims), **said), [])
    assert done.broken == ()
    return done.total, done.changes


def test_the_end_brings_each_dimension_to_the_cheapest_value_that_will_do():
    """As it is where that will do; else by the cheapest change whose value has its needs."""
    wants_lid_off = {"lid": [1, 1]}

    assert ends(gear()) == (0, 0)
    assert ends(gear(end=["a", "b"])) == (0, 0)
    assert ends(gear(end=["b", "c"])) == (3, 1)
    assert ends(gear(end=["b", "c"], needs={"c": wants_lid_off})) == (4, 1)
    assert ends(gear(needs={"a": wants_lid_off})) == (3, 1)  # any value but a
    assert only(core(dims=[gear(end=["c"], needs={"c": wants_lid_off})]), []) == (
        'end: at the end "gear" "c" needs "lid" at 1, and it stands at 0'
    )


def test_the_end_minds_the_equipment_of_all_dimensions_together():
    """One jack: both dimensions would end with it for 1 each; one of them has to take the dearer value."""
    front, rear = (
        {
            "name": name, "values": ["up", "block", "low"], "start": "up", "end": ["low", "block"],
            "change": [[0, dear, 1], [1, 0, 1], [1, 1, 0]], "holds": {"low": {"jack": 1}},
        }
        for name, dear in (("front", 9), ("rear", 5))
    )  # fmt: skip

    assert ends(front, rear, pools={"jack": 2}) == (2, 2)
    assert ends(front, rear, pools={"jack": 1}) == (1 + 5, 2)
    assert ends(front, rear) == (9 + 5, 2)


def test_the_end_needs_the_moving_equipment():
    """A value that cannot be moved to is passed over for one that can."""
    assert ends(gear(end=["b", "c"], moving={"c": {"jack": 1}}), pools={"jack": 1}) == (3, 1)
    assert ends(gear(end=["b", "c"], moving={"c": {"jack": 1}})) == (4, 1)


def test_a_wait_for_the_end_swallows_its_changes():
    """Where both changes fit into the wait the fewer changes win, then the order of the file."""
    done = replay(core(dims=[gear(end=["b", "c"])], waits=[wait(["lid out 1"], ["end"], left=10)]), [])

    assert (done.total, done.changes, done.idle) == (10, 1, 6)  # b, the first listed: 4 and a rest of 6
    done = replay(core(dims=[gear(end=["b", "a"])], waits=[wait(["lid out 1"], ["end"], left=10)]), [])
    assert (done.changes, done.idle) == (0, 10)  # as it is, though b is listed first


ON_WHEELS = POSTURE | {"needs": {"ground": {"wheel": [0, 0]}}}
RAISED = way(**{"in": {"posture": ["raised"]}})


def wheel_and_lid(**said):
    ops = [op("wheel", d, 1, RAISED) for d in ("out", "back")] + [op("lid", d) for d in ("out", "back")]
    return core("wheel", "lid", ops=ops, dims=[ON_WHEELS | said])


def test_a_value_has_its_needs_just_before_and_just_after_a_step():
    """A car on its wheels has its wheels on, when the step begins and when it ends."""
    anywhere = [op("wheel", d) for d in ("out", "back")]
    problem = core("wheel", ops=anywhere, dims=[ON_WHEELS | {"end": ["raised"]}])
    off, on = steps("wheel out 1", posture="ground"), steps("wheel back 1", posture="ground")
    gone = copy.deepcopy(problem)
    gone["items"]["wheel"] = {"levels": 1, "start": 1}

    assert replay(problem, off).broken[0] == (
        'step 1 (wheel out 1): just after it "posture" "ground" needs "wheel" at 0, and it stands at 1'
    )
    assert only(gone, on) == (
        'step 1 (wheel back 1): just before it "posture" "ground" needs "wheel" at 0, and it stands at 1'
    )
    assert_right(wheel_and_lid(end=["ground"]), steps("wheel out 1", "wheel back 1", posture="raised"))


def test_a_value_that_is_left_before_the_first_step_needs_nothing():
    """What stood wrongly at the start may be put right by the first change."""
    problem = wheel_and_lid()
    problem["items"]["wheel"]["start"] = 1

    assert_right(problem, steps("wheel back 1", posture="raised"))


def test_a_value_has_its_needs_at_the_end():
    """A car is not left on its wheels with a wheel off."""
    problem = wheel_and_lid(end=["ground"])
    problem["items"]["wheel"]["goal"] = [0, 1]
    off, on = steps("wheel out 1", posture="raised"), steps("wheel back 1", posture="raised")

    assert_right(problem, off + on)
    assert only(problem, off) == 'end: at the end "posture" "ground" needs "wheel" at 0, and it stands at 1'


# --- equipment ------------------------------------------------------------------------------------


def test_a_way_uses_no_more_than_there_is():
    """The number in the pool will do, one more will not, and a pool that is not listed is empty."""
    problem = core(ops=[op("lid", "out", 1, way(uses={"jack": 2})), op("lid", "back")])

    assert_right(problem | {"pools": {"jack": 2}}, OUT_AND_BACK)  # at
    assert replay(problem | {"pools": {"jack": 1}}, OUT_AND_BACK).broken == (
        'step 1 (lid out 1): just before it 2 of "jack" are held, and there are 1',
        'step 1 (lid out 1): just after it 2 of "jack" are held, and there are 1',
    )  # below
    assert "there are 0" in replay(problem, OUT_AND_BACK).broken[0]  # not listed


def test_an_item_holds_at_exactly_the_level_that_says_so():
    """Level 1 holds a jack, level 2 does not; a way that uses the jack has it at 0 and 2 only."""
    nuts = [op("nut", "out", level) for level in (1, 2)]
    items = {
        "nut": {"levels": 2, "goal": [0, 2], "holds": {"1": {"jack": 1}}},
        "lid": {"levels": 1, "goal": [0, 1]},
    }
    problem = core(ops=[*nuts, op("lid", "out", 1, way(uses={"jack": 1}))], items=items, pools={"jack": 1})

    assert_right(problem, steps("lid out 1"))
    assert_right(problem, steps("nut out 1", "nut out 2", "lid out 1"))
    assert '2 of "jack"' in replay(problem, steps("nut out 1", "lid out 1")).broken[0]


def test_equipment_is_there_just_after_a_step_as_well():
    """What an item holds at its new level adds to what the way still uses."""
    items = {"lid": {"levels": 1, "holds": {"1": {"jack": 1}}, "goal": [1, 1]}}
    problem = core(ops=[op("lid", "out", 1, way(uses={"jack": 1}))], items=items)

    assert_right(problem | {"pools": {"jack": 2}}, steps("lid out 1"))
    assert only(problem | {"pools": {"jack": 1}}, steps("lid out 1")) == (
        'step 1 (lid out 1): just after it 2 of "jack" are held, and there are 1'
    )


def test_equipment_is_there_just_before_a_step_as_well():
    """What an item holds at its old level adds to what the way uses already."""
    items = {"lid": {"levels": 1, "start": 1, "holds": {"1": {"jack": 1}}}}
    problem = core(ops=[op("lid", "back", 1, way(uses={"jack": 1}))], items=items)

    assert_right(problem | {"pools": {"jack": 2}}, steps("lid back 1"))
    assert "just before it 2" in only(problem | {"pools": {"jack": 1}}, steps("lid back 1"))


def test_a_value_in_force_holds_its_equipment():
    """Stands under the car are not free for anything else while it is up."""
    up = way(**{"in": {"posture": ["raised"]}}, uses={"stand": 1})
    problem = core(
        ops=[op("lid", "out", 1, up), op("lid", "back")], dims=[POSTURE | {"holds": {"raised": {"stand": 4}}}]
    )
    plan = steps("lid out 1", "lid back 1", posture="raised")

    assert_right(problem | {"pools": {"stand": 5}}, plan)
    broken = replay(problem | {"pools": {"stand": 4}}, plan).broken
    assert [sentence.split(": ")[1] for sentence in broken] == [
        'just before it 5 of "stand" are held, and there are 4',
        'just after it 5 of "stand" are held, and there are 4',
    ]


def test_equipment_is_there_at_the_end():
    """A value to end with holds its equipment next to what the items left out hold."""
    items = {"lid": {"levels": 1, "start": 1, "goal": [1, 1], "holds": {"1": {"stand": 1}}}}
    low = POSTURE | {"holds": {"raised": {"stand": 4}}, "start": "raised"}
    problem = core(items=items, dims=[low])

    assert_right(problem | {"pools": {"stand": 5}}, [])
    assert only(problem | {"pools": {"stand": 4}}, []) == 'end: at the end 5 of "stand" are held, and there are 4'


JACKED = {"holds": {"raised": {"stand": 4}}, "moving": {"raised": {"jack": 1}, "ground": {"jack": 1}}}


def test_moving_equipment_is_free_while_the_value_changes():
    """An item that keeps the only jack busy stops the car from going down."""
    ops = [op("lid", d, 1, RAISED) for d in ("out", "back")]
    problem = core(ops=ops, dims=[POSTURE | JACKED | {"end": ["ground"]}], pools={"jack": 1, "stand": 4})
    held = copy.deepcopy(problem)
    held["items"]["lid"] |= {"goal": [0, 1], "holds": {"1": {"jack": 1}}}

    assert_right(problem, steps("lid out 1", "lid back 1", posture="raised"))
    assert only(held, steps("lid out 1", posture="raised")) == (
        'end: while the context changes 2 of "jack" are held, and there are 1'
    )


def test_moving_needs_of_dimensions_that_change_at_once_add_up():
    """Two changes between two steps take two jacks, one after another takes one."""
    both = [
        {
            "name": name,
            "values": ["low", "high"],
            "start": "low",
            "change": 1,
            "moving": {"high": {"jack": 1}},
        }
        for name in ("front", "rear")
    ]
    front, rear = (way(**{"in": {name: ["high"]}}) for name in ("front", "rear"))
    ways = [front | {"in": front["in"] | rear["in"]}, front]
    problem = core(ops=[op("lid", "out", 1, *ways), op("lid", "back", 1, rear)], dims=both)
    at_once = steps("lid out 1", "lid back 1", front="high", rear="high")
    in_turn = [
        ["lid out 1", 1, {"front": "high", "rear": "low"}],
        ["lid back 1", 0, {"front": "high", "rear": "high"}],
    ]

    assert_right(problem | {"pools": {"jack": 2}}, at_once)
    assert_right(problem | {"pools": {"jack": 1}}, in_turn)
    assert only(problem | {"pools": {"jack": 1}}, at_once) == (
        'step 1 (lid out 1): while the context changes 2 of "jack" are held, and there are 1'
    )


def test_a_dimension_that_changes_holds_the_larger_of_two_needs():
    """From three stands to four takes four, not seven; from one dimension to another takes both."""
    stands = POSTURE | {"holds": {"ground": {"stand": 3}, "raised": {"stand": 4}}}
    trestle = {
        "name": "trestle", "values": ["on", "off"], "start": "on", "change": 1, "holds": {"on": {"stand": 1}},
    }  # fmt: skip
    up = way(**{"in": {"posture": ["raised"], "trestle": ["off"]}})
    problem = core(ops=[op("lid", "out", 1, up), op("lid", "back")], dims=[stands, trestle])
    plan = steps("lid out 1", "lid back 1", posture="raised", trestle="off")

    assert_right(problem | {"pools": {"stand": 5}}, plan)
    assert only(problem | {"pools": {"stand": 4}}, plan) == (
        'step 1 (lid out 1): while the context changes 5 of "stand" are held, and there are 4'
    )


# --- once-only costs and waits --------------------------------------------------------------------


def test_a_once_only_cost_falls_due_once():
    """Two of its operations ran and it is charged once; none ran and it is not charged."""
    once = [{"id": "align", "ops": [["lid out 1"], ["lid back 1"]], "offers": [{"time": 100, "cost": 1}]}]

    assert replay(core(once=once), OUT_AND_BACK).total == 20 + 101
    assert replay(core(once=once), OUT_AND_BACK).time == 120
    assert replay(core(once=once), []).total == 0


def test_a_once_only_cost_may_hang_on_one_way():
    """The way named is counted from 0; another way of the operation owes nothing."""
    once = [{"id": "align", "ops": [["lid out 1", 1]], "offers": [{"cost": 100}]}]
    problem = core(ops=[op("lid", "out", 1, way(), way()), op("lid", "back")], once=once)

    assert replay(problem, [["lid out 1", 0, {}], ["lid back 1", 0, {}]]).total == 20
    assert replay(problem, [["lid out 1", 1, {}], ["lid back 1", 0, {}]]).total == 120


@pytest.mark.parametrize(("rate", "total", "time"), [(1, 20 + 40, 60), (2, 40 + 79, 20), (3, 60 + 79, 20)])
def test_of_several_offers_the_cheapest_counts(rate, total, time):
    """Own time at the rate against a price: the first costs 40 x rate, the second 79."""
    once = [{"id": "align", "ops": [["lid out 1"]], "offers": [{"time": 40, "cost": 0}, {"time": 0, "cost": 79}]}]

    done = replay(core(once=once, rate=rate), OUT_AND_BACK)

    assert (done.total, done.time) == (total, time)


def test_of_equal_offers_the_first_counts():
    """The total is the same, the time is not."""
    once = [{"id": "align", "ops": [["lid out 1"]], "offers": [{"time": 0, "cost": 40}, {"time": 40, "cost": 0}]}]

    assert replay(core(once=once), OUT_AND_BACK).time == 20


def wait(after, before, time=25, **said):
    return {"id": "rest", "after": after, "before": before, "time": time} | said


def test_a_wait_runs_from_the_end_of_the_last_operation_done():
    """Removed at 10 and at 20, the later one starts the wait; it is over at 45."""
    waits = [wait(["lid out 1", "cap out 1"], ["lid back 1"])]
    plan = steps("lid out 1", "cap out 1", "lid back 1", "cap back 1")

    done = replay(core("lid", "cap", waits=waits), plan)

    assert (done.steps[2].idle, done.steps[2].start, done.idle, done.time) == (25, 45, 25, 65)
    assert done.broken == ()


def test_work_and_changes_and_fixed_work_run_a_wait_down():
    """Of 25, a step takes 10, a change 3, work at the swap 7; 5 are left to wait."""
    lid_back = op("lid", "back", 1, way(**{"in": {"tool": ["10 mm"]}}))
    problem = core(
        "lid", "cap",
        ops=[op("lid", "out"), op("cap", "out"), lid_back, op("cap", "back")],
        dims=[TOOL], waits=[wait(["lid out 1"], ["lid back 1"])],
        fixed=[{"id": "look", "when": "swap", "time": 7}],
    )  # fmt: skip
    plan = steps("lid out 1", "cap out 1", tool="none") + steps("lid back 1", "cap back 1", tool="10 mm")

    third = replay(problem, plan).steps[2]

    assert (third.idle, third.start) == (5, 35)


@pytest.mark.parametrize(("time", "idle"), [(9, 0), (10, 0), (11, 1)])
def test_a_wait_is_idle_only_for_what_is_left_of_it(time, idle):
    """The cap's 10 cover a wait of 9 and of 10, and leave 1 of 11."""
    problem = core("lid", "cap", waits=[wait(["lid out 1"], ["lid back 1"], time)])

    assert replay(problem, steps("lid out 1", "cap out 1", "lid back 1", "cap back 1")).idle == idle


def test_a_wait_that_was_running_at_the_start_has_its_rest_left():
    """What is left runs from the start, work before the first step included."""
    waits = [wait(["cap out 1"], ["lid out 1"], left=12)]
    fixed = [{"id": "readings", "when": "before", "time": 5}]

    done = replay(core("lid", "cap", waits=waits, fixed=fixed), OUT_AND_BACK)

    assert (done.steps[0].idle, done.steps[0].start) == (7, 12)


def test_a_wait_with_nothing_done_and_nothing_left_is_none():
    """An operation may be done at once when none of those it waits for was done."""
    assert replay(core("lid", "cap", waits=[wait(["cap out 1"], ["lid out 1"])]), OUT_AND_BACK).idle == 0


def test_a_swap_may_wait_too():
    """The swap stands in line like an operation."""
    swaps = [{"id": "change lid", "item": "lid", "time": 5, "ways": [way()]}]
    problem = core(waits=[wait(["lid out 1"], ["change lid"])], swaps=swaps)

    done = replay(problem, steps("lid out 1", "change lid", "lid back 1"))

    assert [step.idle for step in done.steps] == [0, 25, 0]


def test_the_end_may_wait_after_its_changes_and_ahead_of_the_work_after():
    """Back at 20, down at 40, the wait over at 45, then the road test."""
    ops = [op("lid", d, 1, RAISED) for d in ("out", "back")]
    problem = core(
        ops=ops, dims=[POSTURE | {"end": ["ground"]}], waits=[wait(["lid back 1"], ["end"])],
        fixed=[{"id": "road test", "when": "after", "time": 100}],
    )  # fmt: skip

    done = replay(problem, steps("lid out 1", "lid back 1", posture="raised"))

    assert (done.time, done.idle, done.changes) == (30 + 20 + 20 + 5 + 100, 5, 2)


def test_once_only_work_runs_no_wait_down():
    """It is charged to the total and stands nowhere in time."""
    once = [{"id": "align", "ops": [["lid out 1"]], "offers": [{"time": 40}]}]
    problem = core(waits=[wait(["lid out 1"], ["lid back 1"])], once=once)

    assert replay(problem, OUT_AND_BACK).idle == 25


# --- version 1 ------------------------------------------------------------------------------------


def alt(posture=("ground",), **said):
    return {"req": {}, "tool": "socket", "vantage": "top", "postures": list(posture), "extra": 0} | said


def version_1(**said):
    return {
        "tools": ["none", "socket"], "vantages": ["top", "under"], "postures": ["ground", "raised"],
        "setup": {"tool": 3, "vantage": 5, "posture": 30},
        "start": {"tool": "none", "vantage": "top", "posture": "ground"}, "end_posture": "ground",
        "items": {"lid": 1, "cap": 1}, "target": "lid", "swap": alt(minutes=50) | {"req": {}},
        "ops": [
            {"id": f"{item} {d}", "item": item, "dir": d, "level": 1, "minutes": 10,
             "alts": [alt(), alt(["raised"], vantage="under", extra=2, req={"cap": [0, 0]})]}
            for item in ("lid", "cap") for d in ("out", "back")
        ],
    } | said  # fmt: skip


def test_version_1_is_charged_like_version_2_with_three_dimensions():
    """Tool and vantage are the alternative's, the posture is the plan's, and the end brings it down."""
    plan = [["lid out", 0, "ground"], ["swap", 0, "ground"], ["lid back", 1, "raised"]]

    done = replay(version_1(), plan)

    assert done.broken == ()
    assert (done.total, done.changes) == ((3 + 10) + 50 + (5 + 30 + 10 + 2) + 30, 4)
    assert done.steps[2].context == {"tool": "socket", "vantage": "under", "posture": "raised"}


def test_version_1_minds_postures_needs_and_targets():
    """Each rule of version 2 that version 1 can say is held against its plans."""
    plan = [["lid out", 0, "ground"], ["swap", 0, "ground"], ["lid back", 0, "ground"]]
    two = version_1(target=["lid", "cap"])

    assert_right(version_1(), plan)
    assert '"posture" is "raised"' in only(version_1(), [["lid out", 0, "raised"], *plan[1:]])
    assert 'a swap needs "cap" at 1' in only(two, plan)
    assert 'this way needs "cap" at 0' in only(
        version_1(),
        [["cap out", 0, "ground"], *plan[:2], ["lid back", 1, "raised"], ["cap back", 0, "ground"]],
    )


def test_version_1_swaps_all_its_targets_at_once():
    """Two targets, one swap."""
    plan = [["lid out", 0, "ground"], ["cap out", 0, "ground"], ["swap", 0, "ground"],
            ["lid back", 0, "ground"], ["cap back", 0, "ground"]]  # fmt: skip

    assert_right(version_1(target=["lid", "cap"]), plan)


# --- plans that are not plans ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("plan", "sentence"),
    [
        ("lid out 1", 'start: a plan must be a list of steps, got "lid out 1"'),
        ([7], "step 1: a step must be [id, way, context], got 7"),
        ([["lid out 1", 0]], "step 1: a step must be [id, way, context], got ['lid out 1', 0]"),
        ([["hood out 1", 0, {}]], 'step 1: there is no operation or swap "hood out 1"'),
        ([[["lid out 1"], 0, {}]], "step 1: there is no operation or swap ['lid out 1']"),
        ([["lid out 1", 1, {}]], "step 1 (lid out 1): it has 1 ways, counted from 0, and none is 1"),
        ([["lid out 1", -1, {}]], "step 1 (lid out 1): it has 1 ways, counted from 0, and none is -1"),
        ([["lid out 1", True, {}]], "step 1 (lid out 1): it has 1 ways, counted from 0, and none is True"),
    ],
)
def test_a_step_that_cannot_be_understood_is_reported_and_left_out(plan, sentence):
    """Nothing a plan holds raises; what cannot be a step is one sentence and no step."""
    done = replay(core(), plan)

    assert (done.broken, done.steps) == ((sentence,), ())


@pytest.mark.parametrize(
    ("context", "sentence"),
    [
        (None, "step 1 (lid out 1): the context must name a value for every dimension, got None"),
        ("raised", 'step 1 (lid out 1): the context must name a value for every dimension, got "raised"'),
        ({}, 'step 1 (lid out 1): the context does not name "tool"'),
        ({"tool": "hammer"}, 'step 1 (lid out 1): "tool" has no value "hammer"'),
        ({"tool": ["none"]}, "step 1 (lid out 1): \"tool\" has no value ['none']"),
        ({"tool": "none", "gear": "2"}, 'step 1 (lid out 1): there is no dimension "gear"'),
    ],
)
def test_a_context_that_is_not_whole_is_reported_and_stays_as_it_was(context, sentence):
    """All dimensions are named, with values they have, and no others."""
    problem = core(dims=[TOOL], items={"lid": {"levels": 1, "goal": [0, 1]}})

    assert only(problem, [["lid out 1", 0, context]]) == sentence


# --- problems that cannot be read -----------------------------------------------------------------


def spoil(problem, path, value):
    """A copy with one place changed, or removed where the value is None."""
    problem = copy.deepcopy(problem)
    *way_there, last = path
    place = problem
    for key in way_there:
        place = place[key]
    if value is None:
        del place[last]
    else:
        place[last] = value
    return problem


FULL = core(
    dims=[POSTURE | JACKED],
    pools={"jack": 1},
    swaps=SWAPS[:1],
    once=[{"id": "align", "ops": [["lid out 1"]], "offers": [{"time": 1}]}],
    waits=[wait(["lid out 1"], ["end"], left=3)],
    fixed=[{"id": "look", "when": "swap", "time": 1}],
)


@pytest.mark.parametrize(
    ("path", "value", "sentence"),
    [
        (["core"], 3, 'core problem: "core" must be 1 or 2, got 3'),
        (["rate"], None, 'core problem: "rate" is missing; give a whole number, 0 or more'),
        (["rate"], 1.5, 'core problem: "rate" must be a whole number, 0 or more, got 1.5'),
        (["rate"], True, 'core problem: "rate" must be a whole number, 0 or more, got True'),
        (["items"], [], 'core problem: "items" must be a mapping, got []'),
        (["items", "lid"], 1, 'item "lid" must be a mapping, got 1'),
        (["items", "lid", "levels"], None, 'item "lid": "levels" is missing; give a whole number, 0 or more'),
        (["items", "lid", "start"], 2, 'item "lid": "start" must be at most 1, got 2'),
        (["items", "lid", "goal"], [0], 'item "lid": "goal" must be [lowest, highest], got [0]'),
        (
            ["items", "lid", "holds"],
            {"2": {}},
            'item "lid": "holds" must name levels from "0" to "1", got "2"',
        ),
        (["pools", "jack"], -1, '"pools": "jack" must be a whole number, 0 or more, got -1'),
        (
            ["dims", 0, "start"],
            "up",
            'dimension "posture": "start": "up" is not known; known here: "ground", "raised"',
        ),
        (
            ["dims", 0, "change"],
            [[0, 1]],
            'dimension "posture": "change" must have a row for every value, each with 2 numbers',
        ),
        (
            ["dims", 0, "change"],
            [[1, 1], [1, 0]],
            'dimension "posture": "change" must have 0 where a value stays as it is',
        ),
        (
            ["dims", 0, "change"],
            "dear",
            'dimension "posture": "change" must be a whole number, 0 or more, got "dear"',
        ),
        (
            ["dims", 0, "needs"],
            {"ground": {"hood": [0, 0]}},
            'dimension "posture": needs of "ground": "hood" is not known; known here: "lid"',
        ),
        (["ops", 0, "level"], 0, 'operation "lid out 1": "level" counts from 1, got 0'),
        (["ops", 0, "level"], 2, 'operation "lid out 1": "level" must be at most 1, got 2'),
        (
            ["ops", 0, "dir"],
            "up",
            'operation "lid out 1": "dir": "up" is not known; known here: "out", "back"',
        ),
        (
            ["ops", 1, "id"],
            "lid out 1",
            'core problem: the id "lid out 1" is taken; give every step an id of its own',
        ),
        (["ops", 1, "dir"], "out", 'ops: "lid from 0 to 1" stands there twice; once is enough'),
        (
            ["ops", 0, "ways", 0],
            {"in": {"gear": []}},
            'operation "lid out 1", way 0: "in": "gear" is not known; known here: "posture"',
        ),
        (
            ["ops", 0, "ways", 0],
            {"needs": {"lid": [0, "1"]}},
            'operation "lid out 1", way 0: range of "lid" must be a whole number, 0 or more, got "1"',
        ),
        (
            ["swaps", 0, "ways", 0],
            {"needs": {"lid": [1, 1]}},
            'swap "change lid": the ways of a swap have no "needs"; leave them out',
        ),
        (["dims"], [TOOL, TOOL], 'dims: "tool" stands there twice; once is enough'),
        (
            ["dims", 0, "values"],
            ["ground", "ground"],
            'dimension "posture": "values": "ground" stands there twice; once is enough',
        ),
        (["waits"], [wait([], [])] * 2, 'waits: "rest" stands there twice; once is enough'),
        (
            ["once", 0, "ops"],
            [["lid out 1", 0, 0]],
            "once[0]: \"ops\" must list [id] or [id, way], got ['lid out 1', 0, 0]",
        ),
        (["once", 0, "ops"], [[]], 'once[0]: "ops" must list [id] or [id, way], got []'),
        (["fixed"], "x" * 58, 'core problem: "fixed" must be a list, got "' + "x" * 58 + '"'),
        (["fixed"], "x" * 60, 'core problem: "fixed" must be a list, got "' + "x" * 56 + "..."),
        (["once", 0, "offers"], [], "once[0]: offers nothing; give at least one offer"),
        (
            ["once", 0, "ops"],
            [["lid out 1", 1]],
            'once[0]: "ops": way of "lid out 1" must be at most 0, got 1',
        ),
        (["waits", 0, "left"], 26, 'waits[0]: "left" must be at most 25, got 26'),
        (
            ["waits", 0, "before"],
            ["dusk"],
            'waits[0]: "before": "dusk" is not known; known here: "lid out 1", "lid back 1", "change lid", "end"',
        ),
        (
            ["fixed", 0, "when"],
            "later",
            'fixed[0]: "when": "later" is not known; known here: "before", "swap", "after"',
        ),
    ],
)
def test_a_problem_that_cannot_be_read_is_refused_in_one_sentence(path, value, sentence):
    """Each sentence says where, what was expected and what was found."""
    with pytest.raises(InputError) as refused:
        replay(spoil(FULL, path, value), [])

    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("path", "value", "sentence"),
    [
        (["setup", "tool"], None, '"setup": "tool" is missing; give a whole number, 0 or more'),
        (["items", "lid"], "1", 'item "lid": "levels" must be a whole number, 0 or more, got "1"'),
        (["target"], 4, '"target" must be a list, got 4'),
        (["ops", 0, "alts", 1, "tool"], None, 'ops[0], alt 1: "tool" is missing; give a text'),
        (["ops", 0, "minutes"], None, 'ops[0]: "minutes" is missing; give a whole number, 0 or more'),
        (
            ["end_posture"],
            "up",
            'dimension "posture": "end": "up" is not known; known here: "ground", "raised"',
        ),
    ],
)
def test_a_problem_of_version_1_is_refused_in_its_own_words(path, value, sentence):
    """What version 1 calls minutes and alts is called so in the sentence too."""
    with pytest.raises(InputError) as refused:
        replay(spoil(version_1(), path, value), [])

    assert str(refused.value) == sentence


def test_a_problem_is_a_mapping():
    """Anything else is refused before it is looked into."""
    with pytest.raises(InputError, match="core problem must be a mapping"):
        replay([], [])
