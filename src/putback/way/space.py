"""Where a phase can stand and where it can go: done steps and context.

The rule that keeps this small: a step that needs no change of context, is at its cheapest here and shuts
nothing out is done at once. No better plan is lost by it as long as no detour over a third value is cheaper than
a straight change; where one is, steps are taken one by one.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import product
from typing import NamedTuple

from putback.way.equipment import equipment_of
from putback.way.phase import SWAP_SEEN_FROM_BACK, Choice, Phase
from putback.way.problem import Problem
from putback.way.runs import CHANGES


class Step(NamedTuple):
    """One step in one of its choices, ready to be tested against what is done."""

    bit: int
    after: int
    until: int
    extra: int
    at_once: int | None  # what must be done for the step to be safe to take at once; None: never
    number: int
    way: int


class Space:
    """The states of a phase over some of the dimensions; the others are taken to be free.

    Parameters
    ----------
    problem : Problem
        Dimensions, pools and operations.
    phase : Phase
        The steps to be done.
    dims : tuple of int
        Dimensions that count.
    loose : bool
        Leave out "not yet" conditions, as a bound may.
    less : mapping of int to int
        What to take off every change of a dimension, because another bound counts it.
    early : bool
        Offer changes that are not needed yet, too: they may fill a wait.
    """

    def __init__(
        self,
        problem: Problem,
        phase: Phase,
        dims: tuple[int, ...],
        *,
        loose: bool = False,
        less: Mapping[int, int] = {},
        early: bool = False,
    ):
        self.problem, self.phase, self.dims = problem, phase, dims
        self.full, self._early = phase.full, early
        self._changes = [change_table(problem, dim, phase.backwards, less.get(dim, 0)) for dim in dims]
        self._metric = [is_metric(table) for table in self._changes]
        self.equipment = None if loose else equipment_of(problem, phase)
        self.orderly = all(self._metric) and (self.equipment is None or self.equipment.is_orderly)
        self._number: dict[tuple[int, ...], int] = {}
        self.contexts: list[tuple[int, ...]] = []
        self.groups = self._grouped(loose)
        self._steps = [(_union(step.bit for step in steps), steps) for _, steps in self.groups]
        self._arrivals: list[list[list[tuple[int, int]] | None]] = []
        self._at_once: list[list[tuple[int, int, int, int, int]] | None] = []
        self.start = self.context(self._start_values())

    def context(self, values: tuple[int, ...]) -> int:
        """The number of a context; a value past the last one of its dimension means "free"."""
        number = self._number.get(values)
        if number is None:
            number = self._number[values] = len(self.contexts)
            self.contexts.append(values)
            self._arrivals.append([None] * len(self.groups))
            self._at_once.append(None)
        return number

    def _start_values(self) -> tuple[int, ...]:
        dims = [self.problem.dims[dim] for dim in self.dims]
        return tuple(len(dim.values) if self.phase.backwards else dim.start for dim in dims)

    def _grouped(self, loose: bool) -> list[tuple[tuple[tuple[int, ...], bool], list[Step]]]:
        """Steps by the context they ask for, and by whether they touch scarce equipment."""
        groups: dict[tuple, list[Step]] = {}
        for number, choices in enumerate(self.phase.choices):
            for choice in choices:
                allowed = tuple(choice.allowed[dim] for dim in self.dims)
                touches = self._touches(number, choice)
                step = self._step(number, choice, loose, touches)
                same = groups.setdefault((allowed, touches), [])
                if step not in same:
                    same.append(step)
        return list(groups.items())

    def _touches(self, number: int, choice: Choice) -> bool:
        """The end of the job and the swap count as well: their values are a choice when equipment is short."""
        if self.equipment is None:
            return False
        is_border = self.phase.ops[number] in (SWAP_SEEN_FROM_BACK, len(self.problem.ops))
        return is_border or self.equipment.touches(number, choice.way)

    def _step(self, number: int, choice: Choice, loose: bool, touches: bool) -> Step:
        shut = 0 if loose else self.phase.shut[number]
        is_safe = choice.extra == 0 and self.orderly and not touches
        at_once = choice.after | shut if is_safe else None
        return Step(1 << number, choice.after, 0 if loose else choice.until, choice.extra, at_once, number, choice.way)

    # -- moving ----------------------------------------------------------------------------

    def arrivals(self, context: int, group: int) -> list[tuple[int, int]]:
        """Contexts from which a group's steps can be done next, with the cost of getting there."""
        known = self._arrivals[context][group]
        if known is None:
            known = self._arrivals[context][group] = list(self._arrive(context, group))
        return known

    def _arrive(self, context: int, group: int) -> Iterator[tuple[int, int]]:
        (allowed, touches), _ = self.groups[group]
        options = [
            self._options(n, value, values, touches)
            for n, (value, values) in enumerate(zip(self.contexts[context], allowed, strict=True))
        ]
        for chosen in product(*options):
            yield self.context(tuple(value for value, _ in chosen)), sum(cost for _, cost in chosen)

    def _options(self, n: int, value: int, allowed: int, touches: bool) -> list[tuple[int, int]]:
        """Values to change to, with what it costs; a value that will do is kept unless a change now could help later."""
        table, size = self._changes[n][value], len(self._changes[n]) - 1
        guarded = self.equipment is not None and self.dims[n] in self.equipment.guarded
        if value == size and allowed == (1 << size) - 1 and not guarded:
            return [(value, 0)]
        keeps = self._metric[n] and not self._early and not (guarded and (touches or not self.orderly))
        if value < size and allowed >> value & 1 and keeps:
            return [(value, 0)]
        return [(other, table[other]) for other in range(size) if allowed >> other & 1]

    @property
    def settled_dims(self) -> list[int]:
        """Places of dimensions whose changes cannot be split in two: no straight change stands for a detour."""
        guarded = self.equipment.guarded if self.equipment else ()
        return [n for n, dim in enumerate(self.dims) if dim in guarded or not self._metric[n]]

    def begin(self) -> tuple[int, int]:
        """The first state: what can be done at once is done."""
        if self.equipment and not self.equipment.can_stand(0, self.contexts[self.start]):
            return 0, self.start
        return self.close(0, self.start), self.start

    def at_once(self, context: int) -> list[tuple[int, int, int, int, int]]:
        """Steps that cost no change here, as (bit, what must be done, what must not, step, way)."""
        known = self._at_once[context]
        if known is None:
            known = self._at_once[context] = list(self._here(context))
        return known

    def _here(self, context: int) -> Iterator[tuple[int, int, int, int, int]]:
        steps = [
            (step.bit, step.at_once, step.until, step.number, step.way)
            for (allowed, _), members in self.groups
            if self._suits(context, allowed)
            for step in members
            if step.at_once is not None
        ]
        return iter(sorted(steps, key=lambda step: step[3]))

    def _suits(self, context: int, allowed: tuple[int, ...]) -> bool:
        """Whether nothing has to change; a value left free suits only what asks for none."""
        for value, mask, table in zip(self.contexts[context], allowed, self._changes, strict=True):
            is_free = value == len(table) - 1
            if not (mask == (1 << value) - 1 if is_free else mask >> value & 1):
                return False
        return True

    def close(self, done: int, context: int) -> int:
        """All that is done after taking every step that can be taken at once."""
        steps = self._at_once[context]
        if steps is None:
            steps = self.at_once(context)
        while True:
            before = done
            for bit, after, until, _, _ in steps:
                if not done & bit and done & after == after and not done & until:
                    done |= bit
            if done == before:
                return done

    def moves(self, done: int, context: int) -> dict[tuple[int, int], tuple[int, Step | None]]:
        """Next states, each with its cheapest cost and the step that leads there (None: those at once)."""
        found: dict[tuple[int, int], tuple[int, Step | None]] = {}
        left = ~done
        for group, (whole, steps) in enumerate(self._steps):
            if not whole & left:
                continue
            quick, slow = False, []
            for step in steps:
                bit, after, until, _, at_once, _, _ = step
                if done & bit or done & after != after or done & until:
                    continue
                if at_once is not None and done & at_once == at_once:
                    quick = True
                else:
                    slow.append(step)
            if quick or slow:
                self._arrive_all(found, done, context, group, quick, slow)
        return found

    def _arrive_all(self, found: dict, done: int, context: int, group: int, quick: bool, slow: list[Step]) -> None:
        for there, cost in self.arrivals(context, group):
            if self.equipment and not self._can_arrive(done, context, there):
                continue
            closed = self.close(done, there)
            if quick and there != context:
                _keep(found, (closed, there), cost, None)
            for step in slow:
                if not closed & (step.bit | step.until) and self._can_do(closed, step, there):
                    _keep(found, (self.close(closed | step.bit, there), there), cost + step.extra, step)

    def _can_arrive(self, done: int, context: int, there: int) -> bool:
        old, new = self.contexts[context], self.contexts[there]
        return self.equipment.can_change(done, old, new) and self.equipment.can_stand(done, new)

    def _can_do(self, done: int, step: Step, there: int) -> bool:
        if self.equipment is None:
            return True
        return self.equipment.can_do(done, step.bit, step.number, step.way, self.contexts[there])


def _union(bits: Iterable[int]) -> int:
    whole = 0
    for bit in bits:
        whole |= bit
    return whole


def _keep(found: dict, state: tuple[int, int], cost: int, step: Step | None) -> None:
    known = found.get(state)
    if known is None or cost < known[0]:
        found[state] = cost, step


def change_table(problem: Problem, dim: int, backwards: bool, less: int = 0) -> list[list[int]]:
    """Search cost of changing from row to column in reading order; the last row and column are "free"."""
    change = problem.dims[dim].change
    size = len(change)
    table = [[0] * (size + 1) for _ in range(size + 1)]
    for a in range(size):
        for b in range(size):
            time = change[b][a] if backwards else change[a][b]
            table[a][b] = max(0, CHANGES * problem.rate * time + (a != b) - less)
    if less:
        _shorten(table, size)
    return table


def is_metric(table: list[list[int]]) -> bool:
    """No detour over a third value is cheaper than the straight change."""
    values = range(len(table) - 1)
    return all(table[a][c] <= table[a][b] + table[b][c] for a in values for b in values for c in values)


def _shorten(table: list[list[int]], size: int) -> None:
    """Let detours count, so that the table obeys the triangle inequality again."""
    for b in range(size):
        for a in range(size):
            for c in range(size):
                table[a][c] = min(table[a][c], table[a][b] + table[b][c])
