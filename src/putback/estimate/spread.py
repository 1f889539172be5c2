"""How far a time may be from what is likely: shapes with their moments and quantiles.

    times = Shape("beta", 4.0, 6.0, 12.0)
    times.mean, times.variance, times.quantile(0.8)
"""

from dataclasses import dataclass
from functools import lru_cache
from math import erf, exp, log, sqrt

from putback.area.charges import SHAPES

BETA, TRIANGULAR, LOG_NORMAL = SHAPES
WEIGHT = 4.0  # of the likely value in a beta shape; the classical choice
NINETEEN_OF_TWENTY = 1.6448536269514722  # standard normal quantile at 0.95; tables of the normal distribution
_BETA_CELLS, _NORMAL_CELLS, _NORMAL_END = 8000, 32000, 8.0


@dataclass(frozen=True)
class Moments:
    """Mean and variance; those of independent times add up."""

    mean: float
    variance: float

    @property
    def deviation(self) -> float:
        """The standard deviation."""
        return sqrt(self.variance)

    def __add__(self, other: "Moments") -> "Moments":
        return Moments(self.mean + other.mean, self.variance + other.variance)


@dataclass(frozen=True)
class Shape:
    r"""A time between a least and a most, of which one value is the likeliest.

    Parameters
    ----------
    kind : "beta", "triangular" or "log-normal"
    low, likely, high : float
        Minutes, 0 or more, in rising order. The first two kinds never leave them. A log-normal time has
        one chance in twenty to stay below `low` and one in twenty to pass `high`; `likely` does not shape it.

    Notes
    -----
    The beta shape has the exponents :math:`1 + 4 (m-a)/(b-a)` and :math:`1 + 4 (b-m)/(b-a)`, so its mean is
    :math:`(a + 4m + b)/6`. Its variance is that of the beta distribution itself, not :math:`((b-a)/6)^2`.

    References
    ----------
    .. [1] Beta and triangular moments: any handbook of statistics.
    .. [2] D. G. Malcolm, J. H. Roseboom, C. E. Clark, W. Fazar, Operations Research 7(5), 1959: three-point times
       (from memory).
    """

    kind: str
    low: float
    likely: float
    high: float

    @property
    def mean(self) -> float:
        """What it takes on average [min]."""
        return self.moments.mean

    @property
    def variance(self) -> float:
        """The mean square of what it is off its mean [min²]."""
        return self.moments.variance

    @property
    def moments(self) -> Moments:
        """Both, exactly."""
        if self.high <= self.low:
            return Moments(self.likely, 0.0)
        return _MOMENTS[self.kind](self)

    def quantile(self, share):
        """The time that is not passed in so many of all cases.

        Parameters
        ----------
        share : float or numpy array
            Above 0 and below 1.
        """
        if self.high <= self.low:
            return share * 0.0 + self.likely
        return _QUANTILES[self.kind](self, share)


def three_point(low: float, likely: float, high: float) -> Moments:
    """Mean and variance by the rule of thumb of project networks, as one works it out by hand.

    Parameters
    ----------
    low, likely, high : float
        In rising order.

    Notes
    -----
    The mean is that of the beta shape; the variance, a sixth of the range squared, is not.

    Examples
    --------
    >>> three_point(4, 6, 12).deviation
    1.3333333333333333

    References
    ----------
    .. [1] Malcolm and others 1959, as for :class:`Shape`.
    """
    return Moments((low + WEIGHT * likely + high) / (WEIGHT + 2), ((high - low) / 6) ** 2)


def chance_within(limit: float, times: Moments) -> float:
    """The chance that a sum of many independent times does not pass a limit, the sum taken as normal.

    Parameters
    ----------
    limit : float
    times : Moments
        Of the sum.

    Examples
    --------
    >>> chance_within(10.0, Moments(10.0, 4.0))
    0.5
    """
    if not times.variance:
        return float(limit >= times.mean)
    return _normal((limit - times.mean) / times.deviation)


# --- the kinds ------------------------------------------------------------------------------------


def _exponents(shape: Shape) -> tuple[float, float]:
    width = shape.high - shape.low
    return 1 + WEIGHT * (shape.likely - shape.low) / width, 1 + WEIGHT * (shape.high - shape.likely) / width


def _beta_moments(shape: Shape) -> Moments:
    one, two = _exponents(shape)
    both, width = one + two, shape.high - shape.low
    return Moments(shape.low + width * one / both, width**2 * one * two / (both**2 * (both + 1)))


def _beta_quantile(shape: Shape, share):
    import numpy

    mode = (shape.likely - shape.low) / (shape.high - shape.low)
    below, at = _beta_table(mode)
    return shape.low + (shape.high - shape.low) * numpy.interp(share, below, at)


@lru_cache(maxsize=64)
def _beta_table(mode: float):
    """Shares below a row of points of the unit beta shape, by the trapezoid rule, and the points."""
    import numpy

    at = numpy.linspace(0.0, 1.0, _BETA_CELLS + 1)
    density = at ** (WEIGHT * mode) * (1 - at) ** (WEIGHT * (1 - mode))
    below = numpy.concatenate(([0.0], numpy.cumsum(density[1:] + density[:-1])))
    return below / below[-1], at


def _triangular_moments(shape: Shape) -> Moments:
    a, m, b = shape.low, shape.likely, shape.high
    return Moments((a + m + b) / 3, ((b - a) ** 2 - (m - a) * (b - m)) / 18)


def _triangular_quantile(shape: Shape, share):
    import numpy

    a, m, b = shape.low, shape.likely, shape.high
    rising = a + numpy.sqrt(share * (b - a) * (m - a))
    falling = b - numpy.sqrt((1 - share) * (b - a) * (b - m))
    return numpy.where(share * (b - a) <= m - a, rising, falling)


def _logarithms(shape: Shape) -> tuple[float, float]:
    """Mean and deviation of the logarithm; a time of nought is as good as a hundredth of the longest."""
    low, high = log(max(shape.low, shape.high / 100)), log(shape.high)
    return (low + high) / 2, (high - low) / (2 * NINETEEN_OF_TWENTY)


def _log_normal_moments(shape: Shape) -> Moments:
    return log_normal(*_logarithms(shape))


def log_normal(mean: float, deviation: float) -> Moments:
    """Mean and variance of a time whose logarithm is normal.

    Parameters
    ----------
    mean, deviation : float
        Of the logarithm.

    References
    ----------
    .. [1] Closed form; any handbook of statistics.
    """
    square = deviation**2
    return Moments(exp(mean + square / 2), (exp(square) - 1) * exp(2 * mean + square))


def _log_normal_quantile(shape: Shape, share):
    return log_normal_quantile(*_logarithms(shape), share)


def log_normal_quantile(mean: float, deviation: float, share):
    """The time that is not passed in so many cases, where its logarithm is normal.

    Parameters
    ----------
    mean, deviation : float
        Of the logarithm.
    share : float or numpy array
        Above 0 and below 1.
    """
    import numpy

    below, at = _normal_table()
    return numpy.exp(mean + deviation * numpy.interp(share, below, at))


@lru_cache(maxsize=64)
def _normal_table():
    import numpy

    at = numpy.linspace(-_NORMAL_END, _NORMAL_END, _NORMAL_CELLS + 1)
    return numpy.array([_normal(point) for point in at.tolist()]), at


def _normal(deviations: float) -> float:
    """The share of a normal distribution below so many deviations from its mean."""
    return (1 + erf(deviations / sqrt(2))) / 2


_MOMENTS = {BETA: _beta_moments, TRIANGULAR: _triangular_moments, LOG_NORMAL: _log_normal_moments}
_QUANTILES = {BETA: _beta_quantile, TRIANGULAR: _triangular_quantile, LOG_NORMAL: _log_normal_quantile}
