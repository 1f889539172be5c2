"""Which test is worth doing next: by how much it lowers what is to be expected until the car is right.

The best strategy over at most so many more tests, worked out exactly: after each outcome either the next test or the
repairs in their best order. A test's own cost counts, the access before it once; what it opens is then open for the
repairs as well.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np

from putback.errors import InputError
from putback.suspects.likelihood import chances, independent_parts, likelihood
from putback.suspects.model import Model
from putback.suspects.order import access_costs, repair_costs
from putback.suspects.posterior import Evidence, readings_of, start

FARTHEST = 2  # tests looked ahead
ALIKE = 1e-12  # a difference of costs that is none


@dataclass(frozen=True)
class Choice:
    """One test that could be done next.

    Attributes
    ----------
    test : str
    worth : float
        By how much it lowers the expected cost of getting the car right, its own cost taken off; below 0 it costs more
        than it brings.
    cost : float
        Of the test, access there and back included.
    then : dict of str to str or None
        After each outcome the test to go on with, or None where the repair comes next.
    """

    test: str
    worth: float
    cost: float
    then: Mapping[str, str | None] = field(default_factory=dict)


def next_tests(
    model: Model,
    evidence: Evidence,
    costs: Mapping[str, float],
    absent: Iterable[str] = (),
    ahead: int = FARTHEST,
    opened: Iterable[str] = (),
) -> list[Choice]:
    """What each test that can be had is worth, best first; of equal ones the cheaper, then as the model has them.

    Parameters
    ----------
    model : Model
    evidence : dict of str to str or sequence of float
        What was read so far.
    costs : dict of str to float
        What each test costs that can be had and was not read yet, its access apart; in the model's unit.
    absent : iterable of str
        Faults that this car cannot have.
    ahead : int
        How many tests to look ahead, 1 or 2.
    opened : iterable of str
        Accesses that are open already.

    Raises
    ------
    InputError
        A name that the model does not have, a test that was read already, a cost below 0.
    """
    _check(model, evidence, costs, ahead)
    sight = _Sight(model, evidence, costs, absent, opened)
    choices = [sight.choice(name, ahead) for name in sight.tests]
    return sorted(choices, key=lambda choice: (-round(choice.worth, 9), choice.cost))


def _check(model: Model, evidence: Evidence, costs: Mapping[str, float], ahead: int) -> None:
    if ahead not in range(1, FARTHEST + 1):
        raise InputError(f"looking {ahead} tests ahead is not offered; write 1 to {FARTHEST}")
    for name, cost in costs.items():
        if model.test(name).name in evidence:
            raise InputError(f"{name} was read already; leave it out of what can be done next")
        if not 0 <= cost < float("inf"):
            raise InputError(f"{name}: it costs {cost:g}; write 0 or more, or leave out what cannot be had")


class _Sight:
    """What can be foreseen from here: how likely each outcome of each test is together with each fault.

    Weights are P(outcomes and fault | what was read). Repair costs are in proportion to them, so nothing has to be
    divided by how likely the outcomes are.
    """

    def __init__(self, model: Model, evidence: Evidence, costs: Mapping, absent: Iterable[str], opened: Iterable[str]):
        self.model, self.costs, self.opened = model, costs, {*opened}
        self.tests = [test.name for test in model.tests if test.name in costs]
        self.rows, self.read = chances(model), readings_of(model, evidence)
        self.parts = {name: part for part in independent_parts(model) for name in part}
        self.now = start(model, absent) * likelihood(model, self.rows, self.read)[0]
        if not self.now.sum() > 0:
            raise InputError("nothing explains the readings there are, so no test can be chosen by them; read again")
        self.now /= self.now.sum()
        self.after = {name: self._ratio([name]) for name in self.tests}
        self.joints: dict[tuple[str, str], np.ndarray] = {}
        self.padded = _padded([*self.after.values()])
        self.without = repair_costs(model, self.now[None, :], self._access())[0]

    def _ratio(self, tests: list[str]) -> np.ndarray:
        """P(outcomes of tests of one part | fault, what was read), a row for each combination of outcomes."""
        read = {name: self.read[name] for name in self.parts[tests[0]] if name in self.read}
        sizes = [len(self.model.test(name).outcomes) for name in tests]
        grid = np.indices(sizes).reshape(len(tests), -1)
        plain = {name: np.eye(size)[places] for name, size, places in zip(tests, sizes, grid, strict=True)}
        before = likelihood(self.model, self.rows, read)
        both = likelihood(self.model, self.rows, read | plain)
        return np.divide(both, before, out=np.zeros_like(both), where=before > 0)

    def choice(self, test: str, ahead: int) -> Choice:
        """What doing this test next is worth."""
        weights = self.now * self.after[test]
        least = repair_costs(self.model, weights, self._access(test))
        then: list[str | None] = [None] * len(weights)
        others = [name for name in self.tests if name != test]
        if ahead > 1 and others:
            costs = self._with_second(test, others, weights)
            for n in np.flatnonzero(costs.min(axis=0) < least - ALIKE):
                least[n], then[n] = costs[:, n].min(), others[costs[:, n].argmin()]
        cost = self._cost(test, self.opened)
        worth = float(self.without - cost - least.sum())
        return Choice(test, worth, cost, dict(zip(self.model.test(test).outcomes, then, strict=True)))

    def _with_second(self, first: str, others: list[str], weights: np.ndarray) -> np.ndarray:
        """What is to be expected after each outcome of a test (column) if each of the others follows (row)."""
        both = self._both(first, others, weights)
        access = np.concatenate([self._access(first, second) for second in others])
        rows = both.reshape(-1, both.shape[-1])
        repairs = repair_costs(self.model, rows, access.repeat(len(rows) // len(others), axis=0))
        opened = self.opened | {self.model.test_access.get(first)}
        own = np.array([[self._cost(second, opened)] for second in others]) * weights.sum(axis=1)
        return own + repairs.reshape(both.shape[:3]).sum(axis=2)

    def _both(self, first: str, others: list[str], weights: np.ndarray) -> np.ndarray:
        """The weights after two tests: by the second, by outcome of the first and of the second, and fault.

        Outcomes that a test does not have weigh nothing, and so cost nothing.
        """
        places = [self.tests.index(name) for name in others]
        both = weights[None, :, None, :] * self.padded[places][:, None, :, :]
        for n, second in enumerate(others):
            if second in self.parts[first]:
                joint = self._joint(first, second)
                both[n, :, : joint.shape[1]] = self.now * joint
        return both

    def _joint(self, first: str, second: str) -> np.ndarray:
        """P(outcomes of two tests of one part | fault, what was read): by the first, the second, and fault."""
        if (second, first) in self.joints:
            return self.joints[second, first].swapaxes(0, 1)
        shape = (len(self.after[first]), len(self.after[second]), -1)
        return self.joints.setdefault((first, second), self._ratio([first, second]).reshape(shape))

    def _cost(self, test: str, opened: set) -> float:
        access = self.model.test_access.get(test)
        return self.costs[test] + (self.model.access[access] if access and access not in opened else 0.0)

    def _access(self, *tests: str) -> np.ndarray:
        """What accesses cost once these tests are done, as one row."""
        return access_costs(self.model, self.opened | {self.model.test_access.get(name) for name in tests})[None, :]


def _padded(arrays: list[np.ndarray]) -> np.ndarray:
    """Arrays of as many columns and different numbers of rows in one, noughts below the shorter ones."""
    found = np.zeros((len(arrays), max((len(one) for one in arrays), default=0), arrays[0].shape[1] if arrays else 0))
    for n, one in enumerate(arrays):
        found[n, : len(one)] = one
    return found
