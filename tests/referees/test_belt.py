"""Lengths of belts against a general geometry library and against a root finder with a polyline."""

from math import tau
from random import Random

import pytest
from belt_samples import is_simple
from shapely import LineString, Point, unary_union
from shapely.geometry import MultiPolygon

from putback.belt.geometry import Wheel, loop
from referees.belt_by_roots import length, polyline
from referees.random_belts import are_apart, ring, with_idlers


def laid(circles):
    """The program's own belt round some circles, in mm."""
    return loop([Wheel(x, y, r, 1 if inside else -1) for x, y, r, inside in circles])


def inside_drives(count: int) -> list:
    """Random drives whose pulleys all lie inside the belt and touch it."""
    rng, found = Random(7), []
    while len(found) < count:
        circles = ring(rng, rng.randint(2, 8))
        discs = [Point(x, y).buffer(r) for x, y, r, _ in circles]
        hull = unary_union(discs).convex_hull
        if all(disc.boundary.distance(hull.boundary) < 1e-9 for disc in discs):
            found.append(circles)
    return found


@pytest.mark.parametrize("circles", inside_drives(60))
def test_with_all_pulleys_inside_the_belt_is_their_convex_hull(circles):
    """To a millionth of a millimetre: shapely's hull of many-sided polygons (package shapely 2.2.0)."""
    discs = MultiPolygon([Point(x, y).buffer(r, quad_segs=40_000) for x, y, r, _ in circles])

    assert laid(circles).length == pytest.approx(discs.convex_hull.length, abs=1e-6)


def idler_drives(count: int) -> list:
    """Random drives with pulleys on the back of the belt whose belt, as a polyline, does not cross itself."""
    rng, found = Random(11), []
    while len(found) < count:
        inner = ring(rng, rng.randint(2, 6))
        circles = with_idlers(rng, inner, rng.randint(1, min(3, len(inner))))
        if are_apart(circles) and _is_sound(circles):
            found.append(circles)
    return found


def _is_sound(circles) -> bool:
    """By the referees alone: a ring that crosses nothing, with the inner pulleys in it and the others outside."""
    points = polyline(circles)[::200]
    line = LineString([*points, points[0]])
    if not line.is_simple:
        return False
    area = MultiPolygon([((tuple(map(tuple, line.coords))), [])])
    return all(area.contains(Point(x, y)) == inside for x, y, _, inside in circles)


def test_with_pulleys_on_its_back_the_belt_is_as_long_as_its_polyline():
    """200 random drives, to a hundredth of a micrometre over metres; and each turns once round."""
    drives = idler_drives(200)
    found = [laid(circles) for circles in drives]

    assert [one.length for one in found] == pytest.approx([length(polyline(one)) for one in drives], abs=1e-5)
    assert [one.turning for one in found] == pytest.approx([tau] * 200, abs=1e-9)
    assert all(is_simple(one) for one in found)
