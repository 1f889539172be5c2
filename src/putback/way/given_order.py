"""An order that somebody gives, held against what is allowed: what must come earlier or later, and why."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from putback.area.model import OUT, PART, Area
from putback.area.order_file import Entry
from putback.way.from_area_operation import Operation

Levels = dict[str, int]


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


def expand(
    core: Mapping[str, Any], operations: Mapping[str, Operation], area: Area, entries: Iterable[Entry], direction: str
) -> list[Listed]:
    """The operations that some entries stand for: a part's fasteners and plugs, and the part.

    Parameters
    ----------
    core : mapping
        The core problem that has the operations.
    operations : mapping of str to Operation
        What they mean.
    area : Area
    entries : iterable of Entry
    direction : "out" or "back"
    """
    found: dict[str, Listed] = {}
    able = [op for op in core["ops"] if op["dir"] == direction]
    for entry in entries:
        for op in able:
            if op["id"] not in found and _belongs(operations[op["id"]], entry, area):
                ways = _ways(operations[op["id"]], entry)
                found[op["id"]] = Listed(entry.text, op["id"], ways)
    return list(found.values())


def _belongs(operation: Operation, entry: Entry, area: Area) -> bool:
    need = entry.need
    if operation.name == need.item:
        is_that_way = need.way is None or area.items[need.item].kind == PART or operation.item.endswith(f"by {need.way}")
        return is_that_way and operation.level <= need.level
    return operation.part == need.item and need.level == area.items[need.item].levels


def _ways(operation: Operation, entry: Entry) -> tuple[int, ...]:
    numbers = range(len(operation.ways))
    named = tuple(n for n in numbers if operation.ways[n].name == entry.need.way)
    return named if entry.need.way and named else tuple(numbers)


class Walk:
    """Walks through one phase in a given order, and departs from it only where it must.

    Parameters
    ----------
    core : mapping
        The core problem, version 2.
    operations : mapping of str to Operation
    direction : "out" or "back"
    levels : dict of str to int
        Where everything stands at first; it is left as the walk ends.
    listed : list of Listed
        The order as it was given.
    """

    def __init__(self, core: Mapping[str, Any], operations: Mapping[str, Operation], direction: str, levels: Levels, listed: list[Listed]):
        self.ops = {op["id"]: op for op in core["ops"] if op["dir"] == direction}
        self.by_move = {(op["item"], op["level"]): op["id"] for op in self.ops.values()}
        self.operations, self.out, self.levels = operations, direction == OUT, levels
        self.listed = [one for one in listed if one.op in self.ops]
        self.pending = list(self.listed)
        self.done: list[Listed] = []
        self.waits: dict[str, dict[str, None]] = {}  # for each entry that comes too early, what comes first
        self.told: set[str] = set()

    def run(self) -> "Walk":
        """Do everything that is listed, and what cannot be left out of it; what is stuck stays pending."""
        while self.pending:
            turn = next((n for n, one in enumerate(self.pending) if self._may(one)), None)
            if turn != 0 and (missing := self._left_out(self.pending[0])):
                self.pending.insert(0, missing)
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

    def _do(self, one: Listed) -> None:
        op = self.ops[one.op]
        self.levels[op["item"]] = op["level"] if self.out else op["level"] - 1
        self.done.append(one)

    def _tell(self, turn: int) -> None:
        """What stood ahead of the one whose turn it is comes later than it was given; the order within an entry is free."""
        entry, listed = self.pending[turn].entry, {one.op for one in self.listed}
        for one in self.pending[:turn]:
            if one.entry != entry and one.op in listed and one.op not in self.told:
                self.told.add(one.op)
                own = {self.operations[other.op].text for other in self.listed if other.entry == one.entry}
                first = self.waits.setdefault(one.entry, {})
                first.update(dict.fromkeys(text for text in self._first(one) if text not in own))

    # -- what is allowed ---------------------------------------------------------------------

    def _may(self, one: Listed) -> bool:
        return self._is_next(one) and any(not self._unmet(one, way) for way in one.ways) and self._hindered(one) is None

    def _is_next(self, one: Listed) -> bool:
        op = self.ops[one.op]
        return self.levels[op["item"]] == (op["level"] - 1 if self.out else op["level"])

    def _unmet(self, one: Listed, way: int) -> list[tuple[str, int]]:
        """The items that do not stand as a way asks, and the level that each should have reached."""
        needs = self.ops[one.op]["ways"][way].get("needs", {}).items()
        return [(name, low if at < low else high) for name, (low, high) in needs if not low <= (at := self.levels[name]) <= high]

    def _hindered(self, one: Listed) -> Listed | None:
        """An operation that is still to come and could not be done any more after this one."""
        op = self.ops[one.op]
        item, after = op["item"], op["level"] if self.out else op["level"] - 1
        return next((other for other in self.pending if other.op != one.op and self._shuts(item, after, other)), None)

    def _shuts(self, item: str, level: int, other: Listed) -> bool:
        ranges = [self.ops[other.op]["ways"][way].get("needs", {}).get(item) for way in other.ways]
        return all(one is not None and (level > one[1] if self.out else level < one[0]) for one in ranges)

    # -- what the order leaves out -----------------------------------------------------------

    def _left_out(self, one: Listed) -> Listed | None:
        """The next operation that this one waits for and that nobody listed."""
        op = self.ops[one.op]
        if not self._is_next(one):
            return self._unlisted(op["item"])
        ways = sorted(one.ways, key=lambda way: len(self._unmet(one, way)))
        for name, wanted in self._unmet(one, ways[0]):
            if (wanted > self.levels[name]) == self.out and (found := self._unlisted(name)):
                return found
        return None

    def _unlisted(self, item: str) -> Listed | None:
        level = self.levels[item] + 1 if self.out else self.levels[item]
        name = self.by_move.get((item, level))
        if name is None or any(one.op == name for one in self.pending):
            return None
        return Listed(self.operations[name].part, name, tuple(range(len(self.ops[name]["ways"]))))

    # -- why not -----------------------------------------------------------------------------

    def _first(self, one: Listed) -> list[str]:
        """What must be done before an operation."""
        if (other := self._hindered(one)) is not None:
            return [self.operations[other.op].text]
        ways = sorted(one.ways, key=lambda way: len(self._unmet(one, way)))
        return [text for name, wanted in self._unmet(one, ways[0]) for text in self._move(name, wanted)]

    def _move(self, item: str, wanted: int) -> Iterator[str]:
        """What brings an item to where it is wanted, the last move only."""
        name = self.by_move.get((item, wanted if self.out else wanted + 1))
        if name is not None:
            yield self.operations[name].text
