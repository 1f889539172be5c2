"""The way: which operations run, and in what order, at the least total.

Best-first over run sets and, inside, over orders, with one bound and one best plan for both. A set that leaves an
operation without a usable way is split over what would help; a set that leaves none is put in order, and also extended
by what some dearer way asks for: one more part off may be cheaper than an awkward reach.
"""

import heapq
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from putback.errors import NotYet, NoWay
from putback.way.bounds import APART, NEVER, Bound
from putback.way.joined import Joined
from putback.way.ordering import SLICE, Ordering, plain
from putback.way.phase import Phase, back_phase, out_phase
from putback.way.problem import Problem
from putback.way.runs import CHANGES, Runs
from putback.way.space import Space, change_table, is_metric
from putback.way.timed import TimedOrdering


@dataclass(frozen=True)
class Plan:
    """The best plan found, and how much is known about it.

    Attributes
    ----------
    total, changes : int
        Its total in the problem's cost unit, and its number of changes of context.
    lower : int
        No plan costs less; equal to the total when it is proved cheapest.
    steps : tuple of (id, way, values)
        As docs/core-problem.md describes a plan, values in the order of the dimensions.
    first_seconds : float
        When the first plan was there; 0 without a clock.
    """

    total: int
    changes: int
    lower: int
    proved: bool
    steps: tuple[tuple[str, int, tuple[str, ...]], ...]
    first_seconds: float
    seconds: float
    nodes: int


def find_way(
    problem: Problem,
    *,
    clock: Callable[[], float] | None = None,
    seconds: float | None = None,
    nodes: int | None = None,
    on_plan: Callable[[Plan], None] | None = None,
    below: int | None = None,
) -> Plan:
    """The cheapest plan, or the best one found within the limits.

    Parameters
    ----------
    problem : Problem
        What to plan.
    clock : callable, optional
        Tells seconds; needed with ``seconds``.
    seconds : float, optional
        Stop after so long.
    nodes : int, optional
        Stop after so many nodes: the same on every machine.
    on_plan : callable, optional
        Called with each better plan as it is found.
    below : int, optional
        Only plans that cost less than this, in the problem's cost unit, count as plans.

    Raises
    ------
    NoWay
        No plan exists (below that cost, where one is given).
    NotYet
        None was found within the limits.
    """
    search = _Search(problem, clock or (lambda: 0.0), seconds, nodes, on_plan)
    search.limit = NEVER if below is None else CHANGES * (below - problem.fixed_cost)
    return search.run()


@dataclass(frozen=True, slots=True)
class _Opened:
    """A set whose bound is still its parent's for the changes."""

    members: int
    setup: int


@dataclass(frozen=True, slots=True)
class _Bounded:
    """A set with a bound of its own for the changes that no set holding it can avoid."""

    members: int
    setup: int


class _Search:
    def __init__(self, problem: Problem, clock: Callable, seconds: float | None, nodes: int | None, on_plan: Callable | None):
        self.problem, self.runs = problem, Runs(problem)
        self.detours = may_detour(problem)
        self.clock, self.begun = clock, clock()
        self.deadline = None if seconds is None else self.begun + seconds
        self.nodes_left = nodes if nodes is not None else NEVER
        self.on_plan = on_plan
        self.nodes = self.serial = 0
        self.best: Joined | None = None
        self.limit = NEVER
        self.first_seconds = 0.0
        self.queue: list[tuple[int, int, object]] = []
        self.seen: set[int] = set()
        self.stuck: dict[str, None] = {}
        self.splits: Sequence[int] = ()
        self.stands: dict[Phase, tuple[Space, Bound]] = {}
        self.orderings: dict[int, Ordering] = {}

    def run(self) -> Plan:
        self.open(self.runs.first, 0)
        self.first_plan()
        while self.queue and self.queue[0][0] < self.cap and not self.is_over():
            bound, _, job = heapq.heappop(self.queue)
            self.work(job, bound)
        if self.best is None:
            raise self.no_way()
        return self.plan()

    # -- limits ----------------------------------------------------------------------------

    @property
    def cap(self) -> int:
        return self.limit if self.best is None else self.best.cost

    def is_over(self) -> bool:
        out_of_time = self.deadline is not None and self.clock() >= self.deadline
        return out_of_time or self.nodes >= self.nodes_left

    # -- jobs ------------------------------------------------------------------------------

    def open(self, members: int, setup: int) -> None:
        if members not in self.seen:
            self.seen.add(members)
            self.push(self.runs.cost(members) + setup, _Opened(members, setup))

    def push(self, bound: int, job: object) -> None:
        if bound < self.cap:
            self.serial += 1
            heapq.heappush(self.queue, (bound, self.serial, job))

    def work(self, job: object, bound: int) -> None:
        self.nodes += 1
        if isinstance(job, _Opened):
            if self.is_dead_end(job.members):
                return
            setup = max(job.setup, self.unavoidable(job.members))
            self.push(self.runs.cost(job.members) + setup, _Bounded(job.members, setup))
        elif isinstance(job, _Bounded):
            self.branch(job)
        else:
            self.order(job)

    def is_dead_end(self, members: int) -> bool:
        """Whether an operation of a set has no way whatever is added; its name is kept for telling."""
        stuck = self.runs.stuck(members)
        if stuck is None or stuck[1]:
            return False
        self.stuck[self.runs.ops[stuck[0]].name] = None
        return True

    def unavoidable(self, members: int) -> int:
        """Changes of context that no plan can avoid whose set holds this one; unknown where detours help."""
        if self.detours:
            return 0
        total = 0
        for phase in (out_phase(self.runs, members, relaxed=True), back_phase(self.runs, members, relaxed=True)):
            if phase is None:
                return NEVER
            space, bound = self.stand(phase)
            total += bound.best(*space.begin())
        return total

    def stand(self, phase: Phase) -> tuple[Space, Bound]:
        """The space and the bound of a phase."""
        known = self.stands.get(phase)
        if known is None:
            space = Space(self.problem, phase, tuple(range(len(self.problem.dims))))
            known = self.stands[phase] = space, Bound(space, self.splits)
            self.splits = known[1].splits
        return known

    def light_stand(self, phase: Phase) -> tuple[Space, Bound]:
        """The same with the bound that is quickest to have, for the first plan."""
        space = Space(self.problem, phase, tuple(range(len(self.problem.dims))))
        return space, Bound(space, (APART,), effort=50)

    def ordering(self, members: int) -> Ordering:
        """The ordering of a set, kept for when the set comes up again."""
        known = self.orderings.get(members)
        if known is None:
            known = self.orderings[members] = Ordering(self.runs, members, self.stand, self.is_over)
        return known

    def branch(self, job: _Bounded) -> None:
        stuck = self.runs.stuck(job.members)
        if stuck:
            for lack in stuck[1]:
                self.open(self.runs.closed(job.members | lack), job.setup)
            return
        for lack in self.runs.extensions(job.members, anything=self.detours):
            self.open(self.runs.closed(job.members | lack), job.setup)
        ordering = self.ordering(job.members)
        if ordering.lower < self.cap:
            self.rush(ordering)
            self.push(ordering.lower, ordering)

    def order(self, ordering: Ordering | TimedOrdering) -> None:
        self.nodes += ordering.advance(min(SLICE, self.nodes_left - self.nodes), self.cap)
        self.keep(ordering.best)
        if isinstance(ordering, Ordering) and ordering.is_settled:
            self.orderings.pop(ordering.members, None)
            if ordering.best and ordering.best.cost > ordering.joined:
                self.push(ordering.joined, TimedOrdering(self.runs, ordering.members, ordering.joined))
            return
        self.push(ordering.lower, ordering)

    # -- plans -----------------------------------------------------------------------------

    def first_plan(self) -> None:
        """Follow the cheapest lack until nothing is stuck, and put that set in order."""
        for members in self.descents(self.runs.first, set()):
            draft = Ordering(self.runs, members, self.light_stand, self.is_over)
            if draft.possible:
                self.rush(draft)
            if self.best or self.is_over():
                return

    def descents(self, members: int, seen: set[int]) -> Iterator[int]:
        stuck = self.runs.stuck(members)
        if not stuck:
            yield members
            return
        wider = {self.runs.closed(members | lack): None for lack in stuck[1]}
        for larger in sorted(wider, key=self.runs.cost):
            if larger not in seen and len(seen) < 200:
                seen.add(larger)
                yield from self.descents(larger, seen)

    def rush(self, ordering: Ordering) -> None:
        self.nodes += ordering.rush()
        self.keep(ordering.best)

    def keep(self, found: Joined | None) -> None:
        if found is None or found.cost >= self.cap:
            return
        if self.best is None:
            self.first_seconds = self.clock() - self.begun
        self.best = found
        if self.on_plan:
            self.on_plan(self.plan())

    def plan(self) -> Plan:
        assert self.best is not None
        total, changes = plain(self.best.cost)
        lower = min(self.queue[0][0] if self.queue else NEVER, self.best.cost)
        fixed = self.problem.fixed_cost
        return Plan(
            total=total + fixed,
            changes=changes,
            lower=plain(lower)[0] + fixed,
            proved=lower >= self.best.cost,
            steps=tuple(self.named(step) for step in self.best.steps if step[0] != self.runs.end),
            first_seconds=self.first_seconds,
            seconds=self.clock() - self.begun,
            nodes=self.nodes,
        )

    def named(self, step: tuple[int, int, tuple[int, ...]]) -> tuple[str, int, tuple[str, ...]]:
        op, way, values = step
        words = tuple(dim.values[value] for dim, value in zip(self.problem.dims, values, strict=True))
        return self.runs.ops[op].name, way, words

    def no_way(self) -> NoWay:
        if self.queue and self.is_over():
            return NotYet("no plan was found within the time given; give it more")
        if self.limit < NEVER:
            return NoWay("no plan costs less")
        if self.stuck:
            return NoWay(f"stuck at: {'; '.join(self.stuck)}")
        return NoWay("whatever is taken off, some steps wait for each other")


def may_detour(problem: Problem) -> bool:
    """Whether a step that nothing asks for could help: as a stop between two changes of the context, or to free equipment.

    So it is where a change costs more than a detour, where equipment is short for two dimensions that change, where
    an item holds less once it is moved out, and where one that holds something may stay out.
    """
    guarded = [dim for dim in problem.dims if any(map(any, dim.holds)) or any(map(any, dim.moving))]
    tables = (change_table(problem, n, backwards=False) for n in range(len(problem.dims)))
    may_stay = (high > 0 and any(map(any, levels)) for levels, (_, high) in zip(problem.holds, problem.goal, strict=True))
    return len(guarded) > 1 or any(may_stay) or any(map(_frees, problem.holds)) or not all(map(is_metric, tables))


def _frees(levels: tuple[tuple[int, ...], ...]) -> bool:
    """Whether an item holds less at some level than at the one before."""
    return any(b < a for one, next_ in pairwise(levels) for a, b in zip(one, next_, strict=True))
