"""Faults that no reading can tell apart: they are named together, and none of them alone."""

from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from putback.suspects.likelihood import chances, likelihood
from putback.suspects.model import Model
from putback.suspects.posterior import Evidence, readings_of, start

SURE = 0.9  # the most that one name gets among those it cannot be told from


def classes(
    model: Model, evidence: Evidence, possible: Iterable[str], absent: Iterable[str] = (), tolerance: float = 0.1
) -> list[tuple[str, ...]]:
    """Sets of two or more faults that nothing read so far tells apart, nor any test that can still be had.

    Parameters
    ----------
    model : Model
    evidence : dict of str to str or sequence of float
        What was read.
    possible : iterable of str
        The tests that can still be had.
    absent : iterable of str
        Faults that this car cannot have.
    tolerance : float
        Two faults agree on a test that can be had where no set of its outcomes differs by more than this in chance, and
        on one that was read where what was seen is likely to within this part under both.

    Notes
    -----
    In a set every two agree. A fault joins the first set that it agrees with, in the order of the model.
    """
    likely = np.flatnonzero(start(model, absent)[:-1] > 0)
    agree = _agree(model, evidence, [name for name in possible if name not in evidence], tolerance)
    sets: list[list[int]] = []
    for fault in likely:
        joined = next((one for one in sets if agree[fault, one].all()), None)
        if joined is None:
            sets.append([fault])
        else:
            joined.append(fault)
    return [tuple(model.faults[fault] for fault in one) for one in sets if len(one) > 1]


def _agree(model: Model, evidence: Evidence, possible: Sequence[str], tolerance: float) -> np.ndarray:
    """Whether two faults agree on all that was read and all that can be."""
    rows, readings = chances(model), readings_of(model, evidence)
    agree = np.ones((len(model.faults), len(model.faults)), dtype=bool)
    for name in possible:
        row = rows[model.test(name).name][:-1]
        agree &= np.abs(row[:, None, :] - row[None, :, :]).sum(axis=2) / 2 <= tolerance
    for seen in seen_each(model, rows, readings).values():
        one, other = seen[:-1, None], seen[None, :-1]
        agree &= np.abs(one - other) <= tolerance * np.maximum(one, other)
    return agree


def seen_each(
    model: Model, rows: Mapping[str, np.ndarray], readings: Mapping[str, np.ndarray]
) -> dict[str, np.ndarray]:
    """How likely each reading by itself is under each fault, what may have silenced it taken into account.

    Parameters
    ----------
    model : Model
    rows : dict of str to array
        `chances` of the model.
    readings : dict of str to array
    """
    return {name: _seen(model, rows, readings, name) for name in readings}


def _seen(model: Model, rows: Mapping, readings: Mapping, name: str) -> np.ndarray:
    gates = {gate: readings[gate] for gate in model.test(name).silent_when if gate in readings}
    before = likelihood(model, rows, gates)
    both = likelihood(model, rows, gates | {name: readings[name]})
    return np.divide(both, before, out=np.zeros_like(both), where=before > 0)[0]


def capped(posterior: Mapping[str, float], sets: Iterable[Sequence[str]], most: float = SURE) -> dict[str, float]:
    """The posterior, with nobody surer of one name in a set than may be; the rest of the set gets what is taken off.

    Parameters
    ----------
    posterior : dict of str to float
    sets : iterable of sequences of str
        Faults that cannot be told apart.
    most : float
        What one name may get.

    Examples
    --------
    >>> capped({"strap": 1.0, "cable": 0.0, "belt": 0.0}, [("strap", "cable")], most=0.75)
    {'strap': 0.75, 'cable': 0.25, 'belt': 0.0}
    """
    shares = dict(posterior)
    for names in sets:
        first = max(names, key=shares.__getitem__)
        others = [name for name in names if name != first]
        if others and shares[first] > most:
            surplus, rest = shares[first] - most, sum(shares[name] for name in others)
            shares[first] = most
            for name in others:
                shares[name] += surplus * (shares[name] / rest if rest > 0 else 1 / len(others))
    return shares
