"""The core problem, read and checked once, so that the search can trust it.

docs/core-problem.md is the contract. Names become numbers here, in the order of the file:
items, dimensions, their values, pools and operations. Everything is whole numbers.
"""

import reprlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from putback.errors import InputError

OUT, SWAP, BACK = "out", "swap", "back"
MOST_LEVELS = 1000
DEAREST = 1 << 48  # the search counts totals CHANGES times over (runs.py), and must stay below its NEVER (bounds.py)


@dataclass(frozen=True, slots=True)
class Need:
    """An item must stand at one of the levels ``low`` to ``high``, both included."""

    item: int
    low: int
    high: int


@dataclass(frozen=True, slots=True)
class Dim:
    """One dimension of the context: the tool in hand, the vantage, the posture, ...

    Attributes
    ----------
    change : square table of int
        Time of changing from row to column; zero on the diagonal.
    end : tuple of int, or None
        Values that will do at the end; None when any will.
    needs, holds, moving : one entry per value
        What the value asks of items, what equipment it keeps busy, what a change to it takes.
    """

    name: str
    values: tuple[str, ...]
    start: int
    end: tuple[int, ...] | None
    change: tuple[tuple[int, ...], ...]
    needs: tuple[tuple[Need, ...], ...]
    holds: tuple[tuple[int, ...], ...]
    moving: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Way:
    """One way of doing an operation.

    Attributes
    ----------
    allowed : one set of values per dimension, as bits
        Value v will do when bit v is set.
    uses : int per pool
        Equipment busy during the step only.
    """

    needs: tuple[Need, ...]
    allowed: tuple[int, ...]
    time: int
    cost: int
    uses: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Operation:
    """One item moved by one level, or a swap.

    Attributes
    ----------
    kind : "out", "swap" or "back"
    item : int
        The item that moves; -1 for a swap.
    level : int
        Out moves the item from ``level - 1`` to ``level``, back the other way round.
    """

    name: str
    kind: str
    item: int
    level: int
    time: int
    cost: int
    ways: tuple[Way, ...]


@dataclass(frozen=True, slots=True)
class Once:
    """A cost that falls due once if any of its operations ran, each by any way (-1) or by one."""

    name: str
    ops: tuple[tuple[int, int], ...]
    cost: int
    time: int


@dataclass(frozen=True, slots=True)
class Wait:
    """At least ``time`` from the end of the last of ``after`` to each of ``before``; END is the end of the job.

    ``left`` is what still has to pass when the first step begins.
    """

    name: str
    after: frozenset[int]
    before: frozenset[int]
    time: int
    left: int


END = -1


@dataclass(frozen=True, slots=True)
class Problem:
    """A whole core problem; see the module's note on numbers for names."""

    name: str
    version: int
    rate: int
    dims: tuple[Dim, ...]
    pools: tuple[str, ...]
    capacity: tuple[int, ...]
    items: tuple[str, ...]
    levels: tuple[int, ...]
    start: tuple[int, ...]
    goal: tuple[tuple[int, int], ...]
    holds: tuple[tuple[tuple[int, ...], ...], ...]
    ops: tuple[Operation, ...]
    targets: tuple[int, ...]
    once: tuple[Once, ...]
    waits: tuple[Wait, ...]
    fixed_cost: int
    swap_time: int

    def cost(self, op: Operation, way: Way) -> int:
        """What a step costs without its changes of context."""
        return self.rate * (op.time + way.time) + op.cost + way.cost


def read_problem(core: Mapping[str, Any]) -> Problem:
    """The problem behind parsed JSON of version 1 or 2.

    Raises
    ------
    InputError
        The first thing that does not follow docs/core-problem.md, in one sentence.
    """
    if not isinstance(core, Mapping):
        raise InputError("a core problem is a mapping; see docs/core-problem.md")
    version = core.get("core", 1)
    if type(version) is not int or version not in (1, 2):
        raise InputError(f'"core" is {_short(version)}; versions 1 and 2 are known')
    problem = _Reader(_version_2(core) if version == 1 else core, version).problem()
    dearest = _dearest(problem)
    if dearest > DEAREST:
        raise InputError(f"a plan could cost more than {DEAREST}, which is too much to count; choose larger units")
    return problem


def _dearest(problem: Problem) -> int:
    """No plan costs more: every step in its dearest way, every change and every wait ahead of it."""
    work = sum(max((problem.cost(op, way) for way in op.ways), default=0) for op in problem.ops)
    changes = sum(max(map(max, dim.change)) for dim in problem.dims)
    idle = sum(wait.time for wait in problem.waits)
    between = problem.rate * (len(problem.ops) + 2) * (changes + idle)
    return work + between + sum(once.cost for once in problem.once) + problem.fixed_cost


def _version_2(core: Mapping[str, Any]) -> dict[str, Any]:
    """A version 1 problem said in the words of version 2."""
    names = {"tool": "tools", "vantage": "vantages", "posture": "postures"}
    start, setup = _get(core, "start", dict), _get(core, "setup", dict)
    dims = [
        {"name": dim, "values": _get(core, names[dim], list), "start": start.get(dim), "change": setup.get(dim, 0)}
        for dim in names
    ]
    dims[2]["end"] = [core.get("end_posture")]
    swap = _get(core, "swap", dict)
    return {
        "core": 2,
        "name": core.get("name", ""),
        "rate": 1,
        "dims": dims,
        "items": {item: {"levels": levels} for item, levels in _get(core, "items", dict).items()},
        "ops": [_operation_2(op) for op in _records(core, "ops")],
        "swaps": [{"id": "swap", "item": core.get("target"), "time": swap.get("minutes"), "ways": [_way_2(swap)]}],
    }


def _operation_2(op: Mapping[str, Any]) -> dict[str, Any]:
    return {**op, "time": op.get("minutes"), "cost": 0, "ways": [_way_2(alt) for alt in _records(op, "alts", "an operation")]}


def _way_2(alt: Mapping[str, Any]) -> dict[str, Any]:
    postures = alt.get("postures")
    values = {"tool": [alt.get("tool")], "vantage": [alt.get("vantage")], "posture": postures}
    return {"needs": alt.get("req", {}), "in": values, "cost": alt.get("extra", 0)}


# -- single values, refused in one sentence when they will not do ----------------------------


def _get(holder: Mapping, key: str, kind: type, where: str = "the core problem", default: Any = None) -> Any:
    value = holder.get(key, default)
    wrong = not isinstance(value, kind) or (kind is int and isinstance(value, bool))
    if wrong:
        words = {int: "a whole number", list: "a list", dict: "a mapping", str: "a text"}
        raise InputError(f'{where}: "{_cut(key)}" must be {words[kind]}, not {_short(value)}')
    return value


def _records(holder: Mapping, key: str, where: str = "the core problem", default: Any = None) -> list[dict]:
    """A list of mappings."""
    records = _get(holder, key, list, where, default)
    wrong = [record for record in records if not isinstance(record, dict)]
    if wrong:
        raise InputError(f'{where}: "{key}" must list mappings, not {_short(wrong[0])}')
    return records


def _count(holder: Mapping, key: str, where: str, default: int | None = None) -> int:
    value = _get(holder, key, int, where, default)
    if value < 0:
        raise InputError(f'{where}: "{_cut(key)}" is {_short(value)}; it must not be below zero')
    return value


def _names(names: Iterable[Any], what: str) -> list[str]:
    """Names as they came, if each is one line of text and stands there once."""
    names = list(names)
    seen: set[str] = set()
    for name in names:
        if not isinstance(name, str) or name.splitlines() != [name]:
            raise InputError(f"{what}: a name is one line of text, not {_short(name)}")
        if name in seen:
            raise InputError(f"{what}: {_short(name)} stands there twice; once is enough")
        seen.add(name)
    return names


def _short(value: Any) -> str:
    """A value as it may stand in a sentence: its beginning, on one line, however large or deep it is."""
    return repr(_cut(value)) if isinstance(value, str) else _cut(reprlib.repr(value))


def _cut(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:57]}..."


def _pool_names(core: Mapping[str, Any], standing: list[dict], moves: list[dict]) -> list[str]:
    """Every pool that is listed or held anywhere; one that is not listed has nothing in it."""
    held: list[Any] = [core.get("pools", {})]
    for record in standing:
        for key in ("holds", "moving"):
            held += _get(record, key, dict, "an item or a dimension", {}).values()
    for move in moves:
        held += [way.get("uses", {}) for way in _records(move, "ways", "an operation")]
    return list(dict.fromkeys(name for record in held if isinstance(record, dict) for name in record))


class _Reader:
    """Turns names into numbers, and says which name is wrong."""

    def __init__(self, core: Mapping[str, Any], version: int):
        self.core, self.version = core, version
        pools = _get(core, "pools", dict, default={})
        self.capacity = {name: _count(pools, name, "pools") for name in pools}
        self.op_records, self.swap_records = _records(core, "ops"), _records(core, "swaps", default=[])
        self.dim_records = _records(core, "dims")
        items = _get(core, "items", dict)
        self.items = {name: n for n, name in enumerate(_names(items, "items"))}
        self.item_names = list(self.items)
        self.item_records = [_get(items, name, dict, "items") for name in items]
        self.levels = [self._levels(n, record) for n, record in enumerate(self.item_records)]
        standing, moves = [*self.item_records, *self.dim_records], [*self.op_records, *self.swap_records]
        self.pools = {name: n for n, name in enumerate(_names(_pool_names(core, standing, moves), "pools"))}
        self.dims = {name: n for n, name in enumerate(_names([r.get("name") for r in self.dim_records], "dims"))}
        self.values = [self._value_numbers(record) for record in self.dim_records]
        ids = _names([record.get("id") for record in moves], "ops and swaps")
        if "end" in ids:
            raise InputError('ops and swaps: "end" means the end of the job; choose another id')
        self.ops = {name: n for n, name in enumerate(ids)}

    def problem(self) -> Problem:
        """Every name a number."""
        core = self.core
        moves = [*map(self._operation, self.op_records), *map(self._swap, self.swap_records)]
        self._one_each(moves[: len(self.op_records)])
        rate = _count(core, "rate", "the core problem", 1)
        fixed = [self._fixed(record) for record in _records(core, "fixed", default=[])]
        lead = sum(time for when, time, _ in fixed if when == "before")
        return Problem(
            name=_get(core, "name", str, default=""),
            version=self.version,
            rate=rate,
            dims=tuple(self._dim(n, record) for n, record in enumerate(self.dim_records)),
            pools=tuple(self.pools),
            capacity=tuple(self.capacity.get(name, 0) for name in self.pools),
            items=tuple(self.items),
            levels=tuple(self.levels),
            start=tuple(self._start(n, r) for n, r in enumerate(self.item_records)),
            goal=tuple(self._goal(n, r) for n, r in enumerate(self.item_records)),
            holds=tuple(self._level_holds(n, r) for n, r in enumerate(self.item_records)),
            ops=tuple(moves),
            targets=self._targets(),
            once=tuple(self._once(n, r, rate, moves) for n, r in enumerate(_records(core, "once", default=[]))),
            waits=tuple(self._wait(n, r, lead) for n, r in enumerate(_records(core, "waits", default=[]))),
            fixed_cost=sum(rate * time + cost for _, time, cost in fixed),
            swap_time=sum(time for when, time, _ in fixed if when == "swap"),
        )

    # -- names -----------------------------------------------------------------------------

    def _number(self, names: Mapping[str, int], name: Any, kind: str, where: str) -> int:
        if not isinstance(name, str) or name not in names:
            raise InputError(f"{where}: no {kind} is called {_short(name)}")
        return names[name]

    def _value_numbers(self, record: Mapping) -> dict[str, int]:
        where = f"dimension {_short(record['name'])}"
        values = _names(_get(record, "values", list, where), where)
        if not values:
            raise InputError(f"{where}: it has no values; give at least one")
        return {value: n for n, value in enumerate(values)}

    def _needs(self, record: Any, where: str) -> tuple[Need, ...]:
        if not isinstance(record, Mapping):
            raise InputError(f'{where}: "needs" must be a mapping of items to ranges')
        return tuple(self._need(name, bounds, where) for name, bounds in record.items())

    def _need(self, name: str, bounds: Any, where: str) -> Need:
        item = self._number(self.items, name, "item", where)
        low, high = self._range(bounds, f"{where}, need on {_short(name)}")
        return Need(item, low, high)

    def _range(self, bounds: Any, where: str) -> tuple[int, int]:
        whole = isinstance(bounds, (list, tuple)) and len(bounds) == 2 and all(type(b) is int and b >= 0 for b in bounds)
        if not whole:
            raise InputError(f"{where}: a range is two whole numbers, 0 or more, not {_short(bounds)}")
        return bounds[0], bounds[1]

    def _equipment(self, record: Any, where: str) -> tuple[int, ...]:
        if not isinstance(record, Mapping):
            raise InputError(f"{where}: equipment is a mapping of names to counts")
        held = [0] * len(self.pools)
        for name in record:
            held[self.pools[name]] = _count(record, name, where)
        return tuple(held)

    # -- parts of the problem --------------------------------------------------------------

    def _dim(self, n: int, record: Mapping) -> Dim:
        where, values = f"dimension {_short(record['name'])}", self.values[n]
        return Dim(
            name=record["name"],
            values=tuple(values),
            start=self._number(values, record.get("start"), "value", where),
            end=self._end(record, values, where) if "end" in record else None,
            change=self._change(record.get("change", 0), len(values), where),
            needs=self._per_value(record, "needs", n, self._needs, ()),
            holds=self._per_value(record, "holds", n, self._equipment, (0,) * len(self.pools)),
            moving=self._per_value(record, "moving", n, self._equipment, (0,) * len(self.pools)),
        )

    def _end(self, record: Mapping, values: Mapping[str, int], where: str) -> tuple[int, ...]:
        return tuple(self._number(values, value, "value", where) for value in _get(record, "end", list, where))

    def _per_value(self, record: Mapping, key: str, n: int, read: Any, empty: tuple) -> tuple:
        where = f"dimension {_short(record['name'])}, {key}"
        table = [empty] * len(self.values[n])
        for value, content in _get(record, key, dict, where, {}).items():
            table[self._number(self.values[n], value, "value", where)] = read(content, where)
        return tuple(table)

    def _change(self, change: Any, size: int, where: str) -> tuple[tuple[int, ...], ...]:
        if type(change) is int and change >= 0:
            return tuple(tuple(0 if a == b else change for b in range(size)) for a in range(size))
        square = isinstance(change, list) and len(change) == size and all(
            isinstance(row, list) and len(row) == size and all(type(c) is int and c >= 0 for c in row) for row in change
        )
        if not square or any(change[a][a] for a in range(size)):
            raise InputError(f"{where}: change must be a number, or a square table of {size} rows with a zero diagonal")
        return tuple(tuple(row) for row in change)

    def _item(self, n: int) -> str:
        return f"item {_short(self.item_names[n])}"

    def _levels(self, n: int, record: Mapping) -> int:
        levels = _count(record, "levels", self._item(n))
        if levels > MOST_LEVELS:
            raise InputError(f"{self._item(n)}: {_short(levels)} levels are too many; {MOST_LEVELS} is the most")
        return levels

    def _start(self, n: int, record: Mapping) -> int:
        start = _count(record, "start", self._item(n), 0)
        if start > self.levels[n]:
            raise InputError(f"{self._item(n)}: starts at {_short(start)}, but has {self.levels[n]} levels")
        return start

    def _goal(self, n: int, record: Mapping) -> tuple[int, int]:
        """The goal; one above the last level stands for all levels that are not there."""
        low, high = self._range(record.get("goal", [0, 0]), f"goal of {self._item(n)}")
        return min(low, self.levels[n] + 1), min(high, self.levels[n] + 1)

    def _level_holds(self, n: int, record: Mapping) -> tuple[tuple[int, ...], ...]:
        where, levels = f"holds of {self._item(n)}", [str(level) for level in range(self.levels[n] + 1)]
        table = _get(record, "holds", dict, where, {})
        wrong = [level for level in table if level not in levels]
        if wrong:
            raise InputError(f"{where}: there is no level {_short(wrong[0])}")
        return tuple(self._equipment(table.get(level, {}), where) for level in levels)

    def _operation(self, record: Mapping) -> Operation:
        where, kind = f"operation {_short(record['id'])}", record.get("dir")
        if kind not in (OUT, BACK):
            raise InputError(f'{where}: "dir" must be "out" or "back", not {_short(kind)}')
        item = self._number(self.items, record.get("item"), "item", where)
        level = _count(record, "level", where)
        if not 1 <= level <= self.levels[item]:
            raise InputError(f"{where}: level {_short(level)} is not between 1 and {self.levels[item]}")
        return self._filled(record, where, kind, item, level)

    def _swap(self, record: Mapping) -> Operation:
        where = f"swap {_short(record['id'])}"
        swap = self._filled(record, where, SWAP, -1, 0)
        if any(way.needs for way in swap.ways):
            raise InputError(f'{where}: the ways of a swap have no "needs"; leave them out')
        return swap

    def _filled(self, record: Mapping, where: str, kind: str, item: int, level: int) -> Operation:
        ways = tuple(self._way(way, where) for way in _records(record, "ways", where))
        time, cost = _count(record, "time", where, 0), _count(record, "cost", where, 0)
        return Operation(record["id"], kind, item, level, time, cost, ways)

    def _way(self, record: Mapping, where: str) -> Way:
        allowed = [(1 << len(values)) - 1 for values in self.values]
        named = _get(record, "in", dict, where, {})
        for dim in named:
            n = self._number(self.dims, dim, "dimension", where)
            values = _get(named, dim, list, where)
            allowed[n] = sum({1 << self._number(self.values[n], v, dim, where) for v in values})
        return Way(
            needs=self._needs(record.get("needs", {}), where),
            allowed=tuple(allowed),
            time=_count(record, "time", where, 0),
            cost=_count(record, "cost", where, 0),
            uses=self._equipment(record.get("uses", {}), where),
        )

    def _one_each(self, ops: Iterable[Operation]) -> None:
        seen: dict[tuple, str] = {}
        for op in ops:
            other = seen.setdefault((op.item, op.kind, op.level), op.name)
            if other != op.name:
                raise InputError(f"{_short(op.name)} and {_short(other)} are the same move; give one operation both ways")

    def _targets(self) -> tuple[int, ...]:
        targets = []
        for record in self.swap_records:
            items = record.get("item")
            names = [items] if isinstance(items, str) else _get(record, "item", list, "a swap")
            targets += [self._number(self.items, name, "item", "a swap") for name in names]
        return tuple(dict.fromkeys(targets))

    def _fixed(self, record: Mapping) -> tuple[str, int, int]:
        when = record.get("when")
        if when not in ("before", "swap", "after"):
            raise InputError(f'fixed: "when" must be "before", "swap" or "after", not {_short(when)}')
        return when, _count(record, "time", "fixed", 0), _count(record, "cost", "fixed", 0)

    def _once(self, n: int, record: Mapping, rate: int, moves: list[Operation]) -> Once:
        where = f"once {n}"
        offers = [
            (_count(offer, "time", where, 0), _count(offer, "cost", where, 0)) for offer in _records(record, "offers", where)
        ]
        if not offers:
            raise InputError(f"{where}: it offers nothing to pay")
        time, cost = min(offers, key=lambda offer: rate * offer[0] + offer[1])
        ops = tuple(self._trigger(trigger, where, moves) for trigger in _get(record, "ops", list, where))
        return Once(_get(record, "id", str, where, where), ops, rate * time + cost, time)

    def _trigger(self, trigger: Any, where: str, moves: list[Operation]) -> tuple[int, int]:
        """Operation and way; -1 for any way."""
        if not isinstance(trigger, list) or len(trigger) not in (1, 2):
            raise InputError(f"{where}: a trigger is [operation] or [operation, way], not {_short(trigger)}")
        op = self._number(self.ops, trigger[0], "operation", where)
        if len(trigger) == 1:
            return op, -1
        way, ways = trigger[1], len(moves[op].ways)
        if type(way) is not int or not 0 <= way < ways:
            raise InputError(f"{where}: {_short(trigger[0])} has no way {_short(way)}; it has {ways}, counted from 0")
        return op, way

    def _wait(self, n: int, record: Mapping, lead: int) -> Wait:
        """Work ahead of the first step runs down what was left of a wait."""
        where = f"wait {n}"
        ids = {"end": END, **self.ops}
        time, left = _count(record, "time", where), _count(record, "left", where, 0)
        if left > time:
            raise InputError(f'{where}: "left" is {_short(left)}; it is at most {_short(time)}, the whole wait')
        return Wait(
            name=_get(record, "id", str, where, where),
            after=frozenset(self._number(self.ops, op, "operation", where) for op in _get(record, "after", list, where)),
            before=frozenset(self._number(ids, op, "operation", where) for op in _get(record, "before", list, where)),
            time=time,
            left=max(0, left - lead),
        )
