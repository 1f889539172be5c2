"""The bridge as a record shows it: each state that could be, at each speed that could be, with what speaks for it.

A state and a speed say where lines stand, how large they are beside one another, and so which lines are left for loads
to explain. All of that is one logarithm of odds; the states are then compared. Speed is told by the engine as well,
where its firing shows as a line or in the speed of the alternator.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from putback.charging.loads import HIGHEST_BASE, HIGHEST_SURE, Load, Part, lone, parted, without_remnants
from putback.charging.patterns import LOST, OPEN, ORDERS, SHORTED, SIX, Pattern, patterns
from putback.charging.spectrum import Line, Spectrum, folded, lines, spectrum, widest, without_trend
from putback.charging.tracking import Track, chase, follow, orders

# Electrical frequency of a phase [Hz]: 6 to 8 pole pairs, pulleys 2.2 to 3.2, engine 600 to 3300 rpm, less by slip.
LOWEST, HIGHEST = 90.0, 1450.0
RATIOS = (13.0, 26.5)  # electrical frequency over engine speed in turns a second
FIRINGS = (1.5, 3.0)  # firings in a turn of the engine: 3 to 6 cylinders
PRIOR = {SIX: 0.5, SHORTED: 0.12, LOST: 0.12}  # the rest as one diode; judgement
_HIGHEST_FIRING = 90.0  # of four cylinders, as a rule; slow switching begins there [Hz]
_PARTS = 6  # of the main line's phase: all orders of all states are multiples of a sixth of it
_COUNT = 72
_MOST_OF_BAND = 0.8  # of its amplitude
_STRONGEST, _STRONGEST_HIGH, _HIGH = 3, 2, 800.0
_WANDERS = 0.2  # of its frequency: band of a line that wanders
# Where lines that sway or wander are looked for: width as a share of the frequency, from and to [Hz].
_OCTAVES = ((540.0, 1100.0), (1100.0, 2200.0), (2200.0, 4400.0), (4400.0, 8700.0))
_WIDE = ((0.1, 540.0, 8700.0), *((0.34, *octave) for octave in _OCTAVES))
_MOST_ORDERS = 100  # beyond, none is seen
_SEEN = 4.0  # times over noise
_LEAST = -5.0  # an order that is too small does not settle it; one that is too large counts double
_COINCIDENCE = 3.0  # against a load on order 1, 2 or 3
_NO_TRACE = -0.7  # a machine without tolerances leaves no traces below its main order; there may be such
_NOT_MAIN = 10.0  # against a main order beside which another is twice as large
# Angle of three times the main order against that order [degrees], and how sharply it is that: by the simulation. A
# pulse that is missing aligns the orders; a diode that conducts both ways turns the third round.
_THIRD = {
    (SIX, "posts"): (20.0, 1.5), (SIX, "stud"): (-60.0, 0.7), (OPEN, "posts"): (25.0, 3.0), (OPEN, "stud"): (5.0, 3.0),
    (SHORTED, "posts"): (-155.0, 3.0), (SHORTED, "stud"): (-170.0, 3.0),
    (LOST, "posts"): (65.0, 1.5), (LOST, "stud"): (40.0, 1.5),
}  # fmt: skip
_TWICE = 0.5  # against what seems the firing rate being twice it: in a short record that may be all that shows
LEAST_LINE = {"posts": 1.5e-3, "stud": 6e-3}  # of a machine at 5 A [V]
_FAINT = 4.0  # against a fainter one
_LEAST_SECOND, _MOST_THIRD = 0.25, 1.6  # order 2 over 1 and order 3 over 2 of a broken diode
_NO_DIODE = 12.0  # against one whose orders are others
_MOST_FOURTH, _LIKE_A_LOAD = 0.7, 6.0  # order 4 over 3 of a broken diode; against more, as switching has it
_USUAL_SECOND, _NOT_USUAL = 0.31, 1.5  # order 2 over 1 of an open diode as a rule; against less
_WORST = -16.0  # nor do all orders together
_NO_MOTOR, _OUTDONE = 0.06, 6.0  # no motor's line is so large [V]; against a sound bridge beside one twice its own
_SLIPPED = 20.0  # how softly speeds end at the low side where the belt slips [Hz]
_SWAYS, _BOTH = 0.02, 9.0  # sway of a belt that slips [1]; against a broken bridge and a slipping belt at once
_OUTSIDE = 8.0  # against a speed outside the bracket that was told


@dataclass(frozen=True)
class View:
    """A record with some of its lines taken for loads and taken off.

    Parameters
    ----------
    volts : ndarray
        What is left, without mean and trend [V]
    found : Spectrum
    lines : tuple of Line
        Strongest first
    sure, doubtful : tuple of Load
        What was taken off: what cannot be the alternator, and what could be
    hertz, taken : ndarray
        Where lines were taken off, and their amplitudes [V]
    wide : tuple of Line
        What may be lines that sway, looked for where all loads were taken off
    """

    volts: np.ndarray
    found: Spectrum
    lines: tuple[Line, ...]
    sure: tuple[Load, ...]
    doubtful: tuple[Load, ...]
    hertz: np.ndarray
    taken: np.ndarray
    wide: tuple[Line, ...]

    @property
    def to_explain(self) -> tuple[Line, ...]:
        """All lines, and the bands strong enough to be a machine's in which no line is most of what they hold."""
        strong = [band for band in self.wide if band.volts > min(LEAST_LINE.values())]
        return (*self.lines, *(band for band in strong if not any(_is_most_of(line, band) for line in self.lines)))

    @property
    def loads(self) -> tuple[Load, ...]:
        """All that was taken off."""
        return (*self.sure, *self.doubtful)

    @property
    def strongest(self) -> float:
        """Amplitude of the strongest line, taken off or not [V]."""
        return max([line.volts for line in self.lines[:1]] + [load.volts for load in self.loads], default=1.0)

    @property
    def surprise(self) -> float:
        """How unlikely the loads are that were taken off: minus a logarithm of odds."""
        return sum(load.surprise for load in self.loads)


@dataclass(frozen=True)
class State:
    """One state of the bridge at one speed.

    Parameters
    ----------
    bridge : str
    hertz : float
        Electrical frequency of a phase [Hz]
    odds : float
        Logarithm of its odds; only differences mean something
    volts, noise : ndarray
        Amplitudes of the orders from 1 on, and what noise has there [V]
    track : Track
    view : View
    left : tuple of Line
        What neither the bridge nor the loads explain
    """

    bridge: str
    hertz: float
    odds: float
    volts: np.ndarray
    noise: np.ndarray
    track: Track
    view: View
    left: tuple[Line, ...]


def views(volts: np.ndarray, rate: float) -> list[View]:
    """Every way to part the record into loads and the rest; the last has all loads taken off.

    Parameters
    ----------
    volts : ndarray
        [V]
    rate : float
        [Hz]
    """
    parts, rest = parted(without_trend(volts), rate)
    sure = tuple(part for part in parts if part.load.hertz < HIGHEST_SURE)
    doubtful = tuple(part for part in parts if part.load.hertz >= HIGHEST_SURE)
    put_back = [
        _view(rest + part.volts, rate, sure, tuple(one for one in doubtful if one is not part)) for part in doubtful
    ]
    return [*put_back, _view(rest, rate, sure, doubtful, is_bare=True)]


def _view(volts: np.ndarray, rate: float, sure: tuple[Part, ...], doubtful: tuple[Part, ...], is_bare=False) -> View:
    found, parts = spectrum(volts, rate), (*sure, *doubtful)
    seen = without_remnants(lines(found, HIGHEST_SURE), parts, found.bin)
    bands = [widest(found, low, high, share) for share, low, high in _WIDE] if is_bare else []
    return View(
        volts,
        found,
        tuple(seen),
        tuple(part.load for part in sure),
        tuple(part.load for part in doubtful),
        np.concatenate([np.zeros(0), *(part.hertz for part in parts)]),
        np.concatenate([np.zeros(0), *(part.size for part in parts)]),
        tuple(band for band in bands if band),
    )


def _is_most_of(line: Line, band: Line) -> bool:
    return abs(line.hertz - band.hertz) < band.width / 2 and line.volts > _MOST_OF_BAND * band.volts


@dataclass(frozen=True)
class _Draft:
    """A state before the rest of the record is looked at; `step` is its order 1 in sixths of the main line's phase."""

    pattern: Pattern
    step: int
    track: Track
    turning: np.ndarray  # of each sixth: its length an amplitude, its angle that of its phase
    noise: np.ndarray

    @cached_property
    def amplitudes(self) -> np.ndarray:
        return np.abs(self.turning)

    @property
    def third(self) -> float:
        """Angle of three times the main order against that order [rad]."""
        main, third = self.turning[[_PARTS - 1, 3 * _PARTS - 1]]
        return float(np.angle(third) - 3 * np.angle(main))

    @property
    def main(self) -> int:
        return _PARTS // self.step

    @property
    def hertz(self) -> float:
        return self.track.hertz / self.main

    def orders(self) -> tuple[np.ndarray, np.ndarray]:
        """Amplitudes and noise from order 1 on; orders that were not measured are nothing in much noise."""
        volts, noise = (one[self.step - 1 :: self.step][:ORDERS] for one in (self.amplitudes, self.noise))
        lacking = ORDERS - len(volts)
        return np.append(volts, np.zeros(lacking)), np.append(noise, np.full(lacking, 1e3))


def states(seen: list[View], at: str | None = None, bracket: tuple[float, float] | None = None) -> list[State]:
    """What the bridge may be, likeliest first.

    Parameters
    ----------
    seen : list of View
    at : str, optional
        Where it was measured
    bracket : (float, float), optional
        Between which the electrical frequency must lie [Hz]
    """
    found = [state for one in seen for line in _candidates(one) for state in _with_main(one, line, at, bracket)]
    return sorted(found, key=lambda state: -state.odds)


def _with_main(seen: View, line: Line, at: str | None, bracket) -> list[State]:
    """States with this line as their main order; what they leave unexplained is the same for those of one order 1."""
    drafts = list(_drafts(seen, line, at))
    left = {draft.step: tuple(_left(seen, draft)) for draft in {draft.step: draft for draft in drafts}.values()}
    return [_settled(seen, draft, left[draft.step], bracket) for draft in drafts]


def _candidates(seen: View) -> list[Line]:
    """Lines that may be the main order of some state: the strongest, and the strongest of those that stand high."""
    able = [line for line in seen.lines if LOWEST <= line.hertz <= 6 * HIGHEST]
    high = [line for line in able if line.hertz > _HIGH]
    return list(dict.fromkeys([*able[:_STRONGEST], *high[:_STRONGEST_HIGH], *seen.wide]))


def _drafts(seen: View, line: Line, at: str | None) -> Iterator[_Draft]:
    """States with this line as their main order."""
    track = (chase if line.width > _WANDERS * line.hertz else follow)(seen.volts, seen.found, line)
    turning = orders(seen.volts, track.phase / _PARTS, _COUNT)
    noise = np.array([seen.found.noise(part * track.hertz / _PARTS) for part in range(1, _COUNT + 1)])
    for pattern in patterns(at):
        for main in (1, 2, 3) if pattern.bridge == SHORTED else (pattern.main,):
            if LOWEST <= track.hertz / main <= HIGHEST:
                yield _Draft(pattern, _PARTS // main, track, turning, noise)


def _settled(seen: View, draft: _Draft, left: tuple[Line, ...], bracket) -> State:
    """A state with its odds."""
    volts, noise = draft.orders()
    shared = _shared(draft, seen)
    odds = (
        float(np.log(PRIOR.get(draft.pattern.bridge, 0.12)))
        + _speed(draft, bracket)
        + _by_engine(draft, seen)
        + _fit(draft.pattern, volts, noise, shared)
        + _by_third(draft, volts, noise, shared)
        - seen.surprise
        - _coincidences(seen, draft)
        - (_BOTH if draft.pattern.bridge != SIX and draft.track.sway > _SWAYS else 0.0)
        - lone(left, seen.strongest)
        - _outdone(seen, draft)
    )
    return State(draft.pattern.bridge, draft.hertz, odds, volts, noise, draft.track, seen, left)


def _outdone(seen: View, draft: _Draft) -> float:
    """Against a sound bridge beside whose line a far larger one stands where neither motors nor switching begin."""
    main = float(draft.amplitudes[_PARTS - 1])
    larger = (line for line in seen.lines if line.hertz > HIGHEST_BASE and line.volts > max(2 * main, _NO_MOTOR))
    return _OUTDONE if draft.pattern.bridge == SIX and any(larger) else 0.0


def _coincidences(seen: View, draft: _Draft) -> float:
    """Against loads that happen to stand on an order by which a broken bridge would be known."""
    low = draft.hertz * np.arange(1, 4)
    near = [np.abs(low - load.hertz).min() < max(2 * seen.found.bin, 0.01 * load.hertz) for load in seen.doubtful]
    return _COINCIDENCE * sum(near)


def _speed(draft: _Draft, bracket) -> float:
    """Odds of a speed: even over those of an engine, less towards both ends; per hertz of the line that was found."""
    low, high = 165 - draft.hertz, draft.hertz - 1250
    odds = -float(np.log(draft.main)) - max(low, 0) / (_SLIPPED if draft.track.sway > _SWAYS else 6) - max(high, 0) / 40
    return odds - (_OUTSIDE if bracket and not bracket[0] <= draft.hertz <= bracket[1] else 0.0)


def _by_engine(draft: _Draft, seen: View) -> float:
    """Odds of a speed by what may be the firing rate: a sound bridge needs one that fits, a broken one must fit all."""
    slow = [load.hertz for load in seen.sure if load.hertz < _HIGHEST_FIRING]
    odds = [_by_firing(draft.hertz / rate) for rate in slow or [draft.track.firing] if rate]
    return (max if draft.pattern.bridge == SIX else min)(odds, default=0.0)


def _by_firing(ratio: float) -> float:
    """Odds of electrical frequency over firing rate: four cylinders as a rule, three to six at all."""
    return max(_by_rate(ratio), _by_rate(2 * ratio) - _TWICE)


def _by_rate(ratio: float) -> float:
    low, high = RATIOS
    if low / 2 <= ratio <= high / 2:
        return 1.0
    return -1.0 if low / FIRINGS[1] <= ratio <= high / FIRINGS[0] else -3.0


def _fit(pattern: Pattern, volts: np.ndarray, noise: np.ndarray, shared: np.ndarray) -> float:
    """Odds of the amplitudes of orders under a pattern; one that is not seen is below what would have been."""
    main = max(float(volts[pattern.main - 1]), 1e-9)
    ratio, limit = np.log10(np.maximum(volts, 1e-9) / main), np.log10(_SEEN * noise / main)
    spread = np.hypot(pattern.spread, 0.43 * noise / np.maximum(volts, 1e-9))
    seen = _normal(ratio, pattern.middle, spread)
    unseen = _below(limit, pattern.middle, pattern.spread)
    least = np.where((volts > _SEEN * noise) & (ratio > pattern.middle), 2 * _LEAST, _LEAST)
    least[(volts <= _SEEN * noise) & (np.arange(ORDERS) < pattern.main - 1)] = _NO_TRACE
    odds = np.maximum(np.where(volts > _SEEN * noise, seen, unseen), least) * _weights(pattern.main)
    against = (_FAINT if main < LEAST_LINE[pattern.at] else 0.0) + _no_diode(pattern.bridge, volts, noise, shared)
    against += _NOT_MAIN if volts[~shared].max() > 2 * main else 0.0
    size = _normal(np.log10(main), pattern.size, pattern.size_spread)
    return float(max(odds[~shared].sum(), _WORST) - against + size)


def is_no_diode(volts: np.ndarray) -> bool:
    """Whether orders cannot be those of a broken diode: of a load that is switched half of the time, 2 is too weak.

    Parameters
    ----------
    volts : ndarray
        Amplitudes from order 1 on [V]
    """
    return bool(volts[1] < _LEAST_SECOND * volts[0] or volts[2] > _MOST_THIRD * volts[1])


def _no_diode(bridge: str, volts: np.ndarray, noise: np.ndarray, shared: np.ndarray) -> float:
    """Against a broken diode by its first four orders."""
    if bridge not in (OPEN, SHORTED):
        return 0.0
    unusual = bridge == OPEN and volts[1] < _USUAL_SECOND * volts[0]
    switched = volts[3] > max(_MOST_FOURTH * volts[2], 2 * _SEEN * noise[3]) and not shared[2:4].any()
    return _NO_DIODE * is_no_diode(volts) + _LIKE_A_LOAD * bool(switched) + _NOT_USUAL * bool(unusual)


def _by_third(draft: _Draft, volts: np.ndarray, noise: np.ndarray, shared: np.ndarray) -> float:
    """Odds of the angle of three times the main order, where that is seen and no load's."""
    at = 3 * draft.pattern.main - 1
    if volts[at] < _SEEN * noise[at] or shared[at]:
        return 0.0
    middle, sharp = _THIRD[draft.pattern.bridge, draft.pattern.at]
    return float(sharp * np.cos(draft.third - np.deg2rad(middle)) - np.log(np.i0(sharp)))


def _weights(main: int) -> np.ndarray:
    """Orders do not come out independently; the first and the multiples of the main one tell most."""
    order = np.arange(1, ORDERS + 1)
    return np.where(order == main, 0.0, np.where((order <= 6) | ((main > 1) & (order % main == 0)), 1.0, 0.4))


def _normal(value, middle, spread):
    return -0.5 * ((value - middle) / spread) ** 2 - np.log(spread) - 0.92


def _below(value, middle, spread):
    """Logarithm of the chance to be below a value, by the logistic curve that lies near the normal one."""
    return -np.log1p(np.exp(np.minimum(-1.702 * (value - middle) / spread, 50.0)))


def _left(seen: View, draft: _Draft) -> Iterator[Line]:
    """The lines that are no order of a state, nor what an order leaves beside it when size or speed waver."""
    wavers = 0.004 + 3 * draft.track.sway
    parts = np.arange(draft.step, _COUNT + 1, draft.step)
    places, volts = folded(parts * draft.track.hertz / _PARTS, seen.found.rate), draft.amplitudes[parts - 1]
    higher = folded(np.arange(len(parts) + 1, _MOST_ORDERS) * draft.hertz, seen.found.rate)
    loads = np.array([load.hertz for load in seen.loads])  # which make the alternator's lines swing
    for line in seen.to_explain:
        reach = max(1.5 * seen.found.bin, line.width / 2, wavers * line.hertz)
        own = (np.abs(places - line.hertz) < reach) & (line.volts < 3 * volts)
        beside = (np.abs(places - line.hertz) < max(0.08 * line.hertz, 150.0)) & (line.volts < 0.3 * volts)
        mixed = (np.abs(np.abs(places - line.hertz)[:, None] - loads) < reach).any(axis=1) & (line.volts < 0.6 * volts)
        above = np.abs(higher - line.hertz) < reach if line.volts < 0.1 * volts.max() else ()
        if not (own.any() or beside.any() or mixed.any() or np.any(above)):
            yield line


def _shared(draft: _Draft, seen: View) -> np.ndarray:
    """Which orders stand where more was taken off as a load's, so that what is left of them tells nothing."""
    at, volts = folded(np.arange(1, ORDERS + 1) * draft.hertz, seen.found.rate), draft.orders()[0]
    near = np.abs(at[:, None] - seen.hertz) < 2 * seen.found.bin
    shared = (near & (seen.taken > volts[:, None])).any(axis=1)
    shared[draft.main - 1] = False
    return shared
