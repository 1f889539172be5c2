"""Tensions along a belt at work."""

from dataclasses import replace
from math import inf, pi

import pytest
from belt_samples import demo_drive, two_pulleys

from putback.belt.drive import RIBS, Stop
from putback.belt.load import REST, SPRING, Grip, at_work, rest_tension
from putback.belt.pull import alternator_power, friction_ratio, in_grooves, span_frequency, torque_of
from putback.belt.route import cord_radius, lay, length_at, speed_ratio
from putback.errors import InputError

RPM = 2 * pi / 60


@pytest.fixture(scope="module")
def laid():
    drive = demo_drive()
    return lay(drive, drive.route)


def grips(working) -> dict[str, Grip]:
    return {one.stop.pulley: one for one in working.grips}


def test_the_spring_gives_the_tension_by_virtual_work(laid):
    """Its torque over the change of the route's length with the angle, by differences."""
    step = 1e-5
    arm = laid.drive.tensioner
    after, before = (length_at(laid.drive, laid.route, laid.angle + one) for one in (step, -step))

    assert rest_tension(laid) == pytest.approx(arm.spring_at(laid.angle) / ((after - before) / (2 * step)), rel=1e-6)


def test_tension_rises_at_each_load_and_falls_at_the_driver(laid):
    """By the pull of each, at the radius of the cord; idlers change nothing."""
    speed = 2000 * RPM
    working = at_work(laid, speed)
    found = grips(working)
    alternator = alternator_power(135, 14) / (speed * speed_ratio(laid, Stop("alternator", RIBS)))

    assert found["alternator"].torque == pytest.approx(alternator)
    assert found["alternator"].pull == pytest.approx(alternator / cord_radius(laid.drive, Stop("alternator", RIBS)))
    assert found["compressor"].torque == 12
    assert found["crankshaft"].pull == pytest.approx(found["alternator"].pull + found["compressor"].pull)
    assert working.spans[0] == working.spans[1] == working.spans[2] == pytest.approx(rest_tension(laid))
    assert working.spans[4] - working.spans[0] == pytest.approx(found["crankshaft"].pull)
    assert set(found) == {"crankshaft", "alternator", "compressor"}


def test_power_is_kept(laid):
    """What the driver gives is what the others take."""
    speed = 2000 * RPM
    working = at_work(laid, speed)
    taken = sum(
        one.torque * speed * speed_ratio(laid, one.stop) for one in working.grips if one.stop.pulley != "crankshaft"
    )

    assert grips(working)["crankshaft"].torque * speed == pytest.approx(taken)
    assert working.speed == pytest.approx(speed * cord_radius(laid.drive, laid.route[0]))


def test_the_margin_is_one_where_the_belt_just_slips(laid):
    """The ratio of tensions is then that of friction and groove."""
    drive, wrap = laid.drive, laid.loop.wraps[3]
    limit = friction_ratio(in_grooves(0.3), wrap)
    pull = rest_tension(laid) * (limit - 1)
    torque = pull * cord_radius(drive, Stop("alternator", RIBS))
    loaded = replace(drive, pulleys=tuple(
        replace(one, power=None, torque=torque) if one.name == "alternator" else one for one in drive.pulleys
    ))  # fmt: skip
    found = grips(at_work(lay(loaded, loaded.route), 100.0, 0.3))["alternator"]

    assert found.limit == pytest.approx(limit)
    assert found.ratio == pytest.approx(limit)
    assert found.margin == pytest.approx(1)


def test_a_wet_belt_slips_sooner(laid):
    """Less friction, less margin."""
    dry, wet = (grips(at_work(laid, 200.0, one))["alternator"].margin for one in (0.3, 0.1))

    assert wet < dry
    assert wet < 1


def test_without_a_spring_the_mean_tension_stays():
    """Two equal pulleys: T1 + T2 = 2 T0 (any machine design text)."""
    drive = two_pulleys(tension=400.0)
    pulleys = (replace(drive.pulleys[0], diameter=0.1), replace(drive.pulleys[1], diameter=0.1, torque=5.0))
    equal = replace(drive, pulleys=pulleys)
    working = at_work(lay(equal, equal.route), 100.0)

    assert working.source == REST
    assert sum(working.spans) == pytest.approx(800)
    assert abs(working.spans[0] - working.spans[1]) == pytest.approx(5.0 / 0.052)


def test_without_a_spring_speed_takes_grip_away():
    """The mass of the belt times its speed squared."""
    light, heavy = two_pulleys(tension=400.0), two_pulleys(tension=400.0, mass=0.12)
    speed = 300.0
    without, along = (at_work(lay(one, one.route), speed) for one in (light, heavy))

    assert without.spans[0] - along.spans[0] == pytest.approx(0.12 * along.speed**2)


def test_a_told_tension_counts_only_without_a_spring(laid):
    """And neither where the arm lies at its stop, so that the belt hangs slack."""
    told = replace(laid.drive, belt=replace(laid.drive.belt, tension=999.0))

    assert rest_tension(lay(told, told.route)) == rest_tension(laid)
    assert at_work(laid, 100.0).source == SPRING
    assert rest_tension(lay(told, told.route, 1.7)) is None
    loose = replace(told, tensioner=replace(told.tensioner, spring=None))
    assert rest_tension(lay(loose, loose.route)) == 999.0


def test_what_is_not_known_is_asked_for():
    """Tension, and a speed above 0."""
    drive = two_pulleys()
    with pytest.raises(InputError, match="spring torque, or the belt's tension"):
        at_work(lay(drive, drive.route), 100.0)
    told = two_pulleys(tension=300.0)
    with pytest.raises(InputError, match="speed above 0"):
        at_work(lay(told, told.route), 0.0)


def test_a_pulley_without_load_has_no_grip_to_tell(laid):
    """Nor has a belt without any load a driver that pulls."""
    idle = replace(laid.drive, pulleys=tuple(replace(one, power=None, torque=None) for one in laid.drive.pulleys))

    assert at_work(lay(idle, idle.route), 100.0).grips == ()
    assert Grip(Stop("x", RIBS), 0, 0, 0, 0, 2).margin == inf
    assert Grip(Stop("x", RIBS), 1, 10, 10, 0, 2).ratio == inf
    assert Grip(Stop("x", RIBS), 1, 10, 10, 0, 2).margin == 0


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: friction_ratio(-0.1, 1),
        lambda: in_grooves(0.3, 0),
        lambda: span_frequency(300, 0, 0.1),
        lambda: alternator_power(100, 14, 1.2),
        lambda: torque_of(1000, 0),
    ],
)
def test_figures_out_of_range_are_refused(wrong):
    """In a sentence."""
    with pytest.raises(InputError):
        wrong()


