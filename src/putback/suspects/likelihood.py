"""How likely what was read is under each fault: exact, for soft readings, shared causes and silenced tests as well.

Arrays have a column for each fault and a last one for what is not in the list. A reading is a vector: for each outcome
of its test, how likely what was seen is if that was the outcome; a plain outcome is a one among noughts. Readings may
come many at once, one a row.
"""

from collections.abc import Mapping, Sequence
from itertools import product

import numpy as np

from putback.suspects.model import Group, Model, Test

SHARP = 0.9  # the chance, against its counterpart, of the readings by which `counts_as` is defined

Readings = Mapping[str, np.ndarray]  # of each test read, rows of likelihoods of its outcomes


def chances(model: Model) -> dict[str, np.ndarray]:
    """P(outcome | fault) of every test: a row for each fault, and a last one for what is not in the list.

    Parameters
    ----------
    model : Model
    """
    return {test.name: _rows(model, test) for test in model.tests}


def _rows(model: Model, test: Test) -> np.ndarray:
    return np.array([*(test.chances[fault] for fault in model.faults), test.other or _even(test)], dtype=float)


def independent_parts(model: Model) -> list[list[str]]:
    """The tests in parts that are independent of each other given the fault, in the model's order.

    Parameters
    ----------
    model : Model
    """
    part = {test.name: test.name for test in model.tests}
    ties = [group.tests for group in model.groups]
    ties += [(test.name, gate) for test in model.tests for gate in test.silent_when]
    for tie in ties:
        joined = {part[name] for name in tie}
        part |= {name: part[tie[0]] for name in part if part[name] in joined}
    return [[name for name in part if part[name] == first] for first in dict.fromkeys(part.values())]


def likelihood(model: Model, rows: Mapping[str, np.ndarray], readings: Readings) -> np.ndarray:
    """P(all that was read | fault), a row for each row of the readings.

    Parameters
    ----------
    model : Model
    rows : dict of str to array
        `chances` of the model.
    readings : dict of str to array
        Of each test that was read, rows of likelihoods; all as many rows, or one.

    Notes
    -----
    Where a test silences others the sum goes over its outcomes, so that the answer is exact whether that test was read
    plainly, softly or not at all.
    """
    asked = {gate for name in readings for gate in model.test(name).silent_when}
    gates = [test.name for test in model.tests if test.name in asked]
    ways = product(*(model.test(gate).outcomes for gate in gates))
    return sum(_given(model, rows, readings, dict(zip(gates, way, strict=True))) for way in ways)


def _given(model: Model, rows: Mapping, readings: Readings, gates: Mapping[str, str]) -> np.ndarray:
    """The part of the likelihood in which the gates come out as told."""
    readings = dict(readings)
    for gate, outcome in gates.items():
        readings[gate] = readings.get(gate, 1.0) * plain(model.test(gate), outcome)
    silent = [test for test in model.tests if test.name in readings and _is_silent(test, gates)]
    result = np.ones((1, len(model.faults) + 1))
    for test in silent:
        result = result * (readings.pop(test.name) @ np.array(test.silent_as or _even(test)))[:, None]
    return result * _telling(model, rows, readings)


def _is_silent(test: Test, gates: Mapping[str, str]) -> bool:
    return any(gates[gate] in outcomes for gate, outcomes in test.silent_when.items())


def _telling(model: Model, rows: Mapping, readings: Readings) -> np.ndarray:
    """The likelihood of readings that all tell something, shared causes counted."""
    single = {name: readings[name] @ rows[name].T for name in readings}
    result = np.ones((1, len(model.faults) + 1))
    for group in model.groups:
        members = [name for name in group.tests if name in readings]
        if len(members) > 1:
            together = _together([rows[name] for name in members], [readings[name] for name in members])
            share = share_together(group)
            result = result * ((1 - share) * _product(single.pop(name) for name in members) + share * together)
    return result * _product(single.values())


def _product(arrays) -> np.ndarray | float:
    result = 1.0
    for array in arrays:
        result = result * array
    return result


def share_together(group: Group) -> float:
    r"""In which share of cases one cause decides how all tests of a group come out.

    Parameters
    ----------
    group : Group

    Returns
    -------
    share : float
        0: they are independent given the fault; 1: they always move together.

    Notes
    -----
    With share s, n tests that each come out so with chance a under one fault and b = 1 - a under another tell the two
    apart by

    .. math:: \frac{(1 - s) a^n + s a}{(1 - s) b^n + s b} = \left(\frac{a}{b}\right)^k

    where k is as how many independent ones they count. Solved for s at a = 0.9.
    """
    n, a, b = len(group.tests), SHARP, 1 - SHARP
    ratio = (a / b) ** group.counts_as
    return (a**n - ratio * b**n) / (ratio * (b - b**n) - (a - a**n))


def _together(rows: Sequence[np.ndarray], readings: Sequence[np.ndarray]) -> np.ndarray:
    """The likelihood where one cause decides: its strength, even from 0 to 1, says how each test comes out.

    Between two neighbouring steps of any of the tests nothing changes, so the integral over the strength is a sum.
    """
    steps = [np.minimum(np.cumsum(row, axis=1)[:, :-1], 1.0) for row in rows]
    ends = np.ones((len(rows[0]), 1))
    cuts = np.sort(np.hstack([0 * ends, *steps, ends]), axis=1)
    middles = (cuts[:, 1:] + cuts[:, :-1]) / 2
    outcomes = [(middles[:, :, None] > step[:, None, :]).sum(axis=2) for step in steps]
    seen = _product(reading[:, outcome] for reading, outcome in zip(readings, outcomes, strict=True))
    return (seen * np.diff(cuts, axis=1)).sum(axis=2)


def plain(test: Test, outcome: str) -> np.ndarray:
    """A plain outcome as a reading of one row.

    Parameters
    ----------
    test : Test
    outcome : str
    """
    return np.eye(len(test.outcomes))[[test.index(outcome)]]


def _even(test: Test) -> list[float]:
    return [1 / len(test.outcomes)] * len(test.outcomes)
