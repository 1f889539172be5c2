"""Readings that nothing explains together: one of them is wrong, or two things are."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from putback.suspects.likelihood import chances
from putback.suspects.model import Model
from putback.suspects.posterior import Evidence, readings_of, start
from putback.suspects.sets import seen_each

CREDIBLE = 0.01  # how often the true fault may have readings as odd as these
STEP = 0.01  # of the logarithm in which oddness is summed
LEAST = 1e-9  # what counts as impossible


@dataclass(frozen=True)
class Contradiction:
    """Readings that do not go together.

    Attributes
    ----------
    again : tuple of str
        The readings to take again, the oddest first.
    credible : float
        How often readings are as odd as these, or odder, under the fault that explains them best.
    """

    again: tuple[str, ...]
    credible: float


def contradiction(
    model: Model, evidence: Evidence, absent: Iterable[str] = (), credible: float = CREDIBLE
) -> Contradiction | None:
    """The readings to take again, where all of them together are too odd under every fault in the list.

    Parameters
    ----------
    model : Model
    evidence : dict of str to str or sequence of float
    absent : iterable of str
        Faults that this car cannot have.
    credible : float
        From which chance on a fault counts as explaining what was read.

    Notes
    -----
    Of a fault the chance is worked out that readings of the same tests come out as unlikely as these or more, shared
    causes left aside. With many tests one odd reading is no wonder; this counts that in.
    """
    readings = readings_of(model, evidence)
    if len(readings) < 2:
        return None
    rows = chances(model)
    seen = seen_each(model, rows, readings)
    likely = np.flatnonzero(start(model, absent)[:-1] > 0)
    tails = {}
    for fault in sorted(likely, key=lambda fault: -np.prod([one[fault] for one in seen.values()])):
        tails[fault] = _tail([rows[name][fault] for name in seen], [one[fault] for one in seen.values()])
        if tails[fault] >= credible:
            return None
    best = sorted(tails, key=lambda fault: -tails[fault])[:2]
    oddest = [min(seen, key=lambda name: seen[name][fault] / rows[name][fault].max()) for fault in best]
    return Contradiction(tuple(dict.fromkeys(oddest)), tails[best[0]])


def _tail(rows: list[np.ndarray], seen: list[float]) -> float:
    """How often readings are as unlikely as what was seen, or more so: the logarithms are summed on a fine grid."""
    total = np.ones(1)
    for row in rows:
        steps = _steps(row)
        grown = np.zeros(len(total) + steps.max())
        for step, chance in zip(steps, row, strict=True):
            grown[step : step + len(total)] += chance * total
        total = grown
    # Half a step for each reading: what was rounded is never counted as odder than it is.
    at = sum(_steps(np.array(seen))) - len(rows) // 2 - 1
    return float(total[max(at, 0) :].sum())


def _steps(row: np.ndarray) -> np.ndarray:
    return np.rint(-np.log(np.clip(row, LEAST, 1.0)) / STEP).astype(int)
