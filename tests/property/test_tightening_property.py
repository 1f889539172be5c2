"""What must hold for any wrench, adapter, order and group."""

from cmath import rect
from math import dist, radians

from hypothesis import assume, given
from hypothesis import strategies as st

from putback.area.wrench import Wrench
from putback.torque.adapter import Adapter, applied, gain, setting
from putback.torque.closing import Tightened, what_is_open
from putback.torque.order import circle, grid, positions
from putback.torque.passes import passes
from putback.torque.selection import select
from putback.torque.wrench import covers, lowest, on_scale
from putback.units import TORQUE_UNITS

TORQUES = st.floats(0.1, 2000)
LEVERS = st.floats(0.05, 2.0)
ADAPTERS = st.builds(Adapter, st.floats(0.001, 0.5), st.floats(0, 180))
UNITS = ["N·m", "ft-lb", "in-lb", "kgf·m"]


@st.composite
def wrenches(draw, name: str = "one") -> Wrench:
    """A wrench with a scale in some unit."""
    size = TORQUE_UNITS[unit := draw(st.sampled_from(UNITS))].size
    low = draw(st.none() | st.integers(1, 50))
    high = draw(st.integers((low or 0) + 5, 400))
    step = draw(st.none() | st.sampled_from([0.1, 0.25, 0.5, 1, 2]))
    lever = draw(st.none() | LEVERS)
    own = None if step is None else step * size
    return Wrench(name, None if low is None else low * size, high * size, own, unit=unit, lever=lever)


@st.composite
def points(draw):
    """Places of fasteners, no two the same."""
    numbers = st.integers(-50, 50)
    return draw(st.lists(st.tuples(numbers, numbers), min_size=1, max_size=60, unique=True))


@given(TORQUES, LEVERS, ADAPTERS)
def test_what_is_set_through_an_adapter_arrives(torque, lever, adapter):
    """Set, then applied: the torque comes back, whatever the adapter."""
    assume(lever > 1.05 * adapter.extension)

    back = applied(setting(torque, lever, adapter), lever, adapter)
    assert abs(back - torque) < 1e-9 * torque


@given(LEVERS, ADAPTERS)
def test_an_adapter_gains_by_the_moments_of_one_force(lever, adapter):
    """Statics by coordinates: a force across the wrench at its grip, and its moments about drive and fastener."""
    assume(lever > 1.05 * adapter.extension)
    drive, fastener, grip = 0j, rect(adapter.extension, radians(adapter.angle)), complex(-lever, 0)

    def moment(axis: complex) -> float:
        arm, force = grip - axis, 1j
        return arm.real * force.imag - arm.imag * force.real

    assert abs(gain(lever, adapter) - moment(fastener) / moment(drive)) < 1e-9


@given(wrenches(), st.floats(0, 1))
def test_a_setting_is_a_mark_in_the_range_and_the_nearest(wrench, share):
    """Never more than half a step off, but where the scale ends."""
    torque = lowest(wrench) + share * (wrench.high - lowest(wrench))
    size = TORQUE_UNITS[wrench.unit].size
    mark = on_scale(wrench, torque) * size

    if wrench.step is None:
        assert abs(mark - torque) < 1e-6
        return
    assert covers(wrench, mark)
    if lowest(wrench) + wrench.step <= torque <= wrench.high - wrench.step:
        assert abs(mark - torque) <= wrench.step / 2 + 1e-6


@given(TORQUES, st.lists(st.integers(), max_size=4), st.data(), st.none() | ADAPTERS)
def test_a_shop_gives_choices_that_can_be_set_or_says_why_not(torque, several, data, adapter):
    """Every wrench is either offered, at a setting in its range, or refused with a reason; none is lost."""
    shop = [data.draw(wrenches(f"wrench {number}")) for number in range(len(several))]
    selection = select(torque, shop, adapter=adapter)

    names = [choice.wrench.name for choice in selection.choices] + [name for name, _ in selection.refused]
    assert sorted(names) == sorted(one.name for one in shop)
    assert (selection.missing is None) == bool(selection.choices)
    assert all(covers(choice.wrench, choice.exact) for choice in selection.choices)
    assert [choice.rank for choice in selection.choices] == sorted(choice.rank for choice in selection.choices)
    for choice in selection.choices:
        assert choice.band.low < choice.torque < choice.band.high


@given(st.lists(wrenches(), min_size=2, max_size=4), TORQUES, st.randoms(use_true_random=False))
def test_the_order_in_a_shop_file_does_not_matter(shop, torque, random):
    """The same wrenches in another order are ranked the same."""
    named = [Wrench(**{**vars(one), "name": f"wrench {number}"}) for number, one in enumerate(shop)]
    shuffled = random.sample(named, len(named))

    assert select(torque, named).choices == select(torque, shuffled).choices


@given(st.integers(1, 60))
def test_a_circle_is_walked_once_and_across(count):
    """Each fastener once; with an even number every second step lands opposite, with an odd one as near as can be."""
    order = circle(count)

    assert sorted(order) == list(range(1, count + 1))
    for at in range(0, count - 1, 2 if count % 2 == 0 else 1):
        apart = abs(order[at + 1] - order[at])
        assert min(apart, count - apart) == count // 2


@given(st.integers(1, 60).flatmap(lambda rows: st.tuples(st.just(rows), st.integers(1, 60 // rows))))
def test_a_grid_is_walked_once_and_changes_sides(size):
    """Each fastener once; every fastener away from the centre is followed or led by its mirror image."""
    order = grid(*size)
    count = len(order)
    turn = {number: at for at, number in enumerate(order)}
    pairs = [(number, count + 1 - number) for number in range(1, count // 2 + 1)]

    assert sorted(order) == list(range(1, size[0] * size[1] + 1))
    assert all(abs(turn[one] - turn[other]) == 1 for one, other in pairs)


@given(points())
def test_places_are_walked_once(places):
    """Each fastener once, wherever they sit."""
    assert sorted(positions(places)) == list(range(1, len(places) + 1))


@given(points(), st.integers(-1000, 1000), st.integers(1, 9))
def test_where_a_joint_lies_does_not_matter(places, shift, factor):
    """Moved and enlarged, the order stays, but where two places are equally good to the last digit."""
    moved = [(factor * x + shift, factor * y - shift) for x, y in places]
    one, other = positions(places), positions(moved)
    centre = (sum(x for x, _ in places) / len(places), sum(y for _, y in places) / len(places))

    first, second = (dist(places[order[0] - 1], centre) for order in (one, other))
    assert abs(first - second) <= 0.06 * max(dist(place, centre) for place in places) + 1e-9


@given(st.integers(1, 20), st.lists(st.sampled_from([0.2, 0.3, 0.5, 0.7]), unique=True, max_size=3), st.data())
def test_a_group_closed_as_told_is_closed_and_any_step_left_out_leaves_it_open(count, shares, data):
    """Whatever the passes; the record of one step less is told."""
    rounds = passes(circle(count), 100, shares=(*sorted(shares), 1.0), last_round=range(1, count + 1))
    done = [Tightened(number, one.torque) for one in rounds[1:] for number in one.order]
    assert what_is_open(done, rounds) == ()

    gone = data.draw(st.integers(0, len(done) - 1))
    assert what_is_open(done[:gone] + done[gone + 1 :], rounds) != ()
