"""What things really take here: the minutes of many jobs, and how sure that is.

References
----------
.. [1] The interval of order statistics that holds the median, as in the sign test: between the least and the greatest of
   n values the median lies with a probability of 1 - 2 * 0.5^n. Any text on non-parametric statistics, such as
   W. J. Conover, Practical Nonparametric Statistics (from memory).
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from math import comb
from statistics import median

from putback.area.model import OUT, Area, Item, Minutes, Spread
from putback.job.times import Spent
from putback.way.from_area_minutes import judge_minutes

SURE = 0.9  # how sure the interval must be before a figure of our own takes the place of the file's


@dataclass(frozen=True)
class Learned:
    """What one part took in one direction, over several jobs.

    Attributes
    ----------
    values : tuple of float
        Minutes of each job, in order of size.
    """

    part: str
    direction: str
    values: tuple[float, ...]

    @property
    def median(self) -> float:
        """The middle one [min]"""
        return median(self.values)

    @property
    def interval(self) -> tuple[float, float] | None:
        """Between which of them the true median lies with nine in ten; None for fewer than five jobs [1]."""
        return interval(self.values)


def interval(values: Iterable[float]) -> tuple[float, float] | None:
    """The narrowest pair of order statistics that holds the median with at least nine in ten.

    Parameters
    ----------
    values : iterable of float

    Returns
    -------
    interval : (float, float) or None
        None where even the least and the greatest are not sure enough.

    Examples
    --------
    >>> interval([19, 17, 22, 18, 20, 21, 16, 19, 23, 18])
    (17, 22)
    >>> interval([19, 17, 22]) is None
    True
    """
    ordered = sorted(values)
    count = len(ordered)
    sure = [k for k in range(count // 2) if 1 - 2 * sum(comb(count, i) for i in range(k + 1)) / 2**count >= SURE]
    return (ordered[sure[-1]], ordered[-1 - sure[-1]]) if sure else None


def of_parts(times: Iterable[Spent], area: Area) -> dict[tuple[str, str], float]:
    """Minutes of one job by part and direction; the fasteners, plugs and cables of a part count with it.

    Parameters
    ----------
    times : iterable of Spent
    area : Area
    """
    found: dict[tuple[str, str], float] = {}
    for one in times:
        item = area.items.get(one.item)
        if item is not None and one.direction:
            key = (whole(item), one.direction)
            found[key] = found.get(key, 0.0) + one.minutes
    return found


def whole(item: Item) -> str:
    """The part whose minutes hold those of an item.

    Parameters
    ----------
    item : Item
    """
    return item.counted_in.name if item.counted_in else item.owner or item.name


def learn(jobs: Iterable[dict[tuple[str, str], float]]) -> list[Learned]:
    """What several jobs say of each part and direction, by name.

    Parameters
    ----------
    jobs : iterable of dict
        As `of_parts` gives them, one for each job.
    """
    found: dict[tuple[str, str], list[float]] = {}
    for job in jobs:
        for key, minutes in job.items():
            found.setdefault(key, []).append(minutes)
    return [Learned(part, direction, tuple(sorted(values))) for (part, direction), values in sorted(found.items())]


def with_own_times(area: Area, learned: Iterable[Learned]) -> Area:
    """An area with the shop's own minutes where enough jobs speak for them.

    Parameters
    ----------
    area : Area
    learned : iterable of Learned

    Returns
    -------
    area : Area
        Likely is the median, least and most are those seen. A part whose minutes depend on the way taken keeps the
        file's, for the log does not tell the ways apart; so does one that would have less than its own fasteners.
    """
    for one in learned:
        item = area.items.get(one.part)
        if item is not None and item.minutes is not None and one.interval is not None:
            own = replace(area, items={**area.items, one.part: replace(item, minutes=_minutes(item.minutes, one))})
            area = area if judge_minutes(own) else own
    return area


def _minutes(minutes: Minutes, one: Learned) -> Minutes:
    spread = Spread(*(Fraction(value).limit_denominator(10) for value in (one.values[0], one.median, one.values[-1])))
    return replace(minutes, out=spread) if one.direction == OUT else replace(minutes, back=spread)
