"""The core problem, read and checked once, so that the search can trust it.

docs/core-problem.md is the contract. Names become numbers here, in the order of the file:
items, dimensions, their values, pools and operations. Everything is whole numbers.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from putback.errors import InputError

OUT, SWAP, BACK = "out", "swap", "back"


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
    if version not in (1, 2) or isinstance(version, bool):
        raise InputError(f'"core" is {version!r}; versions 1 and 2 are known')
    return _Reader(_version_2(core) if version == 1 else core, version).problem()


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
    target = core.get("target")
    return {
        "core": 2,
        "name": core.get("name", ""),
        "rate": 1,
        "dims": dims,
        "items": {item: {"levels": levels} for item, levels in _get(core, "items", dict).items()},
        "ops": [
            {**op, "time": op.get("minutes"), "ways": [_way_2(alt) for alt in _get(op, "alts", list, "an operation")]}
            for op in _get(core, "ops", list)
        ],
        "swaps": [
            {
                "id": "swap",
                "item": [target] if isinstance(target, str) else target,
                "time": swap.get("minutes"),
                "ways": [_way_2(swap)],
            }
        ],
    }


def _way_2(alt: Mapping[str, Any]) -> dict[str, Any]:
    postures = alt.get("postures")
    values = {"tool": [alt.get("tool")], "vantage": [alt.get("vantage")], "posture": postures}
    return {"needs": alt.get("req", {}), "in": values, "cost": alt.get("extra", 0)}


def _get(holder: Mapping, key: str, kind: type, where: str = "the core problem", default: Any = None) -> Any:
    value = holder.get(key, default) if isinstance(holder, Mapping) else None
    wrong = not isinstance(value, kind) or (kind is int and isinstance(value, bool))
    if wrong:
        words = {int: "a whole number", list: "a list", dict: "a mapping", str: "a text"}
        raise InputError(f'{where}: "{key}" must be {words[kind]}, not {value!r:.80}')
    return value


def _count(holder: Mapping, key: str, where: str, default: int | None = None) -> int:
    value = _get(holder, key, int, where, default)
    if value < 0:
        raise InputError(f'{where}: "{key}" is {value}; it must not be below zero')
    return value


def _pool_names(core: Mapping[str, Any]) -> list[str]:
    """Every pool that is listed or held anywhere; one that is not listed has nothing in it."""
    held: list[Any] = [core.get("pools", {})]
    for record in [*core["items"].values(), *core["dims"]]:
        for key in ("holds", "moving"):
            held += _get(record, key, dict, "holds", {}).values()
    for op in [*core["ops"], *core.get("swaps", [])]:
        held += [way.get("uses", {}) for way in op.get("ways", [])]
    return list(dict.fromkeys(name for record in held for name in record))


class _Reader:
    """Turns names into numbers, and says which name is wrong."""

    def __init__(self, core: Mapping[str, Any], version: int):
        self.core, self.version = core, version
        self.capacity = {name: _count(core["pools"], name, "pools") for name in _get(core, "pools", dict, default={})}
        self.pools = {name: n for n, name in enumerate(_pool_names(core))}
        self.items = {name: n for n, name in enumerate(_get(core, "items", dict))}
        self.item_records = [_get(core["items"], name, dict, "items") for name in self.items]
        self.levels = [_count(r, "levels", f"item {n}") for r, n in zip(self.item_records, self.items, strict=True)]
        self.dim_records = _get(core, "dims", list)
        self.values = [self._value_numbers(record) for record in self.dim_records]
        self.dims = {record["name"]: n for n, record in enumerate(self.dim_records)}
        self.ops: dict[str, int] = {}

    def problem(self) -> Problem:
        core = self.core
        ops = [self._operation(record) for record in _get(core, "ops", list)]
        swaps = [self._swap(record) for record in _get(core, "swaps", list, default=[])]
        self._one_each(ops)
        fixed = [(_count(r, "time", "fixed", 0), _count(r, "cost", "fixed", 0), r.get("when")) for r in core.get("fixed", [])]
        rate = _count(core, "rate", "the core problem", 1)
        lead = sum(time for time, _, when in fixed if when == "before")
        return Problem(
            name=str(core.get("name", "")),
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
            ops=tuple(ops + swaps),
            targets=self._targets(),
            once=tuple(self._once(record, rate) for record in core.get("once", [])),
            waits=tuple(self._wait(record, lead) for record in core.get("waits", [])),
            fixed_cost=sum(rate * time + cost for time, cost, _ in fixed),
            swap_time=sum(time for time, _, when in fixed if when == "swap"),
        )

    # -- names -----------------------------------------------------------------------------

    def _number(self, names: Mapping[str, int], name: Any, kind: str, where: str) -> int:
        if not isinstance(name, str) or name not in names:
            raise InputError(f"{where}: no {kind} is called {name!r:.80}")
        return names[name]

    def _value_numbers(self, record: Any) -> dict[str, int]:
        name = _get(record, "name", str, "dims")
        values = _get(record, "values", list, f"dimension {name}")
        if not values or len(set(map(str, values))) != len(values):
            raise InputError(f"dimension {name}: its values must be there, each once")
        return {value: n for n, value in enumerate(values)}

    def _needs(self, record: Any, where: str) -> tuple[Need, ...]:
        if not isinstance(record, Mapping):
            raise InputError(f'{where}: "needs" must be a mapping of items to ranges')
        return tuple(self._need(name, bounds, where) for name, bounds in record.items())

    def _need(self, name: str, bounds: Any, where: str) -> Need:
        item = self._number(self.items, name, "item", where)
        low, high = self._range(bounds, f"{where}, need on {name}")
        return Need(item, low, high)

    def _range(self, bounds: Any, where: str) -> tuple[int, int]:
        whole = isinstance(bounds, (list, tuple)) and len(bounds) == 2 and all(type(b) is int for b in bounds)
        if not whole:
            raise InputError(f"{where}: a range is two whole numbers, not {bounds!r:.80}")
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
        where, values = f"dimension {record['name']}", self.values[n]
        end = record.get("end")
        return Dim(
            name=record["name"],
            values=tuple(values),
            start=self._number(values, record.get("start"), "value", where),
            end=None if end is None else tuple(self._number(values, v, "value", where) for v in end),
            change=self._change(record.get("change", 0), len(values), where),
            needs=self._per_value(record, "needs", n, self._needs, ()),
            holds=self._per_value(record, "holds", n, self._equipment, (0,) * len(self.pools)),
            moving=self._per_value(record, "moving", n, self._equipment, (0,) * len(self.pools)),
        )

    def _per_value(self, record: Mapping, key: str, n: int, read: Any, empty: tuple) -> tuple:
        where = f"dimension {record['name']}, {key}"
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

    def _start(self, n: int, record: Mapping) -> int:
        start = _count(record, "start", f"item {record}", 0)
        if start > self.levels[n]:
            raise InputError(f"item {list(self.items)[n]}: starts at {start}, but has {self.levels[n]} levels")
        return start

    def _goal(self, n: int, record: Mapping) -> tuple[int, int]:
        return self._range(record.get("goal", [0, 0]), f"goal of item {list(self.items)[n]}")

    def _level_holds(self, n: int, record: Mapping) -> tuple[tuple[int, ...], ...]:
        where = f"holds of item {list(self.items)[n]}"
        table = _get(record, "holds", dict, where, {})
        wrong = [level for level in table if level not in map(str, range(self.levels[n] + 1))]
        if wrong:
            raise InputError(f"{where}: there is no level {wrong[0]}")
        return tuple(self._equipment(table.get(str(level), {}), where) for level in range(self.levels[n] + 1))

    def _operation(self, record: Mapping) -> Operation:
        name = self._name(record)
        kind = record.get("dir")
        if kind not in (OUT, BACK):
            raise InputError(f'{name}: "dir" must be "out" or "back", not {kind!r}')
        item = self._number(self.items, record.get("item"), "item", name)
        level = _count(record, "level", name)
        if not 1 <= level <= self.levels[item]:
            raise InputError(f"{name}: level {level} is not between 1 and {self.levels[item]}")
        return self._filled(record, name, kind, item, level)

    def _swap(self, record: Mapping) -> Operation:
        return self._filled(record, self._name(record), SWAP, -1, 0)

    def _name(self, record: Mapping) -> str:
        name = _get(record, "id", str, "an operation")
        if name in self.ops:
            raise InputError(f"two operations are called {name!r}")
        self.ops[name] = len(self.ops)
        return name

    def _filled(self, record: Mapping, name: str, kind: str, item: int, level: int) -> Operation:
        ways = tuple(self._way(way, name) for way in _get(record, "ways", list, name))
        return Operation(name, kind, item, level, _count(record, "time", name, 0), _count(record, "cost", name, 0), ways)

    def _way(self, record: Mapping, where: str) -> Way:
        allowed = [(1 << len(values)) - 1 for values in self.values]
        for dim, values in _get(record, "in", dict, where, {}).items():
            n = self._number(self.dims, dim, "dimension", where)
            allowed[n] = sum({1 << self._number(self.values[n], v, f"{dim}", where) for v in values})
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
                raise InputError(f"{op.name} and {other} are the same move; give one operation both ways")

    def _targets(self) -> tuple[int, ...]:
        targets = []
        for record in self.core.get("swaps", []):
            items = record.get("item")
            for name in [items] if isinstance(items, str) else items or []:
                targets.append(self._number(self.items, name, "item", "a swap"))
        return tuple(dict.fromkeys(targets))

    def _once(self, record: Mapping, rate: int) -> Once:
        name = str(record.get("id", "once"))
        offers = [(_count(o, "time", name, 0), _count(o, "cost", name, 0)) for o in _get(record, "offers", list, name)]
        if not offers:
            raise InputError(f"once {name}: it offers nothing to pay")
        time, cost = min(offers, key=lambda offer: rate * offer[0] + offer[1])
        ops = tuple(self._trigger(t, name) for t in _get(record, "ops", list, name))
        return Once(name, ops, rate * time + cost, time)

    def _trigger(self, trigger: Any, name: str) -> tuple[int, int]:
        if not isinstance(trigger, list) or len(trigger) not in (1, 2):
            raise InputError(f"once {name}: a trigger is [operation] or [operation, way], not {trigger!r:.80}")
        way = trigger[1] if len(trigger) == 2 else -1
        return self._number(self.ops, trigger[0], "operation", f"once {name}"), way

    def _wait(self, record: Mapping, lead: int) -> Wait:
        """Work ahead of the first step runs down what was left of a wait."""
        name = str(record.get("id", "wait"))
        before = _get(record, "before", list, name)
        return Wait(
            name=name,
            after=frozenset(self._number(self.ops, op, "operation", name) for op in _get(record, "after", list, name)),
            before=frozenset(END if op == "end" else self._number(self.ops, op, "operation", name) for op in before),
            time=_count(record, "time", name),
            left=max(0, _count(record, "left", name, 0) - lead),
        )
