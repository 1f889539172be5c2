"""From an area, a shop and a state to steps: every move of every item with all ways of doing it.

This is where the rules of the description become needs: what stands at a part binds its fasteners too,
what is put in must be in before the thing it secures is loosened, a hazard tag brings its own need.
Costs are still minutes and cents, and the shop is not asked yet.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from putback.area import needs
from putback.area.hazards import Hazard, hazards
from putback.area.model import (
    BACK,
    FASTENERS,
    MARKS,
    NO_TIME,
    ON_THE_GROUND,
    OUT,
    PART,
    POSTURES,
    PUT_IN,
    Area,
    Caution,
    Demand,
    Fluid,
    Item,
    Manner,
    NewPart,
    Ref,
    Risk,
    Spread,
    Stand,
)
from putback.area.state_file import At, State
from putback.way.from_area_minutes import over_levels, own_minutes, shares

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


@dataclass
class Path:
    """One way of doing a step, before the shop is asked."""

    name: str
    needs: Needs
    tools: tuple[tuple[str, ...], ...] = ()
    vantages: tuple[str, ...] = ()
    postures: tuple[str, ...] = ()  # empty: any
    turned: tuple[tuple[str, str], ...] = ()
    equipment: tuple[Demand, ...] = ()
    certificates: tuple[str, ...] = ()
    extra: Spread = NO_TIME
    risks: tuple[Risk, ...] = ()
    cautions: tuple[str, ...] = ()
    follow_ups: tuple[str, ...] = ()
    helper: Fraction | None = None


@dataclass
class Step:
    """A move of one chain by one level, with all its ways."""

    chain: Chain
    direction: str
    level: int
    minutes: Spread
    pieces: Fraction = Fraction(1)  # of the group: 4/7 when four of seven are moved
    risks: tuple[Risk, ...] = ()
    cautions: tuple[str, ...] = ()
    new_parts: tuple[NewPart, ...] = ()
    fluid: Fluid | None = None
    holds: tuple[Demand, ...] = ()  # what a thing put in keeps busy while it is in
    paths: list[Path] = field(default_factory=list)

    @property
    def area_level(self) -> int:
        """The area's level that the move leads to (out) or comes from (back)."""
        level, done = self.chain.stops[self.level]
        return level + bool(done)


class Description:
    """An area in a certain state, and what its rules make of every move."""

    def __init__(self, area: Area, state: State | None, avoid: tuple[str, ...] = ()):
        self.area = area
        self.state = state or State("", {}, {}, ())
        self.avoid = avoid
        self.variants = self._variants()
        self.items = {name: item for name, item in area.items.items() if self._present(item)}
        self.minutes = shares(area)
        self.chains = {chain.name: chain for item in self.items.values() for chain in self._chains(item)}
        self.of_item: dict[str, list[Chain]] = {}
        for chain in self.chains.values():
            self.of_item.setdefault(chain.item.name, []).append(chain)
        self._known: dict[str, needs.Need] = {}
        self.secured = self._by_role("secures", "marks")
        self.covered = self._by_role("covers")

    # What is there

    def _variants(self) -> set[str]:
        chosen = set(self.state.variants)
        return {next((one for one in values if one in chosen), values[0]) for values in self.area.variants.values()}

    def exists(self, only: tuple[Ref, ...]) -> bool:
        """Whether something is there on this variant of the car."""
        return not only or any(ref.name in self.variants for ref in only)

    def _present(self, item: Item) -> bool:
        owner = self.area.items.get(item.owner) if item.owner else None
        if item.name in self.state.absent or not self.exists(item.base.only):
            return False
        return owner is None or self._present(owner)

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
        """What is secured, marked or covered, and by what."""
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

    # Steps

    def steps(self) -> Iterator[Step]:
        """Every move that can be thought of, in the order of the file: out by level, then back."""
        for chain in self.chains.values():
            for level in range(1, chain.levels + 1):
                if self._may_open(chain, level):
                    yield self._step(chain, OUT, level)
            for level in range(chain.levels, 0, -1):
                if chain.item.kind != MARKS:
                    yield self._step(chain, BACK, level)

    def _may_open(self, chain: Chain, level: int) -> bool:
        names = (chain.item.name, chain.item.owner)
        shut = chain.item.name in self.state.shut or any(name in self.avoid for name in names)
        return not shut or level <= chain.start

    def _step(self, chain: Chain, direction: str, level: int) -> Step:
        item = chain.item
        step = Step(chain, direction, level, NO_TIME, self._pieces(chain, level))
        index = step.area_level - 1 if direction == OUT else item.levels - step.area_level
        step.minutes = over_levels(self._minutes_of(chain, direction), item)[index].times(step.pieces)
        step.cautions = self._cautions(item, direction)
        if self._is_first_touch(step):
            step.risks = tuple(risk for risk in item.base.risks if risk.direction == direction)
        step.new_parts = self._new_parts(step)
        if direction == BACK and step.area_level == item.levels:
            step.fluid = item.loses
        if item.kind == PUT_IN:
            step.holds = item.base.equipment + (chain.way.equipment if chain.way else ())
        step.paths = list(self._paths(step))
        return step

    def _minutes_of(self, chain: Chain, direction: str) -> Spread:
        if chain.way is not None and chain.way.minutes is not None:
            return chain.way.minutes.towards(direction)
        return self.minutes[chain.item.name].towards(direction)

    def _pieces(self, chain: Chain, level: int) -> Fraction:
        if chain.item.fastener is None:
            return Fraction(1)
        (below, done_below), (above, done_above) = chain.stops[level - 1], chain.stops[level]
        count = chain.item.fastener.count
        return Fraction((above - below) * count + done_above - done_below, count)

    def _is_first_touch(self, step: Step) -> bool:
        """Whether this is the move that a risk belongs to: the first undoing, or the last tightening."""
        return step.level == (1 if step.chain.item.kind == FASTENERS else step.chain.levels)

    def _new_parts(self, step: Step) -> tuple[NewPart, ...]:
        """What is used up: it is paid where it goes in, so that a job half done still pays for it."""
        item = step.chain.item
        if step.direction == OUT or step.area_level != item.levels:
            return ()
        fastener = item.fastener
        if fastener is None or not fastener.one_time:
            return item.new_parts
        count = int(step.pieces * fastener.count)
        return (*item.new_parts, NewPart(item.name, fastener.price or Fraction(0), count))

    def _cautions(self, item: Item, direction: str) -> tuple[str, ...]:
        owner = self.area.items.get(item.owner) if item.owner else None
        said = [caution for tag in self.tags(item) for caution in tag.cautions]
        said += owner.base.cautions if owner else ()
        said += item.base.cautions
        return _texts(said, direction)

    def tags(self, item: Item) -> tuple[Hazard, ...]:
        """The hazards of an item, and of the part that it belongs to."""
        owner = self.area.items.get(item.owner) if item.owner else None
        names = [ref.name for ref in (*(owner.hazards if owner else ()), *item.hazards)]
        return tuple(hazards()[name] for name in dict.fromkeys(names))

    # Ways

    def _paths(self, step: Step) -> Iterator[Path]:
        for manner in self._manners(step):
            if not self.exists(manner.only):
                continue
            rules = self._needs(step, manner)
            for alternative in rules:
                name = manner.name if len(rules) == 1 else self._name(manner, alternative)
                for stand in self._stands(step, manner):
                    yield self._path(step, manner, name, alternative, stand)

    def _name(self, manner: Manner, alternative: Needs) -> str:
        """What tells one way from the others where they differ in how something was put in."""
        by = [self.chains[name].name for name, (low, _) in alternative.items() if low and self.chains[name].way]
        return ", ".join(([manner.name] if manner.name else []) + by)

    def _manners(self, step: Step) -> tuple[Manner, ...]:
        """The alternatives for a move: those of the item for its furthest move, one plain way else."""
        item, chain = step.chain.item, step.chain
        if chain.way is not None:
            return (chain.way,)
        ways = item.ways or (Manner(),)
        if item.kind == PART and step.area_level < item.levels:
            ways = (Manner(),)
        bench = self._bench(item)
        return (*ways, bench) if bench is not None else ways

    def _bench(self, item: Item) -> Manner | None:
        """How it is done at the bench, for what rides on a part that may be off the car."""
        rides = self._carrier(item)
        if rides is None:
            return None
        bench = self._rider(item).bench or Manner()
        stand = bench.stand or Stand((Ref("bench", rides.place),))
        return Manner("at the bench", rides.place, bench.behind, stand=stand, tools=bench.tools, minutes=bench.minutes)

    def _rider(self, item: Item) -> Item:
        owner = self.area.items.get(item.owner) if item.owner else None
        return owner if item.rides_on is None and owner is not None else item

    def _carrier(self, item: Item) -> Ref | None:
        carrier = self._rider(item).rides_on
        return carrier if carrier is not None and carrier.name in self.items else None

    def _needs(self, step: Step, manner: Manner) -> list[Needs]:
        """What must hold for a move done in some manner; alternatives where something can be put in two ways."""
        item, direction = step.chain.item, step.direction
        refs = self._behind(step, manner)
        found = self.alternatives(refs)
        limits: Needs = {}
        if direction == OUT:
            limits |= self.in_place(manner.still + item.base.still)
        if item.fastener is not None and step.area_level == 1:
            limits |= self.in_place(item.loosen_while)
        if direction == BACK and step.area_level == 1:
            limits |= self.closed(item.tighten_after)
        carrier = self._carrier(item)
        if carrier is not None and manner.name != "at the bench":
            limits |= self.in_place((carrier,))
        return [merged for one in found if (merged := merge(one, limits)) is not None]

    def _behind(self, step: Step, manner: Manner) -> tuple[Ref, ...]:
        item = step.chain.item
        if self._on_the_ground(step):
            return manner.behind
        if manner.name == "at the bench":
            return (*manner.behind, self._carrier(item), *self._own(item))
        loose_only = item.levels == 2 and step.area_level == 1
        owner = self.area.items.get(item.owner) if item.owner and not loose_only else None
        refs = (owner.base.behind if owner else ()) + item.base.behind + manner.behind + self._own(item)
        refs += tuple(Ref(ref.name, item.place) for ref in item.covers)
        return refs + self._guards(item) + self._of_hazards(item)

    def _own(self, item: Item) -> tuple[Ref, ...]:
        """What holds a part: it is out before the part moves, and still out when the part comes back."""
        own = [one.name for one in self.area.belonging_to(item.name)]
        own += [one.name for one in self.items.values() if any(ref.name == item.name for ref in one.holds)]
        return tuple(Ref(name, item.place) for name in own)

    def _guards(self, item: Item) -> tuple[Ref, ...]:
        """What must be put in or marked before this item, or the part that it fastens, may be opened."""
        names = [item.name] + ([item.owner] if item.kind == FASTENERS and item.owner else [])
        return tuple(ref for name in names for ref in self.secured.get(name, ()))

    def _of_hazards(self, item: Item) -> tuple[Ref, ...]:
        battery = self.area.battery
        asked = any(tag.needs == "battery" for tag in self.tags(item))
        return (battery,) if asked and battery is not None and battery.name not in (item.name, item.owner) else ()

    def _on_the_ground(self, step: Step) -> bool:
        fastener = step.chain.item.fastener
        return fastener is not None and fastener.on_the_ground and step.area_level == 1

    def _stands(self, step: Step, manner: Manner) -> Iterator[tuple[tuple[str, ...], tuple[str, ...], tuple]]:
        """Vantages, postures and settings: one entry for each posture that some of the vantages want."""
        item = step.chain.item
        owner = self.area.items.get(item.owner) if item.owner else None
        stand = manner.stand or item.base.stand or (owner.base.stand if owner else None) or Stand(())
        groups: dict[tuple[str, ...], list[str]] = {}
        for ref in stand.vantages:
            wanted = self.area.vantages[ref.name]
            if self._on_the_ground(step):
                wanted = (ON_THE_GROUND,)
            elif stand.posture is not None:
                wanted = POSTURES[stand.posture]
            groups.setdefault(wanted, []).append(ref.name)
        for wanted, vantages in (groups or {(): []}).items():
            yield tuple(vantages), wanted, stand.turned

    def _path(self, step: Step, manner: Manner, name: str, found: Needs, stand: tuple) -> Path:
        item = step.chain.item
        vantages, postures, turned = stand
        tags = self.tags(item)
        path = Path(name, _without_self(found, step.chain), vantages=vantages, postures=postures, turned=turned)
        path.tools = manner.tools or item.base.tools
        path.certificates = self._certificates(item, manner)
        path.equipment = tuple(one for tag in tags for one in tag.equipment)
        if item.kind != PUT_IN and self._uses_equipment(step):
            path.equipment += item.base.equipment + manner.equipment
        path.extra = self._extra(step, manner)
        path.risks = tuple(risk for risk in manner.risks if risk.direction == step.direction)
        path.cautions = _texts(manner.cautions, step.direction)
        if step.direction == OUT and self._is_first_touch(step):
            path.follow_ups = tuple(ref.name for ref in item.base.follow_ups + manner.follow_ups)
            path.helper = manner.helper or item.base.helper
        return path

    def _uses_equipment(self, step: Step) -> bool:
        """Where a group is broken loose first, what is used is used for that and for the final tightening."""
        return step.chain.item.levels == 1 or step.area_level == 1

    def _certificates(self, item: Item, manner: Manner) -> tuple[str, ...]:
        owner = self.area.items.get(item.owner) if item.owner else None
        named = (owner.base.certificates if owner else ()) + item.base.certificates + manner.certificates
        return tuple(dict.fromkeys(named + tuple(name for tag in self.tags(item) for name in tag.certificates)))

    def _extra(self, step: Step, manner: Manner) -> Spread:
        base = own_minutes(step.chain.item)
        if manner.minutes is None or base is None or step.chain.way is not None:
            return NO_TIME
        return manner.minutes.towards(step.direction) - base.towards(step.direction)


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


def _without_self(found: Needs, chain: Chain) -> Needs:
    return {name: limits for name, limits in found.items() if name != chain.name}


def _texts(cautions: list[Caution] | tuple[Caution, ...], direction: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.text for one in cautions if one.direction in (None, direction)))
