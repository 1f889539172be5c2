"""The core problem is read whole, or refused where it first goes wrong."""

import copy

import pytest
from core_samples import TOOL, box, core, op, problem, way

from putback.errors import InputError
from putback.way.problem import DEAREST, END, MOST_LEVELS, read_problem


def changed(*path, to) -> dict:
    """The box with one part put in place of another; the last of the path may be new."""
    said = copy.deepcopy(box())
    holder = said
    for key in path[:-1]:
        holder = holder[key]
    holder[path[-1]] = to
    return said


def test_names_become_numbers_in_the_order_of_the_file():
    """Items, pools, dimensions, values and operations, swaps last."""
    read = problem(box(pools={"jack": 2}))
    assert (read.items, read.pools, read.dims[0].values) == (("lid", "part"), ("jack",), ("none", "10 mm", "13 mm"))
    assert [one.name for one in read.ops] == ["lid out", "part out", "part back", "lid back", "swap"]
    assert read.targets == (1,)
    assert read.ops[1].ways[0].allowed == (0b100,)  # 13 mm is the third value


def test_what_is_left_out_is_nothing_and_what_is_not_named_is_free():
    """A way without anything can be done anywhere, at no time of its own."""
    read = problem(core([op("lid", "out"), op("lid", "back")], dims=[TOOL]))
    only = read.ops[0].ways[0]
    assert (only.needs, only.allowed, only.time, only.cost, only.uses) == ((), (0b111,), 0, 0, ())
    assert (read.start, read.goal, read.fixed_cost, read.once, read.waits) == ((0,), ((0, 0),), 0, (), ())


def test_one_number_stands_for_a_table_of_changes():
    """Zero on the diagonal."""
    assert problem().dims[0].change == ((0, 3, 3), (3, 0, 3), (3, 3, 0))


def test_the_cheapest_offer_counts():
    """At rate 2 a time of 5 is 10, dearer than 9; of equals the first."""
    offers = [{"time": 5, "cost": 0}, {"time": 0, "cost": 9}, {"time": 4, "cost": 1}]
    read = problem(box(rate=2, once=[{"id": "align", "ops": [["lid out", 0]], "offers": offers}]))
    assert (read.once[0].cost, read.once[0].time, read.once[0].ops) == (9, 0, ((0, 0),))


@pytest.mark.parametrize(("lead", "left"), [(0, 4), (3, 1), (4, 0), (5, 0)])
def test_work_ahead_of_the_first_step_runs_down_what_is_left_of_a_wait(lead, left):
    """Below, at and above what is left."""
    wait = {"id": "dry", "after": ["lid out"], "before": ["end"], "time": 6, "left": 4}
    read = problem(box(waits=[wait], fixed=[{"id": "look", "when": "before", "time": lead}]))
    assert (read.waits[0].left, read.waits[0].before) == (left, {END})


def test_a_goal_that_no_level_reaches_is_read():
    """It only has no way; all levels that are not there are one."""
    goal = problem(box(items={"lid": {"levels": 1, "goal": [10**9, 10**9]}, "part": {"levels": 1}})).goal
    assert goal == ((2, 2), (0, 0))


def test_version_1_is_version_2_in_other_words():
    """The same problem both ways gives the same ops and dimensions; times are minutes, extras are costs."""
    alt = {"req": {}, "tool": "a", "vantage": "top", "postures": ["down", "up"], "extra": 2}
    old = {
        "tools": ["a", "b"], "vantages": ["top"], "postures": ["down", "up"],
        "setup": {"tool": 1, "vantage": 2, "posture": 3}, "end_posture": "down",
        "start": {"tool": "b", "vantage": "top", "posture": "down"}, "items": {"lid": 1},
        "ops": [{"id": "off", "item": "lid", "dir": "out", "level": 1, "minutes": 4, "alts": [alt]}],
        "target": "lid", "swap": {"tool": "a", "vantage": "top", "postures": ["up"], "minutes": 5},
    }  # fmt: skip
    within = {"tool": ["a"], "vantage": ["top"]}
    new = {
        "core": 2, "rate": 1, "items": {"lid": {"levels": 1}},
        "dims": [
            {"name": "tool", "values": ["a", "b"], "start": "b", "change": 1},
            {"name": "vantage", "values": ["top"], "start": "top", "change": 2},
            {"name": "posture", "values": ["down", "up"], "start": "down", "change": 3, "end": ["down"]},
        ],
        "ops": [op("lid", "out", {"in": {**within, "posture": ["down", "up"]}, "cost": 2}, time=4, id="off")],
        "swaps": [{"id": "swap", "item": "lid", "time": 5, "ways": [{"in": {**within, "posture": ["up"]}}]}],
    }  # fmt: skip
    one, two = read_problem(old), read_problem(new)
    assert (one.version, two.version) == (1, 2)
    assert (one.ops, one.dims, one.targets) == (two.ops, two.dims, two.targets)


REFUSED = {
    "no mapping": ([], "a core problem is a mapping"),
    "version": ({**box(), "core": 3}, '"core" is 3; versions 1 and 2 are known'),
    "version in words": ({**box(), "core": True}, '"core" is True'),
    "no items": ({k: v for k, v in box().items() if k != "items"}, '"items" must be a mapping, not None'),
    "op is no mapping": (changed("ops", 0, to=3), '"ops" must list mappings, not 3'),
    "id missing": (changed("ops", 0, "id", to=None), "a name is one line of text, not None"),
    "id twice": (changed("ops", 0, "id", to="swap"), "'swap' stands there twice"),
    "id of the end": (changed("ops", 0, "id", to="end"), '"end" means the end of the job'),
    "name of two lines": (changed("ops", 0, "id", to="a\nb"), "a name is one line of text, not 'a\\nb'"),
    "same move": (changed("ops", 3, "dir", to="out"), "'lid back' and 'lid out' are the same move"),
    "direction": (changed("ops", 0, "dir", to="up"), '"dir" must be "out" or "back", not \'up\''),
    "unknown item": (changed("ops", 0, "item", to="cover"), "operation 'lid out': no item is called 'cover'"),
    "level 0": (changed("ops", 0, "level", to=0), "level 0 is not between 1 and 1"),
    "level 2": (changed("ops", 0, "level", to=2), "level 2 is not between 1 and 1"),
    "negative time": (changed("ops", 0, "time", to=-1), '"time" is -1; it must not be below zero'),
    "half a minute": (changed("ops", 0, "time", to=0.5), '"time" must be a whole number, not 0.5'),
    "unknown tool": (changed("ops", 0, "ways", 0, to=way("8 mm")), "no tool is called '8 mm'"),
    "unknown dimension": (changed("ops", 0, "ways", 0, to={"in": {"x": []}}), "no dimension is called 'x'"),
    "half a range": (changed("ops", 0, "ways", 0, to={"needs": {"part": [0]}}), "a range is two whole numbers, 0 or more"),
    "swap with needs": (changed("swaps", 0, "ways", 0, to={"needs": {"lid": [1, 1]}}), 'a swap have no "needs"'),
    "swap of nothing": (changed("swaps", 0, "item", to=None), '"item" must be a list, not None'),
    "no values": (changed("dims", 0, "values", to=[]), "dimension 'tool': it has no values"),
    "start": (changed("dims", 0, "start", to="8 mm"), "no value is called '8 mm'"),
    "table": (changed("dims", 0, "change", to=[[0, 1], [1, 0]]), "a square table of 3 rows with a zero diagonal"),
    "dimension twice": (changed("dims", to=[TOOL, TOOL]), "'tool' stands there twice"),
    "no offer": (box(once=[{"ops": [], "offers": []}]), "it offers nothing to pay"),
    "unknown way": (
        box(once=[{"ops": [["lid out", 1]], "offers": [{}]}]), "'lid out' has no way 1; it has 1, counted from 0",
    ),
    "left": (
        box(waits=[{"after": [], "before": [], "time": 2, "left": 3}]), '"left" is 3; it is at most 2, the whole wait',
    ),
    "when": (box(fixed=[{"when": "later"}]), '"when" must be "before", "swap" or "after", not \'later\''),
    "starts too high": (changed("items", "lid", to={"levels": 1, "start": 2}), "starts at 2, but has 1 levels"),
    "holds": (changed("items", "lid", to={"levels": 1, "holds": {"2": {}}}), "there is no level '2'"),
}  # fmt: skip


@pytest.mark.parametrize(("said", "words"), REFUSED.values(), ids=REFUSED)
def test_what_is_wrong_is_said(said, words):
    """Where, and what was found."""
    with pytest.raises(InputError) as caught:
        read_problem(said)
    assert words in str(caught.value)


@pytest.mark.parametrize(("levels", "is_read"), [(MOST_LEVELS, True), (MOST_LEVELS + 1, False)])
def test_there_is_a_most_of_levels(levels, is_read):
    """At the border, and just above."""
    said = box(items={"lid": {"levels": 1}, "part": {"levels": 1}, "stack": {"levels": levels}})
    if is_read:
        assert read_problem(said).levels == (1, 1, levels)
    else:
        with pytest.raises(InputError, match="levels are too many"):
            read_problem(said)


@pytest.mark.parametrize(("more", "is_read"), [(0, True), (1, False)])
def test_there_is_a_dearest_plan(more, is_read):
    """No plan can cost more than the steps, here 4, one change of 3 ahead of each and of the end, and what is fixed."""
    # 4 operations, the swap, and two places more to be safe: 7 times 3
    said = box(fixed=[{"id": "fee", "when": "after", "cost": DEAREST - 4 - 7 * 3 + more}])
    if is_read:
        assert read_problem(said).fixed_cost == DEAREST - 25
    else:
        with pytest.raises(InputError, match="too much to count; choose larger units"):
            read_problem(said)
