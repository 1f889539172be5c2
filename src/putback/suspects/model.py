"""What may be wrong, what can be read, and what mends it: the plain data that everything here works with."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import fsum, isfinite

from putback.errors import InputError

NOTHING_LISTED = "not in this list"
ROUNDED = 1e-6  # how far a row of chances may be from 1, for chances are typed by hand


@dataclass(frozen=True)
class Test:
    """One thing to read, and how each fault would have it read.

    Attributes
    ----------
    name : str
    outcomes : tuple of str
        What it can come out as, from one end to the other (low to high, or fine to bad): within a group of tests that
        share a cause the order counts.
    chances : dict of str to tuple of float
        P(outcome | fault) of every fault, in the order of `outcomes`; each row sums to 1.
    other : tuple of float, optional
        The row under a fault that nobody listed; None: every outcome alike.
    silent_when : dict of str to tuple of str
        Another test, and those outcomes of it with which this one tells nothing: no drop without current.
    silent_as : tuple of float, optional
        What it then reads, whatever the fault; None: every outcome alike.
    """

    __test__ = False  # not one of ours to run

    name: str
    outcomes: tuple[str, ...]
    chances: Mapping[str, Sequence[float]]
    other: Sequence[float] | None = None
    silent_when: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    silent_as: Sequence[float] | None = None

    def __post_init__(self):
        if len(self.outcomes) < 2 or len(set(self.outcomes)) != len(self.outcomes):
            raise InputError(f"{self.name}: a test needs two or more outcomes of different names")
        rows = {f"under {fault}": row for fault, row in self.chances.items()}
        rows |= {f"under a fault {NOTHING_LISTED}": self.other, "when it tells nothing": self.silent_as}
        for where, row in rows.items():
            if row is not None:
                _check_row(f"{self.name}, {where}", row, len(self.outcomes))

    def index(self, outcome: str) -> int:
        """The place of an outcome in the row.

        Parameters
        ----------
        outcome : str

        Raises
        ------
        InputError
            No such outcome.
        """
        if outcome not in self.outcomes:
            raise InputError(f'{self.name}: "{outcome}" is not one of its outcomes: {", ".join(self.outcomes)}')
        return self.outcomes.index(outcome)


@dataclass(frozen=True)
class Group:
    """Tests that share a cause: given the fault they are not independent, and count for less than their number.

    Attributes
    ----------
    tests : tuple of str
    counts_as : float
        As how many independent ones all of them count together where each is sharp (nine to one); above 1, at most
        their number.
    """

    tests: tuple[str, ...]
    counts_as: float = 1.5

    def __post_init__(self):
        if len(self.tests) < 2:
            raise InputError(f"a group needs two tests or more, not: {', '.join(self.tests)}")
        if not 1 <= self.counts_as <= len(self.tests):
            raise InputError(
                f"the group of {', '.join(self.tests)} counts as {self.counts_as:g}; write 1 to {len(self.tests)}"
            )


@dataclass(frozen=True)
class Action:
    """What mends some of the faults.

    Attributes
    ----------
    name : str
    cures : tuple of str
        The faults it mends; every fault has one action. "Nothing wrong" is a fault as well: its action is to leave all
        as it is.
    cost : float
        Of doing it, whether it was right or not; its access apart. Above 0, in the model's one unit.
    behind : str, optional
        The access that it needs, whose cost is paid once however much lies behind it.
    enough : float
        The share its faults must have before it may be done.
    known : tuple of str
        Tests that must have been read before, whatever they said.
    proof : tuple of (test, outcomes)
        Of these at least one must have been seen; empty: none is asked for.
    """

    name: str
    cures: tuple[str, ...]
    cost: float
    behind: str | None = None
    enough: float = 0.8
    known: tuple[str, ...] = ()
    proof: tuple[tuple[str, tuple[str, ...]], ...] = ()

    def __post_init__(self):
        if not (isfinite(self.cost) and self.cost > 0):
            raise InputError(f"{self.name}: it costs {self.cost:g}; a cost is above 0")
        if not 0 <= self.enough <= 1:
            raise InputError(f"{self.name}: {self.enough:g} is no share; write 0 to 1")


@dataclass(frozen=True)
class Model:
    """One kind of complaint: faults, tests, and what mends them.

    Attributes
    ----------
    prior : dict of str to float
        The chance of each fault before anything is read; sums to 1, and makes the list of faults.
    tests : tuple of Test
    actions : tuple of Action
    groups : tuple of Group
    leftover : float
        The share kept for faults that nobody listed; the prior is scaled by what it leaves.
    access : dict of str to float
        What each access costs, there and back.
    test_access : dict of str to str
        Tests behind an access, and which.
    hand_on : float, optional
        What it costs to pass the car on unsolved; None: that is not to be had.
    stands : float
        From which share on a suspect still stands.
    """

    prior: Mapping[str, float]
    tests: tuple[Test, ...]
    actions: tuple[Action, ...]
    groups: tuple[Group, ...] = ()
    leftover: float = 0.03
    access: Mapping[str, float] = field(default_factory=dict)
    test_access: Mapping[str, str] = field(default_factory=dict)
    hand_on: float | None = None
    stands: float = 0.03

    def __post_init__(self):
        _check_row("the prior", tuple(self.prior.values()), len(self.prior))
        if not 0 <= self.leftover < 1:
            raise InputError(f"the share of what is {NOTHING_LISTED} is {self.leftover:g}; write 0 or more, below 1")
        _check_costs(self)
        _once("fault", self.faults)
        _once("test", (test.name for test in self.tests))
        _once("action", (action.name for action in self.actions))
        _check_faults(self)
        _check_tests(self)
        _check_places(self)

    @property
    def faults(self) -> tuple[str, ...]:
        """The names of the faults, in the order of the prior."""
        return tuple(self.prior)

    @cached_property
    def by_name(self) -> dict[str, Test]:
        """The tests by their names."""
        return {test.name: test for test in self.tests}

    @cached_property
    def cure(self) -> dict[str, str]:
        """The action that mends each fault."""
        return {fault: action.name for action in self.actions for fault in action.cures}

    @cached_property
    def places(self) -> list[int]:
        """Of each fault the place of the action that mends it."""
        names = [action.name for action in self.actions]
        return [names.index(self.cure[fault]) for fault in self.faults]

    def test(self, name: str) -> Test:
        """A test by its name.

        Parameters
        ----------
        name : str

        Raises
        ------
        InputError
            No such test.
        """
        if name not in self.by_name:
            raise InputError(f'there is no test "{name}"; there are: {", ".join(self.by_name)}')
        return self.by_name[name]


def _check_row(where: str, row: Sequence[float], length: int) -> None:
    if len(row) != length:
        raise InputError(f"{where}: {len(row)} chances, and {length} are needed")
    if not all(isfinite(chance) and chance >= 0 for chance in row):
        raise InputError(f"{where}: a chance is 0 or more")
    if abs(fsum(row) - 1) > ROUNDED:
        raise InputError(f"{where}: the chances sum to {fsum(row):g}, not to 1")


def _check_costs(model: Model) -> None:
    costs = {f"the access {name}": cost for name, cost in model.access.items()} | {"handing on": model.hand_on}
    for what, cost in costs.items():
        if cost is not None and not (isfinite(cost) and cost >= 0):
            raise InputError(f"{what} costs {cost:g}; write 0 or more")


def _once(kind: str, names: Iterable[str]) -> None:
    seen = set()
    for name in names:
        if name in seen or name == NOTHING_LISTED:
            raise InputError(f'the {kind} "{name}" is there twice, or its name is kept for something else')
        seen.add(name)


def _check_faults(model: Model) -> None:
    cured = [fault for action in model.actions for fault in action.cures]
    for fault in model.faults:
        if cured.count(fault) != 1:
            raise InputError(f'the fault "{fault}" has {cured.count(fault)} actions that mend it; give it one')
    _known("mends", cured, model.faults)
    for test in model.tests:
        _known(f"{test.name} tells of", test.chances, model.faults)
        _known(f"the prior tells, and {test.name} does not tell, of", model.faults, test.chances)


def _check_tests(model: Model) -> None:
    for test in model.tests:
        for gate, outcomes in test.silent_when.items():
            for outcome in outcomes:
                model.test(gate).index(outcome)
            if model.test(gate).silent_when:
                raise InputError(f"{test.name} waits for {gate}, which itself can be silent; name what silences that")
    _once("grouped test", (name for group in model.groups for name in group.tests))
    for action in model.actions:
        for name, outcomes in action.proof:
            for outcome in outcomes:
                model.test(name).index(outcome)
    for name in [*_tests_named(model)]:
        model.test(name)


def _tests_named(model: Model) -> Iterable[str]:
    yield from (name for group in model.groups for name in group.tests)
    yield from (name for action in model.actions for name in action.known)
    yield from model.test_access


def _check_places(model: Model) -> None:
    behind = [action.behind for action in model.actions if action.behind is not None]
    _known("something is behind", [*behind, *model.test_access.values()], model.access)


def _known(what: str, names: Iterable[str], among: Iterable[str]) -> None:
    unknown = [name for name in names if name not in among]
    if unknown:
        raise InputError(f'{what} "{unknown[0]}", which the model does not have; it has: {", ".join(among)}')
