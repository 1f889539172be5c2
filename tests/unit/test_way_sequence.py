"""The order within one phase: the first arrival is the cheapest, and the steps lead there."""

from core_samples import box, problem

from putback.way.bounds import NEVER, Bound
from putback.way.phase import out_phase
from putback.way.runs import CHANGES, Runs
from putback.way.sequence import Sequence
from putback.way.space import Space


def sequence(weight: float = 1) -> Sequence:
    runs = Runs(problem(box()))
    space = Space(runs.problem, out_phase(runs, runs.first), (0,))
    return Sequence(space, Bound(space), weight)


def test_the_first_arrival_is_the_cheapest():
    """Two changes of tool; with 13 mm in hand at the swap."""
    search = sequence()
    search.run(100, NEVER)
    [arrival] = search.arrivals
    assert (arrival.cost, search.space.contexts[arrival.context]) == (2 * (3 * CHANGES + 1), (2,))


def test_the_steps_are_those_of_the_arrival():
    """Lid with 10 mm, part with 13 mm, the swap with what is in hand."""
    search = sequence()
    search.run(100, NEVER)
    steps = search.steps(search.arrivals[0])
    assert [(step.number, step.way, step.context) for step in steps] == [(0, 0, (1,)), (1, 0, (2,)), (2, 0, (2,))]


def test_its_lower_bound_rises_to_the_first_arrival_and_past_the_last():
    """Before: at most the arrival's cost. After: nothing is left."""
    search = sequence()
    assert search.lower <= 2 * (3 * CHANGES + 1)
    search.run(100, NEVER)
    search.run(100, NEVER)
    assert search.lower == NEVER


def test_it_stops_after_so_many_nodes():
    """And goes on where it stopped."""
    search = sequence()
    assert [search.run(1, NEVER) for _ in range(3)] == [1, 1, 1]
    assert len(search.arrivals) == 1


def test_what_must_cost_the_cap_or_more_is_dropped():
    """The cheapest costs two changes: it is found with a cap just above and not at the cap."""
    whole = 2 * (3 * CHANGES + 1)
    found = []
    for cap in (whole, whole + 1):
        search = sequence()
        search.run(100, cap)
        found.append(len(search.arrivals))
    assert found == [0, 1]


def test_haste_arrives_as_well():
    """With the cost to go taken five times as dear."""
    search = sequence(5)
    search.run(100, NEVER)
    assert len(search.arrivals) == 1
