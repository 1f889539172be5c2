"""Bounds by projection: what each dimension alone must still cost, added up."""

from core_samples import TOOL, box, core, op, problem, way

from putback.way.bounds import Bound
from putback.way.phase import back_phase, out_phase
from putback.way.runs import CHANGES, Runs
from putback.way.sequence import Sequence
from putback.way.space import Space

VANTAGE = {"name": "vantage", "values": ["top", "under"], "start": "top", "change": 5}
CHANGE = 3 * CHANGES + 1


def stand(said: dict, make=out_phase) -> tuple[Space, Bound]:
    runs = Runs(problem(said))
    space = Space(runs.problem, make(runs, runs.first), tuple(range(len(runs.problem.dims))))
    return space, Bound(space)


def cheapest(space: Space, bound: Bound) -> int:
    search = Sequence(space, bound)
    search.run(1000, 1 << 62)
    return search.arrivals[0].cost


def test_one_dimension_alone_is_bounded_exactly():
    """Two changes of tool on the way in, one on the way back, whose end is free."""
    for make, changes in ((out_phase, 2), (back_phase, 1)):
        space, bound = stand(box(), make)
        assert bound.best(*space.begin()) == changes * CHANGE == cheapest(space, bound)


def test_nothing_is_left_to_pay_when_all_is_done():
    """The bound of an end is nought."""
    space, bound = stand(box())
    assert bound.best(space.full, space.start) == 0


def crossed() -> dict:
    """Four free parts: 10 and 13 mm, each from the top and from under.

    Each dimension alone needs few changes, and both at once need more.
    """
    ops = []
    for n, (tool, vantage) in enumerate((t, v) for t in ("10 mm", "13 mm") for v in ("top", "under")):
        ops += [op(f"p{n}", "out", {"in": {"tool": [tool], "vantage": [vantage]}}), op(f"p{n}", "back")]
    swaps = [{"id": "swap", "item": [f"p{n}" for n in range(4)], "ways": [{}]}]
    return core(ops, dims=[TOOL, VANTAGE], swaps=swaps)


def test_blocks_of_two_dimensions_bound_more_than_each_alone():
    """Alone: tools 2 x 3, vantages 5. Together: four blocks, so three borders besides the first tool.

    By hand the cheapest is 10 top, 13 top, 13 under, 10 under: tools 3 x 3, vantages 5, so 14; apart it is 11.
    """
    space, bound = stand(crossed())
    begin = space.begin()
    apart = 2 * CHANGE + 5 * CHANGES + 1
    assert cheapest(space, bound) == 3 * CHANGE + 5 * CHANGES + 1
    assert apart < bound.best(*begin) <= cheapest(space, bound)


def test_the_bound_never_falls_short_by_its_own_rule():
    """Along the cheapest way: what was paid and what is still bounded never exceed the whole."""
    space, bound = stand(crossed())
    whole, state, paid = cheapest(space, bound), space.begin(), 0
    while state[0] != space.full:
        assert paid + bound.best(*state) <= whole
        options = [(cost + bound.best(*after), cost, after) for after, (cost, _) in space.moves(*state).items()]
        _, cost, state = min(options)
        paid += cost


def test_without_dimensions_there_is_nothing_to_bound():
    """Every step is done at once."""
    ops = [op("part", "out", way()), op("part", "back")]
    space, bound = stand(core(ops, swaps=[{"id": "swap", "item": "part", "ways": [{}]}]))
    assert bound.best(*space.begin()) == 0
