"""Risks as chances: each comes or does not, and rust makes those of one car come together.

A car is rustier than its class says or less so, one as likely as the other. On the rustier car every risk
that grows with rust is half as likely again as the class says, on the other one half less likely: on
average it is what the plan counts. That half is our own estimate, no source.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from putback.area.model import Risk
from putback.estimate.spread import Moments
from putback.way.sheet import Sheet

RUST_VARIES = Fraction(1, 2)
LESS, MORE = -1, 1  # rusty than the class says


@dataclass(frozen=True)
class Chance:
    """A risk at the rust class of this car.

    Attributes
    ----------
    what : str
    probability : Fraction
        From 0 to 1.
    minutes : Fraction
        What it takes if it comes.
    rusts : bool
        Whether it is likelier on a rustier car.
    """

    what: str
    probability: Fraction
    minutes: Fraction
    rusts: bool

    def on(self, car: int) -> Fraction:
        """The probability on a car that is rustier (MORE) or less rusty (LESS) than its class says.

        Parameters
        ----------
        car : int
            MORE or LESS.
        """
        if not self.rusts:
            return self.probability
        # What cannot rise above 1 does not fall by more either, or the mean would not be what it was.
        change = min(self.probability * RUST_VARIES, 1 - self.probability)
        return self.probability + car * change


def chances(sheet: Sheet, rust: int) -> tuple[Chance, ...]:
    """The risks of a plan's steps.

    Parameters
    ----------
    sheet : Sheet
    rust : int
        How many times as likely as at usual rust, as in `putback.area.shop_file.RUST`.
    """
    return tuple(chance for risk in _risks(sheet) if (chance := _chance(risk, rust)).probability)


def _risks(sheet: Sheet) -> Iterator[Risk]:
    for step in sheet.steps:
        if step.operation:
            yield from (*step.operation.risks, *step.way.risks)


def _chance(risk: Risk, rust: int) -> Chance:
    probability = min(Fraction(1), risk.probability * (rust if risk.rusts else 1))
    return Chance(risk.what, probability, risk.minutes, risk.rusts)


@dataclass(frozen=True)
class Rust:
    """What all risks together take, exactly.

    Attributes
    ----------
    moments : Moments
        Mean [min] and variance [min²].
    together : float
        The part of that variance that comes from the car's being rustier or less rusty than its class says.
    """

    moments: Moments
    together: float


def risk_moments(found: Iterable[Chance]) -> Rust:
    """Mean and variance of what some risks take together.

    Parameters
    ----------
    found : iterable of Chance

    References
    ----------
    .. [1] Law of total variance, over the two kinds of car; any handbook of statistics.
    """
    found = tuple(found)
    means = [_mean(found, car) for car in (LESS, MORE)]
    within = [sum((own_variance(one, car) for one in found), Fraction(0)) for car in (LESS, MORE)]
    together = ((means[1] - means[0]) / 2) ** 2
    return Rust(Moments(float(sum(means) / 2), float(sum(within) / 2 + together)), float(together))


def _mean(found: Iterable[Chance], car: int) -> Fraction:
    return sum((one.on(car) * one.minutes for one in found), Fraction(0))


def own_variance(one: Chance, car: int) -> Fraction:
    """The variance [min²] of one risk on one kind of car.

    Parameters
    ----------
    one : Chance
    car : int
        MORE or LESS.
    """
    probability = one.on(car)
    return probability * (1 - probability) * one.minutes**2
