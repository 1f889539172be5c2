"""The cheapest plan of a small core problem, found by looking at every state there is.

Uniform-cost search straight over the words of docs/core-problem.md: no bound, no pruning, nothing clever,
so that it can be believed. A state is all that the rest of the plan can depend on: the phase, the swaps done,
the levels, the context, what is left of every wait, and the once-only costs that fell due.
"""

import heapq
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import count, product
from typing import NamedTuple

GOING_IN, GOING_BACK, DONE = range(3)


@dataclass(frozen=True)
class Answer:
    """The least (total, changes) of a problem and a plan that has it."""

    total: int
    changes: int
    plan: list


class State(NamedTuple):
    phase: int
    swapped: frozenset
    levels: tuple
    context: tuple
    waits: tuple  # what is left of each
    due: frozenset


class Price(NamedTuple):
    """What is compared, in this order."""

    total: int
    changes: int


class TooLarge(Exception):
    """More states than the caller wants to look at."""


def solve(core: dict, most_states: int = 2_000_000) -> Answer | None:
    """The best plan of a core problem of either version; None where there is no way."""
    rules = _Rules(core if core.get("core") == 2 else _version_2(core))
    tie = count()
    queue = [(rules.start_price, next(tie), rules.start, None)]
    seen = set()
    while queue:
        price, _, state, trail = heapq.heappop(queue)
        if state.phase == DONE:
            return Answer(*price, _plan(core, trail))
        if state in seen:
            continue
        seen.add(state)
        if len(seen) > most_states:
            raise TooLarge(f"more than {most_states} states")
        for step, more, after in rules.moves(state):
            if after not in seen:
                total = Price(price.total + more.total, price.changes + more.changes)
                heapq.heappush(queue, (total, next(tie), after, (step, trail) if step else trail))
    return None


def _plan(core: dict, trail: tuple | None) -> list:
    steps = []
    while trail:
        step, trail = trail
        steps.append(step if core.get("core") == 2 else [*step[:2], step[2]["posture"]])
    return steps[::-1]


class _Rules:
    """The problem with its names turned into places, and the moves that lead from a state."""

    def __init__(self, core: dict):
        self.core = core
        self.rate = core["rate"]
        self.dims = core["dims"]
        self.dim_place = {dim["name"]: n for n, dim in enumerate(self.dims)}
        self.item_place = {name: n for n, name in enumerate(core["items"])}
        self.items = list(core["items"].values())
        self.swaps = core.get("swaps", [])
        self.waits = core.get("waits", [])
        self.targets = [name for swap in self.swaps for name in _targets(swap)]
        self._stands = cache(self._stands)
        self._can_change = cache(self._can_change)
        self._set_start()

    def _set_start(self) -> None:
        levels = tuple(item.get("start", 0) for item in self.items)
        context = tuple(dim["start"] for dim in self.dims)
        waits = tuple(wait.get("left", 0) for wait in self.waits)
        start = State(GOING_IN, frozenset(), levels, context, waits, frozenset())
        self.start_price, self.start = self._fixed(start, "before")

    def moves(self, state: State) -> Iterator[tuple]:
        """Everything that can be done next: (plan step or None, what it adds, state after it)."""
        if state.phase == GOING_BACK:
            yield from self._operations(state, "back")
            yield from self._finish(state)
            return
        if not state.swapped:
            yield from self._operations(state, "out")
        if len(state.swapped) < len(self.swaps):
            yield from self._swap_moves(state)
        else:
            yield None, *self._fixed(state._replace(phase=GOING_BACK), "swap")

    def _operations(self, state: State, direction: str) -> Iterator[tuple]:
        for op in self.core["ops"]:
            item, level = self.item_place[op["item"]], op["level"]
            before, after = (level - 1, level) if direction == "out" else (level, level - 1)
            if op["dir"] == direction and state.levels[item] == before:
                levels = (*state.levels[:item], after, *state.levels[item + 1 :])
                yield from self._ways(state, op, state._replace(levels=levels))

    def _swap_moves(self, state: State) -> Iterator[tuple]:
        if all(state.levels[self.item_place[name]] == self.core["items"][name]["levels"] for name in self.targets):
            for swap in self.swaps:
                if swap["id"] not in state.swapped:
                    yield from self._ways(state, swap, state._replace(swapped=state.swapped | {swap["id"]}))

    def _ways(self, state: State, op: dict, after: State) -> Iterator[tuple]:
        for index, way in enumerate(op["ways"]):
            if not self._holds(way.get("needs", {}), state.levels):
                continue
            named = way.get("in", {})
            choices = [named.get(dim["name"], dim["values"]) for dim in self.dims]
            uses = tuple(way.get("uses", {}).items())
            for context in product(*choices):
                if self._possible(state, after, context, uses):
                    yield self._done(state, after, op, index, context)

    def _possible(self, state: State, after: State, context: tuple, uses: tuple) -> bool:
        return (
            self._can_change(state.levels, state.context, context)
            and self._stands(state.levels, context, uses)
            and self._stands(after.levels, context, uses)
        )

    def _done(self, state: State, after: State, op: dict, index: int, context: tuple) -> tuple:
        way = op["ways"][index]
        changing, changes = self._change(state.context, context)
        work = op.get("time", 0) + way.get("time", 0)
        idle = max(0, self._left(state, op["id"]) - changing)
        time = changing + idle + work
        waits = tuple(
            wait["time"] if op["id"] in wait["after"] else max(0, left - time)
            for wait, left in zip(self.waits, state.waits, strict=True)
        )
        owed, due = self._owed(state, op["id"], index)
        total = self.rate * time + op.get("cost", 0) + way.get("cost", 0) + owed
        step = [op["id"], index, {dim["name"]: value for dim, value in zip(self.dims, context, strict=True)}]
        return step, Price(total, changes), after._replace(context=context, waits=waits, due=due)

    def _finish(self, state: State) -> Iterator[tuple]:
        goals = {name: item.get("goal", [0, 0]) for name, item in self.core["items"].items()}
        if self._holds(goals, state.levels):
            for context in product(*(dim.get("end") or dim["values"] for dim in self.dims)):
                if self._possible(state, state, context, ()):
                    yield None, *self._ended(state, context)

    def _ended(self, state: State, context: tuple) -> tuple[Price, State]:
        changing, changes = self._change(state.context, context)
        time = max(changing, self._left(state, "end"))
        price, last = self._fixed(state._replace(phase=DONE, context=context), "after")
        return Price(self.rate * time + price.total, changes), last

    # context

    def _cost(self, dim: dict, old: str, new: str) -> int:
        if old == new:
            return 0
        if isinstance(dim["change"], int):
            return dim["change"]
        return dim["change"][dim["values"].index(old)][dim["values"].index(new)]

    def _change(self, old: tuple, new: tuple) -> tuple[int, int]:
        """Time and number of the changes from one context to another."""
        pairs = [(dim, a, b) for dim, a, b in zip(self.dims, old, new, strict=True) if a != b]
        return sum(self._cost(*pair) for pair in pairs), len(pairs)

    def _can_change(self, levels: tuple, before: tuple, after: tuple) -> bool:
        if before == after:
            return True
        claims = self._claims(levels)
        for dim, old, new in zip(self.dims, before, after, strict=True):
            claims += _larger(dim.get("holds", {}).get(old, {}), dim.get("holds", {}).get(new, {}))
            if old != new:
                claims += dim.get("moving", {}).get(new, {}).items()
        return self._enough(claims)

    # conditions

    def _holds(self, ranges: dict, levels: tuple) -> bool:
        return all(low <= levels[self.item_place[name]] <= high for name, (low, high) in ranges.items())

    def _stands(self, levels: tuple, context: tuple, uses: tuple) -> bool:
        claims = [*self._claims(levels), *uses]
        for dim, value in zip(self.dims, context, strict=True):
            if not self._holds(dim.get("needs", {}).get(value, {}), levels):
                return False
            claims += dim.get("holds", {}).get(value, {}).items()
        return self._enough(claims)

    def _claims(self, levels: tuple) -> list[tuple[str, int]]:
        held = [item.get("holds", {}).get(str(level), {}) for item, level in zip(self.items, levels, strict=True)]
        return [claim for equipment in held for claim in equipment.items()]

    def _enough(self, claims: list[tuple[str, int]]) -> bool:
        pools = self.core.get("pools", {})
        return all(sum(n for p, n in claims if p == pool) <= pools.get(pool, 0) for pool, _ in claims)

    # time and money that follow from the rules

    def _left(self, state: State, name: str) -> int:
        """How long `name`, an id or the end, must still wait."""
        waits = zip(self.waits, state.waits, strict=True)
        return max((left for wait, left in waits if name in wait["before"]), default=0)

    def _fixed(self, state: State, moment: str) -> tuple[Price, State]:
        works = [work for work in self.core.get("fixed", []) if work["when"] == moment]
        time = sum(work.get("time", 0) for work in works)
        cost = sum(work.get("cost", 0) for work in works)
        waits = tuple(max(0, left - time) for left in state.waits)
        return Price(self.rate * time + cost, 0), state._replace(waits=waits)

    def _owed(self, state: State, name: str, index: int) -> tuple[int, frozenset]:
        """The once-only costs that this step is the first to cause, and all that are due after it."""
        new = [
            n for n, once in enumerate(self.core.get("once", []))
            if n not in state.due and ([name] in once["ops"] or [name, index] in once["ops"])
        ]  # fmt: skip
        owed = sum(min(map(self._price, self.core["once"][n]["offers"])) for n in new)
        return owed, state.due | frozenset(new)

    def _price(self, offer: dict) -> int:
        return self.rate * offer.get("time", 0) + offer.get("cost", 0)


def _targets(swap: dict) -> list[str]:
    return swap["item"] if isinstance(swap["item"], list) else [swap["item"]]


def _larger(one: dict, other: dict) -> list[tuple[str, int]]:
    return [(pool, max(one.get(pool, 0), other.get(pool, 0))) for pool in {**one, **other}]


def _version_2(core: dict) -> dict:
    """Version 1 in the words of version 2; its one swap names all targets at once."""
    dims = [
        {"name": dim, "values": core[f"{dim}s"], "start": core["start"][dim], "change": core["setup"][dim]}
        for dim in ("tool", "vantage", "posture")
    ]
    dims[2]["end"] = [core["end_posture"]]
    ops = [op | {"time": op["minutes"], "ways": [_way(alt) for alt in op["alts"]]} for op in core["ops"]]
    target = core["target"] if isinstance(core["target"], list) else [core["target"]]
    swap = {"id": "swap", "item": target, "time": core["swap"]["minutes"], "ways": [_way(core["swap"])]}
    items = {name: {"levels": levels} for name, levels in core["items"].items()}
    return {"rate": 1, "dims": dims, "items": items, "ops": ops, "swaps": [swap]}


def _way(alt: dict) -> dict:
    within = {"tool": [alt["tool"]], "vantage": [alt["vantage"]], "posture": alt["postures"]}
    return {"needs": alt.get("req", {}), "in": within, "cost": alt["extra"]}
