"""What may be wrong after what was read, exactly: each fault, none, and what nobody listed."""

from collections.abc import Iterable, Mapping, Sequence
from math import isfinite

import numpy as np

from putback.errors import InputError
from putback.suspects.likelihood import chances, likelihood, plain
from putback.suspects.model import NOTHING_LISTED, Model, Test

Evidence = Mapping[str, "str | Sequence[float]"]


def posterior(model: Model, evidence: Evidence, absent: Iterable[str] = ()) -> dict[str, float]:
    """How likely each fault is, given what was read.

    Parameters
    ----------
    model : Model
    evidence : dict of str to str or sequence of float
        Of each test read its outcome, or for a reading that is not plain a likelihood of each outcome, on any scale.
    absent : iterable of str
        Faults that this car cannot have, because what would fail is not fitted.

    Returns
    -------
    posterior : dict of str to float
        Of each fault, and of NOTHING_LISTED; sums to 1.

    Raises
    ------
    InputError
        A name that the model does not have, a reading that is none, or readings that nothing at all explains.

    Examples
    --------
    >>> from putback.suspects.model import Action, Test
    >>> lamp = Test("lamp", ("lit", "dark"), {"bulb": (0.0, 1.0), "fuse": (0.0, 1.0), "nothing": (1.0, 0.0)})
    >>> mend = tuple(Action(name, (name,), 1.0) for name in lamp.chances)
    >>> model = Model({"bulb": 0.375, "fuse": 0.125, "nothing": 0.5}, (lamp,), mend, leftover=0.0)
    >>> posterior(model, {"lamp": "dark"})
    {'bulb': 0.75, 'fuse': 0.25, 'nothing': 0.0, 'not in this list': 0.0}
    """
    weights = start(model, absent) * likelihood(model, chances(model), readings_of(model, evidence))[0]
    if not weights.sum() > 0:
        raise InputError("nothing in the list explains these readings, nor does a fault that is not in it; read again")
    return dict(zip([*model.faults, NOTHING_LISTED], (weights / weights.sum()).tolist(), strict=True))


def start(model: Model, absent: Iterable[str] = ()) -> np.ndarray:
    """The chances before anything was read, with what nobody listed last.

    Parameters
    ----------
    model : Model
    absent : iterable of str
        Faults that this car cannot have.

    Raises
    ------
    InputError
        A fault that the model does not have, or none left that may be.
    """
    absent = set(absent)
    for fault in sorted(absent - {*model.faults}):
        raise InputError(f'there is no fault "{fault}"; there are: {", ".join(model.faults)}')
    listed = np.array([0.0 if fault in absent else chance for fault, chance in model.prior.items()])
    if not listed.sum() > 0:
        raise InputError("every fault that was likely at all is told to be absent; name one that may be there")
    return np.append(listed * (1 - model.leftover) / listed.sum(), model.leftover)


def readings_of(model: Model, evidence: Evidence) -> dict[str, np.ndarray]:
    """Evidence as arrays of one row, each scaled so that its likeliest outcome has 1.

    Parameters
    ----------
    model : Model
    evidence : dict of str to str or sequence of float

    Raises
    ------
    InputError
        A test, an outcome or a likelihood that cannot be.
    """
    return {name: _reading(model.test(name), seen) for name, seen in evidence.items()}


def _reading(test: Test, seen: str | Sequence[float]) -> np.ndarray:
    if isinstance(seen, str):
        return plain(test, seen)
    row = np.array(seen, dtype=float)
    if row.shape != (len(test.outcomes),) or not all(isfinite(one) and one >= 0 for one in row) or not row.max() > 0:
        wanted = f"{len(test.outcomes)} likelihoods, 0 or more and one of them above 0"
        raise InputError(f"{test.name}: {[*seen]} is no reading; write one of its outcomes, or {wanted}")
    return row[None, :] / row.max()


def shares(model: Model, posterior: Mapping[str, float]) -> dict[str, float]:
    """How likely each action is the one that mends the car.

    Parameters
    ----------
    model : Model
    posterior : dict of str to float
        Of each fault.
    """
    return {action.name: sum(posterior[fault] for fault in action.cures) for action in model.actions}
