"""One phase of a fixed run set, as a sequencing problem.

The way back, read backwards from the end, is a removal problem too: what must still be out of the
way becomes what must have been put "back in time" first. Both phases therefore look alike here: a set of
steps, each with modes that ask for some steps done and others not yet done, in a context.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from putback.way.problem import BACK, OUT, SWAP
from putback.way.runs import Mode, Runs


@dataclass(frozen=True, slots=True)
class Choice:
    """One mode of one step within a phase.

    Attributes
    ----------
    after : int
        Steps that must be done (local bits).
    until : int
        Steps that must not be done yet.
    allowed : int per dimension
        Values of the context, as bits.
    extra : int
        Cost above the step's cheapest mode.
    """

    after: int
    until: int
    allowed: tuple[int, ...]
    extra: int
    way: int
    uses: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Phase:
    """Steps to be put in order.

    Attributes
    ----------
    ops : tuple of int
        The operation behind each local bit; -1 for the swap as the way back sees it.
    choices : per step, its modes
    before : int per step
        Steps that must be done earlier in every order.
    shut : int per step
        Steps with a mode that this step would make impossible.
    cost : int
        What the steps cost in their cheapest modes.
    backwards : bool
        Read from the end of the job towards the swap.
    held : int per pool
        What the items hold before the first step, in reading order.
    deltas : per step, int per pool
        What a step adds to that.
    """

    ops: tuple[int, ...]
    choices: tuple[tuple[Choice, ...], ...]
    before: tuple[int, ...]
    shut: tuple[int, ...]
    cost: int
    backwards: bool
    held: tuple[int, ...]
    deltas: tuple[tuple[int, ...], ...]

    @property
    def full(self) -> int:
        """All steps done."""
        return (1 << len(self.ops)) - 1


SWAP_SEEN_FROM_BACK = -1


def out_phase(runs: Runs, members: int, *, relaxed: bool = False) -> Phase | None:
    """Removals and swaps of a run set; None when they cannot be put in any order.

    ``relaxed`` lets in ways that need more than the set holds, as if that much were done.
    """
    return _Builder(runs, members, (OUT, SWAP), relaxed).phase()


def back_phase(runs: Runs, members: int, *, relaxed: bool = False) -> Phase | None:
    """Refits of a run set and the end of the job, read backwards; None when no order exists.

    A single swap is added as the last step of the reading, so that the bounds see its context.
    """
    return _Builder(runs, members, (BACK,), relaxed, backwards=True).phase()


def whole_phase(runs: Runs, members: int) -> Phase | None:
    """Everything a run set does, from the start to the end of the job; None when no order exists."""
    return _Builder(runs, members, (OUT, SWAP, BACK), False).phase()


class _Builder:
    def __init__(self, runs: Runs, members: int, kinds: tuple[str, ...], relaxed: bool, backwards: bool = False):
        self.runs, self.members, self.relaxed, self.backwards = runs, members, relaxed, backwards
        self.spans = runs.displaced(members)
        self.ops = [n for n in runs.members(members) if runs.ops[n].kind in kinds]
        if backwards and len(runs.swaps) == 1:
            self.ops.insert(0, SWAP_SEEN_FROM_BACK)
        self.local = {op: 1 << n for n, op in enumerate(self.ops)}

    def phase(self) -> Phase | None:
        raw = [list(self._modes(op)) for op in self.ops]
        if not all(raw):
            return None
        before = _settled(raw)
        if before is None:
            return None
        return self._numbered(raw, before)

    def _modes(self, op: int) -> Iterator[list]:
        for mode in self._candidates(op):
            lack = mode.lacks(self.members)
            if lack is None or (lack and not self.relaxed):
                continue
            conditions = self._conditions(op, mode)
            if conditions:
                after, until = conditions
                extra = 0 if op == SWAP_SEEN_FROM_BACK else mode.extra
                yield [until, after, mode, extra] if self.backwards else [after, until, mode, extra]

    def _candidates(self, op: int) -> tuple[Mode, ...]:
        return self.runs.modes(self.runs.swaps[0] if op == SWAP_SEEN_FROM_BACK else op)

    def _conditions(self, op: int, mode: Mode) -> tuple[int, int] | None:
        """Steps before and steps not before, as time runs; None when they exclude each other."""
        if op == SWAP_SEEN_FROM_BACK:
            return 0, self._all(BACK)
        kind = self.runs.ops[op].kind
        if op == self.runs.end:
            return (self._all(OUT) | self._all(SWAP) | self._all(BACK)) & ~self.local[op], 0
        if kind == SWAP:
            return self._all(OUT), 0
        after, until = self._chain(op), 0
        if kind == BACK and not self.backwards:
            after |= self._all(OUT) | self._all(SWAP)
        for need in mode.needs:
            early, late = self._out_need(need) if kind == OUT else self._back_need(need)
            after |= early
            until |= late
        return (after, until) if not after & until else None

    def _all(self, kind: str) -> int:
        return sum(bit for op, bit in self.local.items() if op >= 0 and self.runs.ops[op].kind == kind)

    def _chain(self, op: int) -> int:
        move = self.runs.ops[op]
        before = move.level + 1 if move.kind == BACK else move.level - 1
        return self._bit(move.kind, move.item, before)

    def _out_need(self, need) -> tuple[int, int]:
        start, top, _ = self._span(need.item)
        early = self._bit(OUT, need.item, need.low) if need.low > start else 0
        late = self._bit(OUT, need.item, need.high + 1) if need.high < top else 0
        return early, late

    def _back_need(self, need) -> tuple[int, int]:
        _, top, last = self._span(need.item)
        early = self._bit(BACK, need.item, need.high + 1) if need.high < top else 0
        late = self._bit(BACK, need.item, need.low) if need.low > last else 0
        return early, late

    def _span(self, item: int) -> tuple[int, int, int]:
        start = self.runs.problem.start[item]
        return self.spans.get(item, (start, start, start))

    def _bit(self, kind: str, item: int, level: int) -> int:
        """The local bit of a move, nothing when it does not run."""
        return self.local.get(self.runs.number(kind, item, level), 0)

    def _numbered(self, raw: list, before: list[int]) -> Phase:
        """The phase with its steps numbered so that forced predecessors come first."""
        order = sorted(range(len(raw)), key=lambda n: (before[n].bit_count(), n))
        place = {old: new for new, old in enumerate(order)}

        def moved(bits: int) -> int:
            return sum(1 << place[n] for n in _members(bits))

        shut = [0] * len(order)
        choices = []
        for old in order:
            least = min(extra for *_, extra in raw[old])
            step = [
                Choice(moved(after), moved(until), mode.allowed, extra - least, mode.way, self._uses(self.ops[old], mode))
                for after, until, mode, extra in raw[old]
            ]
            choices.append(tuple(step))
            for choice in step:
                for n in _members(choice.until):
                    shut[n] |= 1 << place[old]
        cost = sum(self.runs.work(op) for op in self.ops if op >= 0)
        cost += sum(min(extra for *_, extra in modes) for modes in raw)
        ops = tuple(self.ops[old] for old in order)
        deltas = tuple(self._delta(op) for op in ops)
        forced = tuple(moved(before[old]) for old in order)
        return Phase(ops, tuple(choices), forced, tuple(shut), cost, self.backwards, self._held(), deltas)

    # -- equipment -------------------------------------------------------------------------

    def _uses(self, op: int, mode: Mode) -> tuple[int, ...]:
        if op == SWAP_SEEN_FROM_BACK:
            return (0,) * len(self.runs.problem.pools)
        return self.runs.ops[op].ways[mode.way].uses

    def _held(self) -> tuple[int, ...]:
        problem = self.runs.problem
        held = [0] * len(problem.pools)
        for item, levels in enumerate(problem.holds):
            level = self._span(item)[2 if self.backwards else 0]
            held = [a + b for a, b in zip(held, levels[level], strict=True)]
        return tuple(held)

    def _delta(self, op: int) -> tuple[int, ...]:
        problem = self.runs.problem
        move = self.runs.ops[op] if op != SWAP_SEEN_FROM_BACK else None
        if move is None or move.item < 0:
            return (0,) * len(problem.pools)
        low, high = problem.holds[move.item][move.level - 1], problem.holds[move.item][move.level]
        rising = move.kind == OUT or self.backwards
        return tuple(b - a if rising else a - b for a, b in zip(low, high, strict=True))


def _members(bits: int) -> Iterator[int]:
    while bits:
        low = bits & -bits
        bits ^= low
        yield low.bit_length() - 1


def _settled(raw: list) -> list[int] | None:
    """Turn conditions that hold in every mode into plain order, and drop those that the order implies.

    Returns what must come before each step; None when something would have to come before itself.

    A part that needs its own bolts out makes "part in place" for those bolts automatic; unless such
    conditions go, almost every step looks as if it shut another out.
    """
    for n, modes in enumerate(raw):
        for other in _members(_common(modes, 1)):
            for mode in raw[other]:
                mode[0] |= 1 << n
    before = _closure([_common(modes, 0) for modes in raw])
    if any(hard >> n & 1 for n, hard in enumerate(before)):
        return None
    for n, modes in enumerate(raw):
        implied = sum(1 << other for other, hard in enumerate(before) if hard >> n & 1)
        for mode in modes:
            mode[1] &= ~implied
    return before


def _common(modes: list, which: int) -> int:
    common = -1
    for mode in modes:
        common &= mode[which]
    return common


def _closure(before: list[int]) -> list[int]:
    """All that must come before each step, directly or not."""
    changed = True
    while changed:
        changed = False
        for n, hard in enumerate(before):
            wider = hard
            for other in _members(hard):
                wider |= before[other]
            if wider != hard:
                before[n], changed = wider, True
    return before
