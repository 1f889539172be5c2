"""Walks a plan through a core problem and says what it takes and which rules it breaks.

The rules are those of docs/core-problem.md, read straight from that page; no line is shared with
the search. A plan that comes out of here with nothing broken is right, whoever made it.
"""

from collections.abc import Iterable, Mapping
from copy import copy
from dataclasses import dataclass
from itertools import product
from typing import Any, NamedTuple

from putback.way.replay_reading import (
    AFTER,
    AT_SWAP,
    BACK,
    BEFORE,
    END,
    OUT,
    PHASES,
    SWAP,
    Dim,
    Move,
    Problem,
    Ranges,
    Way,
    read,
    short,
)


class Change(NamedTuple):
    """One dimension of the context that takes another value."""

    dim: str
    old: str
    new: str


@dataclass(frozen=True)
class Step:
    """One step of a plan, as it was replayed.

    Attributes
    ----------
    id : str
        The operation or swap.
    way : int
        Which of its ways, counted from 0.
    context : mapping of str to str
        The value of every dimension during the step.
    start, end : int
        From when to when the work itself runs, counted from the start of the job in the
        problem's unit of time; changes and idle time lie before `start`.
    changes : tuple of Change
        What changes before the step, in the order of the dimensions.
    idle : int
        How long the step waits after those changes, in the problem's unit of time.
    """

    id: str
    way: int
    context: Mapping[str, str]
    start: int
    end: int
    changes: tuple[Change, ...]
    idle: int


@dataclass(frozen=True)
class Replay:
    """What a plan comes to.

    Attributes
    ----------
    total : int
        Rate x all time + all cost, in the problem's unit of cost.
    changes : int
        How often a dimension changes its value, the changes at the end included.
    time : int
        All time: work, changes, idle time, fixed and once-only work, in the problem's unit of time.
    idle : int
        The idle part of `time`.
    steps : tuple of Step
        The steps that could be understood, in order.
    broken : tuple of str
        One sentence for every rule broken, in the order met; empty when the plan is right.
        Where it is not empty, the figures above are those of the plan carried out all the same.
    """

    total: int
    changes: int
    time: int
    idle: int
    steps: tuple[Step, ...]
    broken: tuple[str, ...]


def replay(core: dict, plan: list) -> Replay:
    """Carry out a plan step by step and hold it against every rule of the core problem.

    Parameters
    ----------
    core : dict
        A core problem of version 1 or 2 as parsed from JSON (docs/core-problem.md).
    plan : list
        Steps ``[id, way index, {dimension: value, ...}]``; in version 1 the last entry may be the
        posture alone.

    Returns
    -------
    replay : Replay
        Totals, timed steps, and a sentence for every rule the plan breaks.

    Raises
    ------
    InputError
        A core problem that cannot be read. A bad plan is reported, never raised.
    """
    walk = _Walk(read(core))
    walk.run(plan)
    return walk.result()


# --- the walk -----------------------------------------------------------------------------------


class _Walk:
    """The work area on its way through a plan: what stands where, how late it is, what was broken."""

    def __init__(self, problem: Problem):
        self.problem = problem
        self.levels = {name: item.start for name, item in problem.items.items()}
        self.context = {dim.name: dim.start for dim in problem.dims}
        self.ready = {wait.id: wait.left for wait in problem.waits}
        self.clock = self.idle = self.cost = self.changes = 0
        self.held = self._held_by_items()
        self.phase = OUT
        self.done: list[tuple[str, int]] = []
        self.steps: list[Step] = []
        self.broken: list[str] = []
        self.where = "start"

    def run(self, plan: Any) -> None:
        entries = self._entries(plan)
        turn = _turn(self.problem, entries)
        self._fixed(BEFORE)
        self._steps(entries, 0, turn)
        self._fixed(AT_SWAP)
        self._steps(entries, turn, len(entries))
        self._end()
        self._once()

    def result(self) -> Replay:
        total = self.problem.rate * self.clock + self.cost
        return Replay(total, self.changes, self.clock, self.idle, tuple(self.steps), tuple(self.broken))

    def _report(self, sentence: str) -> None:
        self.broken.append(f"{self.where}: {sentence}")

    # one step

    def _steps(self, entries: list, first: int, last: int) -> None:
        for number in range(first, last):
            self.where = f"step {number + 1}"
            self._step(entries[number])

    def _step(self, entry: Any) -> None:
        move, index = self._move(entry)
        if move is None:
            return
        way = move.ways[index]
        self._check_phase(move)
        context = self._asked_context(way, entry[2])
        self._check_context(way, context)
        changes = self._change_to(context)
        self._check_way(move, way)
        idle = self._wait_for(move.id)
        self._work(move, index)
        self._check_state(way.uses, "just after it")
        self.steps.append(Step(move.id, index, context, self.clock - move.time - way.time, self.clock, changes, idle))

    def _check_phase(self, move: Move) -> None:
        if PHASES.index(move.phase) < PHASES.index(self.phase):
            self._report(f'{_KIND_WORDS[move.phase]} comes after the plan has come to "{self.phase}"')
        else:
            self.phase = move.phase

    def _check_way(self, move: Move, way: Way) -> None:
        if move.phase == SWAP:
            self._check_swap(move)
        elif self.levels[move.item] != move.before:
            self._report(f'"{move.item}" stands at {self.levels[move.item]}, and it moves from {move.before}')
        self._check_ranges(way.needs, "this way needs")
        self._check_state(way.uses, "just before it")

    def _check_swap(self, move: Move) -> None:
        if any(move.id == done for done, _ in self.done):
            self._report("this swap is done already")
        last = {name: (self.problem.items[name].levels,) * 2 for name in self.problem.targets}
        self._check_ranges(last, "a swap needs")

    def _work(self, move: Move, index: int) -> None:
        """Let the work happen, also where it was not allowed: what follows is judged as if it had been."""
        way = move.ways[index]
        self.clock += move.time + way.time
        self.cost += move.cost + way.cost
        self.done.append((move.id, index))
        if move.phase != SWAP:
            self.levels[move.item] = move.after
            self.held = self._held_by_items()
        for wait in self.problem.waits:
            if move.id in wait.after:
                self.ready[wait.id] = self.clock + wait.time

    def _wait_for(self, name: str) -> int:
        """Idle until `name` (an id or the end) may begin; how long that was."""
        idle = self._left(name)
        self.clock += idle
        self.idle += idle
        return idle

    def _left(self, name: str) -> int:
        """How long `name` (an id or the end) must still wait."""
        ready = (self.ready[wait.id] for wait in self.problem.waits if name in wait.before)
        return max(max(ready, default=0) - self.clock, 0)

    # the context

    def _asked_context(self, way: Way, asked: Any) -> dict[str, str]:
        """The context the plan names for a step; a value that is wrong or missing stays as it was."""
        if self.problem.posture_only and isinstance(asked, str):
            asked = {"tool": way.within["tool"][0], "vantage": way.within["vantage"][0], "posture": asked}
        if not isinstance(asked, Mapping):
            self._report(f"the context must name a value for every dimension, got {short(asked)}")
            return dict(self.context)
        for name in asked:
            if name not in self.context:
                self._report(f"there is no dimension {short(name)}")
        return {dim.name: self._asked_value(dim, asked) for dim in self.problem.dims}

    def _asked_value(self, dim: Dim, asked: Mapping) -> str:
        if dim.name not in asked:
            self._report(f'the context does not name "{dim.name}"')
        elif asked[dim.name] not in dim.values:
            self._report(f'"{dim.name}" has no value {short(asked[dim.name])}')
        else:
            return asked[dim.name]
        return self.context[dim.name]

    def _check_context(self, way: Way, context: dict[str, str]) -> None:
        for name, values in way.within.items():
            if context[name] not in values:
                self._report(f'"{name}" is "{context[name]}", and this way needs {_either(values)}')

    def _change_to(self, context: dict[str, str]) -> tuple[Change, ...]:
        old = self.context
        changes = tuple(Change(name, old[name], new) for name, new in context.items() if new != old[name])
        if changes:
            self._check_equipment(self._held_in_change(context), "while the context changes")
        for dim in self.problem.dims:
            self.clock += dim.change[old[dim.name]][context[dim.name]]
        self.changes += len(changes)
        self.context = dict(context)
        return changes

    # conditions

    def _check_state(self, uses: Mapping[str, int], when: str) -> None:
        """The needs of the values in force, and the equipment that items, values and `uses` keep busy."""
        for dim in self.problem.dims:
            value = self.context[dim.name]
            if value in dim.needs:
                self._check_ranges(dim.needs[value], f'{when} "{dim.name}" "{value}" needs')
        held = dict(self.held)
        for dim in self.problem.dims:
            _add(held, dim.holds.get(self.context[dim.name], {}))
        _add(held, uses)
        self._check_equipment(held, when)

    def _check_ranges(self, ranges: Ranges, who: str) -> None:
        for name, (low, high) in ranges.items():
            level = self.levels[name]
            if not low <= level <= high:
                wanted = f"{low}" if low == high else f"{low} to {high}"
                self._report(f'{who} "{name}" at {wanted}, and it stands at {level}')

    def _check_equipment(self, held: dict[str, int], when: str) -> None:
        for pool, number in held.items():
            there = self.problem.pools.get(pool, 0)
            if number > there:
                self._report(f'{when} {number} of "{pool}" are held, and there are {there}')

    def _held_by_items(self) -> dict[str, int]:
        held: dict[str, int] = {}
        for name, levels in self.problem.holders.items():
            _add(held, levels.get(self.levels[name], {}))
        return held

    def _held_in_change(self, context: dict[str, str]) -> dict[str, int]:
        """Between two values a dimension holds the larger need of each pool, and what moving it takes."""
        held = dict(self.held)
        for dim in self.problem.dims:
            old, new = self.context[dim.name], context[dim.name]
            holds = (dim.holds.get(old, {}), dim.holds.get(new, {}))
            _add(held, {pool: max(h.get(pool, 0) for h in holds) for pool in [*holds[0], *holds[1]]})
            if old != new:
                _add(held, dim.moving.get(new, {}))
        return held

    # the end, and what follows from the rules alone

    def _end(self) -> None:
        self.where = "end"
        self._change_to(self._end_context())
        self._check_state({}, "at the end")
        self._check_ranges({name: item.goal for name, item in self.problem.items.items()}, "the goal is")
        done = {name for name, _ in self.done}
        for move in self.problem.moves.values():
            if move.phase == SWAP and move.id not in done:
                self._report(f'the swap "{move.id}" is not done')
        self._wait_for(END)
        self._fixed(AFTER)

    def _end_context(self) -> dict[str, str]:
        """What the plan ends with: of the contexts that will do the cheapest; of all where none will do."""
        dims = self.problem.dims
        choices = product(*(self._end_values(dim) for dim in dims))
        contexts = [{dim.name: value for dim, value in zip(dims, values, strict=True)} for values in choices]
        contexts.sort(key=self._price_of_ending)  # keeps the order of the file among equals
        return next((context for context in contexts if self._will_do_at_the_end(context)), contexts[0])

    def _end_values(self, dim: Dim) -> tuple[str, ...]:
        """The values worth trying; one from which nothing hangs need not change where any will do."""
        now = self.context[dim.name]
        return dim.end or (dim.values if now in dim.needs or now in dim.holds else (now,))

    def _price_of_ending(self, context: Mapping[str, str]) -> tuple[int, int]:
        """The time to the end of the last wait, and the number of changes."""
        changing = sum(dim.change[self.context[dim.name]][context[dim.name]] for dim in self.problem.dims)
        changes = sum(self.context[name] != value for name, value in context.items())
        return max(changing, self._left(END)), changes

    def _will_do_at_the_end(self, context: dict[str, str]) -> bool:
        """Tried on a copy, the change and what follows it break no rule."""
        trial = copy(self)
        trial.broken = []
        trial._change_to(context)
        trial._check_state({}, "at the end")
        return not trial.broken

    def _fixed(self, moment: str) -> None:
        for work in self.problem.fixed:
            if work.when == moment:
                self.clock += work.time
                self.cost += work.cost

    def _once(self) -> None:
        for due in self.problem.once:
            if any((name, None) in due.ops or (name, way) in due.ops for name, way in self.done):
                time, cost = due.cheapest(self.problem.rate)
                self.clock += time
                self.cost += cost

    # a plan that may be anything

    def _entries(self, plan: Any) -> list:
        if isinstance(plan, list | tuple):
            return list(plan)
        self._report(f"a plan must be a list of steps, got {short(plan)}")
        return []

    def _move(self, entry: Any) -> tuple[Move | None, int]:
        """The operation or swap a step names and which way; None, once reported, where there is none."""
        if not (isinstance(entry, list | tuple) and len(entry) == 3):
            self._report(f"a step must be [id, way, context], got {short(entry)}")
            return None, 0
        move = _find(self.problem, entry)
        if move is None:
            self._report(f"there is no operation or swap {short(entry[0])}")
            return None, 0
        self.where += f" ({move.id})"
        return self._known_way(move, entry[1])

    def _known_way(self, move: Move, index: Any) -> tuple[Move | None, int]:
        if type(index) is int and 0 <= index < len(move.ways):
            return move, index
        self._report(f"it has {len(move.ways)} ways, counted from 0, and none is {short(index)}")
        return None, 0


_KIND_WORDS = {OUT: 'an "out" operation', SWAP: "a swap", BACK: 'a "back" operation'}


def _turn(problem: Problem, entries: list) -> int:
    """How many steps stand before the work at the swap: to the last swap, else to the last "out"."""
    moves = [_find(problem, entry) for entry in entries]
    phases = [move.phase if move else None for move in moves]
    for phase in (SWAP, OUT):
        if phase in phases:
            return len(phases) - phases[::-1].index(phase)
    return 0


def _find(problem: Problem, entry: Any) -> Move | None:
    named = isinstance(entry, list | tuple) and len(entry) == 3 and isinstance(entry[0], str)
    return problem.moves.get(entry[0]) if named else None


def _add(held: dict[str, int], more: Mapping[str, int]) -> None:
    for pool, number in more.items():
        held[pool] = held.get(pool, 0) + number


def _either(values: Iterable[str]) -> str:
    return " or ".join(f'"{value}"' for value in values) or "a value that it does not list"
