"""What must hold for any belt: seen in a mirror, turned, enlarged, read backwards, worked."""

from math import cos, radians, sin, tau
from random import Random

import pytest
from belt_samples import demo_drive, is_simple
from hypothesis import assume, given
from hypothesis import strategies as st
from referees.random_belts import are_apart, ring, with_idlers

from putback.belt.drive import BACK, DRIVEN, DRIVER, IDLER, RIBS, Belt, Drive, Pulley, Stop
from putback.belt.geometry import ANTICLOCKWISE, Wheel, loop
from putback.belt.load import at_work
from putback.belt.profile import profile
from putback.belt.route import lay, lengths, rotation, speed_ratio

SEEDS = st.integers(0, 10_000)


def circles(seed: int) -> list:
    """Random circles with a belt that crosses nothing, in mm; rejects what does not come to that."""
    rng = Random(seed)
    inner = ring(rng, rng.randint(2, 6))
    found = with_idlers(rng, inner, rng.randint(0, min(2, len(inner))))
    assume(are_apart(found) and is_simple(laid(found)))
    return found


def laid(found, place=lambda x, y: (x, y), size: float = 1.0, hand: int = 1):
    """The belt round circles that were moved, enlarged or seen in a mirror."""
    wheels = [Wheel(*place(x, y), size * r, hand * (1 if inside else -1)) for x, y, r, inside in found]
    return loop(wheels)


def drive_of(found, rng: Random) -> Drive:
    """The same circles as a drive whose first pulley drives anticlockwise and some of whose others take a load."""
    pulleys = [
        Pulley(f"p{n}", DRIVER if n == 0 else DRIVEN if inside else IDLER, 2 * r / 1000, grooves=6 if inside else 0,
               centre=(x / 1000, y / 1000), rotation=ANTICLOCKWISE if n == 0 else 0,
               torque=rng.uniform(0, 9) if n and inside else None)
        for n, (x, y, r, inside) in enumerate(found)
    ]  # fmt: skip
    route = tuple(Stop(f"p{n}", RIBS if inside else BACK) for n, (*_, inside) in enumerate(found))
    return Drive("any", tuple(pulleys), Belt(6, profile("PK"), 1.0, 0.12, tension=500.0), route=route)


@given(SEEDS, st.floats(0, tau), st.floats(0.2, 5))
def test_a_drive_moved_turned_and_enlarged_has_the_same_belt(seed, turn, size):
    """As much longer as it is larger, with the same wraps; in a mirror all turns are the other way round."""
    found = circles(seed)

    def moved(x, y):
        return size * (x * cos(turn) - y * sin(turn)) + 77, size * (x * sin(turn) + y * cos(turn)) - 33

    one, other, mirrored = laid(found), laid(found, moved, size), laid(found, lambda x, y: (-x, y), hand=-1)

    assert other.length == pytest.approx(size * one.length)
    assert other.wraps == pytest.approx(one.wraps, abs=1e-9)
    assert mirrored.length == pytest.approx(one.length)
    assert mirrored.turning == pytest.approx(-one.turning)


@given(SEEDS)
def test_wraps_inside_less_wraps_outside_are_a_full_turn(seed):
    """On every belt that crosses nothing."""
    found = circles(seed)
    wraps = laid(found).wraps

    assert sum(w if c[3] else -w for c, w in zip(found, wraps, strict=True)) == pytest.approx(tau, abs=1e-9)


@given(SEEDS, st.integers(0, 9), st.booleans())
def test_a_route_is_the_same_from_wherever_it_is_read(seed, first, backwards):
    """In either direction, from any pulley on."""
    found = circles(seed)
    drive = drive_of(found, Random(seed))
    at = first % len(found)
    read = (*drive.route[at:], *drive.route[:at])[:: -1 if backwards else 1]

    assert lay(drive, read) == lay(drive, drive.route)
    assert lay(drive, read).route == drive.route


@given(SEEDS)
def test_pulleys_turn_as_their_side_says_and_the_cord_keeps_its_speed(seed):
    """Those on the ribs with the driver, those on the back against it."""
    drive = drive_of(circles(seed), Random(seed))
    found = lay(drive, drive.route)

    for stop in found.route:
        assert rotation(found, stop) == (ANTICLOCKWISE if stop.side == RIBS else -ANTICLOCKWISE)
        assert speed_ratio(found, stop) > 0


@given(SEEDS, st.floats(10, 500))
def test_tensions_close_the_circle(seed, speed):
    """What is added at the loads is taken away at the driver, and the mean stays what it was, less what speed takes."""
    drive = drive_of(circles(seed), Random(seed))
    found = lay(drive, drive.route, lay(drive, drive.route).loop.length)
    working = at_work(found, speed)
    weights = [run.length for run in found.loop.spans]
    mean = sum(t * w for t, w in zip(working.spans, weights, strict=True)) / sum(weights)

    assert mean == pytest.approx(500 - 0.12 * working.speed**2)
    for grip in working.grips:
        assert grip.tight - grip.slack == pytest.approx(grip.pull)


@given(st.floats(0, 1))
def test_any_belt_between_the_stops_puts_the_arm_where_it_is_taut(share):
    """And a longer one nearer to the free stop."""
    drive = demo_drive()
    limits = lengths(drive, drive.route)
    length = limits.loaded + share * (limits.free - limits.loaded)
    found = lay(drive, drive.route, length)

    assert found.loop.length == pytest.approx(length, abs=1e-9)
    assert radians(233) - 1e-9 <= found.angle <= radians(277) + 1e-9
    assert lay(drive, drive.route, length + 1e-4).angle >= found.angle


@given(SEEDS)
def test_the_belt_is_the_shortest_round_its_pulleys(seed):
    """Any pulley moved into its belt makes it longer, moved away from it shorter."""
    found = circles(seed)
    rng = Random(seed)
    at = rng.randrange(len(found))
    one = laid(found)
    x, y, r, inside = found[at]
    before, after = one.spans[at - 1].along, one.spans[at].along
    gx, gy = before[0] - after[0], before[1] - after[1]
    longer = laid([*found[:at], (x + 0.01 * gx, y + 0.01 * gy, r, inside), *found[at + 1 :]])
    assume(one.wraps[at] > 0.1)

    assert longer.length > one.length


def test_the_samples_of_these_tests_are_of_many_kinds():
    """Some with pulleys on the back, some without."""
    kinds = set()
    for seed in range(60):
        rng = Random(seed)
        inner = ring(rng, rng.randint(2, 6))
        found = with_idlers(rng, inner, rng.randint(0, min(2, len(inner))))
        if are_apart(found) and is_simple(laid(found)):
            kinds.add((len(inner), len(found) - len(inner)))
    assert len(kinds) > 8
