"""Random belt drives as bare circles: (x, y, radius, is inside), in mm, in the order in which a belt passes them.

The order is anticlockwise. Nothing here comes from the program.
"""

from math import cos, dist, hypot, pi, sin
from random import Random

Circle = tuple[float, float, float, bool]


def ring(rng: Random, count: int) -> list[Circle]:
    """Circles round about a ring, none of them touching another."""
    while True:
        middle = rng.uniform(130, 260)
        angles = [2 * pi * (n + rng.uniform(-0.25, 0.25)) / count for n in range(count)]
        aways = [middle * rng.uniform(0.85, 1.15) for _ in angles]
        found = [(r * cos(a), r * sin(a), rng.uniform(24, 80), True) for a, r in zip(angles, aways, strict=True)]
        if are_apart(found):
            return found


def with_idlers(rng: Random, circles: list[Circle], count: int) -> list[Circle]:
    """Put so many circles on the outside of the belt, between neighbours, each pressed into its run."""
    found = list(circles)
    for at in sorted(rng.sample(range(len(circles)), count), reverse=True):
        found.insert(at + 1, _pressed_in(rng, circles[at], circles[(at + 1) % len(circles)]))
    return found


def _pressed_in(rng: Random, one: Circle, other: Circle) -> Circle:
    """A circle on the right of the way from one to another, that reaches over the outer tangent of both."""
    (x, y, r, _), (x2, y2, r2, _) = one, other
    away, share = hypot(x2 - x, y2 - y), rng.uniform(0.35, 0.65)
    out = (y2 - y) / away, (x - x2) / away
    radius = rng.uniform(25, 40)
    aside = r + share * (r2 - r) + radius - rng.uniform(8, 45)
    return x + share * (x2 - x) + aside * out[0], y + share * (y2 - y) + aside * out[1], radius, False


def are_apart(circles: list[Circle]) -> bool:
    """Whether no two circles come closer than 10 mm."""
    pairs = ((a, b) for n, a in enumerate(circles) for b in circles[:n])
    return all(dist(a[:2], b[:2]) > a[2] + b[2] + 10 for a, b in pairs)
