"""Both phases of a run set, joined at the swap."""

from core_samples import TOOL, box, core, op, problem, way

from putback.way.bounds import NEVER, Bound
from putback.way.ordering import Ordering, plain
from putback.way.runs import CHANGES, Runs
from putback.way.space import Space


def ordering(said: dict) -> Ordering:
    runs = Runs(problem(said))

    def stand(phase):
        space = Space(runs.problem, phase, tuple(range(len(runs.problem.dims))))
        return space, Bound(space)

    return Ordering(runs, runs.first, stand)


def settled(said: dict) -> Ordering:
    order = ordering(said)
    while not order.is_settled:
        order.advance(100, NEVER)
    return order


def test_the_cheapest_order_is_found_and_proved():
    """The box: 4 of work and 3 changes of 3."""
    order = settled(box())
    assert order.lower == order.joined == order.best.cost == 13 * CHANGES + 3


def test_the_steps_run_from_the_first_to_the_end_of_the_job():
    """Both halves, the second turned round; every dimension has a value at every step."""
    order = settled(box())
    assert [(n, values) for n, _, values in order.best.steps] == [
        (0, (1,)), (1, (2,)), (4, (2,)), (2, (2,)), (3, (1,)), (5, (1,)),
    ]  # fmt: skip


def test_the_change_at_the_swap_is_counted_once():
    """Out with 10 mm, back with 13 mm: one change ahead of each, by hand 2 of work and 2 x 3."""
    ops = [op("part", "out", way("10 mm")), op("part", "back", way("13 mm"))]
    order = settled(core(ops, dims=[TOOL], swaps=[{"id": "swap", "item": "part", "ways": [{}]}]))
    assert plain(order.best.cost) == (2 + 6, 2)


def test_a_haste_finds_a_plan_before_anything_is_proved():
    """No order of the set costs less than the bound, at any time."""
    order = ordering(box())
    assert order.best is None
    order.rush()
    assert order.lower <= order.best.cost


def test_a_set_without_an_order_is_not_possible():
    """Two parts that wait for each other; nothing costs as little as never."""
    ops = [
        op("part", "out", {"needs": {"lid": [1, 1]}}), op("part", "back"),
        op("lid", "out", {"needs": {"part": [1, 1]}}), op("lid", "back"),
    ]  # fmt: skip
    order = ordering(core(ops, swaps=[{"id": "swap", "item": "part", "ways": [{}]}]))
    assert (order.possible, order.lower, order.best) == (False, NEVER, None)


def test_a_search_cost_is_a_total_and_a_number_of_changes():
    """Of equal totals the one with fewer changes is less."""
    assert plain(13 * CHANGES + 3) == (13, 3)
    assert 13 * CHANGES + 3 < 13 * CHANGES + 4 < 14 * CHANGES
