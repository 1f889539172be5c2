"""Leaves out what cannot matter: ways that can never be used, and items that no way to the goal needs."""

from putback.way.from_area_described import Chain
from putback.way.from_area_moves import Dropped, Move
from putback.way.from_area_reach import can_hold, highest


def reached(moves: list[Move], chains: dict[str, Chain]) -> dict[str, int]:
    """How far each item can be taken at best, if no need ever forbade what another one asks."""
    climbs = ((move.step.chain.name, move.step.level, [way.needs for way in move.ways]) for move in moves if move.out)
    return highest({name: chain.start for name, chain in chains.items()}, climbs)


def without_the_impossible(moves: list[Move], chains: dict[str, Chain]) -> tuple[list[Move], list[Dropped]]:
    """The moves with only those ways whose needs can be met, and what was dropped for that."""
    levels = reached(moves, chains)
    kept, dropped = [], []
    for move in moves:
        if move.step.level > levels[move.step.chain.name]:
            continue
        ways = [way for way in move.ways if can_hold(way.needs, levels)]
        for way in move.ways:
            if way not in ways and move.out:
                stuck = [name for name, (low, _) in way.needs.items() if levels[name] < low]
                reason = f"because {stuck[0]} cannot be {_state(chains[stuck[0]], way.needs[stuck[0]][0])}"
                dropped.append(Dropped(move.step, way.path.name, (), reason))
        kept.append(Move(move.id, move.step, ways, move.holds))
    return kept, dropped


def _state(chain: Chain, level: int) -> str:
    return chain.item.states[chain.stops[level][0]]


def relevant(moves: list[Move], chains: dict[str, Chain], wanted: list[str]) -> list[str]:
    """The items that a way to the goal may displace, and those that are displaced already, in the file's order."""
    by_chain: dict[str, list[Move]] = {}
    for move in moves:
        by_chain.setdefault(move.step.chain.name, []).append(move)
    queue = [*wanted, *(name for name, chain in chains.items() if chain.start > 0)]
    found = set(queue)
    while queue:
        for move in by_chain.get(queue.pop(), ()):
            for way in move.ways:
                for name, (low, _) in way.needs.items():
                    if low > 0 and name not in found:
                        found.add(name)
                        queue.append(name)
    return [name for name in chains if name in found]
