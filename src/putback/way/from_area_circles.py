"""Needs that can never be met: circles of things that wait for each other, and needs that exclude each other.

The shop is not asked: what is found here is wrong with the description for every shop.
"""

from collections import deque
from collections.abc import Iterator

from putback.area.model import BACK, ON_THE_GROUND, OUT, Area, Item
from putback.errors import InputError
from putback.way.from_area_described import Chain, Description, Needs, merge
from putback.way.from_area_reach import highest
from putback.way.from_area_steps import Step, all_steps


LONGEST = 8  # waits told of one circle
LOOKED_AT = 30  # names of one knot from which the shortest circle is looked for


def findings(area: Area) -> list[InputError]:
    """What can never be done in an area, each circle told once in plain words."""
    described = Description(area, None)
    steps = all_steps(described)
    found = list(_excluded(described, steps))
    out = ((step.chain.name, step.level, [path.needs for path in step.paths]) for step in steps if step.direction == OUT)
    levels = highest(dict.fromkeys(described.chains, 0), out)
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
    circles = [circle for name in _in_circles(waiting) if (circle := _shortest_circle(waiting, name))]
    told: set[str] = set()
    for circle in sorted(circles, key=len):
        if told.isdisjoint(circle):
            told.update(circle)
            yield _finding(described, circle, where)


def _finding(described: Description, circle: list[str], where: str) -> InputError:
    items = [described.chains[name.split(" (")[0]].item for name in circle]
    pairs = zip(circle, items, [*circle[1:], circle[0]], strict=True)
    words = [f"{one} {'wait' if _is_many(item) else 'waits'} for {other}" for one, item, other in pairs]
    if len(words) > LONGEST:
        words[LONGEST - 1 : -1] = [f"and so on over {len(words) - LONGEST} more"]
    return InputError(f"{where}{', '.join(words)}: a circle that nothing can open", items[0].place)


def _is_many(item: Item) -> bool:
    return item.fastener is not None and item.fastener.count > 1


def _in_circles(waiting: dict[str, list[str]]) -> list[str]:
    """Names to begin a circle from: of a knot of names that all lead to each other, no more than the first few."""
    return [name for knot in _knots(waiting) for name in knot[:LOOKED_AT]]


def _knots(waiting: dict[str, list[str]]) -> list[list[str]]:
    """The strongly connected parts of who waits for whom, those of one name alone left out unless it waits for itself.

    Tarjan's method, with a stack of its own: a chain of waiting may be thousands long.
    """
    number: dict[str, int] = {}
    lowest: dict[str, int] = {}
    open_: dict[str, None] = {}
    knots = []
    for start in waiting:
        walk = [] if start in number else [(start, iter(waiting[start]))]
        while walk:
            name, others = walk[-1]
            if name not in number:
                number[name] = lowest[name] = len(number)
                open_[name] = None
            for other in others:
                if other not in number:
                    walk.append((other, iter(waiting.get(other, ()))))
                    break
                if other in open_:
                    lowest[name] = min(lowest[name], number[other])
            else:
                walk.pop()
                if walk:
                    above = walk[-1][0]
                    lowest[above] = min(lowest[above], lowest[name])
                if lowest[name] == number[name]:
                    knots.append(_closed(open_, name))
    order = {name: place for place, name in enumerate(waiting)}
    knots = [sorted(knot, key=order.__getitem__) for knot in knots if len(knot) > 1 or knot[0] in waiting.get(knot[0], ())]
    return sorted(knots, key=lambda knot: order[knot[0]])


def _closed(open_: dict[str, None], name: str) -> list[str]:
    """Takes from the stack what lies above a name, and the name."""
    knot = []
    while not knot or knot[-1] != name:
        knot.append(open_.popitem()[0])
    return knot


def _shortest_circle(waiting: dict[str, list[str]], start: str) -> list[str] | None:
    """The shortest way from a name back to itself along what it waits for."""
    before: dict[str, str] = {}
    queue = deque([start])
    while queue:
        name = queue.popleft()
        for other in waiting.get(name, ()):
            if other == start:
                circle = [name]
                while circle[-1] != start:
                    circle.append(before[circle[-1]])
                return circle[::-1]
            if other not in before:
                before[other] = name
                queue.append(other)
    return None
