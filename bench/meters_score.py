"""How the answers to readings of meters do on cars made by lot: right, undecided, calibrated.

Whether a case can be decided at all is said by an observer who knows the laws: it has many cars of known faults, looks
for those whose readings come nearest, among the readings that were taken, and decides where most of them need the same.
"""

import argparse
from collections import Counter
from functools import cache
from math import log

import numpy as np

from bench.meters import FORM, Case, case
from putback.models import answer
from putback.models.answer import MORE

POOL, NEAREST = 6000, 30
AGREED = 0.8  # of the nearest that need the same
FAR = 3.0  # of its scale; further apart two readings are just different
DIFFERENT = 2.0  # how far apart two words are
RATIOS = ("ripple_mv_idle", "ripple_mv_2000", "key_off_ma")
SCALES = {"V": 0.25, "A": 12.0, "mV": 0.5, "mA": 0.6, "°C": 20.0}
OWN = {"positive_drop_v": 0.12, "ground_drop_v": 0.12, "cca_measured": 90.0, "cca_rated": 200.0, "command_v": 0.4}
TUNED, HELD = 0, 500_000  # seeds used while the model was written begin here, and those that were not there
POOLED = 900_000


def score(words: list[str]) -> int:
    """Print how the model does on cars it was not written by; the exit status.

    Parameters
    ----------
    words : list of str
        The command line after the name of this set.
    """
    args = _parser().parse_args(words)
    for laws in "ab":
        for gaps in (False, True):
            first = HELD if args.held else TUNED
            cases = [case(seed, laws, uniform=False, gaps=gaps) for seed in range(first, first + args.cases)]
            print(f"\nlaws {laws}, {'with gaps' if gaps else 'everything read'}, {args.cases} cars")
            print("\n".join(lines(cases, laws)))
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="scripts/bench readings", description=__doc__.splitlines()[0])
    parser.add_argument("--cases", type=int, default=300, help="cars for each set of laws (300)")
    parser.add_argument("--held", action="store_true", help="cars that were not used while the model was written")
    return parser


def lines(cases: list[Case], laws: str) -> list[str]:
    """What is to be told of some cars."""
    answers = [answer(FORM, one.readings, ahead=1) for one in cases]
    decidable = [is_decidable(one, laws) for one in cases]
    sure = [(one, said) for one, said, can in zip(cases, answers, decidable, strict=True) if can]
    right = sum(said.action == one.action for one, said in sure)
    undecided = Counter(can for said, can in zip(answers, decidable, strict=True) if said.action == MORE)
    lost = Counter(f"{one.fault} taken for {said.action}" for one, said in sure if said.action != one.action)
    go = [(one, said) for one, said in zip(cases, answers, strict=True) if said.verdict == "go"]
    return [
        f"  can be decided {len(sure)}, right action there {right / max(len(sure), 1):.3f}",
        f"  more readings: {undecided[True]} that can be decided, {undecided[False]} that cannot",
        f"  go: {len(go)}, wrong {sum(said.action != one.action for one, said in go)}",
        f"  mean log score of the right action {_log_score(cases, answers):.3f}",
        f"  most on one name of a set: {_most_in_sets(answers):.3f}",
        *_calibration(cases, answers),
        *(f"  {times} x {what}" for what, times in lost.most_common(8)),
    ]


def _log_score(cases, answers) -> float:
    shares = (said.shares.get(one.action, 0.0) for one, said in zip(cases, answers, strict=True))
    return sum(log(max(share, 1e-9)) for share in shares) / len(cases)


def _most_in_sets(answers) -> float:
    return max((said.posterior[name] for said in answers for one in said.sets for name in one), default=0.0)


def _calibration(cases, answers) -> list[str]:
    """How often the likeliest action is right, by the chance it was given."""
    bins: dict[int, list[bool]] = {}
    for one, said in zip(cases, answers, strict=True):
        best = max(said.shares, key=said.shares.__getitem__)
        bins.setdefault(min(int(said.shares[best] * 10), 9), []).append(best == one.action)
    table = ((low / 10, sum(hits) / len(hits), len(hits)) for low, hits in sorted(bins.items()))
    rows = (f"    {low:.1f} to {low + 0.1:.1f}: {part:.2f} of {many}" for low, part, many in table)
    return ["  said, and right:", *rows]


# --- the observer who knows the laws --------------------------------------------------------------


def is_decidable(one: Case, laws: str) -> bool:
    """Whether most of the cars that read alike need what this one needs."""
    features, actions = _pool(laws)
    mine = _features(one.readings)
    apart = np.clip(np.abs(features - mine), 0, FAR)
    apart = np.where(np.isnan(mine), 0.0, np.nan_to_num(apart, nan=FAR))
    words = _words(one.readings)
    columns = zip(_pool_words(laws).T, words, strict=True)
    different = sum((column != word) * DIFFERENT**2 for column, word in columns if word)
    nearest = np.argsort((apart**2).sum(axis=1) + different, kind="stable")[:NEAREST]
    return float((actions[nearest] == one.action).mean()) >= AGREED


@cache
def _cases(laws: str) -> tuple[Case, ...]:
    return tuple(case(seed, laws, uniform=True, gaps=False) for seed in range(POOLED, POOLED + POOL))


@cache
def _pool(laws: str) -> tuple[np.ndarray, np.ndarray]:
    cases = _cases(laws)
    return np.array([_features(one.readings) for one in cases]), np.array([one.action for one in cases])


@cache
def _pool_words(laws: str) -> np.ndarray:
    return np.array([_words(one.readings) for one in _cases(laws)], dtype=object)


NUMBERS = [one for one in FORM.readings.values() if not one.words and not one.free]
NOT_COMPARED = ("meter", "ripple_record")
WORDED = [one.name for one in FORM.readings.values() if one not in NUMBERS and one.name not in NOT_COMPARED]


def _features(told: dict) -> np.ndarray:
    return np.array([_feature(one.name, one.unit, told.get(one.name)) for one in NUMBERS])


def _feature(name: str, unit: str, value: float | None) -> float:
    if value is None:
        return float("nan")
    return (log(max(value, 1.0)) if name in RATIOS else value) / OWN.get(name, SCALES[unit])


def _words(told: dict) -> list[str]:
    return [told.get(name, "") for name in WORDED]
