"""Reads a core problem for the replay: docs/core-problem.md, version 1 or 2, into plain records.

Whatever cannot be read is refused here, in one sentence that says where, so that the walk may trust
all it is given. Shared with nothing but the replay; the search reads for itself.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from putback.errors import InputError

PHASES = OUT, SWAP, BACK = "out", "swap", "back"
MOMENTS = BEFORE, AT_SWAP, AFTER = "before", "swap", "after"
END = "end"

Ranges = Mapping[str, tuple[int, int]]
Counts = Mapping[str, int]


@dataclass(frozen=True)
class Dim:
    name: str
    values: tuple[str, ...]
    start: str
    end: tuple[str, ...]  # the values that will do at the end; empty where any will
    change: Mapping[str, Mapping[str, int]]  # from, to
    needs: Mapping[str, Ranges]
    holds: Mapping[str, Counts]
    moving: Mapping[str, Counts]


@dataclass(frozen=True)
class Item:
    levels: int
    start: int
    goal: tuple[int, int]


@dataclass(frozen=True)
class Way:
    needs: Ranges
    within: Mapping[str, tuple[str, ...]]
    uses: Counts
    time: int
    cost: int


@dataclass(frozen=True)
class Move:
    """An operation or a swap; a swap moves nothing and its item says only what must be off."""

    id: str
    phase: str
    ways: tuple[Way, ...]
    time: int
    cost: int
    item: str | None = None
    before: int = 0
    after: int = 0


@dataclass(frozen=True)
class Due:
    ops: tuple[tuple[str, int | None], ...]
    offers: tuple[tuple[int, int], ...]  # time, cost

    def cheapest(self, rate: int) -> tuple[int, int]:
        return min(self.offers, key=lambda offer: rate * offer[0] + offer[1])


@dataclass(frozen=True)
class Wait:
    id: str
    after: tuple[str, ...]
    before: tuple[str, ...]
    time: int
    left: int


@dataclass(frozen=True)
class Fixed:
    when: str
    time: int
    cost: int


@dataclass
class Problem:
    rate: int
    posture_only: bool  # version 1: a step of a plan may name the posture alone
    dims: list[Dim] = field(default_factory=list)
    pools: Counts = field(default_factory=dict)
    items: dict[str, Item] = field(default_factory=dict)
    holders: dict[str, dict[int, Counts]] = field(default_factory=dict)  # items that keep equipment busy
    moves: dict[str, Move] = field(default_factory=dict)
    targets: list[str] = field(default_factory=list)
    once: list[Due] = field(default_factory=list)
    waits: list[Wait] = field(default_factory=list)
    fixed: list[Fixed] = field(default_factory=list)


# --- reading it ---------------------------------------------------------------------------------


def read(core: Any) -> Problem:
    """The core problem as records; InputError, in one sentence, for what cannot be read."""
    core = _is(core, dict, "core problem")
    version = core.get("core", 1)
    if version not in (1, 2):
        raise InputError(f'core problem: "core" must be 1 or 2, got {short(version)}')
    return _Reader(core if version == 2 else _as_version_2(core), version).problem


class _Reader:
    """Reads version 2 into a `Problem`, part by part: the later parts name the earlier ones."""

    def __init__(self, core: dict, version: int):
        self.core = core
        self.problem = Problem(_get(core, "rate", int, "core problem"), version == 1)
        self.problem.pools = _counts(core.get("pools", {}), '"pools"')
        self._read_items()
        self._read_dims()
        self._read_ops()
        self._read_swaps()
        self._read_rest()

    def _list(self, key: str) -> Iterable[tuple[dict, str]]:
        """The mappings of a list, each with the words that say where it stands."""
        for index, raw in enumerate(_get(self.core, key, list, "core problem", [])):
            yield _is(raw, dict, f"{key}[{index}]"), f"{key}[{index}]"

    def _read_items(self) -> None:
        for name, raw in _get(self.core, "items", dict, "core problem").items():
            where = f'item "{name}"'
            item = self.problem.items[name] = _item(_is(raw, dict, where), where)
            holds = _get(raw, "holds", dict, where, {}).items()
            held = {
                _level(key, item.levels, where): _counts(held, f'{where}: "holds"') for key, held in holds
            }
            if held:
                self.problem.holders[name] = held

    def _read_dims(self) -> None:
        for raw, where in self._list("dims"):
            self.problem.dims.append(self._dim(raw, where))
        _no_twins([dim.name for dim in self.problem.dims], "dims")
        self.values = {dim.name: dim.values for dim in self.problem.dims}

    def _dim(self, raw: dict, where: str) -> Dim:
        name = _get(raw, "name", str, where)
        where = f'dimension "{name}"'
        values = _texts(_get(raw, "values", list, where), f'{where}: "values"')
        _no_twins(values, f'{where}: "values"')
        needs = _by_value(raw, "needs", values, where)
        holds = _by_value(raw, "holds", values, where)
        moving = _by_value(raw, "moving", values, where)
        return Dim(
            name,
            values,
            _one_of(values, _get(raw, "start", str, where), f'{where}: "start"'),
            tuple(_one_of(values, value, f'{where}: "end"') for value in _get(raw, "end", list, where, [])),
            _changes(values, raw, where),
            {value: self._ranges(held, f'{where}: needs of "{value}"') for value, held in needs},
            {value: _counts(held, f'{where}: holds of "{value}"') for value, held in holds},
            {value: _counts(held, f'{where}: moving to "{value}"') for value, held in moving},
        )

    def _ranges(self, raw: Any, where: str) -> Ranges:
        return {
            _one_of(self.problem.items, name, where): _range(ends, f'{where}: range of "{name}"')
            for name, ends in _is(raw, dict, where).items()
        }

    def _read_ops(self) -> None:
        for raw, where in self._list("ops"):
            self._add_move(self._op(raw, where))
        moves = self.problem.moves.values()
        _no_twins([f"{move.item} from {move.before} to {move.after}" for move in moves], "ops")

    def _op(self, raw: dict, where: str) -> Move:
        name = _get(raw, "id", str, where)
        where = f'operation "{name}"'
        item = _one_of(self.problem.items, _get(raw, "item", str, where), f'{where}: "item"')
        phase = _one_of((OUT, BACK), _get(raw, "dir", str, where), f'{where}: "dir"')
        level = _get(raw, "level", int, where)
        if level == 0:
            raise InputError(f'{where}: "level" counts from 1, got 0')
        _up_to(self.problem.items[item].levels, level, f'{where}: "level"')
        before, after = (level - 1, level) if phase == OUT else (level, level - 1)
        return Move(name, phase, self._ways(raw, where), *_time_and_cost(raw, where), item, before, after)

    def _read_swaps(self) -> None:
        targets = []
        for raw, where in self._list("swaps"):
            name = _get(raw, "id", str, where)
            where = f'swap "{name}"'
            # version 1 has one swap for all its targets
            items = raw["items"] if self.problem.posture_only else [_get(raw, "item", str, where)]
            targets += [_one_of(self.problem.items, item, f'{where}: "item"') for item in items]
            ways = self._ways(raw, where)
            if any(way.needs for way in ways):
                raise InputError(f'{where}: the ways of a swap have no "needs"; leave them out')
            self._add_move(Move(name, SWAP, ways, *_time_and_cost(raw, where)))
        self.problem.targets = list(dict.fromkeys(targets))

    def _add_move(self, move: Move) -> None:
        if move.id in self.problem.moves or move.id == END:
            raise InputError(f'core problem: the id "{move.id}" is taken; give every step an id of its own')
        self.problem.moves[move.id] = move

    def _ways(self, raw: dict, where: str) -> tuple[Way, ...]:
        ways = _get(raw, "ways", list, where)
        return tuple(self._way(way, f"{where}, way {index}") for index, way in enumerate(ways))

    def _way(self, raw: Any, where: str) -> Way:
        needs = self._ranges(_get(_is(raw, dict, where), "needs", dict, where, {}), where)
        named = _get(raw, "in", dict, where, {}).items()
        within = {name: self._choice(name, values, where) for name, values in named}
        uses = _counts(raw.get("uses", {}), f'{where}: "uses"')
        return Way(needs, within, uses, *_time_and_cost(raw, where))

    def _choice(self, name: str, values: Any, where: str) -> tuple[str, ...]:
        known = self.values[_one_of(self.values, name, f'{where}: "in"')]
        where = f'{where}: "{name}"'
        return tuple(_one_of(known, value, where) for value in _is(values, list, where))

    def _read_rest(self) -> None:
        self.problem.once = [self._due(raw, where) for raw, where in self._list("once")]
        self.problem.waits = [self._wait(raw, where) for raw, where in self._list("waits")]
        self.problem.fixed = [_fixed(raw, where) for raw, where in self._list("fixed")]
        _no_twins([wait.id for wait in self.problem.waits], "waits")

    def _due(self, raw: dict, where: str) -> Due:
        offers = _get(raw, "offers", list, where)
        if not offers:
            raise InputError(f"{where}: offers nothing; give at least one offer")
        ops = tuple(self._once_op(op, f'{where}: "ops"') for op in _get(raw, "ops", list, where))
        return Due(ops, tuple(_time_and_cost(_is(offer, dict, where), where) for offer in offers))

    def _once_op(self, raw: Any, where: str) -> tuple[str, int | None]:
        if not _is(raw, list, where) or len(raw) > 2:
            raise InputError(f"{where} must list [id] or [id, way], got {short(raw)}")
        move = self.problem.moves[_one_of(self.problem.moves, raw[0], where)]
        if len(raw) == 1:
            return move.id, None
        return move.id, _up_to(len(move.ways) - 1, _is(raw[1], int, where), f'{where}: way of "{move.id}"')

    def _wait(self, raw: dict, where: str) -> Wait:
        moves = self.problem.moves
        after = [_one_of(moves, name, f'{where}: "after"') for name in _get(raw, "after", list, where)]
        before = _get(raw, "before", list, where)
        before = [_one_of((*moves, END), name, f'{where}: "before"') for name in before]
        time, left = _get(raw, "time", int, where), _get(raw, "left", int, where, 0)
        left = _up_to(time, left, f'{where}: "left"')
        return Wait(_get(raw, "id", str, where), tuple(after), tuple(before), time, left)


def _item(raw: dict, where: str) -> Item:
    levels = _get(raw, "levels", int, where)
    start = _up_to(levels, _get(raw, "start", int, where, 0), f'{where}: "start"')
    return Item(levels, start, _range(raw.get("goal", [0, 0]), f'{where}: "goal"'))


def _fixed(raw: dict, where: str) -> Fixed:
    when = _one_of(MOMENTS, _get(raw, "when", str, where), f'{where}: "when"')
    return Fixed(when, *_time_and_cost(raw, where))


def _by_value(raw: dict, key: str, values: tuple[str, ...], where: str) -> list[tuple[str, Any]]:
    """What a dimension says of each of its values under `key`."""
    return [
        (_one_of(values, value, f'{where}: "{key}"'), said)
        for value, said in _get(raw, key, dict, where, {}).items()
    ]


def _changes(values: tuple[str, ...], raw: dict, where: str) -> dict[str, dict[str, int]]:
    """The change table, from a table or from the one number that every change costs."""
    where = f'{where}: "change"'
    table = raw.get("change")
    if not isinstance(table, list):
        cost = _is(table, int, where)
        return {old: {new: 0 if new == old else cost for new in values} for old in values}
    if [len(_is(row, list, where)) for row in table] != [len(values)] * len(values):
        raise InputError(f"{where} must have a row for every value, each with {len(values)} numbers")
    if any(row[index] != 0 for index, row in enumerate(table)):
        raise InputError(f"{where} must have 0 where a value stays as it is")
    rows = [[_is(cost, int, where) for cost in row] for row in table]
    return {old: dict(zip(values, row, strict=True)) for old, row in zip(values, rows, strict=True)}


def _time_and_cost(raw: dict, where: str) -> tuple[int, int]:
    return _get(raw, "time", int, where, 0), _get(raw, "cost", int, where, 0)


# --- version 1 in the words of version 2 --------------------------------------------------------


def _as_version_2(core: dict) -> dict:
    where = "core problem"
    start, setup = _get(core, "start", dict, where), _get(core, "setup", dict, where)
    dims = [
        {
            "name": name,
            "values": _get(core, f"{name}s", list, where),
            "start": _get(start, name, str, '"start"'),
            "change": _get(setup, name, int, '"setup"'),
        }
        for name in ("tool", "vantage", "posture")
    ]
    dims[2]["end"] = [_get(core, "end_posture", str, where)]
    items = {name: {"levels": levels} for name, levels in _get(core, "items", dict, where).items()}
    ops = [_op_of_1(op, f"ops[{index}]") for index, op in enumerate(_get(core, "ops", list, where))]
    swap = _swap_of_1(_get(core, "swap", dict, where), core.get("target"))
    return {"rate": 1, "dims": dims, "items": items, "ops": ops, "swaps": [swap]}


def _op_of_1(op: Any, where: str) -> dict:
    minutes = _get(_is(op, dict, where), "minutes", int, where)
    alts = _get(op, "alts", list, where)
    alts = [_way_of_1(alt, f"{where}, alt {index}") for index, alt in enumerate(alts)]
    return {**op, "time": minutes, "cost": 0, "ways": alts}


def _way_of_1(alt: Any, where: str) -> dict:
    within = {
        "tool": [_get(_is(alt, dict, where), "tool", str, where)],
        "vantage": [_get(alt, "vantage", str, where)],
        "posture": _get(alt, "postures", list, where),
    }
    needs, extra = _get(alt, "req", dict, where, {}), _get(alt, "extra", int, where, 0)
    return {"needs": needs, "in": within, "cost": extra}


def _swap_of_1(swap: dict, target: Any) -> dict:
    items = [target] if isinstance(target, str) else _is(target, list, '"target"')
    minutes = _get(swap, "minutes", int, '"swap"')
    return {"id": SWAP, "items": items, "time": minutes, "ways": [_way_of_1(swap, '"swap"')]}


# --- single values, refused in one sentence when they will not do ---------------------------------

_KINDS = {int: "a whole number, 0 or more", str: "a text", list: "a list", dict: "a mapping"}
_REQUIRED = object()


def _is(value: Any, kind: type, where: str) -> Any:
    right = isinstance(value, kind) and not isinstance(value, bool)
    if not right or (kind is int and value < 0):
        raise InputError(f"{where} must be {_KINDS[kind]}, got {short(value)}")
    return value


def _get(raw: dict, key: str, kind: type, where: str, default: Any = _REQUIRED) -> Any:
    if key in raw:
        return _is(raw[key], kind, f'{where}: "{key}"')
    if default is _REQUIRED:
        raise InputError(f'{where}: "{key}" is missing; give {_KINDS[kind]}')
    return default


def _one_of(known: Iterable[str], name: Any, where: str) -> str:
    if not isinstance(name, str) or name not in known:
        listed = _cut(", ".join(map(short, known)) or "nothing")
        raise InputError(f"{where}: {short(name)} is not known; known here: {listed}")
    return name


def _up_to(highest: int, number: int, where: str) -> int:
    if number > highest:
        raise InputError(f"{where} must be at most {highest}, got {number}")
    return number


def _level(key: str, levels: int, where: str) -> int:
    if key not in map(str, range(levels + 1)):
        raise InputError(f'{where}: "holds" must name levels from "0" to "{levels}", got {short(key)}')
    return int(key)


def _range(ends: Any, where: str) -> tuple[int, int]:
    if not isinstance(ends, list) or len(ends) != 2:
        raise InputError(f"{where} must be [lowest, highest], got {short(ends)}")
    return _is(ends[0], int, where), _is(ends[1], int, where)


def _counts(raw: Any, where: str) -> Counts:
    return {pool: _is(number, int, f'{where}: "{pool}"') for pool, number in _is(raw, dict, where).items()}


def _texts(raw: list, where: str) -> tuple[str, ...]:
    return tuple(_is(text, str, where) for text in raw)


def _no_twins(names: Iterable, where: str) -> None:
    seen = set()
    for name in names:
        if name in seen:
            raise InputError(f"{where}: {short(name)} stands there twice; once is enough")
        seen.add(name)


def short(value: Any) -> str:
    """A value as it may stand in a sentence: whole when it is small, else its beginning."""
    return _cut(f'"{value}"' if isinstance(value, str) else repr(value))


def _cut(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:57]}..."
