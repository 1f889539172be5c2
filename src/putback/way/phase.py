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


@dataclass(frozen=True, slots=True)
class Phase:
    """Steps to be put in order.

    Attributes
    ----------
    ops : tuple of int
        The operation behind each local bit; -1 for the swap as the way back sees it.
    choices : per step, its modes
    shut : int per step
        Steps with a mode that this step would make impossible.
    cost : int
        What the steps cost in their cheapest modes.
    backwards : bool
        Read from the end of the job towards the swap.
    """

    ops: tuple[int, ...]
    choices: tuple[tuple[Choice, ...], ...]
    shut: tuple[int, ...]
    cost: int
    backwards: bool

    @property
    def full(self) -> int:
        """All steps done."""
        return (1 << len(self.ops)) - 1


SWAP_SEEN_FROM_BACK = -1


def out_phase(runs: Runs, members: int, *, relaxed: bool = False) -> Phase | None:
    """Removals and swaps of a run set; None when they cannot be put in any order."""
    return _Builder(runs, members, relaxed).phase(backwards=False)


def back_phase(runs: Runs, members: int, *, relaxed: bool = False) -> Phase | None:
    """Refits of a run set and the end of the job, read backwards; None when no order exists.

    A single swap is added as the last step of the reading, so that the bounds see its context.
    """
    return _Builder(runs, members, relaxed).phase(backwards=True)


class _Builder:
    def __init__(self, runs: Runs, members: int, relaxed: bool):
        self.runs, self.members, self.relaxed = runs, members, relaxed
        self.spans = runs.displaced(members)

    def phase(self, backwards: bool) -> Phase | None:
        self.backwards = backwards
        self.ops = list(self._ops())
        self.local = {op: 1 << n for n, op in enumerate(self.ops)}
        raw = [list(self._modes(op)) for op in self.ops]
        if not all(raw):
            return None
        order = _settled(raw)
        if order is None:
            return None
        return self._numbered(raw, order)

    def _ops(self) -> Iterator[int]:
        kinds = (BACK,) if self.backwards else (OUT, SWAP)
        if self.backwards and len(self.runs.swaps) == 1:
            yield SWAP_SEEN_FROM_BACK
        yield from (n for n in self.runs.members(self.members) if self.runs.ops[n].kind in kinds)

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
        """Steps before and steps not before, as time runs."""
        every = (1 << len(self.ops)) - 1
        if op == SWAP_SEEN_FROM_BACK:
            return 0, every ^ self.local[op]
        if op == self.runs.end:
            return every ^ self.local[op], 0
        if self.runs.ops[op].kind == SWAP:
            return sum(bit for o, bit in self.local.items() if self.runs.ops[o].kind == OUT), 0
        after, until = self._chain(op), 0
        for need in mode.needs:
            early, late = self._back_need(need) if self.backwards else self._out_need(need)
            after |= early
            until |= late
        return (after, until) if not after & until else None

    def _chain(self, op: int) -> int:
        move = self.runs.ops[op]
        before = move.level + 1 if self.backwards else move.level - 1
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

    def _numbered(self, raw: list, order: list[int]) -> Phase:
        """The phase with its steps numbered so that forced predecessors come first."""
        place = {old: new for new, old in enumerate(order)}

        def moved(bits: int) -> int:
            return sum(1 << place[n] for n in _members(bits))

        shut = [0] * len(order)
        choices = []
        for old in order:
            least = min(extra for *_, extra in raw[old])
            step = [
                Choice(moved(after), moved(until), mode.allowed, extra - least, mode.way)
                for after, until, mode, extra in raw[old]
            ]
            choices.append(tuple(step))
            for choice in step:
                for n in _members(choice.until):
                    shut[n] |= 1 << place[old]
        cost = sum(self.runs.work(op) for op in self.ops if op >= 0)
        cost += sum(min(extra for *_, extra in modes) for modes in raw)
        return Phase(tuple(self.ops[old] for old in order), tuple(choices), tuple(shut), cost, self.backwards)


def _members(bits: int) -> Iterator[int]:
    while bits:
        low = bits & -bits
        bits ^= low
        yield low.bit_length() - 1


def _settled(raw: list) -> list[int] | None:
    """Turn conditions that hold in every mode into plain order, and drop those that the order implies.

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
    return sorted(range(len(raw)), key=lambda n: (before[n].bit_count(), n))


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
