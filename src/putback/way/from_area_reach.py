"""How far things can be taken out, if no need ever forbade what another one asks."""

from collections import deque
from collections.abc import Iterable

from putback.way.from_area_described import Needs

Climb = tuple[str, int, list[Needs]]  # a move out: its chain, the level it leads to, the needs of each of its ways


def highest(levels: dict[str, int], climbs: Iterable[Climb]) -> dict[str, int]:
    """The highest level of each chain that some order of moves out leads to.

    Parameters
    ----------
    levels : dict of str to int
        Where each chain stands; it is not changed.
    climbs : iterable of (str, int, list of needs)
        The moves out.
    """
    levels, climbs = dict(levels), list(climbs)
    asking = _asking(climbs)
    left = deque(climbs)
    while left:
        name, level, ways = left.popleft()
        if levels[name] == level - 1 and any(can_hold(needs, levels) for needs in ways):
            levels[name] = level
            left += asking[name]
    return levels


def can_hold(needs: Needs, levels: dict[str, int]) -> bool:
    """Whether everything that must be out of the way can be."""
    return all(levels[name] >= low for name, (low, _) in needs.items())


def _asking(climbs: list[Climb]) -> dict[str, list[Climb]]:
    """What to look at again once a chain has moved: its own next moves, and those that wait for it."""
    asking: dict[str, list[Climb]] = {}
    for climb in climbs:
        name, _, ways = climb
        for one in dict.fromkeys((name, *(other for needs in ways for other in needs))):
            asking.setdefault(one, []).append(climb)
    return asking
