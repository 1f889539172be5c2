"""The battery goes back on last: no current before every plug and cable that was moved is on again.

Common practice, no source. What can only go on once the battery is back, such as the plug of a duct that lies over
it, is left out, so that nothing waits in a circle.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from putback.area.model import BACK, CABLE, FASTENERS, PLUG, Item
from putback.way.from_area_described import Chain, Description, Needs

if TYPE_CHECKING:
    from putback.way.from_area_steps import Step


def battery_last(described: Description, steps: list[Step]) -> None:
    """Let the battery's way back wait for plugs and cables, and for what holds those.

    Parameters
    ----------
    described : Description
    steps : list of Step
        All steps of the area; those of the battery are changed.
    """
    battery = described.area.battery
    chains = described.of_item.get(battery.name, []) if battery else []
    if not chains:
        return
    back = [step for step in steps if step.direction == BACK]
    later = _later(back, {chain.name for chain in chains}, described)
    wanted: Needs = {chain.name: (0, 0) for chain in _current(described) if chain.name not in later}
    for step in back:
        if step.chain in chains and step.area_level == step.chain.item.levels:
            for path in step.paths:
                path.needs = path.needs | wanted


def _current(described: Description) -> Iterator[Chain]:
    """What carries current."""
    for chain in described.chains.values():
        owner = described.owner(chain.item)
        if _carries_current(chain.item) or (owner and chain.item.kind == FASTENERS and _carries_current(owner)):
            yield chain


def _carries_current(item: Item) -> bool:
    return item.kind in (PLUG, CABLE)


def _later(back: list[Step], first: set[str], described: Description) -> set[str]:
    """The first chains, and all that may have to wait for one of them on the way back, however long the chain."""
    followers: dict[str, list[str]] = {}
    for step in back:
        for other, (low, high) in (need for path in step.paths for need in path.needs.items()):
            if high < described.chains[other].levels:
                followers.setdefault(other, []).append(step.chain.name)
            if low > 0:
                followers.setdefault(step.chain.name, []).append(other)
    found, new = set(first), list(first)
    while new:
        new = [name for one in new for name in dict.fromkeys(followers.get(one, ())) if name not in found]
        found.update(new)
    return found
