"""Exact minutes and cents to whole numbers: units just fine enough that nothing is rounded."""

from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from putback.errors import InputError

FINEST = 10**9  # parts of a minute; beyond that the numbers of the file are at fault
_TIMES, _COSTS = ("time", "change", "left"), ("cost",)


@dataclass
class Draft:
    """A core problem whose times are minutes and whose costs are cents, both exact."""

    name: str
    rate: Fraction  # cents per hour
    dims: list[dict]
    pools: dict[str, int]
    items: dict[str, dict]
    ops: list[dict]
    swaps: list[dict]
    once: list[dict]
    waits: list[dict]
    fixed: list[dict]


def whole_numbers(draft: Draft, by: str) -> dict:
    """The draft in whole numbers: a time unit and a cost unit just fine enough for every figure to be exact.

    Parameters
    ----------
    draft : Draft
    by : "money" or "minutes"
        With "minutes" an hour costs nothing but its minutes, and what is bought costs nothing.

    Raises
    ------
    InputError
        The minutes would need parts finer than 1e-9 of one.
    """
    parts = {name: getattr(draft, name) for name in ("dims", "ops", "swaps", "once", "waits", "fixed")}
    times = list(_figures(parts, _TIMES))
    per_minute = lcm(*(time.denominator for time in times))
    if per_minute > FINEST:
        raise InputError("the minutes have too many different fractions to be counted exactly; give them as decimals")
    if by == "minutes":
        rate, per_cent = 1, None
    else:
        costs = [cost * 60 * per_minute for cost in _figures(parts, _COSTS)]
        finer = lcm(draft.rate.denominator, *(cost.denominator for cost in costs))
        rate, per_cent = int(draft.rate * finer), 60 * per_minute * finer
    scaled = {name: _scaled(value, per_minute, per_cent) for name, value in parts.items()}
    unit = {"time": _unit("min", per_minute), "cost": _unit("cent", per_cent) if per_cent else _unit("min", per_minute)}
    head = {"core": 2, "name": draft.name, "unit": unit, "rate": rate}
    return head | {"dims": scaled["dims"], "pools": draft.pools, "items": draft.items} | scaled


def _unit(name: str, parts: int) -> str:
    return name if parts == 1 else f"1/{parts} {name}"


def _figures(value, keys: tuple[str, ...], wanted: bool = False):
    """Every number that stands under one of some keys, however deep."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _figures(inner, keys, wanted or key in keys)
    elif isinstance(value, list):
        for inner in value:
            yield from _figures(inner, keys, wanted)
    elif wanted and isinstance(value, Fraction):
        yield value


def _scaled(value, per_minute: int, per_cent: int | None, key: str = ""):
    if isinstance(value, dict):
        return {name: _scaled(inner, per_minute, per_cent, name) for name, inner in value.items()}
    if isinstance(value, list):
        return [_scaled(inner, per_minute, per_cent, key) for inner in value]
    if not isinstance(value, Fraction):
        return value
    if key in _COSTS:
        return int(value * per_cent) if per_cent else 0
    return int(value * per_minute)
