"""Equipment in short supply: looked at just before and just after each step, and at each change."""

import pytest
from core_samples import core, op, problem

from putback.errors import NoWay
from putback.way import solve_core
from putback.way.equipment import equipment_of
from putback.way.phase import out_phase
from putback.way.runs import Runs

POSTURE = {
    "name": "posture", "values": ["ground", "raised"], "start": "ground", "change": 4,
    "holds": {"raised": {"stand": 2}}, "moving": {"raised": {"jack": 1}, "ground": {"jack": 1}},
}  # fmt: skip


def supported(jacks: int, stands: int = 2) -> dict:
    """A part from under the raised car, with a support on a jack that has to be in."""
    ops = [
        op("support", "out"), op("support", "back"),
        op("part", "out", {"needs": {"support": [1, 1]}, "in": {"posture": ["raised"]}}), op("part", "back"),
    ]  # fmt: skip
    items = {"support": {"levels": 1, "holds": {"1": {"jack": 1}}}, "part": {"levels": 1}}
    swaps = [{"id": "swap", "item": "part", "ways": [{}]}]
    return core(ops, items=items, dims=[POSTURE], pools={"jack": jacks, "stand": stands}, swaps=swaps)


def scarce(said: dict):
    runs = Runs(problem(said))
    return equipment_of(runs.problem, out_phase(runs, runs.first))


def test_where_there_is_plenty_nobody_looks():
    """Two jacks do for the support and for moving the car at once."""
    assert scarce(supported(2)) is None
    assert scarce(supported(1)) is not None


def test_a_change_takes_what_moving_takes_besides_what_is_held():
    """One jack: the car can be moved while nothing is supported, and not afterwards."""
    here = scarce(supported(1))
    nothing, support_in = 0b00, 0b01
    assert here.can_change(nothing, (0,), (1,))
    assert not here.can_change(support_in, (0,), (1,))
    assert here.can_change(support_in, (1,), (1,))  # no change, nothing moved


def test_one_jack_is_enough_when_the_car_is_raised_first():
    """By hand: raise 4, support 1, part 1, swap, part 1, support 1; it may stay up at the end."""
    found = solve_core(supported(1))
    assert (found.total, found.proved) == (8, True)
    assert found.plan[0] == ["support out", 0, {"posture": "raised"}]


@pytest.mark.parametrize(("stands", "is_possible"), [(1, False), (2, True)])
def test_too_few_stands_are_no_way(stands, is_possible):
    """At what the posture holds, and one below."""
    if is_possible:
        assert solve_core(supported(1, stands)).proved
    else:
        with pytest.raises(NoWay):
            solve_core(supported(1, stands))


@pytest.mark.parametrize(("lamps", "is_possible"), [(1, False), (2, True)])
def test_what_a_step_uses_adds_to_what_is_held(lamps, is_possible):
    """The support takes a lamp while it is in, and the part's removal one more."""
    said = supported(2)
    said["items"]["support"]["holds"]["1"]["lamp"] = 1
    said["ops"][2]["ways"][0]["uses"] = {"lamp": 1}
    said["pools"]["lamp"] = lamps
    if is_possible:
        assert solve_core(said).proved
    else:
        with pytest.raises(NoWay):
            solve_core(said)


def test_a_pool_that_is_not_listed_has_nothing():
    """Who asks for a crane nobody has spoken of cannot be helped."""
    said = supported(2)
    said["ops"][2]["ways"][0]["uses"] = {"crane": 1}
    with pytest.raises(NoWay):
        solve_core(said)


def test_steps_that_touch_what_is_scarce_are_known():
    """Putting the support in takes the only jack; the part takes nothing."""
    here = scarce(supported(1))
    assert [here.touches(number, 0) for number in (0, 1)] == [True, False]


def test_one_guarded_dimension_without_detours_is_orderly():
    """A direct change needs no more than any two in its place."""
    here = scarce(supported(1))
    assert (here.guarded, here.is_orderly) == ({0}, True)
