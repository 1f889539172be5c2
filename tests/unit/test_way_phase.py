"""A phase is a list of steps with what comes before them, read from the leaves of the way in and of the way back."""

from core_samples import box, core, op, problem

from putback.way.phase import SWAP_SEEN_FROM_BACK, back_phase, out_phase, whole_phase
from putback.way.runs import CHANGES, Runs


def names(runs: Runs, ops) -> list[str]:
    return ["swap seen from back" if n == SWAP_SEEN_FROM_BACK else runs.ops[n].name for n in ops]


def phases(said: dict):
    runs = Runs(problem(said))
    return runs, out_phase(runs, runs.first), back_phase(runs, runs.first)


def test_the_way_in_is_read_as_time_runs():
    """Lid, part, swap; each after those before it."""
    runs, out, _ = phases(box())
    assert names(runs, out.ops) == ["lid out", "part out", "swap"]
    assert (out.before, out.backwards, out.full) == ((0b000, 0b001, 0b011), False, 0b111)


def test_the_way_back_is_read_from_its_end():
    """The end of the job comes first and the swap last, so that what goes on last is a leaf as well."""
    runs, _, back = phases(box())
    assert names(runs, back.ops) == ["end", "lid back", "part back", "swap seen from back"]
    assert (back.before, back.backwards) == ((0b0000, 0b0001, 0b0011, 0b0111), True)


def test_a_phase_costs_its_steps():
    """Two steps of 1 each way."""
    _, out, back = phases(box())
    assert (out.cost, back.cost) == (2 * CHANGES, 2 * CHANGES)


def test_dearer_modes_keep_only_what_they_cost_more():
    """The step's cheapest mode is in the phase's cost."""
    ops = [op("part", "out", {"time": 5}, {"time": 2}), op("part", "back")]
    _, out, _ = phases(core(ops, swaps=[{"id": "swap", "item": "part", "ways": [{}]}]))
    assert [choice.extra for choice in out.choices[0]] == [3 * CHANGES, 0]
    assert out.cost == (1 + 2) * CHANGES


def test_not_yet_is_a_condition_where_nothing_implies_it():
    """The part's bolt is undone while the lid is still on; the lid then shuts that step out."""
    ops = [
        op("bolt", "out", {"needs": {"lid": [0, 0]}}), op("bolt", "back"), op("lid", "out"), op("lid", "back"),
        op("part", "out", {"needs": {"bolt": [1, 1], "lid": [1, 1]}}), op("part", "back"),
    ]  # fmt: skip
    runs, out, _ = phases(core(ops, swaps=[{"id": "swap", "item": "part", "ways": [{}]}]))
    bolt, lid = names(runs, out.ops).index("bolt out"), names(runs, out.ops).index("lid out")
    # in every way of the bolt the lid is on, so the bolt simply comes before the lid
    assert out.before[lid] == 1 << bolt
    assert [choice.until for choice in out.choices[bolt]] == [0]


def test_steps_that_wait_for_each_other_are_no_phase():
    """Each of two parts has to be off before the other."""
    ops = [
        op("part", "out", {"needs": {"lid": [1, 1]}}), op("part", "back"),
        op("lid", "out", {"needs": {"part": [1, 1]}}), op("lid", "back"),
    ]  # fmt: skip
    _, out, _ = phases(core(ops, swaps=[{"id": "swap", "item": "part", "ways": [{}]}]))
    assert out is None


def test_the_whole_job_can_be_one_phase():
    """With waits the way in and the way back are one: all out, the swap, all back, the end."""
    runs = Runs(problem())
    whole = whole_phase(runs, runs.first)
    assert names(runs, whole.ops) == ["lid out", "part out", "swap", "part back", "lid back", "end"]
    assert whole.before[3] == 0b111


def test_what_items_hold_is_counted_in_reading_order():
    """A support holds a jack while it is in; seen from the end of the job nothing is held."""
    said = box(pools={"jack": 1})
    said["items"]["lid"]["holds"] = {"1": {"jack": 1}}
    runs, out, back = phases(said)
    assert (out.held, back.held) == ((0,), (0,))
    assert out.deltas[names(runs, out.ops).index("lid out")] == (1,)
    assert back.deltas[names(runs, back.ops).index("lid back")] == (1,)
