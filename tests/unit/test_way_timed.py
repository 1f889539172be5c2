"""Waits: what fills them, what does not, and how much idling is left."""

import pytest
from core_samples import TOOL, core, op, problem, way

from putback.way import solve_core
from putback.way.timed import Timer, change_time, idle_time, run_down, step_time

WAIT = {"id": "dry", "after": ["plug out"], "before": ["part out"], "time": 6}


def drained(filler: int = 1, **said) -> dict:
    """A plug, then 6 of waiting, then the part; a cover that may be taken off meanwhile. Steps of 1."""
    ops = [op(item, d) for item in ("plug", "cover", "part") for d in ("out", "back")]
    ops[2]["time"] = filler
    ops[4]["ways"] = [{"needs": {"plug": [1, 1], "cover": [1, 1]}}]
    return core(ops, waits=[WAIT], swaps=[{"id": "swap", "item": "part", "ways": [{}]}]) | said


@pytest.mark.parametrize(("filler", "total"), [(0, 5 + 6), (5, 10 + 1), (6, 11), (7, 12)])
def test_other_work_fills_a_wait(filler, total):
    """Five steps of 1 and the filler; what it leaves of the 6 is idle: below, nearly, just and more than filled."""
    found = solve_core(drained(filler))
    assert (found.total, found.proved) == (total, True)
    assert [name for name, _, _ in found.plan[:3]] == ["plug out", "cover out", "part out"]


def test_a_change_of_context_runs_a_wait_down():
    """The part takes 13 mm: of the 6 the cover takes 1 and the change 3; 2 are idle."""
    said = drained(dims=[TOOL])
    said["ops"][4]["ways"][0]["in"] = {"tool": ["13 mm"]}
    assert solve_core(said).total == 6 + 3 + 2


def test_once_only_work_runs_no_wait_down():
    """It falls due, but not while the plug drains: 6 steps, 5 idle, 4 once."""
    once = [{"id": "align", "ops": [["cover out"]], "offers": [{"time": 4}]}]
    assert solve_core(drained(once=once)).total == 6 + 5 + 4


def test_a_wait_for_the_end_of_the_job():
    """Glue on the cover: 6 from its refit to the work after; the other refits fill 2 when it goes first."""
    wait = {"id": "glue", "after": ["cover back"], "before": ["end"], "time": 6}
    found = solve_core(drained(waits=[wait]))
    assert found.total == 6 + 4
    assert [name for name, _, _ in found.plan[4:]][0] == "cover back"


@pytest.mark.parametrize(("left", "total"), [(0, 6), (2, 6), (3, 7)])
def test_what_is_left_of_a_wait_counts_from_the_start(left, total):
    """The plug is out already; the cover and nothing else fills what is left, with 1 of work ahead of all."""
    said = drained(fixed=[{"id": "look", "when": "before", "time": 1}], waits=[{**WAIT, "left": left}])
    said["items"] = {"plug": {"levels": 1, "start": 1}, "cover": {"levels": 1}, "part": {"levels": 1}}
    assert solve_core(said).total == total


def test_timers_run_down_to_nothing_and_no_further():
    """Below, at and above what is left."""
    assert run_down((5, 3, 2), 3) == (2, 0, 0)


def test_a_timer_holds_up_what_it_is_named_for():
    """The part waits for the plug; the cover does not. The wait begins anew with its operation."""
    timer = Timer(problem(drained()))
    assert timer.start == (0,)
    assert timer.after((0,), 0) == (6,)
    assert [timer.idle((4,), n) for n in (2, 4)] == [0, 4]


def test_idle_time_of_a_plan_is_what_nothing_fills():
    """Plug, cover, part: 6 less the 1 of the cover."""
    said = problem(drained())
    steps = tuple((n, 0, ()) for n in (0, 2, 4, 6, 5, 3, 1, 7))
    assert idle_time(said, steps) == 5


def test_times_of_changes_and_of_steps():
    """A dimension that is not settled takes none; nor does the end of the job."""
    ops = [op("part", "out", way("10 mm", time=2)), op("part", "back")]
    said = problem(core(ops, dims=[TOOL]))
    assert change_time(said, (0,), (1,)) == 3
    assert (step_time(said, 0, 0), step_time(said, 2, 0)) == (3, 0)
