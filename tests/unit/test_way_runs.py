"""Which operations run: what is forced, what is a choice, what is stuck."""

from core_samples import awkward_box, box, core, op, problem

from putback.way.runs import CHANGES, Runs


def names(runs: Runs, members: int) -> list[str]:
    return [runs.ops[n].name for n in runs.members(members)]


def test_what_every_way_needs_is_forced():
    """The part only comes out past the lid, and what is off comes on again."""
    runs = Runs(problem())
    assert names(runs, runs.first) == ["lid out", "part out", "part back", "lid back", "swap", "end"]
    assert runs.stuck(runs.first) is None


def test_what_only_one_way_needs_is_a_choice():
    """The lid may stay on; taking it off is what the set can be extended by."""
    runs = Runs(problem(awkward_box(5)))
    assert names(runs, runs.first) == ["part out", "part back", "swap", "end"]
    [lack] = runs.extensions(runs.first)
    assert names(runs, runs.closed(runs.first | lack)) == names(runs, Runs(problem()).first)


def test_a_set_costs_its_work_in_the_cheapest_ways():
    """4 steps of 1 with the lid; 2 steps of 1 and twice 5 more without."""
    plain, awkward = Runs(problem()), Runs(problem(awkward_box(5)))
    assert plain.cost(plain.first) == CHANGES * 4
    assert awkward.cost(awkward.first) == CHANGES * 2  # the cheap way is not usable yet: a bound, not a price


def test_once_only_costs_come_with_their_operations():
    """7 once, though two of its operations run."""
    once = [{"id": "align", "ops": [["lid out"], ["lid back"]], "offers": [{"cost": 7}]}]
    runs = Runs(problem(box(once=once)))
    assert runs.cost(runs.first) == CHANGES * (4 + 7)


def test_a_once_only_cost_of_one_way_makes_that_way_lack_it():
    """Other ways do not pay."""
    said = awkward_box(5) | {"once": [{"id": "align", "ops": [["part out", 1]], "offers": [{"cost": 7}]}]}
    runs = Runs(problem(said))
    past_the_lid = runs.modes(runs.number("out", 1, 1))[1]
    once = past_the_lid.lacks(runs.first)
    assert (runs.once_cost(runs.first), runs.once_cost(runs.closed(runs.first | once))) == (0, CHANGES * 7)


def test_the_operation_with_fewest_ways_out_is_stuck():
    """Either of two covers would do for the part: the set waits for one of them."""
    ops = [
        op("part", "out", {"needs": {"left": [1, 1]}}, {"needs": {"right": [1, 1]}}),
        op("part", "back"),
        *[op(item, direction) for item in ("left", "right") for direction in ("out", "back")],
    ]
    runs = Runs(problem(core(ops, swaps=[{"id": "swap", "item": "part", "ways": [{}]}])))
    n, lacks = runs.stuck(runs.first)
    assert (runs.ops[n].name, [names(runs, lack) for lack in lacks]) == ("part out", [["left out"], ["right out"]])


def test_a_move_that_nobody_can_make_is_stuck_without_a_way_out():
    """No operation brings the lid back."""
    said = box()
    del said["ops"][3]
    runs = Runs(problem(said))
    n, lacks = runs.stuck(runs.first)
    assert (runs.ops[n].name, lacks) == ("lid, back", [])


def test_levels_come_one_after_the_other():
    """Out to level 2 goes by level 1; back as far as the goal asks."""
    ops = [op("nut", d, level=level) for d in ("out", "back") for level in (1, 2)]
    items = {"nut": {"levels": 2, "goal": [1, 1]}}
    runs = Runs(problem(core(ops, items=items, swaps=[{"id": "swap", "item": "nut", "ways": [{}]}])))
    assert names(runs, runs.first) == ["nut out", "nut out 2", "nut back 2", "swap", "end"]
    assert runs.displaced(runs.first) == {0: (0, 2, 1)}


def test_more_than_a_hundred_levels_are_counted_right():
    """Start, highest and last level of a stack of 150."""
    ops = [op("stack", d, level=level) for d in ("out", "back") for level in range(1, 151)]
    items = {"stack": {"levels": 150, "goal": [140, 140]}}
    runs = Runs(problem(core(ops, items=items, swaps=[{"id": "swap", "item": "stack", "ways": [{}]}])))
    assert runs.displaced(runs.first) == {0: (0, 150, 140)}
