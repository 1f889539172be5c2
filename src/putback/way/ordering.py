"""The cheapest order for one run set: both phases, joined at the swap."""

from collections.abc import Callable
from typing import NamedTuple

from putback.way.bounds import NEVER, Bound
from putback.way.joined import Joined, filled
from putback.way.phase import SWAP_SEEN_FROM_BACK, Phase, back_phase, out_phase
from putback.way.runs import CHANGES, Runs
from putback.way.sequence import Arrival, Sequence, Taken
from putback.way.space import Space, change_table
from putback.way.timed import idle_time


SLICE = 100  # nodes between two looks at the clock


class Haste(NamedTuple):
    """A quick look for a better plan: once a search has used so many nodes, with the cost to go taken so much dearer."""

    after: int
    weight: float
    nodes: int


HASTE = [Haste(0, 5.0, 200), Haste(1500, 1.3, 1000), Haste(3000, 1.2, 1000), Haste(8000, 1.1, 2000), Haste(20000, 1.05, 5000)]


class Ordering:
    """Puts the operations of one complete run set in order.

    Parameters
    ----------
    runs : Runs
        Run sets of the problem.
    members : int
        A complete set: every operation has a usable way.
    stand : callable
        Gives the space and the bound of a phase; sets that share a phase share them.
    is_over : callable
        Tells that the time is up.

    Attributes
    ----------
    lower : int
        No order of this set costs less.
    joined : int
        The cheapest order found so far costs this, waits left out.
    best : Joined or None
        The cheapest order found so far, waits included.
    """

    def __init__(
        self,
        runs: Runs,
        members: int,
        stand: Callable[[Phase], tuple[Space, Bound]],
        is_over: Callable[[], bool] = lambda: False,
    ):
        self.joined, self.best, self._is_over = NEVER, None, is_over
        self.members, self._runs, self._dims = members, runs, range(len(runs.problem.dims))
        self._phases = [out_phase(runs, members), back_phase(runs, members)]
        self.possible = all(self._phases)
        if not self.possible:
            self.lower = NEVER
            return
        self._base = runs.once_cost(members) + sum(phase.cost for phase in self._phases)
        stands = [stand(phase) for phase in self._phases]
        self._spaces = [space for space, _ in stands]
        self._bounds = [bound for _, bound in stands]
        self._tables = [change_table(runs.problem, dim, backwards=False) for dim in self._dims]
        self._sequences: list[Sequence] = []
        self._haste, self._used = list(HASTE), 0
        self.lower = self._base + sum(
            bound.best(*space.begin())
            for bound, space in zip(self._bounds, self._spaces, strict=True)
        )

    # -- searching -------------------------------------------------------------------------

    def rush(self) -> int:
        """Look for a plan in haste, when it is time for that; the nodes it took."""
        if not self._haste or self._used < self._haste[0].after:
            return 0
        _, weight, nodes = self._haste.pop(0)
        pair = [Sequence(space, bound, weight) for space, bound in zip(self._spaces, self._bounds, strict=True)]
        used = sum(self._hurry(sequence, nodes) for sequence in pair)
        self._join(pair)
        return used

    def _hurry(self, sequence: Sequence, nodes: int) -> int:
        used = sequence.dive() if self.joined == NEVER else 0
        while used < nodes and not sequence.arrivals and sequence.lower < NEVER and not self._is_over():
            used += sequence.run(SLICE // 4, NEVER)
        return used

    def advance(self, nodes: int, cap: int) -> int:
        """Search on for so many nodes, leaving out what must cost ``cap`` or more.

        Returns
        -------
        used : int
            Nodes expanded; the ordering is settled when ``lower`` has reached ``best`` or ``cap``.
        """
        if not self._sequences:
            self._sequences = [Sequence(s, b) for s, b in zip(self._spaces, self._bounds, strict=True)]
        used = 0
        while used < nodes and self.lower < min(cap, self.joined):
            side = self._side()
            room = min(cap, self.joined) - self._base - self._least(1 - side)
            used += max(1, self._sequences[side].run(nodes - used, room))
            self._join(self._sequences)
            self.lower = min(self.joined, max(self.lower, self._lower()))
        self._used += used
        return used + self.rush()

    @property
    def is_settled(self) -> bool:
        """No cheaper order is left, waits apart."""
        return self.lower >= self.joined

    def _side(self) -> int:
        """The phase to work on: one without an arrival first, then the one whose next arrival could matter more."""
        for side, sequence in enumerate(self._sequences):
            if not sequence.arrivals:
                return side
        out, back = self._sequences
        return 0 if out.lower - out.arrivals[0].cost <= back.lower - back.arrivals[0].cost else 1

    def _least(self, side: int) -> int:
        """Least cost of any arrival of a phase, found or not."""
        sequence = self._sequences[side]
        return sequence.arrivals[0].cost if sequence.arrivals else sequence.lower

    def _lower(self) -> int:
        """Every pair of arrivals not yet seen has at least one that is still to come."""
        unseen = []
        for side, sequence in enumerate(self._sequences):
            unseen.append(sequence.lower + self._least(1 - side))
        least = min(unseen)
        return self._base + least

    # -- joining ---------------------------------------------------------------------------

    def _join(self, pair: list[Sequence]) -> None:
        """Take the cheapest pair of arrivals, if it beats the best plan."""
        out, back = pair
        options = [
            (a.cost + b.cost + self._border(a, b), n, m)
            for n, a in enumerate(out.arrivals)
            for m, b in enumerate(back.arrivals)
        ]
        cost, n, m = min(options, default=(NEVER, 0, 0))
        if cost >= NEVER:
            return
        if self._base + cost < self.joined:
            self.joined = self._base + cost
            steps = self._steps(0, out.steps(out.arrivals[n]))
            steps += reversed(self._steps(1, back.steps(back.arrivals[m])))
            self._keep(filled(self._runs.problem, steps))

    def _keep(self, steps: tuple) -> None:
        problem = self._runs.problem
        idle = idle_time(problem, steps) if problem.waits else 0
        cost = self.joined + CHANGES * problem.rate * idle
        if self.best is None or cost < self.best.cost:
            self.best = Joined(cost, steps)

    def _border(self, out: Arrival, back: Arrival) -> int:
        """Changes between the last swap and the first refit; NEVER when equipment is short for them."""
        first, second = self._spaces
        before, after = first.contexts[out.context], second.contexts[back.context]
        settled = tuple(a if b == len(t) - 1 else b for t, a, b in zip(self._tables, before, after, strict=True))
        if SWAP_SEEN_FROM_BACK in self._phases[1].ops and any(before[n] != settled[n] for n in second.settled_dims):
            return NEVER
        if first.equipment and not first.equipment.can_change(first.full, before, settled):
            return NEVER
        return sum(table[a][b] for table, a, b in zip(self._tables, before, settled, strict=True))

    def _steps(self, side: int, taken: list[Taken]) -> list[tuple[int, int, tuple[int, ...]]]:
        phase: Phase = self._phases[side]
        return [
            (phase.ops[step.number], step.way, step.context)
            for step in taken
            if phase.ops[step.number] >= 0
        ]


def plain(cost: int) -> tuple[int, int]:
    """Total and number of changes behind a search cost."""
    return divmod(cost, CHANGES)
