"""A line that wanders, found by its likeliest path through time.

Lines of loads are sharp: cut down to what lies beside them they vanish, while a line that wanders is spread over many
bins and stays. What is left is looked at moment by moment, and the path is sought that gathers most of order 6 and of
its double without leaping.
"""

from dataclasses import dataclass

import numpy as np

from putback.charging.spectrum import folded

_BESIDE, _BLUNT = 120.0, 2.5  # over which width a line is held against its neighbours [Hz], how far it may stand out
_EVEN = 2500.0  # width of the floor that is made level [Hz]
_LOWEST, _HIGHEST, _FINE = 540.0, 8700.0, 0.004  # where order 6 is sought [Hz], in steps of this share
_LOWEST_KEPT = 500.0  # below, nothing is looked at [Hz]
_MOMENT, _HOP = 0.04, 0.008  # [s]
_LEAP, _AGAINST_LEAP = 8, 0.08  # steps from moment to moment at most; against a step, squared
_DOUBLE = 0.5  # weight of order 12
_BAND_END = 0.485  # of the sampling rate


@dataclass(frozen=True)
class Path:
    """The likeliest path of a line through a record.

    Parameters
    ----------
    hertz : float
        Its mean [Hz]
    spread : float
        Standard deviation as a share of the mean
    gain : float
        How much more it gathers than any place does in the mean, a moment: a logarithm
    """

    hertz: float
    spread: float
    gain: float


def wandering(volts: np.ndarray, rate: float) -> Path:
    """The path of the line that stands out most.

    Parameters
    ----------
    volts : ndarray
        [V]
    rate : float
        Samples a second [Hz]
    """
    size, hop = int(_MOMENT * rate), int(_HOP * rate)
    pieces = np.lib.stride_tricks.sliding_window_view(_level(volts, rate), size)[::hop] * np.hanning(size)
    power = np.abs(np.fft.rfft(pieces, 4 * size)) ** 2
    grid = np.exp(np.arange(np.log(_LOWEST), np.log(min(_HIGHEST, _BAND_END * rate)), _FINE))
    score = _gain(power, grid, rate / (4 * size), rate)
    path, total = _likeliest(score)
    hertz = grid[path]
    return Path(float(hertz.mean()), float(np.log(hertz).std()), total / len(path))


def _level(volts: np.ndarray, rate: float) -> np.ndarray:
    """Volts without sharp lines, on a floor that is even."""
    bins, bin = np.fft.rfft((volts - volts.mean()) * np.hanning(len(volts)) ** 0.25), rate / len(volts)
    sizes, width = np.abs(bins), max(9, int(_BESIDE / bin))
    blocks = len(sizes) // width
    level = np.median(sizes[: blocks * width].reshape(blocks, width), axis=1)
    reach = max(1, int(_EVEN / width / bin))
    floor = np.array([np.median(level[max(0, at - reach) : at + reach + 1]) for at in range(blocks)])
    middles, every = (np.arange(blocks) + 0.5) * width, np.arange(len(sizes))
    kept = np.minimum(1, _BLUNT * np.interp(every, middles, level) / np.maximum(sizes, 1e-15))
    kept[: int(_LOWEST_KEPT / bin)] = 0
    return np.fft.irfft(bins * kept / np.maximum(np.interp(every, middles, floor), 1e-15), len(volts))


def _gain(power: np.ndarray, grid: np.ndarray, bin: float, rate: float) -> np.ndarray:
    """What each place gathers, moment by moment, above the mean of all."""
    power = power / max(float(np.median(power)) / np.log(2), 1e-30)
    once, twice = (np.log1p(power[:, _places(order * grid, bin, rate)] / 2) for order in (1, 2))
    gain = once + _DOUBLE * twice
    return gain - gain.mean()


def _places(hertz: np.ndarray, bin: float, rate: float) -> np.ndarray:
    return np.rint(folded(hertz, rate) / bin).astype(int)


def _likeliest(score: np.ndarray) -> tuple[list[int], float]:
    """The path through time that gathers most, and what it gathers; each step aside costs."""
    against, total, came = _AGAINST_LEAP * np.arange(-_LEAP, _LEAP + 1) ** 2, score[0], []
    every = np.arange(score.shape[1])
    for row in score[1:]:
        padded = np.pad(total, _LEAP, constant_values=-np.inf)
        options = np.lib.stride_tricks.sliding_window_view(padded, 2 * _LEAP + 1) - against
        best = options.argmax(axis=1)
        came.append(best - _LEAP)
        total = options[every, best] + row
    path = [int(total.argmax())]
    for best in reversed(came):
        path.append(path[-1] + int(best[path[-1]]))
    return path[::-1], float(total.max())
