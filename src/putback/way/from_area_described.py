"""An area in a certain state: what is there, and what its names ask for.

Here the description's needs become ranges of levels: what is out of the way, what is still in place, what
is closed again, and what the car needs to stand on its wheels.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from putback.area import needs
from putback.area.hazards import Hazard, hazards
from putback.area.model import PUT_IN, Area, Item, Manner, Ref
from putback.area.state_file import At, State
from putback.errors import InputError

MOST_COMBINED = 200  # ways of what one move waits for, taken together; five supports of two ways each have 32
Needs = dict[str, tuple[int, int]]


@dataclass(frozen=True)
class Chain:
    """An area's item as the core sees it; a thing put in by several ways is one chain for each way.

    `stops` are (level, pieces that have gone further): a group of which some are out has one stop more.
    """

    name: str
    item: Item
    way: Manner | None = None
    stops: tuple[tuple[int, int], ...] = ()
    start: int = 0

    @property
    def levels(self) -> int:
        return len(self.stops) - 1

    def at(self, level: int) -> int:
        """Where an area level stands in the chain."""
        return self.stops.index((level, 0))


def variants_of(area: Area, chosen: Iterable[str]) -> set[str]:
    """What a car is: of each set of variants the chosen one, and the first where none is chosen.

    Parameters
    ----------
    area : Area
    chosen : names of variants
    """
    chosen = set(chosen)
    return {next((one for one in values if one in chosen), values[0]) for values in area.variants.values()}


def present(area: Area, chosen: Iterable[str], absent: Iterable[str] = ()) -> dict[str, Item]:
    """What a car of some variants has of all that an area describes; with a part goes all that belongs to it.

    Parameters
    ----------
    area : Area
    chosen : names of variants
    absent : names of items
        Not fitted on this very car.
    """
    variants, gone = variants_of(area, chosen), set(absent)

    def there(item: Item | None) -> bool:
        if item is None:
            return True
        only = item.base.only
        if item.name in gone or (only and not any(ref.name in variants for ref in only)):
            return False
        return there(area.items.get(item.owner or ""))

    return {name: item for name, item in area.items.items() if there(item)}


class Description:
    """An area in a certain state."""

    def __init__(self, area: Area, state: State | None, avoid: tuple[str, ...] = ()):
        self.area = area
        self.state = state or State("", {}, {}, ())
        self.avoid = avoid
        self.variants = variants_of(area, self.state.variants)
        self.items = present(area, self.state.variants, self.state.absent)
        self.chains = {chain.name: chain for item in self.items.values() for chain in self._chains(item)}
        self.of_item: dict[str, list[Chain]] = {}
        for chain in self.chains.values():
            self.of_item.setdefault(chain.item.name, []).append(chain)
        self._known: dict[str, needs.Need] = {}
        self.secured = self._by_role("secures", "marks")
        self.covered = self._by_role("covers")
        self.held = self._by_role("holds")  # parts that a group of fasteners holds besides its owner

    # What is there

    def exists(self, only: tuple[Ref, ...]) -> bool:
        """Whether something is there on this variant of the car."""
        return not only or any(ref.name in self.variants for ref in only)

    def _chains(self, item: Item) -> Iterator[Chain]:
        at = self.state.at.get(item.name, At(0))
        if item.kind == PUT_IN and item.ways:
            for way in item.ways:
                if self.exists(way.only):
                    here = at if at.way in (None, way.name) else At(0)
                    yield _chain(f"{item.name} by {way.name}", item, way, here)
        else:
            yield _chain(item.name, item, None, at)

    def _by_role(self, *roles: str) -> dict[str, list[Ref]]:
        """What is secured, marked, covered or held as well, and by what."""
        found: dict[str, list[Ref]] = {}
        for item in self.items.values():
            for role in roles:
                for ref in getattr(item, role):
                    found.setdefault(ref.name, []).append(Ref(item.name, ref.place))
        return found

    # Needs

    def alternatives(self, refs: tuple[Ref, ...]) -> list[Needs]:
        """The needs that hold when everything named is out of the way; more than one where ways differ."""
        found: list[Needs] = [{}]
        for need in dict.fromkeys(self._found(ref) for ref in refs):
            choices = self._out_of_the_way(need)
            found = [merged for one in found for choice in choices if (merged := merge(one, choice)) is not None]
            if len(found) > MOST_COMBINED:
                words = f"what it waits for can be put in in more than {MOST_COMBINED} ways together; name one way, or fewer things"
                raise InputError(words, refs[0].place)
        return [one for one in found if not any(other != one and _implied(other, one) for other in found)]

    def _found(self, ref: Ref) -> needs.Need:
        if ref.name not in self._known:
            self._known[ref.name] = needs.find(self.area, ref)
        return self._known[ref.name]

    def _out_of_the_way(self, need: needs.Need) -> list[Needs]:
        if need.item not in self.items:
            return [{}]
        chains = [one for one in self.of_item.get(need.item, []) if need.way in (None, one.way and one.way.name)]
        covers = self.alternatives(tuple(self.covered.get(need.item, ())))
        return [
            merged
            for chain in chains
            for cover in covers
            if (merged := merge({chain.name: (chain.at(need.level), chain.levels)}, cover)) is not None
        ]

    def in_place(self, refs: tuple[Ref, ...]) -> Needs:
        """The needs that hold while everything named is still in place, or no further than the state named."""
        found: Needs = {}
        for ref in refs:
            need = needs.find(self.area, ref, still=True)
            for chain in self.of_item.get(need.item, []):
                found[chain.name] = (0, chain.at(need.level))
        return found

    def closed(self, refs: tuple[Ref, ...]) -> Needs:
        """The needs that hold once everything named is back, its fasteners tight."""
        names = [needs.find_item(self.area, ref).name for ref in refs]
        names += [one.name for name in names for one in self.area.belonging_to(name)]
        return {chain.name: (0, 0) for name in names for chain in self.of_item.get(name, [])}

    def to_stand(self) -> Needs:
        """What must be in place for the car to stand on its wheels, and what must not stand under it."""
        found: Needs = {}
        for ref in self.area.stands_on:
            part = needs.find_item(self.area, ref)
            for item in (part, *self.area.belonging_to(part.name)):
                for chain in self.of_item.get(item.name, ()):
                    found[chain.name] = (0, chain.levels - 1 if item.fastener else 0)
        for chain in self.chains.values():
            if chain.item.base.keeps_raised or (chain.way and chain.way.keeps_raised):
                found[chain.name] = (0, 0)
        return found

    def may_open(self, chain: Chain) -> bool:
        """Whether it may be opened at all: it is not said to be shut, nor to be avoided."""
        names = (chain.item.name, chain.item.owner)
        return chain.item.name not in self.state.shut and not any(name in self.avoid for name in names)

    @property
    def off_its_wheels(self) -> bool:
        """Whether the car is so far apart that it cannot stand on its wheels before everything is back."""
        return any(self.chains[name].start > high for name, (_, high) in self.to_stand().items())

    def owner(self, item: Item) -> Item | None:
        """The part that a fastener, plug or cable belongs to."""
        return self.area.items.get(item.owner) if item.owner else None

    def tags(self, item: Item) -> tuple[Hazard, ...]:
        """The hazards of an item, and of the part that it belongs to."""
        owner = self.owner(item)
        names = [ref.name for ref in (*(owner.hazards if owner else ()), *item.hazards)]
        return tuple(hazards()[name] for name in dict.fromkeys(names))


def merge(one: Needs, other: Needs) -> Needs | None:
    """Both needs at once; None if no state meets them."""
    merged = dict(one)
    for name, (low, high) in other.items():
        before = merged.get(name, (low, high))
        merged[name] = (max(low, before[0]), min(high, before[1]))
        if merged[name][0] > merged[name][1]:
            return None
    return merged


def _implied(one: Needs, other: Needs) -> bool:
    """Whether `one` holds whenever `other` does."""
    return all(
        name in other and limits[0] <= other[name][0] and other[name][1] <= limits[1] for name, limits in one.items()
    )


def _chain(name: str, item: Item, way: Manner | None, at: At) -> Chain:
    stops = [(level, 0) for level in range(item.levels + 1)]
    if at.done:
        stops.insert(at.level + 1, (at.level, at.done))
    return Chain(name, item, way, tuple(stops), stops.index((at.level, at.done)))
