"""What the ripple of a running alternator says of its bridge, and what it does not say."""

from dataclasses import dataclass

import numpy as np

from putback.charging.bridge import LEAST_LINE, PRIOR, RATIOS, State, View, is_no_diode, states, views
from putback.charging.loads import lone
from putback.charging.patterns import LOST, OPEN, SHORTED, SIX, patterns
from putback.charging.record import FEWEST, Record
from putback.charging.wandering import wandering
from putback.units import show_number

NO_RIPPLE, WANDERING, CANNOT_TELL = "no ripple", "speed wandering", "cannot tell"
BROKEN = (OPEN, SHORTED, LOST)
UNSEEN = "six-pulse below the noise"
PULLEYS = (2.2, 3.2)  # turns of the alternator for one of the engine
_SHORTEST = 0.02  # two periods of the slowest alternator [s]
_LONGEST, _FASTEST = 0.5, 40_000.0  # more seconds and more samples a second say nothing more of orders
_PARTS = 6  # a sound bridge's own order
_CALM = 0.7  # odds that are added up are not as independent as that takes them for
_LEAST = 0.45  # share that a verdict needs
_SURE, _MOST_SOUND = 0.75, 0.06  # share that all broken ones need, and that a sound one may have beside them
_MOST_LIKE_SOUND = 0.01  # the same where a sound one's line may be
_LOWEST_SIX, _LARGEST_SIX = 780.0, 0.15  # a six-pulse line may stand above [Hz], and is smaller as a rule [V]
_MOST_LONE = 7.0  # that loads may leave unexplained where no ripple is said
_RIVAL = 0.1  # share from which another state is told as well
_MOST_SURE, _SURE_PATH = 0.97, 0.9
_SLIPS = 0.006  # of the speed, standard deviation of its slow part: an engine that is held steady stays below
_SURELY_SLIPS = 0.015  # the same, where a line beside it hides whether it is smeared
_SHORTEST_PATH, _SLOWEST_PATH = 0.22, 5000.0  # of a record in which a path is sought [s], [Hz]
_CLEAR_PATH, _WIDE_PATH, _LOWEST_PATH = 0.9, 0.012, 760.0  # gain, spread and mean [Hz] of the path of a belt that slips
_SWAYS = 0.015  # of the speed, standard deviation of all of it: firing alone stays below
_SMEARED, _REACH = 1.2, 0.2  # how much more, and how far the line is looked for, as a share
_DEAD_PRIOR = 0.12
_CHARGED, _CHARGED_SPREAD = 13.0, 0.35  # mean voltage that parts charging from not, and how softly [V]
_MOST_BY_MEAN, _LEAST_BY_MEAN = 1.0, -2.5  # a broken bridge charges badly as well
_OVERLOADED, _OVERLOADED_SPREAD, _MOST_AGAINST = 12.7, 0.2, 2.0  # the same for a sound machine, by an overload [V]
_FAINT = 4e-3  # a smaller line is of little current [V]
_HELD, _HELD_SPREAD = 13.0, 0.15  # the same for a machine that gives little [V]
_DC = 6.0  # less is not the voltage of a battery but what a capacitor ahead of the recorder leaves [V]
_OVER_NOISE = 5.0  # a six-pulse line would have been seen at so many times the noise ...
_LOOKED_AT = 3000.0  # ... about here [Hz]
_CANNOT_SEPARATE = {
    SIX: (),
    OPEN: ("upper or lower diode, of any phase",),
    SHORTED: ("upper or lower diode, of any phase",),
    LOST: ("stator lead open", "both diodes of one phase open"),
    NO_RIPPLE: ("rotor or brushes open", "regulator dead", "feed or command missing", "link to the battery open"),
    WANDERING: ("belt slipping", "one-way pulley slipping", "engine speed not held steady"),
}


@dataclass(frozen=True)
class Ripple:
    """What a record says of the bridge.

    Parameters
    ----------
    verdict : str
    confidence : float
        0 to 1
    cannot_separate : tuple of str
        What the verdict may as well be
    hertz : float or None
        Frequency of the strongest line of the alternator [Hz]
    electrical : float or None
        Frequency of one phase, to which orders are counted [Hz]
    why : str
        One sentence
    """

    verdict: str
    confidence: float
    cannot_separate: tuple[str, ...]
    hertz: float | None
    electrical: float | None
    why: str


def judge_ripple(
    record: Record, at: str | None = None, rpm: float | None = None, pole_pairs: int | None = None
) -> Ripple:
    """Judge the ripple of a record.

    Parameters
    ----------
    record : Record
    at : str, optional
        Where it was measured, posts or stud; sizes differ there
    rpm : float, optional
        Engine speed [1/min]; with it the electrical frequency is known within a factor of two
    pole_pairs : int, optional
        Of the alternator

    Returns
    -------
    ripple : Ripple
    """
    if record.seconds < _SHORTEST:
        why = f"{1e3 * record.seconds:.2g} ms are too short for an order to be seen; record a quarter of a second"
        return Ripple(CANNOT_TELL, 0.5, (SIX, *BROKEN), None, None, why)
    volts, rate = _thinned(record)
    seen = views(volts, rate)
    found = states(seen, at, _bracket(rpm, pole_pairs))
    shares = _shares(found, seen, record.mean, at)
    told = _told(shares, found, seen, record, at)
    return told if told.verdict in (*BROKEN, WANDERING) else _strays(volts, rate) or told


def _strays(volts: np.ndarray, rate: float) -> Ripple | None:
    """The verdict of a speed that wanders so far that no place in the spectrum holds its line; None if it does not."""
    if len(volts) < _SHORTEST_PATH * rate or rate < _SLOWEST_PATH:
        return None
    path = wandering(volts, rate)
    if path.gain < _CLEAR_PATH or path.spread < _WIDE_PATH or path.hertz < _LOWEST_PATH:
        return None
    of = f"order 6 of about {path.hertz / _PARTS:.0f} Hz"
    why = f"{of} is no line but strays with the speed, which wanders by {100 * path.spread:.1f} %"
    return Ripple(WANDERING, _SURE_PATH, _CANNOT_SEPARATE[WANDERING], path.hertz, path.hertz / _PARTS, why)


def _thinned(record: Record) -> tuple[np.ndarray, float]:
    """The middle of a long record, at no more samples than orders need, in a number that is quick to transform."""
    volts, rate = record.volts, record.rate
    start = max((len(volts) - int(_LONGEST * rate)) // 2, 0)
    volts = volts[start : start + int(_LONGEST * rate)]
    fold = max(min(int(rate / _FASTEST), len(volts) // FEWEST), 1)
    volts = volts[: len(volts) // fold * fold].reshape(-1, fold).mean(axis=1)
    return volts[: _smooth(len(volts))], rate / fold


def _smooth(count: int) -> int:
    """The largest number up to `count` that is a product of 2, 3 and 5 only."""
    return next(number for number in range(count, 0, -1) if _is_smooth(number))


def _is_smooth(number: int) -> bool:
    for prime in (2, 3, 5):
        while number % prime == 0:
            number //= prime
    return number == 1


def _bracket(rpm: float | None, pole_pairs: int | None) -> tuple[float, float] | None:
    """Between which frequencies a phase must lie [Hz]."""
    if rpm is None:
        return None
    low, high = RATIOS if pole_pairs is None else (pole_pairs * PULLEYS[0], pole_pairs * PULLEYS[1])
    return low * rpm / 60, high * rpm / 60


def _shares(found: list[State], seen: list[View], mean: float, at: str | None) -> dict[str, float]:
    """The share of each state of the bridge, that of none, and that of a sound one which noise hides."""
    odds: dict[str, float] = {}
    for state in found:
        odds.setdefault(state.bridge, state.odds)  # likeliest first
    nothing = max(-one.surprise - lone(one.to_explain, one.strongest) for one in seen) - float(np.log(_PARTS))
    six = next((state.volts[_PARTS - 1] for state in found if state.bridge == SIX), 0.0)
    odds[SIX] = odds.get(SIX, -np.inf) - _against_sound(mean) - (_against_idle(mean) if six < _FAINT else 0.0)
    odds[UNSEEN] = nothing + float(np.log(PRIOR[SIX])) + _hidden(seen[-1], at)
    odds[UNSEEN] -= _against_sound(mean) + _against_idle(mean)
    odds[NO_RIPPLE] = nothing + float(np.log(_DEAD_PRIOR)) + _by_mean(mean)
    top = max(odds.values())
    raw = {name: float(np.exp(_CALM * (one - top))) for name, one in odds.items()}
    return {name: one / sum(raw.values()) for name, one in raw.items()}


def _hidden(seen: View, at: str | None) -> float:
    """Logarithm of the chance that a six-pulse line is too small to be seen."""
    limit = np.log10(_limit(seen))
    sizes = [(one.size, one.size_spread) for one in patterns(at) if one.bridge == SIX]
    return max(-float(np.log1p(np.exp(min(-1.702 * (limit - size) / spread, 50.0)))) for size, spread in sizes)


def _limit(seen: View) -> float:
    """The smallest six-pulse line that would have been seen [V]."""
    return _OVER_NOISE * seen.found.noise(_LOOKED_AT)


def _by_mean(mean: float) -> float:
    """Odds by the mean voltage that nothing charges; of no weight where the recorder takes the mean away."""
    if abs(mean) < _DC:
        return 0.0
    return float(np.clip((_CHARGED - mean) / _CHARGED_SPREAD, _LEAST_BY_MEAN, _MOST_BY_MEAN))


def _against_sound(mean: float) -> float:
    """A machine that is whole charges, unless far more is asked of it than it has."""
    return float(np.clip((_OVERLOADED - mean) / _OVERLOADED_SPREAD, 0.0, _MOST_AGAINST)) if abs(mean) >= _DC else 0.0


def _against_idle(mean: float) -> float:
    """A sound machine that gives so little that its line is faint holds its voltage."""
    return float(np.clip((_HELD - mean) / _HELD_SPREAD, 0.0, _MOST_AGAINST)) if abs(mean) >= _DC else 0.0


# --- in words -------------------------------------------------------------------------------------


def _told(shares: dict[str, float], found: list[State], seen: list[View], record: Record, at: str | None) -> Ripple:
    best = max(shares, key=lambda name: shares[name])
    share = shares[best]
    if best == UNSEEN or share < _LEAST or not (_is_broken(best, shares, found) if best in BROKEN else True):
        return _cannot(shares, seen)
    if best == NO_RIPPLE and _unexplained(seen[-1], at) > _MOST_LONE:
        return _cannot(shares, seen)
    if best == NO_RIPPLE:
        beside = _CANNOT_SEPARATE[NO_RIPPLE]
        return Ripple(NO_RIPPLE, min(share, _MOST_SURE), beside, None, None, _why_none(seen, record))
    state = next(state for state in found if state.bridge == best)
    if best in (OPEN, SHORTED) and _is_like_switching(state, seen[-1]):
        return _cannot(shares | {NO_RIPPLE: max(shares[NO_RIPPLE], _RIVAL)}, seen)
    return _of_state(state, min(shares[best], _MOST_SURE), shares)


def _unexplained(bare: View, at: str | None) -> float:
    """What is left, when all loads are taken off, where a six-pulse line may stand and as large as one."""
    least = LEAST_LINE.get(at, min(LEAST_LINE.values()))
    left = [line for line in bare.to_explain if line.hertz > _LOWEST_SIX and line.volts > least]
    return lone(left, bare.strongest)


def _is_broken(best: str, shares: dict[str, float], found: list[State]) -> bool:
    """Whether the bridge is broken for sure; which of its faults it is may be less so."""
    state = next(state for state in found if state.bridge == best)
    broken, sound = sum(shares.get(name, 0.0) for name in BROKEN), shares.get(SIX, 0.0) + shares[UNSEEN]
    able = best == LOST or not is_no_diode(state.volts)
    return able and broken >= _SURE and sound <= _most_sound(best, found)


def _most_sound(broken: str, found: list[State]) -> float:
    """What share a sound bridge may have: less where the main line may be a six-pulse line by place and size."""
    state = next(state for state in found if state.bridge == broken)
    main = 2 if broken == LOST else 1
    may_be_six = main * state.hertz > _LOWEST_SIX and state.volts[main - 1] < _LARGEST_SIX
    return _MOST_LIKE_SOUND if may_be_six else _MOST_SOUND


def _of_state(state: State, share: float, shares: dict[str, float]) -> Ripple:
    swings = state.bridge == SIX and _is_smeared(state)
    if swings and np.isnan(state.track.wander) and state.track.sway > _SWAYS:
        sway = f"{100 * state.track.sway:.0f} %"
        why = f"six-pulse whose speed sways by {sway}, too short to show how; record half a second"
        return Ripple(CANNOT_TELL, share, (WANDERING, SIX), 6 * state.hertz, state.hertz, why)
    slips = state.track.wander > (_SLIPS if swings else _SURELY_SLIPS) and state.bridge == SIX
    verdict = WANDERING if slips else state.bridge
    rivals = tuple(name for name in BROKEN if name != state.bridge and shares.get(name, 0.0) > _RIVAL)
    main = {SIX: 6, LOST: 2}.get(state.bridge, 1)
    beside = (*_CANNOT_SEPARATE[verdict], *rivals)
    return Ripple(verdict, share, beside, main * state.hertz, state.hertz, _why(state, verdict))


def _is_like_switching(state: State, bare: View) -> bool:
    """Whether the orders of a broken diode may as well be the multiples of a switched load."""
    near = max(2 * bare.found.bin, 0.01 * state.hertz)
    return any(load.surprise < 0 and abs(load.hertz - state.hertz) < near for load in bare.doubtful)


def _is_smeared(state: State) -> bool:
    """Whether the line holds more when its speed is followed than in any one place of the spectrum."""
    found, at = state.view.found, 6 * state.hertz
    sums = found.sums[0]
    low, high = (int(share * at / found.bin) for share in (1 - _REACH, 1 + _REACH))
    powers = sums[low + 5 : high + 5] - sums[low : high + 5][: len(sums[low + 5 : high + 5])]
    return len(powers) > 0 and state.volts[5] > _SMEARED * np.sqrt(2 * powers.max())


def _cannot(shares: dict[str, float], seen: list[View]) -> Ripple:
    names = [SIX if name == UNSEEN else name for name in shares if shares[name] > _RIVAL / 2]
    rivals = tuple(dict.fromkeys(sorted(names, key=lambda name: -shares.get(name, 0.0))))
    if shares[UNSEEN] > 0.2:
        limit = _mv(_limit(seen[-1]))
        why = f"a six-pulse line below {limit} would not show in this noise; load the alternator more"
    else:
        why = "the lines fit several states about as well; record longer, loaded, at another speed, and give --rpm"
    return Ripple(CANNOT_TELL, min(max(shares.values()), _MOST_SURE), rivals, None, None, why)


def _why_none(seen: list[View], record: Record) -> str:
    loads = ", ".join(f"{load.hertz:.0f} Hz" for load in seen[-1].loads)
    rest = f"only loads at {loads} and their multiples" if loads else "no line at all"
    mean = f"; mean {record.mean:.2f} V" if abs(record.mean) >= _DC else ""
    return f"{rest}; a six-pulse line of {_mv(_limit(seen[-1]))} would have been seen{mean}"


def _mv(volts: float) -> str:
    return f"{show_number(1e3 * float(volts), 2)} mV"


_SIGNS = {
    SIX: "only order 6 and its multiples",
    OPEN: "orders 1, 2, 3, falling steadily",
    SHORTED: "orders 1, 2, 3, nearly alike",
    LOST: "even orders only",
}


def _why(state: State, verdict: str) -> str:
    sizes = ", ".join(f"order {order} {_mv(state.volts[order - 1])}" for order in _shown(state))
    why = f"{_SIGNS[state.bridge]} of {state.hertz:.0f} Hz ({sizes})"
    if verdict == WANDERING:
        return f"{why}; the speed wanders by {100 * state.track.wander:.1f} %"
    if state.bridge == SIX and np.isnan(state.track.wander):
        why += "; too short or too faint to show whether the speed wanders"
    loads = ", ".join(f"{load.hertz:.0f} Hz" for load in state.view.loads)
    return f"{why}; loads at {loads}" if loads else why


def _shown(state: State) -> tuple[int, ...]:
    return (1, 2, 3, 6, 12) if state.bridge == SIX else (1, 2, 3, 4, 6)
