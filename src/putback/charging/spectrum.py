"""Lines in the spectrum of a record, over a noise floor found from the record itself.

A line of the alternator follows the speed of the engine, so that it is as wide as the speed is uneven, and wider at
high orders. Lines are therefore looked for in bands of several widths, each a share of the frequency.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

_BANDS = (0.0, 0.008, 0.03)  # widths of bands as shares of the frequency; 0 is one bin
_CHANCE = 5.0  # a line of noise shows in one record out of exp(5)
_MOST = 60  # lines of a record
_APART = 0.012  # lines nearer than this share of their frequency are one
_WIDEST_FLOOR = 400.0  # the floor is found over this width [Hz], or over _FLOOR_BINS
_FLOOR_BINS = 60
_SKIRT = 12  # bins; further off a Hann window leaves nothing


@dataclass(frozen=True)
class Line:
    """A line of a spectrum.

    Parameters
    ----------
    hertz : float
        Where it stands [Hz]
    volts : float
        Its amplitude, all in its band taken together [V]
    width : float
        Of its band [Hz]
    surety : float
        How far from chance it is: minus the logarithm of the odds of noise
    """

    hertz: float
    volts: float
    width: float
    surety: float


@dataclass(frozen=True)
class Spectrum:
    """Power over frequency, through a Hann window.

    Parameters
    ----------
    power : ndarray
        A bin's share of the mean square [V²]
    bin : float
        Width of a bin [Hz]
    rate : float
        Samples a second [Hz]
    floor : ndarray
        What noise alone would give, per bin [V²]
    """

    power: np.ndarray
    bin: float
    rate: float
    floor: np.ndarray

    @cached_property
    def sums(self) -> tuple[np.ndarray, np.ndarray]:
        """Running sums of power and floor, for bands."""
        return tuple(np.concatenate([[0.0], np.cumsum(one)]) for one in (self.power, self.floor))

    def at(self, hertz: float) -> float:
        """Amplitude of a steady line at a frequency, noise taken off [V]; see `alias` for `hertz`."""
        middle = round(alias(hertz, self.rate) / self.bin)
        low, high = max(middle - 2, 0), min(middle + 3, len(self.power))
        power, floor = (float(sums[high] - sums[low]) for sums in self.sums)
        return float(np.sqrt(2 * max(power - floor, 0.0)))

    def noise(self, hertz: float) -> float:
        """Amplitude that noise has in one bin at a frequency, as a root mean square [V]; see `alias` for `hertz`."""
        at = min(round(alias(hertz, self.rate) / self.bin), len(self.floor) - 1)
        return float(np.sqrt(3 * self.floor[at]))  # Hann: mean square 1.5 times that of no window


def folded(hertz: np.ndarray, rate: float) -> np.ndarray:
    """As `alias`, for many; see there for `hertz` and `rate`."""
    hertz = np.mod(hertz, rate)
    return np.minimum(hertz, rate - hertz)


def alias(hertz: float, rate: float) -> float:
    """Where a frequency shows in a record without a filter ahead of its sampling.

    Parameters
    ----------
    hertz : float
        True frequency [Hz]
    rate : float
        Samples a second [Hz]

    Returns
    -------
    hertz : float
        0 to half of the rate [Hz]

    Examples
    --------
    >>> alias(14_400.0, 20_000.0)
    5600.0
    """
    folded = hertz % rate
    return min(folded, rate - folded)


def spectrum(volts: np.ndarray, rate: float) -> Spectrum:
    """The spectrum of volts without their mean and trend.

    Parameters
    ----------
    volts : ndarray
        [V]
    rate : float
        Samples a second [Hz]
    """
    count = len(volts)
    window = np.hanning(count + 1)[:-1]
    power = np.abs(np.fft.rfft(without_trend(volts) * window)) ** 2
    power *= 2 / (count * (window**2).sum())  # sums to the mean square
    bin = rate / count
    return Spectrum(power, bin, rate, _floor(power, bin))


def without_trend(volts: np.ndarray) -> np.ndarray:
    """Volts less the straight line through them; see `spectrum` for `volts`."""
    along = np.linspace(-1.0, 1.0, len(volts))
    return volts - volts.mean() - along * ((along * volts).sum() / (along**2).sum())


def _floor(power: np.ndarray, bin: float) -> np.ndarray:
    """Low quartiles of blocks, which lines hardly move, as means of noise that has them, joined by straight lines."""
    size = int(max(_FLOOR_BINS, _WIDEST_FLOOR / bin))
    blocks = max(len(power) // size, 1)
    pieces = np.array_split(power, blocks)
    middles = np.array([np.quantile(piece, 0.25) for piece in pieces]) / np.log(4 / 3)
    centres = (np.arange(blocks) + 0.5) * len(power) / blocks
    return np.maximum(np.interp(np.arange(len(power)), centres, middles), 1e-20)


def lines(found: Spectrum, lowest: float) -> list[Line]:
    """The lines of a spectrum, strongest first.

    Parameters
    ----------
    found : Spectrum
    lowest : float
        Where to begin [Hz]

    Returns
    -------
    lines : list of Line
    """
    seen = sorted((line for share in _BANDS for line in _in_bands(found, lowest, share)), key=lambda one: -one.surety)
    kept: list[Line] = []
    for line in seen:
        if not any(_is_same(line, one, found.bin) for one in kept):
            kept.append(line)
    return sorted(kept[:_MOST], key=lambda one: -one.volts)


def _is_same(line: Line, surer: Line, bin: float) -> bool:
    """Whether a line is but a part of a surer one, or what the window leaves beside it."""
    off = abs(line.hertz - surer.hertz)
    if off < _SKIRT * bin and line.volts < 0.05 * surer.volts:
        return True
    return off <= max(_APART * line.hertz, (line.width + surer.width) / 2)


def widest(found: Spectrum, lowest: float, highest: float, share: float) -> Line | None:
    """The band that holds most over noise: a line that wavers so much that it is none any more.

    Parameters
    ----------
    found : Spectrum
    lowest, highest : float
        Between which to look [Hz]
    share : float
        Width of the band, as a share of its frequency
    """
    seen = _in_bands(found, lowest, share, highest)
    return max(seen, key=lambda line: line.surety, default=None)


def _in_bands(found: Spectrum, lowest: float, share: float, highest: float = np.inf) -> list[Line]:
    """The bands, each a share of its frequency wide, that hold more than noise does."""
    count = len(found.power)
    bins = np.arange(max(int(lowest / found.bin), 3), int(min(highest / found.bin, count - 1)))
    if len(bins) < 3:
        return []
    half = np.maximum(1, np.rint(share * bins / 2)).astype(int)  # a Hann line fills three bins
    low, high = np.maximum(bins - half, 0), np.minimum(bins + half + 1, count)
    power, floor = (sums[high] - sums[low] for sums in found.sums)
    freedom = np.maximum((high - low) / 1.5, 1.0)  # neighbours share half of what they hold
    over = np.maximum(power / floor, 1.0)
    surety = freedom * (over - 1 - np.log(over))
    is_peak = np.r_[False, (power[1:-1] >= power[:-2]) & (power[1:-1] > power[2:]), False]
    peaks = np.flatnonzero(is_peak & (surety > np.log(count) + _CHANCE))
    best = peaks[np.argsort(-surety[peaks], kind="stable")][:_MOST]
    return [_line(found, low[at], high[at], power[at] - floor[at], surety[at]) for at in best]


def _line(found: Spectrum, low: int, high: int, power: float, surety: float) -> Line:
    bins = np.arange(low, high)
    weights = np.maximum(found.power[low:high] - found.floor[low:high], 0.0)
    middle = float((bins * weights).sum() / weights.sum())
    return Line(middle * found.bin, float(np.sqrt(2 * power)), (high - low) * found.bin, float(surety))
