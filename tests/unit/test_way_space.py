"""Where a phase can stand and go: what costs no change is done at once."""

import pytest
from core_samples import TOOL, awkward_box, box, core, op, problem, way

from putback.way.phase import back_phase, out_phase
from putback.way.runs import CHANGES, Runs
from putback.way.space import Space, change_table, is_metric

CHANGE = 3 * CHANGES + 1  # a change of tool: 3 of time, and one change


def space(said: dict, make=out_phase, **options) -> Space:
    runs = Runs(problem(said))
    phase = make(runs, runs.first)
    return Space(runs.problem, phase, tuple(range(len(runs.problem.dims))), **options)


def test_nothing_is_done_at_once_where_every_step_takes_a_tool():
    """Bare hands open no box."""
    box_space = space(box())
    assert box_space.begin() == (0, box_space.start)


def test_a_move_changes_the_context_and_takes_all_that_costs_nothing_more():
    """10 mm in hand the lid comes off; then with 13 mm the part, and the swap, which takes any tool."""
    here = space(box())
    [((done, context), (cost, step))] = here.moves(0, here.start).items()
    assert (done, here.contexts[context], cost, step) == (0b001, (1,), CHANGE, None)
    [((done, context), (cost, step))] = here.moves(done, context).items()
    assert (done, here.contexts[context], cost, step) == (0b111, (2,), CHANGE, None)


def test_what_needs_no_change_is_done_before_anything_is_chosen():
    """Three covers by hand: one state, and no order to be searched."""
    ops = [op(f"cover {n}", d) for n in range(3) for d in ("out", "back")]
    items = {f"cover {n}": {"levels": 1} for n in range(3)} | {"part": {"levels": 1}}
    off = {"needs": {f"cover {n}": [1, 1] for n in range(3)}}
    said = core([*ops, op("part", "out", off), op("part", "back", off)], items=items, dims=[TOOL])
    here = space(said | {"swaps": [{"id": "swap", "item": "part", "ways": [{}]}]})
    assert here.begin() == (here.full, here.start)


def test_a_dearer_way_is_a_choice_and_never_taken_at_once():
    """The part could come off past the lid for 5 more; that is one move among others."""
    runs = Runs(problem(awkward_box(5)))
    wide = runs.closed(runs.first | runs.bit("out", 0, 1))
    here = Space(runs.problem, out_phase(runs, wide), (0,))
    costs = sorted(cost for cost, _ in here.moves(0, here.start).values())
    assert costs == [CHANGE, CHANGE + 5 * CHANGES]


def test_at_the_end_of_the_job_the_context_is_free():
    """Read from the end the first tool costs nothing: nobody changed to it from anywhere."""
    here = space(box(), back_phase)
    done, context = here.begin()
    [((_, there), (cost, _))] = here.moves(done, context).items()
    assert (here.contexts[context], here.contexts[there], cost) == ((3,), (1,), 0)  # 3: past the last tool, free


def test_a_table_of_changes_counts_cost_and_number():
    """Time at the rate, and one for the change itself; "free" costs nothing either way."""
    said = problem(box(rate=2, dims=[{**TOOL, "change": [[0, 1, 2], [3, 0, 4], [5, 6, 0]]}]))
    forwards, backwards = change_table(said, 0, False), change_table(said, 0, True)
    assert forwards[0] == [0, 2 * CHANGES + 1, 4 * CHANGES + 1, 0]
    assert backwards[0] == [0, 6 * CHANGES + 1, 10 * CHANGES + 1, 0]
    assert forwards[3] == [0, 0, 0, 0]


@pytest.mark.parametrize(("straight", "is_so"), [(1, True), (2, True), (3, False)])
def test_a_detour_that_is_cheaper_than_the_straight_change_is_seen(straight, is_so):
    """Over the middle it takes 1 + 1. Of equal times the straight change has fewer changes."""
    table = [[0, 1, straight], [1, 0, 1], [straight, 1, 0]]
    assert is_metric(change_table(problem(box(dims=[{**TOOL, "change": table}])), 0, False)) is is_so


def test_where_detours_help_steps_are_taken_one_by_one():
    """Doing at once what costs nothing would be a loss there, so that nothing is."""
    table = [[0, 1, 9], [1, 0, 1], [9, 1, 0]]
    ops = [op("part", "out", way("none")), op("part", "back")]
    swaps = [{"id": "swap", "item": "part", "ways": [{}]}]
    here = space(core(ops, dims=[{**TOOL, "change": table}], swaps=swaps))
    assert (here.orderly, here.begin()) == (False, (0, here.start))
