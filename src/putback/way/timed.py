"""Orders for a run set with waits: what is left of each wait belongs to the state.

Work done meanwhile runs a wait down, so a step that could be done at once may be worth keeping for later. The exact
search therefore takes steps one by one while a wait is still to begin; the hasty one does not, and may miss the best.
"""

import heapq
from collections.abc import Iterator
from typing import NamedTuple

from putback.way.bounds import NEVER, Bound
from putback.way.joined import Joined, filled
from putback.way.phase import Phase, whole_phase
from putback.way.problem import BACK, END, Problem
from putback.way.runs import CHANGES, Runs
from putback.way.space import Space, Step

Timers = tuple[int, ...]
Taken = tuple[int, int, tuple[int, ...]]


class _State(NamedTuple):
    done: int
    context: int
    timers: Timers


class Timer:
    """What time does to waits.

    Attributes
    ----------
    start : tuple of int
        What is left of each wait at the start of the job.
    """

    def __init__(self, problem: Problem):
        self.problem = problem
        self.start = tuple(wait.left for wait in problem.waits)

    def idle(self, timers: Timers, op: int) -> int:
        """How long an operation must still wait; the end of the job is the number after the last operation."""
        name = END if op == len(self.problem.ops) else op
        return max((left for left, wait in zip(timers, self.problem.waits, strict=True) if name in wait.before), default=0)

    def after(self, timers: Timers, op: int) -> Timers:
        """Timers once an operation has ended: some begin anew."""
        return tuple(
            wait.time if op in wait.after else left for left, wait in zip(timers, self.problem.waits, strict=True)
        )


def run_down(timers: Timers, time: int) -> Timers:
    """Timers after so much time."""
    return tuple(max(0, left - time) for left in timers)


def idle_time(problem: Problem, steps: tuple[Taken, ...]) -> int:
    """Idle time of a finished plan, the end of the job as its last step."""
    timer, idle = Timer(problem), 0
    timers, values, swapping = timer.start, tuple(dim.start for dim in problem.dims), True
    for op, way, context in steps:
        kind = BACK if op == len(problem.ops) else problem.ops[op].kind
        if swapping and kind == BACK:
            timers, swapping = run_down(timers, problem.swap_time), False
        timers = run_down(timers, change_time(problem, values, context))
        wait = timer.idle(timers, op)
        timers = timer.after(run_down(timers, wait + step_time(problem, op, way)), op)
        idle, values = idle + wait, context
    return idle


def change_time(problem: Problem, old: tuple[int, ...], new: tuple[int, ...]) -> int:
    """Time of changing the context; a dimension that is not settled takes none."""
    return sum(dim.change[a][b] for dim, a, b in zip(problem.dims, old, new, strict=True))


def step_time(problem: Problem, op: int, way: int) -> int:
    """Time of the work itself; the end of the job takes none."""
    if op == len(problem.ops):
        return 0
    return problem.ops[op].time + problem.ops[op].ways[way].time


class TimedOrdering:
    """Puts a run set in order, waits included.

    Attributes
    ----------
    lower : int
        No order of this set costs less.
    best : Joined or None
    """

    def __init__(self, runs: Runs, members: int, lower: int):
        self.runs, self.problem = runs, runs.problem
        self.phase: Phase | None = whole_phase(runs, members)
        self.lower, self.best = lower, None
        if self.phase is None:
            self.lower = NEVER
            return
        self.base = runs.once_cost(members) + self.phase.cost
        self.dims = tuple(range(len(self.problem.dims)))
        self.timer = Timer(self.problem)
        self.out = sum(1 << n for n, op in enumerate(self.phase.ops) if self._kind(op) != BACK)
        self.pending = self._pending()
        self._search: _TimedSearch | None = None

    def advance(self, nodes: int, cap: int) -> int:
        """Search on for so many nodes, hastily at first; see Ordering.advance."""
        if self._search is None:
            hasty = _TimedSearch(self, hasty=True)
            used = hasty.run(20 * nodes, cap - self.base)
            self._keep(hasty)
            self._search = _TimedSearch(self, hasty=False)
            return used
        used = self._search.run(nodes, min(cap, self.best.cost if self.best else NEVER) - self.base)
        self._keep(self._search)
        self.lower = max(self.lower, self.base + self._search.lower)
        if self.best:
            self.lower = min(self.lower, self.best.cost)
        return max(1, used)

    def _keep(self, search: "_TimedSearch") -> None:
        if search.found and (self.best is None or self.base + search.found[0] < self.best.cost):
            cost, steps = search.found
            named = [(self.phase.ops[number], way, context) for number, way, context in steps]
            self.best = Joined(self.base + cost, filled(self.problem, named))

    def _kind(self, op: int) -> str:
        return self.runs.ops[op].kind

    def _pending(self) -> list[tuple[int, int]]:
        """Per wait that can begin: the steps it begins after and those it holds up."""
        pairs = []
        for wait in self.problem.waits:
            after = sum(1 << n for n, op in enumerate(self.phase.ops) if op in wait.after)
            before = sum(
                1 << n for n, op in enumerate(self.phase.ops) if (END if op == self.runs.end else op) in wait.before
            )
            if after and before:
                pairs.append((after, before))
        return pairs


class _TimedSearch:
    """Best-first over (done, context, what is left of the waits)."""

    def __init__(self, order: TimedOrdering, hasty: bool):
        self.order, self.problem, self.hasty = order, order.problem, hasty
        self.space = Space(order.problem, order.phase, order.dims, early=not hasty)
        self.bound = Bound(self.space)
        self.found: tuple[int, list[Taken]] | None = None
        self._fronts: dict[tuple[int, int], list[tuple[int, Timers]]] = {}
        self._came: dict[int, tuple[int, tuple[Taken, ...]]] = {}
        self._queue: list[tuple] = []
        start = _State(0, self.space.start, order.timer.start)
        fits = self.space.equipment is None or self.space.equipment.can_stand(0, self.space.contexts[self.space.start])
        state, cost, taken = self._run_on(start, 0, ()) if fits else (start, 0, ())
        self._add(state, cost, -1, taken, NEVER)

    @property
    def lower(self) -> int:
        return self._queue[0][0] if self._queue else NEVER

    def run(self, nodes: int, cap: int) -> int:
        used = 0
        while self._queue and used < nodes and self.found is None:
            used += self._expand(cap)
        return used

    def _expand(self, cap: int) -> int:
        _, _, serial, cost, state = heapq.heappop(self._queue)
        if self._is_beaten(state, cost, strictly=True):
            return 0
        if state.done == self.space.full:
            self.found = cost, self._steps(serial)
            return 1
        for after, more, taken in self._moves(state):
            self._add(after, cost + more, serial, taken, cap)
        return 1

    def _add(self, state: _State, cost: int, came: int, taken: tuple[Taken, ...], cap: int) -> None:
        togo = self.bound.best(state.done, state.context)
        if cost + togo >= cap or self._is_beaten(state, cost, strictly=False):
            return
        front = self._fronts.setdefault((state.done, state.context), [])
        front[:] = [entry for entry in front if not _beats((cost, state.timers), entry)] + [(cost, state.timers)]
        serial = len(self._came)
        self._came[serial] = came, taken
        heapq.heappush(self._queue, (cost + togo, togo, serial, cost, state))

    def _is_beaten(self, state: _State, cost: int, strictly: bool) -> bool:
        mine = cost, state.timers
        return any(
            _beats(entry, mine) and not (strictly and entry == mine)
            for entry in self._fronts.get((state.done, state.context), ())
        )

    def _moves(self, state: _State) -> Iterator[tuple[_State, int, tuple[Taken, ...]]]:
        for group, (_, steps) in enumerate(self.space.groups):
            for step in steps:
                done = state.done
                if done & step.bit or done & step.after != step.after or done & step.until:
                    continue
                for there, cost in self.space.arrivals(state.context, group):
                    if self._can(state, step, there):
                        after, more, taken = self._do(state, step.number, step.way, there)
                        yield self._run_on(after, cost + step.extra + more, taken)

    def _can(self, state: _State, step: Step, there: int) -> bool:
        equipment = self.space.equipment
        if equipment is None:
            return True
        old, new = self.space.contexts[state.context], self.space.contexts[there]
        return equipment.can_change(state.done, old, new) and equipment.can_do(
            state.done, step.bit, step.number, step.way, new
        )

    def _do(self, state: _State, number: int, way: int, there: int) -> tuple[_State, int, tuple[Taken, ...]]:
        """One step with the change before it: the new state, what idling costs, and the step as taken."""
        order, problem, op = self.order, self.problem, self.order.phase.ops[number]
        timers, contexts = state.timers, self.space.contexts
        if not state.done & ~order.out and order._kind(op) == BACK:
            timers = run_down(timers, problem.swap_time)
        timers = run_down(timers, change_time(problem, contexts[state.context], contexts[there]))
        idle = order.timer.idle(timers, op)
        timers = order.timer.after(run_down(timers, idle + step_time(problem, op, way)), op)
        after = _State(state.done | 1 << number, there, timers)
        return after, CHANGES * problem.rate * idle, ((number, way, contexts[there]),)

    def _run_on(self, state: _State, cost: int, taken: tuple[Taken, ...]) -> tuple[_State, int, tuple[Taken, ...]]:
        """Take what can be taken at once, unless it may be worth keeping for a wait."""
        while self.hasty or not self._is_pending(state.done):
            step = next((s for s in self.space.at_once(state.context) if self._is_ready(state, s)), None)
            if step is None:
                break
            state, more, one = self._do(state, step[3], step[4], state.context)
            cost, taken = cost + more, taken + one
        return state, cost, taken

    def _is_ready(self, state: _State, step: tuple[int, int, int, int, int]) -> bool:
        """A step that would have to idle is not taken at once: another may fill the wait, or a slower way of it."""
        (bit, after, until, number, _), done = step, state.done
        if done & bit or done & after != after or done & until:
            return False
        op = self.order.phase.ops[number]
        if self.order.timer.idle(state.timers, op):
            return False
        return self.hasty or not any(state.timers) or not self._has_slower_way(number)

    def _has_slower_way(self, number: int) -> bool:
        op = self.order.phase.ops[number]
        return len({step_time(self.problem, op, choice.way) for choice in self.order.phase.choices[number]}) > 1

    def _is_pending(self, done: int) -> bool:
        return any(after & ~done and before & ~done for after, before in self.order.pending)

    def _steps(self, serial: int) -> list[Taken]:
        parts = []
        while serial >= 0:
            serial, taken = self._came[serial]
            parts.append(taken)
        return [step for part in reversed(parts) for step in part]


def _beats(one: tuple[int, Timers], other: tuple[int, Timers]) -> bool:
    return one[0] <= other[0] and all(a <= b for a, b in zip(one[1], other[1], strict=True))
