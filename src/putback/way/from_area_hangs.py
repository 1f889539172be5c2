"""Heavy parts whose last fastener may come out before their way out is open: such a part hangs on nothing.

The shop is not asked: what is found here can be mended in the description, for every shop.
"""

from collections.abc import Iterator

from putback.area.model import FASTENERS, OUT, PART, Area, Item
from putback.errors import Advice
from putback.way.from_area_described import Description, Needs
from putback.way.from_area_steps import AT_THE_BENCH, Path, Step, all_steps

HEAVY = 3  # kg; more than one hand holds above the head while the other works; common practice, no source


def advice(area: Area) -> list[Advice]:
    """What to say in the description so that no heavy part hangs on nothing."""
    heavy = [item for item in area.items.values() if _is_heavy(item) and not _is_secured(area, item)]
    return list(_advice(area, heavy)) if heavy else []


def _is_heavy(item: Item) -> bool:
    by_mass = item.mass is not None and item.mass >= HEAVY
    return item.kind == PART and (by_mass or "heavy" in [ref.name for ref in item.hazards])


def _is_secured(area: Area, item: Item) -> bool:
    return any(ref.name == item.name for other in area.items.values() for ref in other.secures)


def _advice(area: Area, heavy: list[Item]) -> Iterator[Advice]:
    described = Description(area, None)
    steps = [step for step in all_steps(described) if step.direction == OUT]
    forced = _forced(steps)
    for part in heavy:
        bolts = [path for step in steps if _carries(step, part) for path in step.paths]
        own = {chain.name for item in _belonging(described, part) for chain in described.of_item.get(item, ())}
        for path in _ways_out(steps, part) if bolts else ():
            opened = _opened(path.needs) - own
            if not any(opened <= _all(_opened(bolt.needs), forced) for bolt in bolts):
                yield _finding(part, sorted(opened, key=list(described.chains).index))
                break


def _carries(step: Step, part: Item) -> bool:
    """Whether a step takes out threaded fasteners that hold the part: a clip carries nothing heavy."""
    item = step.chain.item
    holds = item.owner == part.name or part.name in [ref.name for ref in item.holds]
    return holds and item.kind == FASTENERS and item.fastener.thread is not None and step.level == step.chain.levels


def _belonging(described: Description, part: Item) -> list[str]:
    own = [one.name for one in described.area.belonging_to(part.name)]
    return own + [ref.name for ref in described.held.get(part.name, ())]


def _ways_out(steps: list[Step], part: Item) -> list[Path]:
    """How the part itself leaves; at the bench it lies."""
    return [path for step in steps if step.chain.item is part for path in step.paths if path.name != AT_THE_BENCH]


def _opened(needs: Needs) -> set[str]:
    """What must be out of the way."""
    return {name for name, (low, _) in needs.items() if low > 0}


def _forced(steps: list[Step]) -> dict[str, set[str]]:
    """For each chain what must be out of the way for it whichever way is taken."""
    found: dict[str, set[str]] = {}
    for step in steps:
        if step.paths:
            every = set.intersection(*(_opened(path.needs) for path in step.paths))
            found.setdefault(step.chain.name, set()).update(every)
    return found


def _all(names: set[str], forced: dict[str, set[str]]) -> set[str]:
    """These, what they force, what that forces, and so on."""
    found, new = set(names), names
    while new:
        new = {other for name in new for other in forced.get(name, ())} - found
        found |= new
    return found


def _finding(part: Item, opened: list[str]) -> Advice:
    names = ", ".join(opened)
    return Advice(
        f'"{part.name}" is heavy, and its last fastener may come out before its way out is open ({names}), so that it '
        f'hangs on nothing meanwhile; give one of its fasteners a "reached" with behind: [{names}], or put something in '
        "that secures it",
        part.place,
    )
