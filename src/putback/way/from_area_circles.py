"""Needs that can never be met: circles of things that wait for each other, and needs that exclude each other.

The shop is not asked: what is found here is wrong with the description for every shop.
"""

from collections import deque
from collections.abc import Iterator

from putback.area.model import BACK, ON_THE_GROUND, OUT, Area, Item
from putback.errors import InputError
from putback.way.from_area_described import Chain, Description, Needs, merge
from putback.way.from_area_steps import Step, all_steps


def findings(area: Area) -> list[InputError]:
    """What can never be done in an area, each circle told once in plain words."""
    described = Description(area, None)
    steps = all_steps(described)
    found = list(_excluded(described, steps))
    levels = _reached(described, steps)
    found += _circles_out(described, steps, levels)
    if not found:
        found += _circles_back(described, steps)
    return found


def _excluded(described: Description, steps: list[Step]) -> Iterator[InputError]:
    """Moves whose needs exclude each other, or exclude the posture that they are done in."""
    standing = described.to_stand()
    for step in steps:
        chain = step.chain
        if step.excluded:
            words = "what must be out of the way for it and what must still be in place exclude each other"
            yield InputError(f'"{chain.name}" can never move: {words}', chain.item.place)
        elif step.paths and all(_never_stands(path.needs, path.postures, standing) for path in step.paths):
            words = "it is done on the ground, but needs something off without which the car cannot stand there"
            yield InputError(f'"{chain.name}" can never move: {words}', chain.item.place)


def _never_stands(found: Needs, postures: tuple[str, ...], standing: Needs) -> bool:
    return postures == (ON_THE_GROUND,) and merge(found, standing) is None


def _reached(described: Description, steps: list[Step]) -> dict[str, int]:
    """How far each item gets on the way out, limits left aside."""
    levels = dict.fromkeys(described.chains, 0)
    out = [step for step in steps if step.direction == OUT]
    growing = True
    while growing:
        growing = False
        for step in out:
            if levels[step.chain.name] == step.level - 1 and any(_met(path.needs, levels) for path in step.paths):
                levels[step.chain.name] = step.level
                growing = True
    return levels


def _met(found: Needs, levels: dict[str, int]) -> bool:
    return all(levels[name] >= low for name, (low, _) in found.items())


def _circles_out(described: Description, steps: list[Step], levels: dict[str, int]) -> Iterator[InputError]:
    waiting: dict[str, list[str]] = {}
    for step in steps:
        name = step.chain.name
        if step.direction == OUT and step.paths and levels[name] == step.level - 1:
            unmet = (other for path in step.paths for other, (low, _) in path.needs.items() if levels[other] < low)
            waiting[name] = list(dict.fromkeys(unmet))
    yield from _told(described, waiting, "")


def _circles_back(described: Description, steps: list[Step]) -> Iterator[InputError]:
    """Circles among what every way back asks for: this closed before that, that before this."""
    waiting: dict[str, list[str]] = {}
    for step in steps:
        if step.direction != BACK or not step.paths:
            continue
        for other, (low, high) in _in_every_path(step).items():
            if high < described.chains[other].levels:
                waiting.setdefault(_node(step.chain, step.level), []).append(_node(described.chains[other], high + 1))
            if low > 0:
                waiting.setdefault(_node(described.chains[other], low), []).append(_node(step.chain, step.level))
    for chain in described.chains.values():
        for level in range(1, chain.levels):
            waiting.setdefault(_node(chain, level), []).append(_node(chain, level + 1))
    yield from _told(described, waiting, "on the way back ")


def _in_every_path(step: Step) -> Needs:
    first, *others = (path.needs for path in step.paths)
    return {name: limits for name, limits in first.items() if all(one.get(name) == limits for one in others)}


def _node(chain: Chain, level: int) -> str:
    """A move back: its item's name, and the state it leaves where the item has several."""
    return chain.name if chain.levels == 1 else f"{chain.name} ({chain.item.states[level]})"


def _told(described: Description, waiting: dict[str, list[str]], where: str) -> Iterator[InputError]:
    """One finding for each circle; of circles that share something the shortest stands for all."""
    circles = [circle for name in waiting if (circle := _shortest_circle(waiting, name))]
    told: set[str] = set()
    for circle in sorted(circles, key=len):
        if told.isdisjoint(circle):
            told.update(circle)
            yield _finding(described, circle, where)


def _finding(described: Description, circle: list[str], where: str) -> InputError:
    items = [described.chains[name.split(" (")[0]].item for name in circle]
    pairs = zip(circle, items, [*circle[1:], circle[0]], strict=True)
    words = [f"{one} {'wait' if _is_many(item) else 'waits'} for {other}" for one, item, other in pairs]
    return InputError(f"{where}{', '.join(words)}: a circle that nothing can open", items[0].place)


def _is_many(item: Item) -> bool:
    return item.fastener is not None and item.fastener.count > 1


def _shortest_circle(waiting: dict[str, list[str]], start: str) -> list[str] | None:
    """The shortest way from a name back to itself along what it waits for."""
    before: dict[str, str] = {}
    queue = deque([start])
    while queue:
        name = queue.popleft()
        for other in waiting.get(name, ()):
            if other == start:
                circle = [name]
                while circle[0] != start:
                    circle.insert(0, before[circle[0]])
                return circle
            if other not in before:
                before[other] = name
                queue.append(other)
    return None
