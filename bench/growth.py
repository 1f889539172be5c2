"""How the planner's time grows: with the levels that a plan moves, and with the parts that are described."""

import json
from collections.abc import Callable, Sequence
from math import inf

from bench.figures import Table, middle, percent, seconds, whole
from bench.options import Options
from bench.planned import gap, planned, to_proof
from bench.shops import shop_with

SIZES = (10, 20, 30, 40, 45, 50, 60)
PARTS_FOR_SIZES = 40
PARTS = (10, 30, 100, 300, 1000)
MOVED_FOR_PARTS = 20

# The last column names the problem to look at: `shop_with(levels, parts, seed)`.
BY_LEVELS = (
    *("levels", "moved", "first plan", "worst", "proved", "in", "worst"),
    *("ended by", "gap %", "worst", "nodes", "worst", "slowest"),
)
BY_PARTS = ("parts", "moved", "operations", "read", "first plan", "proved", "in", "worst", "memory MB", "slowest")


def levels(options: Options, sizes: Sequence[int] = SIZES) -> None:
    """Growth by the levels that have to move; 40 parts are described."""
    title = f"levels: {options.seeds} problems of each size, {PARTS_FOR_SIZES} parts described; medians and worst"
    table = Table(f"{title}; seconds, told to stop after {options.think:g} s", BY_LEVELS, first=6)
    for size in sizes:
        found = _found(options, size, PARTS_FOR_SIZES)
        table.row([size, _span(found), *_pair(found, _first, seconds), *_proof(found, options), _slowest(found)])


def parts(options: Options, numbers: Sequence[int] = PARTS) -> None:
    """Growth by the parts described; about 20 levels move."""
    title = f"parts: {options.seeds} problems of each size, {MOVED_FOR_PARTS} levels forced to move; medians; seconds"
    table = Table(title, BY_PARTS, first=6)
    for number in numbers:
        found = _found(options, MOVED_FOR_PARTS, number)
        row = [*_medians(found, ("operations",), whole), *_medians(found, ("read", "first_seconds"), seconds)]
        proof = [_proved(found), *_pair(found, to_proof, lambda time: seconds(time, options.think))]
        table.row([number, _span(found), *row, *proof, *_medians(found, ("memory",), whole), _slowest(found)])


def _found(options: Options, moved: int, described: int) -> list[dict]:
    return [_planned(moved, described, seed, options) for seed in range(options.seeds)]


def _planned(moved: int, described: int, seed: int, options: Options) -> dict:
    core = shop_with(moved, described, seed)
    return planned(json.dumps(core), options) | {"seed": seed, "operations": len(core["ops"])}


def _pair(found: list[dict], figure: Callable, shown: Callable[[float], str]) -> list[str]:
    """Median and worst."""
    values = [figure(one) for one in found]
    return [shown(middle(values)), shown(max(values))]


def _medians(found: list[dict], names: Sequence[str], shown: Callable[[float], str]) -> list[str]:
    return [shown(middle(one[name] for one in found)) for name in names]


def _first(one: dict) -> float:
    return one["first_seconds"]


def _nodes(one: dict) -> float:
    """Nodes to the proof, the same on every machine; how far a search gets that is cut off is not."""
    return one["nodes"] if one["proved"] else inf


def _proof(found: list[dict], options: Options) -> list[str]:
    time = _pair(found, to_proof, lambda value: seconds(value, options.think))
    ended = seconds(max(one["seconds"] for one in found))  # a search may go on beyond its limit
    return [_proved(found), *time, ended, *_pair(found, gap, percent), *_pair(found, _nodes, whole)]


def _proved(found: list[dict]) -> str:
    return f"{sum(one['proved'] for one in found)} of {len(found)}"


def _span(found: list[dict]) -> str:
    moved = [one["moved"] for one in found]
    return f"{min(moved)}-{max(moved)}" if min(moved) < max(moved) else str(moved[0])


def _slowest(found: list[dict]) -> str:
    """The seed with the greatest gap, or else the longest proof."""
    return f"seed {max(found, key=lambda one: (gap(one), one['seconds']))['seed']}"
