"""Lines of loads: fans and lamps that are switched, pumps, ignition. Found, judged, and taken off the record.

A load that is switched has all multiples of its frequency, in a known proportion. Ignition has many multiples of the
firing rate. Both begin below a few hundred hertz; a lone line far above that is the alternator's.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from putback.charging.spectrum import Line, Spectrum, folded, lines, spectrum
from putback.charging.tracking import orders, without_orders

HIGHEST_SURE = 128.0  # below, no line is the alternator's: none that charges turns so slowly [Hz]
HIGHEST_BASE = 450.0  # of a switched load or of the firing rate [Hz]
_LOWEST_SWITCHED = 85.0  # [Hz]
_FIRST_LINE = 15.0  # [Hz]
_HUM = 900.0  # of a motor or a pump [Hz]
_HIGHEST_FIRING_LINE = 1500.0  # [Hz]
_MOST_LOADS = 5  # of one record
_MOST_MULTIPLES = 150
_FALL = 3.0  # the most that a multiple may be, times the base over its number
_MENDED_BY = 6  # multiples by which a frequency is mended; higher ones turn too far
_SEEN = 3.5  # times over noise
_REMNANT = 0.3  # of a line that was taken off, what may be left of it
_DUTIES = np.linspace(0.05, 0.5, 46)
_SWITCHED = np.arange(2, 17)  # multiples by which a switched load is known
_SPREAD = 0.13  # of their proportion, as a decimal logarithm
# How unlikely a load is: minus a logarithm of odds. Judgement.
_BASE, _LONE_LOW, _LONE_HUM, _LONE_HIGH = 2.5, 3.0, 3.5, 8.0
_STRONG, _LOUD_SWITCHED = 0.15, 6.0  # from where on a switched load is too strong [V]: 15 A on 10 milliohms
_QUIET, _LOUD = 0.03, 9.0  # from where on a lone line is too strong for a motor [V]; how much that counts, tenfold
_MISFIT = -3.0  # against a load that is not in the proportion of switching: motors, pumps
_CLEAR = 40.0  # surety of a line that counts in full
_MOST = 25.0


@dataclass(frozen=True)
class Load:
    """A load whose multiples show.

    Parameters
    ----------
    hertz : float
        [Hz]
    volts : float
        Amplitude at that frequency [V]
    surprise : float
        How unlikely it is: minus a logarithm of odds; below 0 where its multiples are in the proportion of switching
    """

    hertz: float
    volts: float
    surprise: float


def _base(able: list[Line]) -> Line:
    """The lowest of the strong lines."""
    strongest = max(line.volts for line in able)
    return min((line for line in able if line.volts > 0.3 * strongest), key=lambda line: line.hertz)


def _multiple(line: Line, base: Line, found: Spectrum) -> int:
    """Which multiple of a base a line may be, 0 if none: pulses and switching leave what falls with its number."""
    number = round(line.hertz / base.hertz)
    near = 1.5 * found.bin + 0.0015 * line.hertz
    if number > 1 and line.volts < _FALL * base.volts / number and abs(line.hertz - number * base.hertz) < near:
        return number
    return 0


def _sharper(base: Line, members: list[tuple[Line, int]]) -> float:
    """The frequency of a base that fits its multiples best [Hz]; far ones are left out, since they may be others."""
    pairs = [(base, 1), *((line, number) for line, number in members if number <= 8)]
    weights = [(line.volts * number, line.hertz / number) for line, number in pairs]
    return sum(weight * hertz for weight, hertz in weights) / sum(weight for weight, _ in weights)


def _weight(line: Line) -> float:
    """A line that is barely seen counts less."""
    return min(line.surety / _CLEAR, 1.0)


def _proportion(hertz: float, volts: float, found: Spectrum) -> float:
    """How much better the multiples fit a switched load than any other: a logarithm of odds."""
    if hertz < _LOWEST_SWITCHED:
        return 0.0
    seen = np.array([found.at(number * hertz) for number in _SWITCHED])
    noise = np.array([found.noise(number * hertz) for number in _SWITCHED])
    fall = np.abs(np.sin(np.pi * np.outer(_DUTIES, _SWITCHED))) / (_SWITCHED * np.sin(np.pi * _DUTIES)[:, None])
    expected = np.hypot(fall * volts, noise)
    spread = np.hypot(_SPREAD, 0.43 * noise / expected)
    off = np.log10(np.maximum(seen, noise) / expected) / spread
    fits = np.maximum(-0.5 * off**2 - np.log(spread) - 0.92, -3.0)
    return float(max((0.7 * fits * (expected > 3 * noise)).sum(axis=1).max(), _MISFIT if hertz > HIGHEST_SURE else 0.0))


@dataclass(frozen=True)
class Part:
    """What one load adds to a record.

    Parameters
    ----------
    load : Load
    volts : ndarray
        Sample by sample [V]
    hertz, size : ndarray
        Where its lines stand, and their amplitudes [V]
    """

    load: Load
    volts: np.ndarray
    hertz: np.ndarray
    size: np.ndarray


def _is_beside(line: Line, seen: Sequence[Line], parts: Sequence[Part], bin: float) -> bool:
    """Whether a line is a load that is known already, or what the speed of the engine leaves beside a strong line."""
    if any(abs(line.hertz - part.load.hertz) < 2 * bin for part in parts):
        return True
    strong = [one.hertz for one in seen if one.volts > 3 * line.volts]
    strong += [hertz for part in parts for hertz in part.hertz[part.size > 3 * line.volts]]
    return line.hertz > HIGHEST_SURE and any(abs(line.hertz - hertz) < HIGHEST_SURE for hertz in strong)


def _next_load(seen: Sequence[Line], found: Spectrum, parts: Sequence[Part]) -> Load | None:
    """The load whose base stands lowest among the strong lines."""
    able = [line for line in seen if line.hertz < HIGHEST_BASE and not _is_beside(line, seen, parts, found.bin)]
    if not able:
        return None
    base = _base(able)
    members = [(line, number) for line in seen if (number := _multiple(line, base, found)) > 1]
    hertz = _sharper(base, members)
    loud = _LOUD_SWITCHED * float(np.clip(np.log10(base.volts / _STRONG), 0.0, 1.5)) if hertz > HIGHEST_SURE else 0.0
    odds = _proportion(hertz, base.volts, found) if members else 0.0
    return Load(hertz, base.volts, _BASE * _weight(base) + loud - odds)


def parted(volts: np.ndarray, rate: float) -> tuple[list[Part], np.ndarray]:
    """Part a record into loads and the rest.

    Parameters
    ----------
    volts : ndarray
        Without mean [V]
    rate : float
        [Hz]

    Returns
    -------
    parts : list of Part
        Strongest first, about
    rest : ndarray
        [V]
    """
    parts: list[Part] = []
    for _ in range(_MOST_LOADS):
        found = spectrum(volts, rate)
        load = _next_load(without_remnants(lines(found, _FIRST_LINE), parts, found.bin), found, parts)
        if load is None:
            break
        parts.append(_part(volts, found, load))
        volts = volts - parts[-1].volts
    return _again(parts, volts, rate) if len(parts) > 1 else (parts, volts)


def _again(parts: list[Part], rest: np.ndarray, rate: float) -> tuple[list[Part], np.ndarray]:
    """Each load once more, on what the others leave: lines that lie close then fall to the load they belong to."""
    for at, part in enumerate(parts):
        volts = rest + part.volts
        parts[at] = _part(volts, spectrum(volts, rate), part.load)
        rest = volts - parts[at].volts
    return parts, rest


def without_remnants(seen: Sequence[Line], parts: Sequence[Part], bin: float) -> list[Line]:
    """Lines without those that loads leave where theirs were taken off.

    Parameters
    ----------
    seen : sequence of Line
    parts : sequence of Part
        What was taken off
    bin : float
        Width of a bin of the spectrum [Hz]
    """
    return [line for line in seen if not any(_is_remnant(line, part, bin) for part in parts)]


def _is_remnant(line: Line, part: Part, bin: float) -> bool:
    near = np.abs(part.hertz - line.hertz) < max(2 * bin, line.width / 2)
    if (near & (line.volts < _REMNANT * part.size)).any():
        return True
    number = round(line.hertz / part.load.hertz)  # what follows the engine strays, so that it cannot be taken off whole
    off = abs(line.hertz - number * part.load.hertz)
    firing = part.load.hertz < HIGHEST_SURE and 1 < number and line.hertz < _HIGHEST_FIRING_LINE
    return firing and off < max(2 * bin, 0.003 * line.hertz) and line.volts < 0.5 * _FALL * part.load.volts / number


def _part(volts: np.ndarray, found: Spectrum, load: Load) -> Part:
    """All multiples of a load that may be its own."""
    load = replace(load, hertz=_mended(volts, found.rate, load))
    phase = 2 * np.pi * load.hertz / found.rate * np.arange(len(volts))
    number = np.arange(1, min(int(found.rate / load.hertz), _MOST_MULTIPLES) + 1)
    places = folded(number * load.hertz, found.rate)
    at = np.clip(np.rint(places / found.bin).astype(int), 1, len(found.power) - 2)
    clear = np.flatnonzero(_highest(found.power, at) > _SEEN**2 * found.floor[at])
    amplitudes = orders(volts, phase, int(clear.max(initial=0)) + 1)
    places, at, number = (one[: len(amplitudes)] for one in (places, at, number))
    size, most = np.abs(amplitudes), 1.5 * _FALL * load.volts / number
    amplitudes[(size < _SEEN * np.sqrt(3 * found.floor[at])) | (size > most)] = 0
    return Part(load, volts - without_orders(volts, phase, amplitudes), places, np.abs(amplitudes))


def _highest(power: np.ndarray, at: np.ndarray) -> np.ndarray:
    """The highest of three bins each."""
    return np.maximum(np.maximum(power[at - 1], power[at]), power[at + 1])


def _mended(volts: np.ndarray, rate: float, load: Load) -> float:
    """The frequency of a load at which its multiples agree in both halves of the record [Hz]."""
    half = len(volts) // 2
    turns = 2 * np.pi * load.hertz / rate * np.arange(len(volts))
    first, second = (orders(volts[part], turns[part], _MENDED_BY) for part in (slice(half), slice(half, 2 * half)))
    both, number = second * np.conj(first), np.arange(1, _MENDED_BY + 1)
    own = np.maximum(np.abs(first), np.abs(second)) < 0.5 * _FALL * load.volts / number
    own &= np.abs(np.abs(first) - np.abs(second)) < 0.3 * np.abs(first)  # others' lines differ in both halves
    own[0] = True
    weights = np.abs(both) * number**2 * own
    off = float((np.angle(both) / number * weights).sum() / weights.sum()) if weights.any() else 0.0
    return load.hertz + off * rate / (2 * np.pi * half)


def lone(left: Sequence[Line], strongest: float) -> float:
    """How unlikely lines are that belong to no load with multiples: minus a logarithm of odds.

    Parameters
    ----------
    left : sequence of Line
    strongest : float
        Amplitude of the strongest line of the record; of what is far below it there is always some [V]
    """
    costs = sorted((_weight(line) * _beside(line.volts / strongest) * _of_lone(line) for line in left), reverse=True)
    return min(sum(cost / (1 + at) for at, cost in enumerate(costs)), _MOST)


def _beside(share: float) -> float:
    """How much a line counts beside one that is 1/share as strong: nothing from 1/50 down, all from 1/5 up."""
    return min(max(1 + np.log10(share / 0.2), 0.0), 1.0)


def _of_lone(line: Line) -> float:
    """Motors hum below some hundred hertz, and not much."""
    base = _LONE_LOW if line.hertz < HIGHEST_BASE else _LONE_HUM if line.hertz < _HUM else _LONE_HIGH
    return base + _LOUD * float(np.clip(np.log10(line.volts / _QUIET), 0.0, 1.5))
