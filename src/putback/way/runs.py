"""Which operations run: sets of operations closed under what they need.

A plan is settled in two steps, and this is the first: *which* operations run. A run set is an int,
one bit per operation (swaps too, and a last one for the end of the job) and one per once-only cost.
What every way of an operation needs is forced; what only some ways need is a choice.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import product

from putback.way.problem import BACK, OUT, SWAP, Dim, Need, Operation, Problem, Way

# Totals are searched as total * CHANGES + number of changes, so that of equal totals the plan
# with fewer changes of context wins. No plan has that many changes.
CHANGES = 1 << 17


@dataclass(frozen=True, slots=True)
class Mode:
    """A way of an operation, with the needs of the context values it is done in added to its own.

    Attributes
    ----------
    way : int
        Number of the way among those of its operation.
    needed : int
        Run bits it cannot do without.
    given : tuple of (int, int)
        Pairs (if, then) of bits: when the first runs, so must the second.
    barred : int
        Run bits that must not run.
    extra : int
        Its cost beyond the operation's own, in search units.
    """

    way: int
    allowed: tuple[int, ...]
    needs: tuple[Need, ...]
    needed: int
    given: tuple[tuple[int, int], ...]
    barred: int
    extra: int

    def lacks(self, runs: int) -> int | None:
        """Bits that are not in ``runs`` and this mode asks for; None when it can never be."""
        if self.barred & runs:
            return None
        lacking = self.needed & ~runs
        for condition, then in self.given:
            if (runs | lacking) & condition:
                lacking |= then & ~runs
        return None if lacking & self.barred else lacking


class Runs:
    """Run sets of one problem: their rules, what they cost, what may extend them.

    What an operation forces is worked out when a set first holds it: most of a large area is never touched.
    """

    def __init__(self, problem: Problem):
        self.problem = problem
        self.ops: list[Operation] = [*problem.ops, _end(problem)]
        self.end = len(problem.ops)
        self.swaps = [n for n, op in enumerate(problem.ops) if op.kind == SWAP]
        self._at = {(op.kind, op.item, op.level): n for n, op in enumerate(problem.ops) if op.kind != SWAP}
        self._onces = len(problem.once)
        self._once: dict[int, list[tuple[int, int]]] = {}
        for n, once in enumerate(problem.once):
            for op, way in once.ops:
                self._once.setdefault(op, []).append((way, n))
        self._modes: dict[int, tuple[Mode, ...]] = {}
        self._forces: dict[int, tuple[int, tuple[tuple[int, int], ...]]] = {}

    # -- sets ------------------------------------------------------------------------------

    @cached_property
    def first(self) -> int:
        """What has to run in every plan."""
        problem, runs = self.problem, self.bit_of(self.end)
        for n in self.swaps:
            runs |= self.bit_of(n)
        for item in problem.targets:
            runs |= self._moved(OUT, item, problem.start[item], problem.levels[item])
        for item, (low, high) in enumerate(problem.goal):
            start = problem.start[item]
            runs |= self._moved(OUT, item, start, low)
            runs |= self._moved(BACK, item, high, start)
        return self.closed(runs)

    def closed(self, runs: int) -> int:
        """The set with all that its members force."""
        todo = runs
        while todo:
            bit = todo & -todo
            todo ^= bit
            new, pairs = self._forced(bit.bit_length() - 1)
            for other, then in pairs:
                if runs & other:
                    new |= then
            new &= ~runs
            runs |= new
            todo |= new
        return runs

    def members(self, runs: int) -> Iterator[int]:
        """Numbers of the operations in a set, in file order."""
        runs >>= self._onces
        while runs:
            bit = runs & -runs
            runs ^= bit
            yield bit.bit_length() - 1

    def cost(self, runs: int) -> int:
        """Search cost of a set without changes of context: its work in the cheapest ways, and once-only costs."""
        return self.once_cost(runs) + sum(self.work(n) + self.least(n) for n in self.members(runs))

    def once_cost(self, runs: int) -> int:
        """Search cost of the once-only costs in a set."""
        return sum(CHANGES * once.cost for n, once in enumerate(self.problem.once) if runs >> n & 1)

    def work(self, n: int) -> int:
        """Search cost of an operation, whichever way it is done."""
        return CHANGES * (self.problem.rate * self.ops[n].time + self.ops[n].cost)

    def least(self, n: int) -> int:
        """What its cheapest way adds."""
        return min((mode.extra for mode in self.modes(n)), default=0)

    def stuck(self, runs: int) -> tuple[int, list[int]] | None:
        """The operation without a usable way in this set that has the fewest ways out, and those ways' lacks."""
        worst = None
        for n in self.members(runs):
            lacks = [mode.lacks(runs) for mode in self.modes(n)]
            if 0 in lacks:
                continue
            choices = list(dict.fromkeys(lack for lack in lacks if lack is not None))
            if worst is None or len(choices) < len(worst[1]):
                worst = n, choices
        return worst

    def extensions(self, runs: int, anything: bool = False) -> Iterable[int]:
        """What else some way of a member would need, each once; with ``anything``, every other move as well."""
        found: dict[int, None] = {}
        if anything:
            found = {self.bit_of(n): None for n in range(self.end) if self._could_join(n, runs)}
        for n in self.members(runs):
            for mode in self.modes(n):
                lack = mode.lacks(runs)
                if lack:
                    found[lack] = None
        return found

    def _could_join(self, n: int, runs: int) -> bool:
        """Whether a move that nothing asks for could be made: one out, or one back of what is out."""
        op = self.ops[n]
        if op.kind == SWAP or runs & self.bit_of(n) or not self.modes(n):
            return False
        is_reached = op.level > self.problem.start[op.item]
        return is_reached == (op.kind == OUT) or bool(runs & self.bit(OUT, op.item, op.level))

    def displaced(self, runs: int) -> dict[int, tuple[int, int, int]]:
        """Start, highest and final level of every item that a run set moves."""
        top: dict[int, int] = {}
        last: dict[int, int] = {}
        for op in (self.ops[n] for n in self.members(runs)):
            if op.kind == OUT:
                top[op.item] = max(top.get(op.item, 0), op.level)
            elif op.kind == BACK and op.item >= 0:
                last[op.item] = min(last.get(op.item, op.level), op.level - 1)
        start = self.problem.start
        tops = {item: max(start[item], top.get(item, 0)) for item in (*top, *last)}
        return {item: (start[item], highest, last.get(item, highest)) for item, highest in tops.items()}

    # -- rules -----------------------------------------------------------------------------

    def bit(self, kind: str, item: int, level: int) -> int:
        """The run bit of a move; a move that no operation makes gets an operation without ways."""
        key = kind, item, level
        n = self._at.get(key)
        if n is None:
            n = self._at[key] = len(self.ops)
            self.ops.append(Operation(f"{self.problem.items[item]}, {kind}", kind, item, level, 0, 0, ()))
        return self.bit_of(n)

    def bit_of(self, n: int) -> int:
        """The run bit of operation n; the first bits are those of the once-only costs."""
        return 1 << (self._onces + n)

    def number(self, kind: str, item: int, level: int) -> int | None:
        """The operation that makes a move, if any does."""
        return self._at.get((kind, item, level))

    def _moved(self, kind: str, item: int, low: int, high: int) -> int:
        runs = 0
        for level in range(low + 1, high + 1):
            runs |= self.bit(kind, item, level)
        return runs

    def _forced(self, place: int) -> tuple[int, tuple[tuple[int, int], ...]]:
        """What a bit forces: others outright, and (if, then) pairs."""
        known = self._forces.get(place)
        if known is None:
            n = place - self._onces
            known = self._forces[place] = (0, ()) if n < 0 else self._rules(n)
        return known

    def _rules(self, n: int) -> tuple[int, tuple[tuple[int, int], ...]]:
        op = self.ops[n]
        then = self._common_needs(n)
        for way, place in self._once.get(n, ()):
            if way < 0:
                then |= 1 << place
        if op.item < 0:
            return then, ()
        chain, pairs = self._out_chain(op) if op.kind == OUT else self._back_chain(op)
        return then | chain, pairs

    def _common_needs(self, n: int) -> int:
        modes = self.modes(n)
        common = -1 if modes else 0
        for mode in modes:
            common &= mode.needed
        return common

    def _out_chain(self, op: Operation) -> tuple[int, tuple[tuple[int, int], ...]]:
        """What was moved out step by step, and must come back as far as its goal asks."""
        item, level = op.item, op.level
        start, high, top = self.problem.start[item], self.problem.goal[item][1], self.problem.levels[item]
        below = self.bit(OUT, item, level - 1) if level - 1 > start else 0
        back = self.bit(BACK, item, level)
        pairs = ((self.bit(BACK, item, level - 1), back),) if level > 1 else ()
        return below | (back if level > high else 0), pairs if level <= top else ()

    def _back_chain(self, op: Operation) -> tuple[int, tuple[tuple[int, int], ...]]:
        item, level = op.item, op.level
        start, top = self.problem.start[item], self.problem.levels[item]
        then = self.bit(OUT, item, level) if level > start else 0
        if level == top:
            return then, ()
        above = self.bit(BACK, item, level + 1)
        if start > level:
            return then | above, ()
        return then, ((self.bit(OUT, item, level + 1), above),)

    # -- modes -----------------------------------------------------------------------------

    def modes(self, n: int) -> tuple[Mode, ...]:
        """The modes of an operation, in the order of its ways."""
        known = self._modes.get(n)
        if known is None:
            known = self._modes[n] = tuple(self._all_modes(n, self.ops[n]))
        return known

    def _all_modes(self, n: int, op: Operation) -> Iterator[Mode]:
        for number, way in enumerate(op.ways):
            for allowed, conditions in _contexts(self.problem.dims, way.allowed):
                mode = self._mode(n, op, number, way, allowed, conditions)
                if mode:
                    yield mode

    def _mode(self, n: int, op: Operation, number: int, way: Way, allowed: tuple, conditions: tuple) -> Mode | None:
        needs = _merged(op, way.needs, conditions)
        if needs is None or not self._can_be_made_good(op):
            return None
        needed, barred, given = 0, 0, []
        for need in needs:
            asked = self._asked(op.kind if n != self.end else "end", need)
            if asked is None:
                return None
            needed |= asked[0]
            barred |= asked[1]
            given += asked[2]
        for by, place in self._once.get(n, ()):
            if by == number:
                needed |= 1 << place
        extra = CHANGES * (self.problem.rate * way.time + way.cost)
        return Mode(number, allowed, needs, needed, tuple(given), barred, extra)

    def _can_be_made_good(self, op: Operation) -> bool:
        """A move that leads below its item's goal cannot be made good later, so it is not made."""
        return op.kind != BACK or op.item < 0 or op.level > self.problem.goal[op.item][0]

    def _asked(self, kind: str, need: Need) -> tuple[int, int, list] | None:
        """Bits needed, bits barred and conditions that keep an item in range at this kind of step."""
        item, low, high = need.item, need.low, need.high
        start, top = self.problem.start[item], self.problem.levels[item]
        if low > top or (kind in (OUT, SWAP) and high < start):
            return None
        needed = self.bit(OUT, item, low) if low > start else 0
        barred, given = 0, []
        if kind == SWAP and high < top:
            barred = self.bit(OUT, item, high + 1)
        if kind not in (OUT, SWAP):
            if high < start:
                needed |= self.bit(BACK, item, high + 1)
            elif high < top:
                given.append((self.bit(OUT, item, high + 1), self.bit(BACK, item, high + 1)))
        if kind == "end" and low > 0:
            barred |= self.bit(BACK, item, low)
        return needed, barred, given


def _end(problem: Problem) -> Operation:
    """The end of the job as a last operation: it asks for the values and levels that will do."""
    allowed = []
    for dim in problem.dims:
        values = range(len(dim.values)) if dim.end is None else dim.end
        allowed.append(sum({1 << value for value in values}))
    way = Way((), tuple(allowed), 0, 0, (0,) * len(problem.pools))
    return Operation("end", BACK, -1, 0, 0, 0, (way,))


def _contexts(dims: tuple[Dim, ...], allowed: tuple[int, ...]) -> Iterator[tuple[tuple[int, ...], tuple[Need, ...]]]:
    """The allowed values of every dimension, split so that all values of a part have the same needs."""
    parts = []
    for dim, values in zip(dims, allowed, strict=True):
        groups: dict[tuple[Need, ...], int] = {}
        for value, needs in enumerate(dim.needs):
            if values >> value & 1:
                groups[needs] = groups.get(needs, 0) | 1 << value
        parts.append(groups.items())
    for chosen in product(*parts):
        yield tuple(values for _, values in chosen), tuple(need for needs, _ in chosen for need in needs)


def _merged(op: Operation, needs: tuple[Need, ...], conditions: tuple[Need, ...]) -> tuple[Need, ...] | None:
    """One range per item, without the item that moves; None when the ranges can never hold."""
    before, after = (op.level - 1, op.level) if op.kind == OUT else (op.level, op.level - 1)
    ranges: dict[int, tuple[int, int]] = {}
    for need, both in [(need, False) for need in needs] + [(need, True) for need in conditions]:
        if need.item == op.item:
            if not need.low <= before <= need.high or (both and not need.low <= after <= need.high):
                return None
            continue
        low, high = ranges.get(need.item, (0, 1 << 30))
        ranges[need.item] = max(low, need.low), min(high, need.high)
    if any(low > high for low, high in ranges.values()):
        return None
    return tuple(Need(item, low, high) for item, (low, high) in ranges.items())
