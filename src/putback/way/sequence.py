"""The order within one phase: best-first search over what is done and the context.

A search can be run a little at a time. At any moment it knows a lower bound on what it has not found yet;
when an end state comes off the queue, no cheaper one is left.
"""

import heapq
from typing import NamedTuple

from putback.way.bounds import NEVER, Bound
from putback.way.last_use import LastUse
from putback.way.space import Space, Step


class Taken(NamedTuple):
    """A step as taken: its number in the phase, its way, and the context in force."""

    number: int
    way: int
    context: tuple[int, ...]


class Arrival(NamedTuple):
    """A phase finished: what its changes and extras cost, and where it was left standing."""

    cost: int
    context: int


class Sequence:
    """Best-first search through one phase.

    Parameters
    ----------
    space : Space
        Where the phase can stand and go.
    bound : Bound
        Bounds for the states of that space.
    weight : float
        How much dearer the cost to go is taken than it is; 1 proves, more finds sooner.
    """

    def __init__(self, space: Space, bound: Bound, weight: float = 1):
        self.space, self.bound, self.weight = space, bound, weight
        self._last_use = LastUse(space, bound.main)
        self.arrivals: list[Arrival] = []
        self._known: dict[tuple[int, int], int] = {}
        self._came: dict[tuple[int, int], tuple[tuple[int, int], Step | None] | None] = {}
        self._queue: list[tuple] = []
        self._serial = 0
        self._start = space.begin()
        self._add(self._start, 0, None, NEVER)

    @property
    def lower(self) -> int:
        """No arrival still to come costs less (true for weight 1)."""
        return self._queue[0][0] if self._queue else NEVER

    def run(self, nodes: int, cap: int) -> int:
        """Go on until an arrival, or for so many nodes; states that must cost ``cap`` or more are dropped.

        Returns
        -------
        used : int
            Nodes expanded.
        """
        found, used = len(self.arrivals), 0
        while self._queue and used < nodes and len(self.arrivals) == found:
            used += self._expand(cap)
        return used

    def dive(self) -> int:
        """Take the move that looks best, and the next, without looking back: an arrival, unless it ends in a dead end.

        Returns
        -------
        used : int
            Nodes expanded.
        """
        state, cost, used = self._start, 0, 0
        while state[0] != self.space.full:
            moves = self._moves(*state)
            if not moves:
                return used
            after = min(moves, key=lambda move: (moves[move][0] + self.bound.hint(*move), -move[0].bit_count()))
            cost, used = cost + moves[after][0], used + 1
            self._known[after], self._came[after] = cost, (state, moves[after][1])
            state = after
        self.arrivals.append(Arrival(cost, state[1]))
        return used

    def _moves(self, done: int, context: int) -> dict[tuple[int, int], tuple[int, Step | None]]:
        return self._last_use.prune(done, context, self.space.moves(done, context))

    def _expand(self, cap: int) -> int:
        key, _, _, cost, state, checked = heapq.heappop(self._queue)
        if cost > self._known[state]:
            return 0
        if not checked and not self._is_still_best(key, cost, state, cap):
            return 0
        done, context = state
        if done == self.space.full:
            self.arrivals.append(Arrival(cost, context))
            return 1
        for after, (more, step) in self._moves(done, context).items():
            if cost + more < self._known.get(after, NEVER):
                self._add(after, cost + more, (state, step), cap)
        return 1

    def _is_still_best(self, key: float, cost: int, state: tuple[int, int], cap: int) -> bool:
        """The second bound is worked out only for states that come to the front; a dearer one goes back."""
        togo = self.bound.second(*state)
        dearer = cost + self.weight * togo
        if cost + togo >= cap:
            return False
        if dearer <= key:
            return True
        self._push(dearer, togo, cost, state, True)
        return False

    def _add(self, state: tuple[int, int], cost: int, came: tuple | None, cap: int) -> None:
        togo = self.bound.quick(*state)
        if cost + togo >= cap:
            return
        self._known[state], self._came[state] = cost, came
        self._push(cost + self.weight * togo, togo, cost, state, False)

    def _push(self, key: float, togo: int, cost: int, state: tuple[int, int], checked: bool) -> None:
        self._serial += 1
        heapq.heappush(self._queue, (key, togo, self._serial, cost, state, checked))

    # -- the plan --------------------------------------------------------------------------

    def steps(self, arrival: Arrival) -> list[Taken]:
        """The steps that lead to an arrival, in reading order."""
        states = [(self.space.full, arrival.context)]
        while (came := self._came[states[-1]]) is not None:
            states.append(came[0])
        taken: list[Taken] = []
        done = 0 if not self._start[0] else self._take_at_once(taken, 0, self._start[1])
        for state in reversed(states[:-1]):
            done = self._take(taken, done, state[1], self._came[state][1])
        return taken

    def _take(self, taken: list[Taken], done: int, context: int, step: Step | None) -> int:
        done = self._take_at_once(taken, done, context)
        if step is not None:
            taken.append(Taken(step.number, step.way, self.space.contexts[context]))
            done = self._take_at_once(taken, done | step.bit, context)
        return done

    def _take_at_once(self, taken: list[Taken], done: int, context: int) -> int:
        """As Space.close, noting each step: first what the step before has just made possible, else in file order.

        The order costs nothing; a part that comes off right after its own clips is easier to follow.
        """
        steps, last = self.space.at_once(context), 0
        while ready := [s for s in steps if not done & s[0] and done & s[1] == s[1] and not done & s[2]]:
            bit, _, _, number, way = next((step for step in ready if step[1] & last), ready[0])
            done, last = done | bit, bit
            taken.append(Taken(number, way, self.space.contexts[context]))
        return done
