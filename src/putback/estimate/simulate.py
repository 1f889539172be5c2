"""The same job over and over, by a stated seed: how many of all such jobs are done in which time."""

from collections.abc import Sequence

from putback.estimate.risks import LESS, MORE, Chance
from putback.estimate.spread import Shape

DRAWS = 10_000  # the deviation of a share such as 80 % is then 0.4 %
SEED = 1


def simulate(shapes: Sequence[Shape], chances: Sequence[Chance], certain: float = 0.0, *, seed: int = SEED, draws: int = DRAWS):
    """Minutes of so many jobs, in rising order, as a numpy array.

    Parameters
    ----------
    shapes : sequence of Shape
        Times that are independent of each other.
    chances : sequence of Chance
        Risks; those that rust come together on a rusty car.
    certain : float
        Minutes that are the same each time.
    seed : int
        0 or more; the same seed gives the same minutes.
    draws : int
        How many jobs, from 1.
    """
    import numpy

    chance = numpy.random.Generator(numpy.random.PCG64(seed))
    total = numpy.full(draws, certain)
    for shape in shapes:
        total += shape.quantile(chance.random(draws))
    rusty = chance.random(draws) < 0.5
    for one in chances:
        likely = numpy.where(rusty, float(one.on(MORE)), float(one.on(LESS)))
        total += float(one.minutes) * (chance.random(draws) < likely)
    total.sort()
    return total
