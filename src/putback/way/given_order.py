"""An order that somebody gives, held against what is allowed: what must come earlier or later, and why."""

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from putback.area.model import OUT
from putback.way.from_area_operation import Operation
from putback.way.order_needs import Levels, Needs, cases


@dataclass(frozen=True)
class Listed:
    """An operation of an order: which entry it belongs to, and which of its ways that entry allows."""

    entry: str
    op: str
    ways: tuple[int, ...]


@dataclass(frozen=True)
class Point:
    """A point at which an order is not allowed as it was given: the entry, and what must be done before it."""

    entry: str
    first: tuple[str, ...]


class Walk:
    """Walks through one phase in a given order, and departs from it only where it must.

    Parameters
    ----------
    core : mapping
        The core problem, version 2.
    operations : mapping of str to Operation
    direction : "out" or "back"
    levels : dict of str to int
        Where everything stands at first.
    listed : list of Listed
        The order as it was given.
    others : list of Listed
        What is to be done besides, wherever it is needed.
    """

    def __init__(
        self,
        core: Mapping[str, Any],
        operations: Mapping[str, Operation],
        direction: str,
        levels: Levels,
        listed: list[Listed],
        others: list[Listed],
    ):
        self.ops = {op["id"]: op for op in core["ops"] if op["dir"] == direction}
        self.operations, self.out, self.levels = operations, direction == OUT, dict(levels)
        self.entry_of = {one.op: one.entry for one in listed}
        self.pending = list(listed)
        self.others = {one.op: one for one in others}
        self.all = {one.op: one for one in (*listed, *others)}
        self.cases = {
            name: [needs for way in one.ways for needs in cases(core, self.ops[name], way)]
            for name, one in self.all.items()
        }
        self.by_move = {self._move(self.ops[name]): name for name in self.all}
        self.last = self._where_all_ends()
        self.done: list[Listed] = []
        self.waits: dict[str, dict[str, None]] = {}  # for each entry that comes too early, what comes first
        self.told: set[str] = set()

    def run(self) -> "Walk":
        """Do everything that is listed, and of the others what it needs; what is stuck stays pending."""
        while self.pending:
            turn = next((n for n, one in enumerate(self.pending) if self._may(one)), None)
            if turn != 0 and (other := self._other_first(self.pending[0])):
                self.pending.insert(0, other)
            elif turn is None:
                break
            else:
                self._tell(turn)
                self._do(self.pending.pop(turn))
        return self

    @property
    def points(self) -> list[Point]:
        """Where the order is not allowed as it was given."""
        return [Point(entry, tuple(first)) for entry, first in self.waits.items() if first]

    @property
    def kept(self) -> list[Listed]:
        """What was listed, in the order in which it is done."""
        return [one for one in self.done if one.op in self.entry_of]

    def _move(self, op: Mapping[str, Any]) -> tuple[str, int]:
        """An item, and where an operation brings it."""
        return op["item"], op["level"] if self.out else op["level"] - 1

    def _where_all_ends(self) -> Levels:
        ends = dict(self.levels)
        for item, level in self.by_move:
            ends[item] = max(level, ends[item]) if self.out else min(level, ends[item])
        return ends

    def _do(self, one: Listed) -> None:
        item, level = self._move(self.ops[one.op])
        self.levels[item] = level
        self.done.append(one)

    # -- what is allowed ---------------------------------------------------------------------

    def _may(self, one: Listed) -> bool:
        return (
            self._is_next(one)
            and any(not self._unmet(needs) for needs in self.cases[one.op])
            and not self._hindered(one)
        )

    def _is_next(self, one: Listed) -> bool:
        op = self.ops[one.op]
        return self.levels[op["item"]] == (op["level"] - 1 if self.out else op["level"])

    def _unmet(self, needs: Needs) -> list[tuple[str, int]]:
        """The items that do not stand as they should, and the level that each is to reach."""
        return [
            (name, low if at < low else high)
            for name, (low, high) in needs.items()
            if not low <= (at := self.levels[name]) <= high
        ]

    def _hindered(self, one: Listed) -> Listed | None:
        """An operation that is still to come and could not be done any more after this one."""
        after = self.levels | dict([self._move(self.ops[one.op])])
        to_come = (*self.pending, *self.others.values())
        return next((other for other in to_come if other.op != one.op and self._is_lost(other, after)), None)

    def _is_lost(self, one: Listed, after: Levels) -> bool:
        open_now = [needs for needs in self.cases[one.op] if self._can_come(needs, self.levels)]
        return bool(open_now) and not any(self._can_come(needs, after) for needs in open_now)

    def _can_come(self, needs: Needs, levels: Levels) -> bool:
        """Whether needs can still be met: items move in one direction, and no further than the order takes them."""
        if self.out:
            return all(low <= self.last[name] and levels[name] <= high for name, (low, high) in needs.items())
        return all(self.last[name] <= high and low <= levels[name] for name, (low, high) in needs.items())

    # -- what must come first ----------------------------------------------------------------

    def _other_first(self, one: Listed) -> Listed | None:
        """An operation that nobody listed and that must come before this one can be done."""
        name = next((name for name, _ in self._roots(one, self.others, set())), None)
        return self.others.pop(name) if name is not None else None

    def _roots(self, one: Listed, wanted: Container[str], seen: set[str]) -> Iterator[tuple[str, Listed]]:
        """Down the chains of what must be done first the nearest that are wanted, each with what waits for it."""
        for name in self._waits_for(one):
            if name in wanted:
                yield name, one
            elif name not in seen:
                seen.add(name)
                yield from self._roots(self.all[name], wanted, seen)

    def _waits_for(self, one: Listed) -> Iterator[str]:
        """The operations that must be done before this one can be, the nearest only."""
        op = self.ops[one.op]
        if not self._is_next(one):
            yield from self._towards(op["item"], op["level"] - 1 if self.out else op["level"])
        for name, wanted in min((self._unmet(needs) for needs in self._open_cases(one)), key=len, default=[]):
            yield from self._towards(name, wanted)
        if (other := self._hindered(one)) is not None:
            yield other.op

    def _open_cases(self, one: Listed) -> list[Needs]:
        return [needs for needs in self.cases[one.op] if self._can_come(needs, self.levels)]

    def _towards(self, item: str, wanted: int) -> Iterator[str]:
        """What brings an item to where it is wanted, the next move first."""
        steps = range(self.levels[item] + 1, wanted + 1) if self.out else range(self.levels[item] - 1, wanted - 1, -1)
        yield from (self.by_move[item, level] for level in steps if (item, level) in self.by_move)

    # -- what is told ------------------------------------------------------------------------

    def _tell(self, turn: int) -> None:
        """What stood ahead of the one whose turn it is comes later than it was given; within an entry it is free."""
        for one in self.pending[:turn]:
            if one.op in self.entry_of and one.entry != self.pending[turn].entry and one.op not in self.told:
                self.told.add(one.op)
                self.waits.setdefault(one.entry, {}).update(dict.fromkeys(self._first(one)))

    def _first(self, one: Listed) -> Iterator[str]:
        """What stands further down and must be done before an operation, and what for where nobody listed that."""
        elsewhere = {op: entry for op, entry in self.entry_of.items() if entry != one.entry}
        roots = list(self._roots(one, elsewhere, set()))
        for name in self._one_of_each({name: elsewhere[name] for name, _ in roots}):
            parts = [
                self.operations[other.op].part
                for root, other in roots
                if root == name and other.op not in self.entry_of
            ]
            for_what = f" (for the {', the '.join(dict.fromkeys(parts))})" if parts else ""
            yield self.operations[name].text + for_what

    def _one_of_each(self, entry_of: Mapping[str, str]) -> Iterator[str]:
        """One operation of each entry: that of the part itself, where it is among them."""
        for entry in dict.fromkeys(entry_of.values()):
            names = [name for name in entry_of if entry_of[name] == entry]
            itself = (name for name in names if self.operations[name].name == self.operations[name].part)
            yield next(itself, names[0])
