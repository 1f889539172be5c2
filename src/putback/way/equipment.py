"""Equipment in short supply: whether a step or a change of context finds what it needs.

Only pools that could run out in a phase are looked at; mostly there is none, and then nobody pays for looking.
"""

from collections.abc import Iterable

from putback.way.phase import Phase
from putback.way.problem import Problem

Counts = tuple[int, ...]


class Equipment:
    """What is held in each scarce pool, by items, by values of the context and by steps."""

    def __init__(self, problem: Problem, phase: Phase, scarce: list[int]):
        self._capacity = _pick(problem.capacity, scarce)
        self._held = _pick(phase.held, scarce)
        self._moves = [(1 << n, _pick(delta, scarce)) for n, delta in enumerate(phase.deltas) if any(_pick(delta, scarce))]
        free = (0,) * len(problem.pools)  # what a dimension holds that is not settled yet
        self._holds = [[_pick(held, scarce) for held in (*dim.holds, free)] for dim in problem.dims]
        self._moving = [[_pick(held, scarce) for held in (*dim.moving, free)] for dim in problem.dims]
        self._uses = {
            (n, choice.way): _pick(choice.uses, scarce) for n, choices in enumerate(phase.choices) for choice in choices
        }
        self._backwards = phase.backwards
        self.guarded = frozenset(
            dim for dim in range(len(problem.dims)) if _any(self._holds[dim]) or _any(self._moving[dim])
        )

    def touches(self, number: int, way: int) -> bool:
        """Whether a step takes or frees anything scarce."""
        return any(self._uses[number, way]) or any(bit == 1 << number for bit, _ in self._moves)

    @property
    def is_orderly(self) -> bool:
        """Whether a direct change never needs more than a detour, so that steps can be done as soon as they are free."""
        return len(self.guarded) == 0 or (len(self.guarded) == 1 and self._is_direct(*self.guarded))

    def _is_direct(self, dim: int) -> bool:
        values = range(len(self._holds[dim]) - 1)
        return all(
            all(a <= max(b, c) for a, b, c in zip(
                self._change(dim, u, v), self._change(dim, u, x), self._change(dim, x, v), strict=True
            ))
            for u in values for x in values for v in values if u != v
        )  # fmt: skip

    def _change(self, dim: int, old: int, new: int) -> Counts:
        """What one dimension needs between two values, old and new as time runs."""
        larger = _larger(self._holds[dim][old], self._holds[dim][new])
        return larger if old == new else _sum((larger, self._moving[dim][new]))

    def can_change(self, done: int, old: tuple[int, ...], new: tuple[int, ...]) -> bool:
        """Whether the context can change, old to new in reading order, with so much done."""
        if old == new:
            return True
        if self._backwards:
            old, new = new, old
        needs = [self._change(dim, a, b) for dim, (a, b) in enumerate(zip(old, new, strict=True))]
        return self._is_there(_sum((self._by_items(done), *needs)))

    def can_stand(self, done: int, context: tuple[int, ...], extra: Counts | None = None) -> bool:
        """Whether items and context, and a step if it uses something, find all they hold."""
        needs = [self._holds[dim][value] for dim, value in enumerate(context)]
        return self._is_there(_sum((self._by_items(done), *needs, extra or self._held_by_nothing)))

    def can_do(self, done: int, bit: int, number: int, way: int, context: tuple[int, ...]) -> bool:
        """Whether a step finds its equipment, just before and just after it."""
        uses = self._uses[number, way]
        return self.can_stand(done, context, uses) and self.can_stand(done | bit, context, uses)

    @property
    def _held_by_nothing(self) -> Counts:
        return (0,) * len(self._capacity)

    def _by_items(self, done: int) -> Counts:
        return _sum((self._held, *(delta for bit, delta in self._moves if done & bit)))

    def _is_there(self, needs: Counts) -> bool:
        return all(need <= there for need, there in zip(needs, self._capacity, strict=True))


def equipment_of(problem: Problem, phase: Phase) -> Equipment | None:
    """The equipment that could run out in a phase, if any."""
    scarce = [pool for pool in range(len(problem.pools)) if _most(problem, phase, pool) > problem.capacity[pool]]
    return Equipment(problem, phase, scarce) if scarce else None


def _most(problem: Problem, phase: Phase, pool: int) -> int:
    """More than a phase can ever hold of a pool."""
    items = phase.held[pool] + sum(max(0, delta[pool]) for delta in phase.deltas)
    values = sum(max(h[pool] for h in dim.holds) + max(m[pool] for m in dim.moving) for dim in problem.dims)
    uses = max((choice.uses[pool] for choices in phase.choices for choice in choices), default=0)
    return items + values + uses


def _pick(counts: Counts, pools: list[int]) -> Counts:
    return tuple(counts[pool] for pool in pools)


def _any(table: list[Counts]) -> bool:
    return any(any(counts) for counts in table)


def _sum(counts: Iterable[Counts]) -> Counts:
    return tuple(map(sum, zip(*counts, strict=True)))


def _larger(one: Counts, other: Counts) -> Counts:
    return tuple(map(max, one, other))
