"""A record of a recorder as even samples, and what had to be mended to get there.

Recorders round times, leave out samples, mark what was out of range, and some sample unevenly. What does no harm is
mended and told; what cannot be mended is refused.
"""

from dataclasses import dataclass

import numpy as np

from putback.errors import InputError

FEWEST = 200  # samples; fewer hold no orders that could be told from noise
MOST_BAD = 0.2  # share of samples without a value that may still be bridged
MOST_BACK = 0.01  # share of samples whose time may go back
LONGEST_GAP = 5.5  # sampling intervals that are bridged; a longer gap parts the record
HIGHEST_VOLTS, HIGHEST_AMPS = 1e3, 1e5  # beyond lie the marks of recorders for "no value", such as 9.9E37
_UNEVEN = 0.05  # of an interval; times further off are taken as they are


@dataclass(frozen=True)
class Record:
    """Volts over time, evenly sampled.

    Parameters
    ----------
    volts : ndarray
        [V]
    rate : float
        Samples a second [Hz]
    amps : ndarray or None
        Of a current clamp, sampled with the volts [A]
    mended : tuple of str
        What was wrong and how it was mended, one clause each
    step : float
        The recorder's resolution, 0 where it cannot be seen [V]
    clipped : float
        Share of samples that stand at the end of the recorder's range, 0..1
    """

    volts: np.ndarray
    rate: float
    amps: np.ndarray | None = None
    mended: tuple[str, ...] = ()
    step: float = 0.0
    clipped: float = 0.0

    @property
    def seconds(self) -> float:
        """How long it lasts [s]."""
        return len(self.volts) / self.rate

    @property
    def mean(self) -> float:
        """Mean voltage [V]."""
        return float(self.volts.mean())


def make_record(times, volts, amps=None) -> Record:
    """A record from samples as they came.

    Parameters
    ----------
    times, volts : array_like
        One a sample [s], [V]; what is not finite counts as missing
    amps : array_like, optional
        [A]

    Returns
    -------
    record : Record

    Raises
    ------
    InputError
        Too few samples, too many without a value, or a time that does not run on.

    Examples
    --------
    >>> make_record(np.arange(1000) / 20_000, np.full(1000, 14.2)).rate
    20000.0
    """
    times, columns, missing = _with_values(times, volts, amps)
    times, columns, back = _forward(times, columns)
    step, clipped = _step(columns[0]), _clipped(columns[0])
    rate, columns, uneven = _even(times, columns)
    cut = (f"{100 * clipped:.0f} % of the samples stand at the end of the recorder's range",) if clipped else ()
    amps = columns[1] if len(columns) > 1 else None
    return Record(columns[0], rate, amps, (*missing, *back, *uneven, *cut), step, clipped)


def _with_values(times, volts, amps) -> tuple[np.ndarray, list[np.ndarray], tuple[str, ...]]:
    """The samples that have a time and a voltage; missing amps are bridged, so that they cost no volts."""
    times, volts = np.asarray(times, float), np.asarray(volts, float)
    with np.errstate(invalid="ignore"):
        good = np.isfinite(times) & (np.abs(volts) < HIGHEST_VOLTS)
    bad = len(volts) - int(good.sum())
    if bad > MOST_BAD * len(volts):
        raise InputError(f"{bad} of {len(volts)} samples have no time or no voltage; record again within the range")
    if len(volts) - bad < FEWEST:
        raise InputError(f"{len(volts) - bad} samples are too few; {FEWEST} or more are wanted, better 10,000")
    columns = [volts[good]]
    if amps is not None and (bridged := _bridged(np.asarray(amps, float)[good])) is not None:
        columns.append(bridged)
    return times[good], columns, (f"{bad} samples without a value are bridged",) if bad else ()


def _bridged(amps: np.ndarray) -> np.ndarray | None:
    """Amps with straight lines over what is missing, none where hardly any are left."""
    with np.errstate(invalid="ignore"):
        good = np.abs(amps) < HIGHEST_AMPS
    if good.sum() < (1 - MOST_BAD) * len(amps):
        return None
    return amps if good.all() else np.interp(np.arange(len(amps)), np.flatnonzero(good), amps[good])


def _forward(times, columns) -> tuple[np.ndarray, list[np.ndarray], tuple[str, ...]]:
    """Only samples whose time is not behind one that came before."""
    behind = times < np.maximum.accumulate(times)
    back = int(behind.sum())
    if back > MOST_BACK * len(times):
        raise InputError(f"the time goes back in {back} of {len(times)} samples; it must run on from row to row")
    if not times[-1] > times[0]:
        raise InputError("the time stands still; the first column must hold the time of each sample")
    if not back:
        return times, columns, ()
    return times[~behind], [one[~behind] for one in columns], (f"{back} samples whose time goes back are left out",)


def _even(times, columns) -> tuple[float, list[np.ndarray], tuple[str, ...]]:
    """Rate and columns at even times."""
    if _is_even(times):
        return (len(times) - 1) / float(times[-1] - times[0]), columns, ()
    times, columns, parted = _longest_stretch(times, columns)
    if _is_even(times):
        return (len(times) - 1) / float(times[-1] - times[0]), columns, parted
    interval = float(np.median(np.diff(times)))
    count = int(round((times[-1] - times[0]) / interval)) + 1
    at = np.linspace(times[0], times[-1], count)
    rate = (count - 1) / float(times[-1] - times[0])
    uneven = np.median(np.abs(np.diff(times) / interval - 1)) > _UNEVEN
    told = ("uneven samples are brought to even times",) if uneven else ()
    return rate, [np.interp(at, times, one) for one in columns], (*parted, *told)


def _is_even(times: np.ndarray) -> bool:
    """Whether times lie evenly, but for being rounded when they were written."""
    interval = (times[-1] - times[0]) / (len(times) - 1)
    off = np.abs(times - times[0] - interval * np.arange(len(times))).max()
    return off <= _UNEVEN * interval or off <= 1.01 * _rounding(times, interval)


def _rounding(times: np.ndarray, interval: float) -> float:
    """What times were rounded to: their differences then have two or three values, each often; else 0."""
    differences = np.rint(np.diff(times[:20_000]) / interval * 1e4).astype(np.int64)
    values, counts = np.unique(differences, return_counts=True)
    if not 2 <= len(values) <= 3 or np.sort(counts)[-2] < MOST_BACK * len(differences):
        return 0.0
    return float(np.diff(values).max()) * interval / 1e4


def _longest_stretch(times, columns) -> tuple[np.ndarray, list[np.ndarray], tuple[str, ...]]:
    """The longest piece without a gap that is too long to bridge."""
    differences = np.diff(times)
    gaps = np.flatnonzero(differences > LONGEST_GAP * np.median(differences))
    if not len(gaps):
        return times, columns, ()
    edges = np.concatenate([[0], gaps + 1, [len(times)]])
    longest = int(np.argmax(np.diff(edges)))
    piece = slice(edges[longest], edges[longest + 1])
    kept = edges[longest + 1] - edges[longest]
    if kept < FEWEST:
        raise InputError(f"{len(gaps)} gaps in the time leave no stretch of {FEWEST} samples; record without gaps")
    share = f"{100 * kept / len(times):.0f} % of the samples"
    told = f"of {len(gaps) + 1} pieces between gaps in the time the longest is used, {share}"
    return times[piece], [one[piece] for one in columns], (told,)


def _step(volts: np.ndarray) -> float:
    """The least difference between values, where there are so few values that it means something."""
    values = np.unique(volts[:100_000])
    if not 2 <= len(values) <= len(volts[:100_000]) / 4:
        return 0.0
    return float(np.median(np.diff(values)))


def _clipped(volts: np.ndarray) -> float:
    """Share of samples at the end of the range: far more stand there than at the value beside it."""
    values, counts = np.unique(volts[:100_000], return_counts=True)
    if len(values) < 8:
        return 0.0
    ends = ((counts[0], counts[1]), (counts[-1], counts[-2]))
    at_end = sum(int(end) for end, beside in ends if end > 5 * beside and end > 0.01 * counts.sum())
    return at_end / float(counts.sum())
