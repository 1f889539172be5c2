"""Orders of a line that follows the engine: its phase is followed, and all else is measured against that.

A line whose frequency wavers is spread over many bins of a spectrum. Measured against its own phase it is one line
again, and so are its multiples and parts, whatever the speed does. Orders beyond half of the sampling rate come out
right as well, since the phase is taken at the very times of the samples.
"""

from dataclasses import dataclass

import numpy as np

from putback.charging.spectrum import Line, Spectrum

_BAND = 0.05  # how far from its middle a line is followed, as a share of its frequency
_LEAST_BAND = 40.0  # [Hz]
_CLEAR = 6.0  # times the power of noise in the band: less cannot be followed
_EDGE = 0.04  # share of the record at either end where the window leaves too little
_BESIDE = 120.0  # width over which a line is held against its neighbours [Hz]
_BLUNT = 2.5  # how far it may stand out
_MOMENT = 0.016  # in which a line is taken to stand still [s]
_STRAYS, _LEAP = 0.24, 0.03  # how far a line may stray, and how far in a quarter of a moment, as shares
_FINE = 4  # points of the phase for each bin of the band
_LOWEST_FIRING, _HIGHEST_FIRING = 15.0, 165.0  # [Hz]
_LEAST_SWAY = 5e-4  # of the speed: less is noise
_STANDS_OUT = 25.0  # times the power of the swings beside it
_SMOOTH = 0.08  # the slow part of the speed is its mean over this time, which firing does not reach [s]


@dataclass(frozen=True)
class Track:
    """The phase of a line at each sample.

    Parameters
    ----------
    phase : ndarray
        [rad]
    hertz : float
        Mean frequency [Hz]
    speed : ndarray
        Frequency over time, as a share of the mean; empty where the line could not be followed
    interval : float
        Between values of `speed` [s]
    """

    phase: np.ndarray
    hertz: float
    speed: np.ndarray
    interval: float

    @property
    def sway(self) -> float:
        """Standard deviation of the speed, as a share; 0 where the line could not be followed."""
        return float(self.speed.std()) if len(self.speed) else 0.0

    @property
    def wander(self) -> float:
        """Standard deviation of the slow part of the speed, as a share; NaN where the record is too short."""
        width = int(_SMOOTH / self.interval)
        if len(self.speed) < 2 * width or width < 2:
            return float("nan")
        kernel = np.hanning(width + 2)[1:-1]
        return float(np.convolve(self.speed, kernel / kernel.sum(), "valid").std())


    @property
    def firing(self) -> float:
        """Rate at which the speed swings as each firing makes it [Hz], 0 where nothing of it is seen."""
        count = len(self.speed)
        if count * self.interval * _LOWEST_FIRING < 3 or self.sway < _LEAST_SWAY:
            return 0.0
        power = np.abs(np.fft.rfft((self.speed - self.speed.mean()) * np.hanning(count))) ** 2
        hertz = np.arange(len(power)) / (count * self.interval)
        able = np.flatnonzero((hertz > _LOWEST_FIRING) & (hertz < _HIGHEST_FIRING))
        at = able[np.argmax(power[able])] if len(able) > 3 else 0
        return float(hertz[at]) if at and power[at] > _STANDS_OUT * np.median(power[able]) else 0.0


def follow(volts: np.ndarray, found: Spectrum, line: Line) -> Track:
    """Follow a line of a record.

    Parameters
    ----------
    volts : ndarray
        Without mean [V]
    found : Spectrum
        Of these volts
    line : Line

    Returns
    -------
    track : Track
        Of a line too weak to be followed, or of too short a record, with even phase.
    """
    count, (low, high) = len(volts), _band(found, line)
    power, floor = (float(sums[high] - sums[low]) for sums in found.sums)
    if high - low < 12 or power < _CLEAR * floor:
        return _steady(count, found, line)
    bins = np.fft.rfft(volts * np.hanning(count + 1)[:-1])[low:high]
    middle, points = (low + high) // 2, _FINE * (high - low)
    shifted = np.zeros(points, complex)
    shifted[(np.arange(low, high) - middle) % points] = bins
    slow = np.unwrap(np.angle(np.fft.ifft(shifted)))
    inner = slice(int(_EDGE * points), points - int(_EDGE * points))
    times = np.arange(points)[inner] / points
    return _tracked(times, slow[inner], middle, count, found)


def chase(volts: np.ndarray, found: Spectrum, line: Line) -> Track:
    """Follow a line that strays so far that no band of its own can hold it: moment by moment, by the likeliest path.

    Parameters
    ----------
    volts : ndarray
        Without mean [V]
    found : Spectrum
        Of these volts
    line : Line
        Where about it stands
    """
    count, rate = len(volts), found.rate
    size, low, high = int(_MOMENT * rate), (1 - _STRAYS) * line.hertz, (1 + _STRAYS) * line.hertz
    hop = max(size // 4, 1)
    if count < 8 * size or high > rate / 2 or size < 16:
        return _steady(count, found, line)
    power, hertz = _moments(_blunted(volts, found), rate, size, hop, (low, high))
    leap = max(int(_LEAP * line.hertz / (hertz[1] - hertz[0])), 1)
    path = hertz[_likeliest(np.log1p(power / max(np.median(power), 1e-30)), leap)]
    middles = np.arange(len(path)) * hop + size / 2
    rough = np.cumsum(np.interp(np.arange(count), middles, path)) * (2 * np.pi / rate)
    phase = rough + _rest_of_phase(volts, rough, size // 2)
    mean = float((phase[-1] - phase[0]) / (2 * np.pi * (count - 1) / rate))
    speed = np.convolve(path, np.ones(3) / 3, "valid") / path.mean() - 1
    return Track(phase, mean, speed, hop / rate)


def _blunted(volts: np.ndarray, found: Spectrum) -> np.ndarray:
    """Volts whose sharp lines are cut down to what lies beside them: loads are sharp, a line that strays is not."""
    bins = np.fft.rfft(volts)
    size = np.abs(bins)
    width = max(int(_BESIDE / found.bin), 8)
    pieces = np.array_split(size, len(size) // width + 1)
    level = np.concatenate([np.full(len(piece), np.median(piece)) for piece in pieces])
    return np.fft.irfft(bins * np.minimum(1.0, _BLUNT * level / np.maximum(size, 1e-30)), len(volts))


def _moments(volts, rate: float, size: int, hop: int, band: tuple[float, float]) -> tuple[np.ndarray, np.ndarray]:
    """Power over time and frequency, each moment through a window of its own."""
    pieces = np.lib.stride_tricks.sliding_window_view(volts, size)[::hop] * np.hanning(size + 1)[:-1]
    hertz = np.fft.rfftfreq(2 * size, 1 / rate)
    inside = (hertz >= band[0]) & (hertz <= band[1])
    return np.abs(np.fft.rfft(pieces, 2 * size))[:, inside] ** 2, hertz[inside]


def _likeliest(score: np.ndarray, leap: int) -> np.ndarray:
    """The path through time that gathers the highest score and leaps no further than so many bins at once."""
    total, came = score[0], []
    steps = np.arange(-leap, leap + 1)
    for row in score[1:]:
        padded = np.pad(total, leap, constant_values=-np.inf)
        options = np.lib.stride_tricks.sliding_window_view(padded, 2 * leap + 1) - 0.5 * np.abs(steps) / leap
        best = options.argmax(axis=1)
        came.append(best - leap)
        total = options[np.arange(len(row)), best] + row
    path = [int(total.argmax())]
    for best in reversed(came):
        path.append(path[-1] + int(best[path[-1]]))
    return np.array(path[::-1])


def _rest_of_phase(volts: np.ndarray, rough: np.ndarray, size: int) -> np.ndarray:
    """What is left of the phase when the rough one is taken off, slow enough to be read from means."""
    kernel = np.hanning(size + 2)[1:-1]
    count, length = len(volts), len(volts) + size
    turned = np.fft.ifft(np.fft.fft(volts * np.exp(-1j * rough), length) * np.fft.fft(kernel, length))
    return np.unwrap(np.angle(turned[size // 2 : size // 2 + count]))


def _band(found: Spectrum, line: Line) -> tuple[int, int]:
    band = max(_BAND * line.hertz, _LEAST_BAND, 0.55 * line.width)
    low, high = (line.hertz - band) / found.bin, (line.hertz + band) / found.bin
    return max(int(low), 1), min(int(high) + 1, len(found.power))


def _steady(count: int, found: Spectrum, line: Line) -> Track:
    """A line that stands where its strongest bin and those beside it say."""
    low = max(int((line.hertz - line.width / 2) / found.bin), 1)
    at = low + int(np.argmax(found.power[low : int((line.hertz + line.width / 2) / found.bin) + 2]))
    before, here, after = np.log(found.power[at - 1 : at + 2] + 1e-30) if at + 1 < len(found.power) else (0, 1, 0)
    bend = before - 2 * here + after
    hertz = (at + (0.5 * (before - after) / bend if bend < 0 else 0.0)) * found.bin
    return Track(2 * np.pi * hertz / found.rate * np.arange(count), hertz, np.zeros(0), 1.0)


def _tracked(times: np.ndarray, slow: np.ndarray, middle: int, count: int, found: Spectrum) -> Track:
    """A track from the slow phase at some times (shares of the record), carried on evenly to both ends."""
    slope, start = np.polyfit(times, slow, 1)
    along = np.arange(count) / count
    wavering = np.interp(along, times, slow - slope * times - start)
    phase = 2 * np.pi * (middle + slope / (2 * np.pi)) * along + start + wavering
    hertz = (middle + slope / (2 * np.pi)) * found.bin
    interval = float(times[1] - times[0]) / found.bin
    return Track(phase, float(hertz), np.diff(slow - slope * times) / (2 * np.pi * interval * hertz), interval)


def orders(volts: np.ndarray, phase: np.ndarray, count: int) -> np.ndarray:
    """Amplitudes at the multiples of a phase.

    Parameters
    ----------
    volts : ndarray
        Without mean [V]
    phase : ndarray
        [rad]
    count : int
        How many multiples

    Returns
    -------
    amplitudes : ndarray of complex
        From the first multiple on, each the length and the angle of its turning [V]
    """
    window = np.hanning(len(volts) + 1)[:-1]
    turn, at = np.exp(-1j * phase), (2 / window.sum()) * window * volts + 0j
    amplitudes = np.empty(count, complex)
    for order in range(count):
        at *= turn
        amplitudes[order] = at.sum()
    return amplitudes


def without_orders(volts: np.ndarray, phase: np.ndarray, amplitudes: np.ndarray) -> np.ndarray:
    """Volts without some multiples of a phase.

    Parameters
    ----------
    volts, phase : ndarray
        As for `orders`
    amplitudes : ndarray of complex
        Of each multiple, 0 of those that are to stay [V]
    """
    turn, rest = np.exp(1j * phase), volts.copy()
    at = np.ones_like(turn)
    for amplitude in amplitudes[: int(np.flatnonzero(amplitudes).max(initial=-1)) + 1]:
        at *= turn
        if amplitude:
            rest -= (amplitude * at).real
    return rest
