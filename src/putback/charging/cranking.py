"""What volts, and amps where there are, say of battery, cables and engine while the starter turns.

A starter at rest is little more than a resistance: at the first moment, the rush, the battery's voltage divides
between the battery's own resistance and all the rest of the circle. As the engine turns, the starter pushes back and
the current falls: how far tells how fast it turns. Both are ratios, so that neither the size of the starter nor that of
the battery has to be known.
"""

from dataclasses import dataclass

import numpy as np

from putback.charging.record import Record

HEALTHY, WEAK, CABLE, SLOW, LOCKED, CANNOT_TELL = (
    "healthy", "weak battery", "cable resistance", "engine slow", "engine locked", "cannot tell",
)  # fmt: skip
_SMOOTH = 0.004  # the mean over this time is looked at [s]
_RUSH = 0.15  # how long the rush and the first compression may take [s]
_SHORTEST = 0.3  # of a record of cranking, and of its running part [s]
_SHORTEST_RUN = 0.1  # [s]
_LEAST_DROP = 0.5  # from rest to the rush [V]
_TOPMOST, _LOWEST_REST = 13.4, 10.5  # volts at rest: above it charges, below it is no 12 V battery that could crank
_AMPS = 60.0  # less turns no engine
# Limits, each with the width over which it is doubtful. How they were got: cranking of engines by a motor equation (own
# generator; batteries of 4 to 9 mohm when good, 16 to 35 when weak, 3 to 6 cylinders, -20 to 35 degC). Judgement, until
# records of real engines replace it.
_WEAK_SHARE = (0.485, 0.03)  # of the rest voltage that stays in the battery at the rush
_CABLE_SHARE = (0.225, 0.015)
_SURE_CABLE_SHARE = (0.14, 0.02)
_SLOW_FALL = (0.51, 0.04)  # drop while running over drop at the rush
_LOCKED_FALL = (0.92, 0.02)
_COMPRESSIONS = (4.5, 0.7)  # a second
_TURNS = (0.022, 0.003)  # swing over drop at the rush
_WEAK_OHMS = (0.0145, 0.0015)  # of the battery, by volts against amps
_OUTSIDE_OHMS = (0.034, 0.004)  # of starter and cables at the rush
_FLAT, _FLAT_EASES = 12.1, 0.82  # a battery below this at rest [V] is weak from this share of the limits on


@dataclass(frozen=True)
class Cranking:
    """What a record of cranking says.

    Parameters
    ----------
    verdict : str
    confidence : float
        0 to 1
    cannot_separate : tuple of str
        What the verdict may as well be
    why : str
        One sentence
    """

    verdict: str
    confidence: float
    cannot_separate: tuple[str, ...]
    why: str


@dataclass(frozen=True)
class _Figures:
    """What is read off the record: rest, drops and swing [V], and by amps resistances [ohm], None where not seen."""

    rest: float
    rush: float
    running: float
    swing: float
    ohms: float | None
    outside: float | None

    @property
    def share(self) -> float:
        return self.rush / self.rest

    @property
    def fall(self) -> float:
        return self.running / self.rush


def judge_cranking(record: Record) -> Cranking | None:
    """Judge a record of cranking.

    Parameters
    ----------
    record : Record

    Returns
    -------
    cranking : Cranking or None
        None where the record shows no cranking.
    """
    volts, amps = _smoothed(record.volts, record.rate), None
    if record.amps is not None:
        amps = _smoothed(record.amps, record.rate)
        amps = -amps if np.median(amps) < -_AMPS else amps
    if record.seconds < _SHORTEST or not _LOWEST_REST * 0.1 < record.mean < _TOPMOST:
        return None
    start = _start(volts, record.rate)
    if start is None:
        return _within(volts, amps, record.rate)
    figures = _figures(volts, amps, start, record.rate)
    return _judged(figures) if figures else _cannot("the starter turns too shortly here; let it turn a second")


def _smoothed(values: np.ndarray, rate: float) -> np.ndarray:
    width = max(int(_SMOOTH * rate), 1)
    sums = np.concatenate([[0.0], np.cumsum(values)])
    return (sums[width:] - sums[:-width]) / width


def _start(volts: np.ndarray, rate: float) -> int | None:
    """Where the starter is switched on: from rest, which the record begins with, deep down at once."""
    rest = float(volts[: max(int(0.02 * rate), 1)].mean())
    drop = rest - float(volts.min())
    if drop < _LEAST_DROP or not _LOWEST_REST < rest < _TOPMOST:
        return None
    below = np.flatnonzero(volts < rest - 0.35 * drop)
    first = int(below[0])
    deep = volts[first : first + int(0.25 * rate)].min()
    steep = rest - deep > 0.75 * drop
    return first if steep and first > 0 else None


def _figures(volts: np.ndarray, amps: np.ndarray | None, start: int, rate: float) -> _Figures | None:
    before = volts[: max(start - int(0.02 * rate), 1)]
    rest = float(np.median(before))
    early = volts[start : start + int(_RUSH * rate)]
    rush = rest - float(early.min())
    later = np.arange(start + int(_RUSH * rate), len(volts))
    turning = later[volts[later] < rest - 0.15 * rush]
    if len(turning) < _SHORTEST_RUN * rate:
        return None
    running = rest - float(np.median(volts[turning]))
    settled = turning[volts[turning] < rest - 0.6 * running]
    ohms = _ohms(volts, amps, slice(start, int(turning[-1]) + 1), rest)
    return _Figures(rest, rush, running, _swing(volts[settled]), *ohms)


def _swing(volts: np.ndarray) -> float:
    """Standard deviation of the swing [V]: compressions make one; a battery that gives way falls evenly."""
    volts = volts[:: max(len(volts) // 2000, 1)]
    along = np.linspace(-1, 1, len(volts))
    return float((volts - np.polyval(np.polyfit(along, volts, 3), along)).std())


def _ohms(volts: np.ndarray, amps: np.ndarray | None, part: slice, rest: float) -> tuple[float | None, float | None]:
    """Resistance of the battery by its drop against its current at the rush, and of all that is outside of it."""
    if amps is None or (peak := float(amps[part].max())) < _AMPS:
        return None, None
    at = part.start + int(np.argmax(amps[part]))
    ohms = (rest - float(volts[at])) / peak
    return ohms, float(volts[at]) / peak


def _judged(figures: _Figures) -> Cranking:
    eased = _FLAT_EASES if figures.rest < _FLAT else 1.0
    weak = _over(figures.share / eased, _WEAK_SHARE)
    limit = _CABLE_SHARE if figures.fall > _SLOW_FALL[0] else _SURE_CABLE_SHARE
    cable = 1 - _over(figures.share, limit)
    if figures.ohms is not None:
        weak = _over(figures.ohms / eased, _WEAK_OHMS)
        cable = _over(figures.outside, _OUTSIDE_OHMS)
    slow = _over(figures.fall, _SLOW_FALL)
    locked = _over(figures.fall, _LOCKED_FALL) * (1 - _over(figures.swing / figures.rush, _TURNS))
    shares = {
        WEAK: weak,
        CABLE: (1 - weak) * cable,
        LOCKED: (1 - weak) * (1 - cable) * locked,
        SLOW: (1 - weak) * (1 - cable) * (slow - min(slow, locked)),
        HEALTHY: (1 - weak) * (1 - cable) * (1 - slow),
    }
    return _told(shares, figures)


def _over(value: float, limit: tuple[float, float]) -> float:
    """How sure it is that a value is over a limit: a half at the limit, nearly all three widths above."""
    return float(1 / (1 + np.exp(-np.clip(1.702 * (value - limit[0]) / limit[1], -50, 50))))


_BESIDE = {
    WEAK: ("battery weak", "post clamp or battery cable with resistance, if the leads are on the clamps"),
    CABLE: ("resistance in cable, link or ground strap", "starter with worn brushes or contacts"),
    SLOW: ("engine tight or cold", "starter dragging"),
    LOCKED: ("engine locked", "starter jammed", "starter shorted"),
    HEALTHY: (),
}


def _told(shares: dict[str, float], figures: _Figures) -> Cranking:
    best = max(shares, key=shares.get)
    rivals = tuple(name for name, share in shares.items() if share > 0.2 and name != best)
    why = (
        f"at the first moment {100 * figures.share:.0f} % of {figures.rest:.1f} V stay in the battery, "
        f"and while the engine turns the drop is {100 * figures.fall:.0f} % of that"
    )
    if figures.ohms is not None:
        why += f"; battery {1e3 * figures.ohms:.1f} mohm, starter and cables {1e3 * figures.outside:.0f} mohm"
    return Cranking(best, min(shares[best], 0.95), (*_BESIDE[best], *rivals), why)


def _within(volts: np.ndarray, amps: np.ndarray | None, rate: float) -> Cranking | None:
    """A record that begins while the starter turns: only current tells, by what each ampere more costs in volts."""
    slow = volts[:: max(int(0.01 * rate), 1)]
    if np.median(slow) > 11.9 or (np.ptp(slow) < 0.08 and amps is None):
        return None
    if amps is None or np.median(amps) < _AMPS:
        return _cannot("the record begins while the starter turns and has no amps; begin it before the key is turned")
    good = amps > _AMPS
    if float(np.subtract(*np.percentile(amps[good], [85, 15]))) < 12:
        return _stalled(float(np.median(volts[good])), float(np.median(amps[good])))
    ohms = -float(np.polyfit(amps[good], volts[good], 1)[0])
    why = f"the rush is missing; each 100 A more cost {100 * ohms:.1f} V, and {np.median(amps[good]):.0f} A flow"
    if (weak := _over(ohms, _WEAK_OHMS)) > 0.75:
        return Cranking(WEAK, min(weak, 0.9), _BESIDE[WEAK], why)
    return _by_rate(volts, rate, why)


def _stalled(volts: float, amps: float) -> Cranking:
    """Current without a swing: the starter does not turn, and volts over amps are what lies outside of the battery."""
    cable = _over(volts / amps, _OUTSIDE_OHMS)
    best = CABLE if cable > 0.5 else LOCKED
    why = f"{amps:.0f} A at {volts:.1f} V without a swing: starter and cables come to {1e3 * volts / amps:.0f} mohm"
    return Cranking(best, min(max(cable, 1 - cable), 0.9), _BESIDE[best], why)


def _by_rate(volts: np.ndarray, rate: float, why: str) -> Cranking:
    """Healthy or slow by how often the engine compresses; a bad cable turns it slowly as well."""
    thin = max(int(0.01 * rate), 1)
    swing = volts[: len(volts) // thin * thin].reshape(-1, thin).mean(axis=1)
    power = np.abs(np.fft.rfft((swing - swing.mean()) * np.hanning(len(swing)), 4 * len(swing))) ** 2
    hertz = np.arange(len(power)) / (4 * len(swing) * thin / rate)
    able = (hertz > 1.0) & (hertz < 20.0)
    beat = float(hertz[able][np.argmax(power[able])])
    quick = _over(beat, _COMPRESSIONS)
    why += f"; the engine compresses {beat:.1f} times a second"
    if max(quick, 1 - quick) < 0.85:
        return Cranking(CANNOT_TELL, 0.5, (HEALTHY, SLOW, CABLE), why)
    best = HEALTHY if quick > 0.5 else SLOW
    return Cranking(best, min(max(quick, 1 - quick), 0.85), (*_BESIDE[best], CABLE), why)


def _cannot(why: str) -> Cranking:
    return Cranking(CANNOT_TELL, 0.5, (HEALTHY, WEAK, CABLE, SLOW, LOCKED), why)
