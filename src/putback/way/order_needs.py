"""What each way of an operation needs of all items, the posture that it asks for included."""

from collections.abc import Iterator, Mapping
from itertools import product
from typing import Any

Levels = dict[str, int]
Needs = dict[str, tuple[int, int]]


def cases(core: Mapping[str, Any], op: Mapping[str, Any], way: int) -> list[Needs]:
    """The needs of one way of an operation: one set for every posture, or other setting, in which it may be done.

    Parameters
    ----------
    core : mapping
        The core problem that has the operation.
    op : mapping
    way : int
        Which of its ways, counted from 0.

    Returns
    -------
    needs : list of dict of str to (int, int)
        Any one of them will do; none where the operation itself forbids every posture that it asks for.
    """
    asked = op["ways"][way]
    own = {name: (low, high) for name, (low, high) in asked.get("needs", {}).items()}
    found = [own]
    for dim in core["dims"]:
        if "needs" in dim:
            values = asked.get("in", {}).get(dim["name"], dim["values"])
            settings = [dim["needs"].get(value, {}) for value in values]
            settings = settings if {} not in settings else [{}]
            found = [both for one, other in product(found, settings) if (both := _merged(one, other)) is not None]
    return [needs for one in found for needs in _without_itself(one, op)]


def _merged(one: Needs, other: Mapping[str, Any]) -> Needs | None:
    found = dict(one)
    for name, (low, high) in other.items():
        before = found.get(name, (low, high))
        found[name] = (max(low, before[0]), min(high, before[1]))
        if found[name][0] > found[name][1]:
            return None
    return found


def _without_itself(needs: Needs, op: Mapping[str, Any]) -> Iterator[Needs]:
    """What is left once the operation's own item stands as it should, both before and after."""
    low, high = needs.get(op["item"], (0, op["level"]))
    if low < op["level"] <= high:
        yield {name: limits for name, limits in needs.items() if name != op["item"]}
