"""All routes that nothing rules out."""

from dataclasses import replace

import pytest
from belt_samples import demo_drive, swapped, two_pulleys

from putback.belt.drive import BACK, RIBS
from putback.belt.finding import worst
from putback.belt.geometry import ANTICLOCKWISE
from putback.belt.propose import MOST_PULLEYS, propose, sides
from putback.errors import InputError


@pytest.fixture(scope="module")
def drive():
    return demo_drive()


def test_the_right_route_is_found_from_pulleys_alone(drive):
    """Whether a route is known or not, and whichever side of the tensioner's pulley is told."""
    unknown = tuple(replace(one, side=None) for one in drive.pulleys)
    for blank in (drive, replace(drive, route=()), replace(drive, route=(), pulleys=unknown)):
        found = propose(blank).routes
        assert found[0].route == drive.route
        assert all(worst(one.findings) != "stop" for one in found)


def test_no_route_is_proposed_twice(drive):
    """Though the arm is tried in several places."""
    routes = [one.route for one in propose(drive).routes]

    assert len(routes) == len(set(routes))


def test_no_route_is_proposed_that_leaves_the_marks(drive):
    """A belt of another length has none here."""
    assert propose(replace(drive, belt=replace(drive.belt, length=1.7))).routes == ()


def test_sides_follow_from_rotation_and_face(drive):
    """A flat pulley of which nothing is known may lie on either side."""
    flat = replace(drive.pulley("tensioner pulley"), side=None)

    assert sides(drive, drive.pulley("tensioner pulley")) == (BACK,)
    assert sides(drive, flat) == (BACK, RIBS)
    assert sides(drive, replace(flat, rotation=ANTICLOCKWISE)) == (BACK,)
    assert sides(drive, drive.pulley("idler pulley")) == (RIBS,)
    assert sides(drive, drive.pulley("crankshaft")) == (RIBS,)


def test_without_a_tensioner_a_route_is_found_as_well():
    """There is but one for two pulleys."""
    drive = two_pulleys()
    fitted = replace(drive, belt=replace(drive.belt, length=0.9099))

    assert [one.route for one in propose(fitted).routes] == [fitted.route]


def test_of_equals_the_route_most_like_the_laid_one_comes_first(drive):
    """And the order never depends on chance."""
    assert propose(drive, swapped(drive, "alternator", "compressor")).routes[0].route == drive.route
    assert propose(drive) == propose(drive)


def test_too_many_pulleys_are_refused(drive):
    """With how many can be tried."""
    many = tuple(replace(drive.pulleys[1], name=f"p{n}") for n in range(MOST_PULLEYS))
    with pytest.raises(InputError, match="up to 12 pulleys; this drive has 13"):
        propose(replace(drive, pulleys=(drive.pulleys[0], *many)))


def test_where_there_is_too_much_to_try_that_is_told():
    """Twelve small pulleys anyhow, on either side of which the belt may pass."""
    drive = two_pulleys()
    small = replace(drive.pulleys[1], diameter=0.01, grooves=0, is_outside=True)
    places = [(0.09 * (n % 4), 0.09 * (n // 4)) for n in range(1, MOST_PULLEYS)]
    many = tuple(replace(small, name=f"p{n}", kind="idler", centre=place) for n, place in enumerate(places))
    crank = replace(drive.pulleys[0], diameter=0.06)

    assert not propose(replace(drive, pulleys=(crank, *many))).is_all
    assert propose(demo_drive()).is_all
