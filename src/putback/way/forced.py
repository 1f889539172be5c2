"""A core problem narrowed to what somebody insists on: an operation done in certain ways, an item that comes off."""

from collections.abc import Iterable, Mapping
from typing import Any

Ways = Mapping[str, tuple[int, ...]]  # by operation, which of its ways are allowed
HELD = "off at the swap: "  # begins the ids of what is added; no operation of an area is called so


def force(core: Mapping[str, Any], ways: Ways = {}, off: Iterable[str] = ()) -> dict[str, Any]:
    """Allow only some ways of some operations, and insist that some items are off when the swap comes.

    Parameters
    ----------
    core : mapping
        A core problem, version 2.
    ways : mapping of str to tuple of int
        The ways that are left of an operation, counted from 0; those of other operations stay as they are.
    off : names of items
        They must stand at their last level before the first step back.

    Returns
    -------
    core : dict
        Its plans must go through :func:`restored` before they are plans of the old problem.
    """
    known = {swap["item"] for swap in core.get("swaps", ())}
    more = [{"id": HELD + item, "item": item, "ways": [{}]} for item in dict.fromkeys(off) if item not in known]
    return {
        **core,
        "ops": [_only(op, ways[op["id"]]) if op["id"] in ways else op for op in core["ops"]],
        "once": [once for one in core.get("once", ()) if (once := _renumbered(one, ways))["ops"]],
        "swaps": [*core.get("swaps", ()), *more],
    }


def _only(op: Mapping[str, Any], kept: tuple[int, ...]) -> dict[str, Any]:
    return {**op, "ways": [op["ways"][way] for way in kept]}


def _renumbered(once: Mapping[str, Any], ways: Ways) -> dict[str, Any]:
    """A once-only cost that names ways, by their new numbers."""
    named = []
    for op, *way in once["ops"]:
        if not way or op not in ways:
            named.append([op, *way])
        elif way[0] in ways[op]:
            named.append([op, ways[op].index(way[0])])
    return {**once, "ops": named}


def restored(plan: Iterable[list], ways: Ways = {}) -> list[list]:
    """A plan of a narrowed problem as one of the problem that it was narrowed from.

    Parameters
    ----------
    plan : steps as docs/core-problem.md describes them
    ways : mapping of str to tuple of int
        As they were given to :func:`force`.
    """
    return [
        [name, ways[name][way] if name in ways else way, where]
        for name, way, where in plan
        if not name.startswith(HELD)
    ]
