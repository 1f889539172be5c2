"""From a described area to steps: every move of every item with all ways of doing it.

This is where the rules of the description become needs: what stands at a part binds its fasteners too,
what is put in must be in before the thing it secures is loosened, a hazard tag brings its own need.
Costs are still minutes and cents, and the shop is not asked yet.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction

from putback.area.model import (
    BACK,
    FASTENERS,
    MARKS,
    NO_TIME,
    ON_A_LIFT,
    ON_STANDS,
    ON_THE_GROUND,
    OUT,
    PART,
    POSTURES,
    PUT_IN,
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
from putback.errors import InputError
from putback.way.from_area_battery import battery_last
from putback.way.from_area_described import Chain, Description, Needs, merge
from putback.way.from_area_minutes import over_levels, own_minutes, shares

MOST_WAYS = 50_000  # of all moves together; a thorough area has some hundred
AT_THE_BENCH = "at the bench"
_OF_THE_PART_ALONE = {"equipment": (), "risks": (), "follow_ups": (), "helper": None}
# Common practice, no source.
IN_THE_AIR = (
    "the car is off its wheels already: hold the brake, and pull on no long bar while it is raised; "
    "if it does not give, refit the wheel and lower the car for it"
)


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
    of_parts: tuple[tuple[str, str], ...] = ()  # of these: each part that is moved or opened, and its word
    new_parts: tuple[NewPart, ...] = ()
    fluid: Fluid | None = None
    holds: tuple[Demand, ...] = ()  # what a thing put in keeps busy while it is in
    paths: list[Path] = field(default_factory=list)
    excluded: bool = False  # there is a manner for it, but its needs exclude each other

    @property
    def area_level(self) -> int:
        """The area's level that the move leads to (out) or comes from (back)."""
        level, done = self.chain.stops[self.level]
        return level + bool(done)


def all_steps(described: Description) -> list[Step]:
    """Every move that can still be made, in the order of the file: out by level, then back."""
    steps, paths = [], 0
    for step in _Steps(described).all():
        steps.append(step)
        paths += len(step.paths)
        if paths > MOST_WAYS:
            raise InputError(f"the description has more than {MOST_WAYS} ways in all; name fewer", step.chain.item.place)
    battery_last(described, steps)
    return steps


class _Steps:
    """Makes the steps of one described area."""

    def __init__(self, described: Description):
        self.described = described
        self.minutes = shares(described.area)

    def all(self) -> Iterator[Step]:
        for chain in self.described.chains.values():
            for level in range(chain.start + 1, chain.levels + 1):
                if self.described.may_open(chain):
                    yield self._step(chain, OUT, level)
            for level in range(chain.levels, 0, -1):
                if chain.item.kind != MARKS:
                    yield self._step(chain, BACK, level)

    def _step(self, chain: Chain, direction: str, level: int) -> Step:
        item = chain.item
        step = Step(chain, direction, level, NO_TIME, self._pieces(chain, level))
        index = step.area_level - 1 if direction == OUT else item.levels - step.area_level
        step.minutes = over_levels(self._minutes_of(chain, direction), item)[index].times(step.pieces)
        step.of_parts = tuple(self._of_parts(step))
        step.cautions = self._cautions(step)
        if self._is_first_touch(step):
            step.risks = tuple(risk for risk in item.base.risks if risk.direction == direction)
        step.new_parts = self._new_parts(step)
        if direction == BACK and step.area_level == item.levels:
            step.fluid = item.loses
        if item.kind == PUT_IN:
            step.holds = item.base.equipment + (chain.way.equipment if chain.way else ())
        step.paths = list(self._paths(step))
        step.excluded = not step.paths and any(self.described.exists(one.only) for one in self._manners(step))
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

    def _cautions(self, step: Step) -> tuple[str, ...]:
        """Tags that endanger whoever touches it, what the parts say that it moves or opens, and its own words.

        A group that is broken loose first has its words there and at the final tightening.
        """
        item = step.chain.item
        named = [ref.name for ref in item.hazards]
        tags = [tag for tag in self.described.tags(item) if not tag.carried or tag.name in named]
        said = [caution for tag in tags for caution in tag.cautions]
        own = item.base.cautions if item.levels == 1 or step.area_level == 1 else ()
        texts = (*_texts(said, step.direction), *(text for _, text in step.of_parts), *_texts(own, step.direction))
        return tuple(dict.fromkeys(texts))

    def _of_parts(self, step: Step) -> Iterator[tuple[str, str]]:
        """What is said of the parts that a step moves, or whose fasteners it takes out or puts back."""
        for part in self._moved_or_opened(step):
            own = [ref.name for ref in part.hazards]
            tags = [tag for tag in self.described.tags(part) if tag.carried and tag.name in own]
            said = [caution for tag in tags for caution in tag.cautions] + list(part.base.cautions)
            yield from ((part.name, text) for text in _texts(said, step.direction))

    def _moved_or_opened(self, step: Step) -> list[Item]:
        item = step.chain.item
        if item.kind != FASTENERS:
            return [item]
        if step.direction == OUT and step.area_level < item.levels:
            return []
        names = [item.owner, *(ref.name for ref in item.holds)]
        return [self.described.items[name] for name in names if name in self.described.items]

    # Ways

    def _paths(self, step: Step) -> Iterator[Path]:
        for manner in self._manners(step):
            if not self.described.exists(manner.only):
                continue
            found = self._needs(step, manner)
            for alternative in found:
                name = manner.name if len(found) == 1 else self._name(manner, alternative)
                for stand in self._stands(step, manner):
                    yield self._path(step, manner, name, alternative, stand)

    def _name(self, manner: Manner, alternative: Needs) -> str:
        """What tells one way from the others where they differ in how something was put in."""
        chains = self.described.chains
        by = [name for name, (low, _) in alternative.items() if low and chains[name].way]
        return ", ".join(([manner.name] if manner.name else []) + by)

    def _manners(self, step: Step) -> tuple[Manner, ...]:
        """The alternatives for a move: those of the item for its furthest move, one plain way else."""
        item, chain = step.chain.item, step.chain
        if chain.way is not None:
            return (chain.way,)
        ways = item.ways or (Manner(),)
        if item.kind == PART and step.area_level < item.levels:
            ways = (Manner(),)
        bench = None if self._on_the_ground(step) else self._bench(item)
        return (*ways, bench) if bench is not None else ways

    def _bench(self, item: Item) -> Manner | None:
        """How it is done at the bench, for what rides on a part that may be off the car.

        Equipment, risks, follow-ups and a second person are for the part's own move, not for what holds it.
        """
        rides = self._carrier(item)
        if rides is None:
            return None
        bench = self._rider(item).bench or Manner()
        stand = bench.stand or Stand((Ref("bench", rides.place),))
        found = replace(bench, name=AT_THE_BENCH, place=rides.place, stand=stand)
        return found if item is self._rider(item) else replace(found, **_OF_THE_PART_ALONE)

    def _rider(self, item: Item) -> Item:
        owner = self.described.owner(item)
        return owner if item.rides_on is None and owner is not None else item

    def _carrier(self, item: Item) -> Ref | None:
        carrier = self._rider(item).rides_on
        return carrier if carrier is not None and carrier.name in self.described.items else None

    def _needs(self, step: Step, manner: Manner) -> list[Needs]:
        """What must hold for a move done in some manner; alternatives where something can be put in two ways."""
        item, direction = step.chain.item, step.direction
        refs = self._behind(step, manner)
        found = self.described.alternatives(refs)
        limits: Needs = {}
        if direction == OUT:
            limits |= self.described.in_place(manner.still + item.base.still)
        if item.fastener is not None and step.area_level == 1 and not self._is_in_the_air(step):
            limits |= self.described.in_place(item.loosen_while)
        if direction == BACK and step.area_level == 1:
            limits |= self.described.closed(item.tighten_after)
            limits |= self._secure_again(item)
        carrier = self._carrier(item)
        if carrier is not None and manner.name != AT_THE_BENCH:
            limits |= self.described.in_place((carrier,))
        return [merged for one in found if (merged := merge(one, limits)) is not None]

    def _behind(self, step: Step, manner: Manner) -> tuple[Ref, ...]:
        item = step.chain.item
        if self._on_the_ground(step):
            return manner.behind
        if manner.name == AT_THE_BENCH:
            return (*manner.behind, self._carrier(item), *self._own(item))
        loose_only = item.levels == 2 and step.area_level == 1
        owner = None if loose_only else self.described.owner(item)
        refs = (owner.base.behind if owner else ()) + item.base.behind + manner.behind + self._own(item)
        refs += tuple(Ref(ref.name, item.place) for ref in item.covers)
        return refs + self._guards(item) + self._of_hazards(item)

    def _own(self, item: Item) -> tuple[Ref, ...]:
        """What holds a part: it is out before the part moves, and still out when the part comes back."""
        own = [one.name for one in self.described.area.belonging_to(item.name)]
        own += [ref.name for ref in self.described.held.get(item.name, ())]
        return tuple(Ref(name, item.place) for name in own)

    def _guards(self, item: Item) -> tuple[Ref, ...]:
        """What must be put in or marked before this item, or the part that it fastens, may be opened."""
        names = [item.name] + ([item.owner] if item.kind == FASTENERS and item.owner else [])
        return tuple(ref for name in names for ref in self.described.secured.get(name, ()))

    def _secure_again(self, item: Item) -> Needs:
        """What a support secures is back and tight before the support may come out, whatever the goal.

        Fasteners that are finally tightened on the ground are run in: the support may be what keeps the car up.
        """
        if not item.secures:
            return {}
        secured = {ref.name for ref in item.secures}
        return {
            chain.name: (0, chain.at(1) if chain.item.fastener and chain.item.fastener.on_the_ground else 0)
            for chain in self.described.chains.values()
            if chain.item.name in secured or (chain.item.kind == FASTENERS and chain.item.owner in secured)
        }

    def _of_hazards(self, item: Item) -> tuple[Ref, ...]:
        battery = self.described.area.battery
        asked = any(tag.needs == "battery" for tag in self.described.tags(item))
        return (battery,) if asked and battery is not None and battery.name not in (item.name, item.owner) else ()

    def _on_the_ground(self, step: Step) -> bool:
        fastener = step.chain.item.fastener
        return fastener is not None and fastener.on_the_ground and step.area_level == 1

    def _is_in_the_air(self, step: Step) -> bool:
        """A job taken up with a wheel off cannot go back to the ground before the part is out."""
        return self._on_the_ground(step) and step.direction == OUT and self.described.off_its_wheels

    def _stands(self, step: Step, manner: Manner) -> Iterator[tuple[tuple[str, ...], tuple[str, ...], tuple]]:
        """Vantages, postures and settings: one entry for each posture that some of the vantages want."""
        item = step.chain.item
        owner = self.described.owner(item)
        stand = manner.stand or item.base.stand or (owner.base.stand if owner else None) or Stand(())
        groups: dict[tuple[str, ...], list[str]] = {}
        for ref in stand.vantages:
            wanted = self.described.area.vantages[ref.name]
            if self._on_the_ground(step):
                wanted = (ON_A_LIFT, ON_STANDS) if self._is_in_the_air(step) else (ON_THE_GROUND,)
            elif stand.posture is not None:
                wanted = POSTURES[stand.posture]
            groups.setdefault(wanted, []).append(ref.name)
        for wanted, vantages in (groups or {(): []}).items():
            yield tuple(vantages), wanted, stand.turned

    def _path(self, step: Step, manner: Manner, name: str, found: Needs, stand: tuple) -> Path:
        item = step.chain.item
        vantages, postures, turned = stand
        tags = self.described.tags(item)
        path = Path(name, _without_self(found, step.chain), vantages=vantages, postures=postures, turned=turned)
        path.tools = manner.tools or item.base.tools
        path.certificates = self._certificates(item, manner)
        path.equipment = tuple(one for tag in tags for one in tag.equipment)
        if item.kind != PUT_IN and self._uses_equipment(step):
            path.equipment += item.base.equipment + manner.equipment
        path.extra = self._extra(step, manner)
        path.cautions = _texts(manner.cautions, step.direction)
        if self._is_in_the_air(step):
            path.cautions += (IN_THE_AIR,)
        if self._is_first_touch(step):
            path.risks = tuple(risk for risk in manner.risks if risk.direction == step.direction)
        if step.direction == OUT and self._is_first_touch(step):
            path.follow_ups = tuple(ref.name for ref in item.base.follow_ups + manner.follow_ups)
            path.helper = manner.helper or item.base.helper
        return path

    def _uses_equipment(self, step: Step) -> bool:
        """Where a group is broken loose first, what is used is used for that and for the final tightening."""
        return step.chain.item.levels == 1 or step.area_level == 1

    def _certificates(self, item: Item, manner: Manner) -> tuple[str, ...]:
        owner = self.described.owner(item)
        named = (owner.base.certificates if owner else ()) + item.base.certificates + manner.certificates
        by_tag = tuple(name for tag in self.described.tags(item) for name in tag.certificates)
        return tuple(dict.fromkeys(named + by_tag))

    def _extra(self, step: Step, manner: Manner) -> Spread:
        """What a way takes more than the least of them; it falls on the furthest move."""
        if manner.name == AT_THE_BENCH:
            return self._extra_at_the_bench(step)
        base = own_minutes(step.chain.item)
        if manner.minutes is None or base is None or step.chain.way or step.area_level < step.chain.item.levels:
            return NO_TIME
        return (manner.minutes.towards(step.direction) - base.towards(step.direction)).times(step.pieces)

    def _extra_at_the_bench(self, step: Step) -> Spread:
        """At the bench a part and its fasteners take all the same share of their minutes in the car."""
        rider = self._rider(step.chain.item)
        base = own_minutes(rider)
        if base is None or rider.bench is None or rider.bench.minutes is None:
            return NO_TIME
        in_the_car = base.towards(step.direction).likely
        at_the_bench = rider.bench.minutes.towards(step.direction).likely
        return step.minutes.times(at_the_bench / in_the_car - 1) if in_the_car else NO_TIME


def _without_self(found: Needs, chain: Chain) -> Needs:
    return {name: limits for name, limits in found.items() if name != chain.name}


def _texts(cautions: list[Caution] | tuple[Caution, ...], direction: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.text for one in cautions if one.direction in (None, direction)))
