"""A range of values: what is computed with friction is never one number."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product

from putback.errors import InputError


@dataclass(frozen=True)
class Range:
    """All values from `low` to `high`, in the unit of whatever it is a range of.

    Parameters
    ----------
    low, high : float
        With low not above high

    Examples
    --------
    >>> 0.12 in Range(0.08, 0.16)
    True
    """

    low: float
    high: float

    def __post_init__(self):
        if not self.low <= self.high:
            raise InputError(
                f"a range runs from the smaller figure to the larger, not from {self.low:g} to {self.high:g}"
            )

    def __contains__(self, value: float) -> bool:
        return self.low <= value <= self.high

    def times(self, factor: float) -> "Range":
        """The range with both ends multiplied."""
        return Range(*sorted((self.low * factor, self.high * factor)))


def over(function: Callable[..., float], *ranges: Range) -> Range:
    """What a function of numbers gives over a range of each.

    The function rises or falls in each of them, so that its extremes lie at the ends.

    Examples
    --------
    >>> over(lambda force, factor: force * factor, Range(1, 2), Range(3, 4))
    Range(low=3, high=8)
    """
    values = [function(*ends) for ends in product(*((one.low, one.high) for one in ranges))]
    return Range(min(values), max(values))
