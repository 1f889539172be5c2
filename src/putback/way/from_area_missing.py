"""What a shop would have to get for a way to open: the smallest sets of things."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from putback.area.model import BACK, OUT, Area, Equipment
from putback.area.shop_file import Shop
from putback.area.state_file import State
from putback.way import from_area_shop as means
from putback.way.from_area_described import Chain, Description
from putback.way.from_area_moves import doable
from putback.way.from_area_reduce import can_hold
from putback.way.from_area_shop import Lack, Lacks
from putback.way.from_area_steps import Path, Step, all_steps

MOST = 4  # kinds of things; a way that lacks more is no advice

Chosen = tuple[Lack, ...]
Levels = dict[str, int]


@dataclass(frozen=True)
class Offer:
    """One way out of a step, and the sets of things of which one would have to be got for it."""

    step: Step
    path: Path
    lacks: Lacks

    def is_open(self, chosen: Chosen) -> bool:
        return any(_does_for(chosen, one) for one in self.lacks)


def _is_covered(lack: Lack, chosen: Chosen) -> bool:
    """Whether something that was got does for a lack: as many at least, rated as high at least."""
    return any(
        (one.kind, one.name) == (lack.kind, lack.name)
        and one.count >= lack.count
        and (one.rating or 0) >= (lack.rating or 0)
        for one in chosen
    )


class Missing:
    """What opens up in an area as a shop gets more things.

    `offers` are the ways of everything that may come off; `due` are the steps back of what is off already, each with
    its ways.

    Parameters
    ----------
    area : Area
    shop : Shop
    targets : names
    state : State or None
    avoid : names
        Parts that must not be opened.
    """

    def __init__(self, area: Area, shop: Shop, targets: Iterable[str], state: State | None, avoid: Iterable[str] = ()):
        self.described = Description(area, state, tuple(avoid))
        self.steps = all_steps(self.described)
        self.targets: list[Chain] = [chain for name in targets for chain in self.described.of_item.get(name, ())]
        offers = [[Offer(step, path, doable(path, step, area, shop)[1]) for path in step.paths] for step in self.steps]
        ways = list(zip(self.steps, offers, strict=True))
        self.offers = [one for step, found in ways if step.direction == OUT for one in found]
        self.due = [(step, found) for step, found in ways if step.direction == BACK and step.level <= step.chain.start]

    def levels(self, chosen: Chosen = ()) -> Levels:
        """How far each item can be taken with what was got, if nothing is needed twice at once."""
        levels = {name: chain.start for name, chain in self.described.chains.items()}
        able = [offer for offer in self.offers if offer.is_open(chosen)]
        growing = True
        while growing:
            ready = [offer.step for offer in able if self._is_next(offer, levels)]
            growing = bool(ready)
            for step in ready:
                levels[step.chain.name] = step.level
        return levels

    def _is_next(self, offer: Offer, levels: Levels) -> bool:
        return levels[offer.step.chain.name] == offer.step.level - 1 and can_hold(offer.path.needs, levels)

    def reaches(self, levels: Levels, chosen: Chosen = ()) -> bool:
        """Whether every target can be brought off the car, and what is off already can go back."""
        off = all(levels[chain.name] == chain.levels for chain in self.targets)
        return off and all(self.can_go_back(found, levels, chosen) for _, found in self.due)

    def can_go_back(self, offers: list[Offer], levels: Levels, chosen: Chosen = ()) -> bool:
        """Whether one of the ways of a step back is open, and what it takes out of the way can be."""
        return any(one.is_open(chosen) and can_hold(one.path.needs, levels) for one in offers)

    def sets(self, opens: Callable[[Levels, Chosen], bool]) -> Iterator[Chosen]:
        """The sets of things with which a test is passed, the smallest first, then by name; none does for another one.

        Every such set holds the lacks of some way that could be done now but for them: so it is enough to try those.
        """
        waiting: dict[int, set[Chosen]] = {0: {()}}
        found: list[Chosen] = []
        for size in range(MOST + 1):
            able = self._able(waiting, size, found, opens)
            found += [one for one in able if not any(other != one and _does_for(one, other) for other in able)]
            yield from (one for one in found if len(one) == size)

    def _able(self, waiting: dict[int, set[Chosen]], size: int, known: list[Chosen], opens) -> list[Chosen]:
        """The sets of a size that pass; what else they could lead to waits from then on."""
        able: list[Chosen] = []
        tried: set[Chosen] = set()
        while left := waiting.get(size, set()) - tried:  # a better thing in place of another makes a set no larger
            chosen = min(left, key=_by_names)
            tried.add(chosen)
            levels = self.levels(chosen)
            if any(_does_for(chosen, one) for one in (*known, *able)):
                continue
            if opens(levels, chosen):
                able.append(chosen)
                continue
            for more in self._next(levels, chosen):
                larger = together(chosen, more)
                waiting.setdefault(len(larger), set()).add(larger)
        return sorted(able, key=_by_names)

    def _next(self, levels: Levels, chosen: Chosen) -> Iterator[Chosen]:
        """What would have to be got for one more way."""
        for offer in self.offers:
            at = levels[offer.step.chain.name]
            if at >= offer.step.level - 1 and can_hold(offer.path.needs, levels) and not offer.is_open(chosen):
                yield from offer.lacks
        for _, found in self.due:
            yield from (lacks for offer in found if not offer.is_open(chosen) for lacks in offer.lacks)


def together(chosen: Chosen, more: Chosen) -> Chosen:
    """Two sets in one; of one thing the larger or the better one stays.

    Parameters
    ----------
    chosen, more : tuple of Lack
    """
    both = {*chosen, *more}
    return tuple(sorted((one for one in both if not _is_covered(one, tuple(both - {one}))), key=means.by_name))


def _does_for(chosen: Chosen, other: Chosen) -> bool:
    return all(_is_covered(lack, chosen) for lack in other)


def in_words(chosen: Chosen) -> str:
    """A set in words: one thing, another one and a third."""
    *others, last = map(str, chosen)
    return f"{', '.join(others)} and {last}" if others else last


def _by_names(chosen: Chosen) -> list[tuple]:
    return [means.by_name(lack) for lack in chosen]


def smallest_missing(
    area: Area, shop: Shop, targets: Iterable[str], state: State | None = None, *, avoid: Iterable[str] = ()
) -> list[Chosen]:
    """The smallest sets of things that would let every target be reached, in order of their names.

    Parameters
    ----------
    area, shop, targets, state, avoid
        As for `core_problem`.

    Returns
    -------
    sets : list of tuple of Lack
        All sets of the least size, none where even `MOST` kinds of things would not do. Only reaching is
        judged, not whether equipment is needed twice at once: :func:`putback.way.openings.openings` plans with them.
    """
    missing = Missing(area, shop, targets, state, avoid)
    sets = list(missing.sets(missing.reaches))
    return [one for one in sets if len(one) == len(sets[0])]


def having(shop: Shop, lacks: Iterable[Lack]) -> Shop:
    """The shop with some things that it lacks; a sublet without a known price is left out of the total."""
    for lack in lacks:
        match lack.kind:
            case means.TOOL:
                shop = shop.with_more(tools=[lack.name])
            case means.CERTIFICATE:
                shop = shop.with_more(certificates=[lack.name])
            case means.SERVICE:
                shop = shop.with_more(sublets=[lack.name])
            case _:
                shop = shop.with_more(equipment=[Equipment(lack.name, lack.count, lack.rating)])
    return shop
