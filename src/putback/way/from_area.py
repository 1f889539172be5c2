"""From a description to a problem that the planner can solve, and back to words for people.

    translated = core_problem(area, shop, ["alternator"])
    result = solve_core(translated.core)
    translated.operations["left mount nuts: undo"].text     # undo the 2 left mount nuts
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from putback.area import needs
from putback.area.model import (
    BACK,
    MARKS,
    ON_THE_GROUND,
    OUT,
    Area,
    Equipment,
    Fastener,
    FollowUp,
    Fluid,
    NewPart,
    Risk,
    Spread,
)
from putback.area.shop_file import RUST, Shop
from putback.area.state_file import State
from putback.area.tools import BARE_HANDS
from putback.errors import InputError
from putback.way import from_area_reduce as reduce
from putback.way import from_area_shop as means
from putback.way.from_area_core import Doable, Draft, Dropped, Move, expected, moves, whole_numbers
from putback.way.from_area_steps import Chain, Description, Needs
from putback.way.from_area_words import sentence

MONEY, MINUTES = "money", "minutes"


@dataclass(frozen=True)
class OperationWay:
    """One way of an operation, in the core's order, with what people must see of it."""

    name: str
    needs: Needs
    vantages: tuple[str, ...]
    postures: tuple[str, ...]
    turned: tuple[tuple[str, str], ...]
    tools: tuple[tuple[str, ...], ...]
    equipment: tuple[Equipment, ...]
    certificates: tuple[str, ...]
    minutes: Spread
    risks: tuple[Risk, ...]
    cautions: tuple[str, ...]
    follow_ups: tuple[str, ...]

    def tool_set(self, main: str) -> tuple[str, ...]:
        """The whole set that goes with the tool in hand."""
        return next((one for one in self.tools if one[0] == main), ())


@dataclass(frozen=True)
class Operation:
    """An operation as people know it: what to do, with what, how long, and what to beware of."""

    id: str
    item: str
    part: str
    kind: str
    direction: str
    level: int
    state: str  # the item's state afterwards
    text: str
    about: str
    fastener: Fastener | None
    pieces: int  # how many of the group are moved
    minutes: Spread
    expected_risk: Fraction  # minutes, at the rust class asked for
    risks: tuple[Risk, ...]
    cautions: tuple[str, ...]
    holds: tuple[Equipment, ...]  # kept busy from here until it is taken out again
    uses_up: tuple[NewPart, ...]
    fluid: Fluid | None
    source: str | None
    why: str
    ways: tuple[OperationWay, ...]


@dataclass(frozen=True)
class Translated:
    """A core problem, and what its names mean."""

    core: dict
    operations: dict[str, Operation]
    dropped: tuple[Dropped, ...]


def core_problem(
    area: Area,
    shop: Shop,
    targets: Iterable[str] = (),
    state: State | None = None,
    *,
    by: str = MONEY,
    avoid: Iterable[str] = (),
    without: Iterable[str] = (),
    no_setup: bool = False,
    no_overlap: bool = False,
    rust: str | None = None,
) -> Translated:
    """Translate an area for a shop.

    Parameters
    ----------
    area : Area
    shop : Shop
    targets : names, optional
        The parts to be replaced; all targets of the area when left out.
    state : State, optional
        Where a job under way stands; everything where it belongs when left out.
    by : "money" or "minutes"
        What the plan is to save.
    avoid : names
        Parts that must not be opened.
    without : names
        Equipment, tools and certificates that are not to be had today.
    no_setup : bool
        Count no time for changes of tool, vantage, posture and other settings.
    no_overlap : bool
        Count waits in full, as if no other work filled them.
    rust : "clean", "usual" or "heavy", optional
        The shop's own class when left out, and "usual" where it has none.

    Returns
    -------
    translated : Translated
        `core` follows docs/core-problem.md, version 2; `operations` has an entry for every operation
        and swap in it; `dropped` lists the ways that do not exist, and why.

    Raises
    ------
    InputError
        A name is not in the area, or the minutes cannot be counted in whole parts.
    """
    shop = shop.without(without)
    wanted = _targets(area, targets)
    described = Description(area, state, _avoided(area, avoid))
    work = _Translation(area, shop, described, wanted, by, RUST[rust or shop.rust or "usual"], no_setup, no_overlap)
    return work.translated()


def _targets(area: Area, names: Iterable[str]) -> list[str]:
    names = list(names) or [target.name.name for target in area.targets]
    for name in names:
        if name not in area.items:
            known = ", ".join(target.name.name for target in area.targets)
            raise InputError(f'there is no "{name}" in {area.name}; it describes the way to: {known}')
    return names


def _avoided(area: Area, names: Iterable[str]) -> tuple[str, ...]:
    names = tuple(names)
    for name in names:
        if name not in area.items:
            raise InputError(f'there is no "{name}" to avoid in {area.name}')
    return names


class _Translation:
    """The steps of one translation, in order."""

    def __init__(self, area, shop, described, targets, by, rust, no_setup, no_overlap):
        self.area: Area = area
        self.shop: Shop = shop
        self.described: Description = described
        self.state: State = described.state
        self.targets: list[str] = targets
        self.by: str = by
        self.rust: int = rust
        self.no_setup: bool = no_setup
        self.no_overlap: bool = no_overlap
        self.chains = described.chains
        self.raising = means.raising(shop)

    def translated(self) -> Translated:
        found, unable = moves(self.described.steps(), self.shop, self._seen_to)
        found, impossible = reduce.without_the_impossible(found, self.chains)
        kept = reduce.relevant(found, self.chains, [] if self.state.swapped else self._target_chains())
        self.moves = [move for move in found if move.step.chain.name in kept]
        self.kept = {name: self.chains[name] for name in kept}
        for move in self.moves:
            move.ways = self._distinct(move)
        draft = self._draft()
        operations = {move.id: self._operation(move) for move in self.moves}
        return Translated(whole_numbers(draft, self.by), operations, tuple(unable + impossible))

    def _target_chains(self) -> list[str]:
        return [chain.name for name in self.targets for chain in self.described.of_item.get(name, ())]

    def _seen_to(self, follow_up: str) -> means.Lacks:
        """What the shop lacks to see to a follow-up."""
        offers, lacks = self._offers(self.area.follow_ups[follow_up])
        return means.NOTHING if offers else lacks

    def _offers(self, follow_up: FollowUp) -> tuple[list[dict], means.Lacks]:
        offers, lacks = [], []
        if follow_up.at_hand_over:
            return [{"time": Fraction(0), "cost": Fraction(0)}], means.NOTHING
        if follow_up.minutes is not None:
            _, lacking = means.equipment(self.shop, follow_up.equipment)
            if lacking == means.NOTHING:
                offers.append({"time": follow_up.minutes, "cost": Fraction(0)})
            lacks += lacking
        if follow_up.sublet is not None:
            if follow_up.sublet in self.shop.sublets:
                offers.append({"time": Fraction(0), "cost": self.shop.sublets[follow_up.sublet]})
            lacks.append((means.Lack(means.SERVICE, follow_up.sublet),))
        return offers, tuple(lacks)

    def _distinct(self, move: Move) -> list[Doable]:
        """Ways that differ in something the core can see."""
        seen = {}
        for way in move.ways:
            seen.setdefault(repr((self._needs(way.needs), self._within(way), self._time(way, move), way.equipment)), way)
        return list(seen.values())

    # The draft

    def _draft(self) -> Draft:
        posture = self._posture()
        dims = [self._tool(), self._vantage(), *([posture] if posture else []), *self._turns()]
        self.dims = {dim["name"]: dim for dim in dims}
        items = {chain.name: self._item(chain) for chain in self.kept.values()}
        ops = [self._op(move) for move in self.moves]
        draft = Draft(
            self._name(),
            self.shop.labour,
            dims,
            {},
            items,
            ops,
            self._swaps(),
            self._once(),
            self._waits(),
            self._fixed(),
        )
        self._settle_pools(draft)
        return draft

    def _name(self) -> str:
        return f"{', '.join(self.targets)}: {self.area.name}"

    def _item(self, chain: Chain) -> dict:
        entry = {"levels": chain.levels}
        if chain.start:
            entry["start"] = chain.start
        if chain.item.kind == MARKS:
            entry["goal"] = [0, chain.levels]
        out = next((move for move in self.moves if move.step.chain is chain), None)
        if out is not None and out.step.holds:
            held, _ = means.equipment(self.shop, out.step.holds)
            entry["holds"] = {str(chain.levels): self._pools_of(held)}
        return entry

    def _op(self, move: Move) -> dict:
        step = move.step
        time = step.minutes.likely + expected(step.risks, self.rust)
        if self.no_overlap and step.direction == OUT and step.level == step.chain.levels:
            time += step.chain.item.wait or 0
        least = min((self._time(way, move) for way in move.ways), default=Fraction(0))
        least = min(least, Fraction(0))  # no way takes less than nothing; the move itself carries the difference
        return {
            "id": move.id,
            "item": step.chain.name,
            "dir": step.direction,
            "level": step.level,
            "time": time + least,
            "cost": self._cost(move),
            "ways": [self._way(way, move, least) for way in move.ways],
        }

    def _cost(self, move: Move) -> Fraction:
        fluid = move.step.fluid.price if move.step.fluid else Fraction(0)
        return sum((part.cost for part in move.step.new_parts), Fraction(0)) + fluid

    def _way(self, way: Doable, move: Move, least: Fraction) -> dict:
        entry = {"needs": self._needs(way.needs), "in": self._within(way), "time": self._time(way, move) - least}
        if way.equipment:
            entry["uses"] = self._pools_of(way.equipment)
        return {key: value for key, value in entry.items() if value or key == "needs"}

    def _needs(self, found: Needs) -> dict:
        """Needs that can fail: an item that no plan displaces is always in place."""
        return {
            name: list(limits)
            for name, limits in found.items()
            if name in self.kept and limits != (0, self.chains[name].levels)
        }

    def _within(self, way: Doable) -> dict:
        within = {"tool": [one[0] for one in way.tools]}
        if way.path.vantages:
            within["vantage"] = list(way.path.vantages)
        if way.postures:
            within["posture"] = list(way.postures)
        return within | {name: [value] for name, value in way.path.turned}

    def _time(self, way: Doable, move: Move) -> Fraction:
        return way.path.extra.likely + expected(way.path.risks, self.rust)

    def _ways(self) -> Iterable[Doable]:
        return (way for move in self.moves for way in move.ways)

    def _minutes_of_change(self, name: str) -> Fraction:
        return Fraction(0) if self.no_setup else self.shop.set_up.get(name, Fraction(0))

    def _tool(self) -> dict:
        used = [one[0] for way in self._ways() for one in way.tools]
        start = self.state.tool or BARE_HANDS
        return _dim("tool", [start, *used], start, self._minutes_of_change("tool"))

    def _vantage(self) -> dict:
        used = {name for way in self._ways() for name in way.path.vantages}
        start = self.state.vantage or next(iter(self.area.vantages))
        values = [name for name in self.area.vantages if name in used or name == start]
        return _dim("vantage", values, start, self._minutes_of_change("vantage"))

    def _posture(self) -> dict | None:
        """How the car stands; left out where nothing asks for it."""
        start = self.state.posture or ON_THE_GROUND
        used = {posture for way in self._ways() for posture in way.postures} | {start}
        if used == {ON_THE_GROUND}:
            return None
        raising = [one for one in self.raising if one.posture in used]
        values = [ON_THE_GROUND, *(one.posture for one in raising)]
        up = {one.posture: one.up for one in raising} | {ON_THE_GROUND: Fraction(0)}
        down = {one.posture: one.down for one in raising} | {ON_THE_GROUND: Fraction(0)}
        dim = {
            "name": "posture",
            "values": values,
            "start": start,
            "end": [ON_THE_GROUND],
            "change": [[self._change(down[old] + up[new], old == new) for new in values] for old in values],
            "needs": {ON_THE_GROUND: self._to_stand()},
            "holds": {one.posture: self._pools_of(one.holds) for one in raising if one.holds},
            "moving": {one.posture: self._pools_of(one.moving) for one in raising if one.moving},
        }
        lowering = [equipment for one in raising for equipment in one.moving]
        if lowering:
            dim["moving"][ON_THE_GROUND] = self._pools_of(lowering)
        return {key: value for key, value in dim.items() if value}

    def _change(self, minutes: Fraction, same: bool) -> Fraction:
        return Fraction(0) if same or self.no_setup else minutes

    def _to_stand(self) -> dict:
        """What must be in place for the car to stand on its wheels, and what must not stand under it."""
        found: Needs = {}
        for ref in self.area.stands_on:
            part = needs.find_item(self.area, ref)
            for item in (part, *self.area.belonging_to(part.name)):
                for chain in self.described.of_item.get(item.name, ()):
                    found[chain.name] = (0, chain.levels - 1 if item.fastener else 0)
        for chain in self.kept.values():
            if chain.item.base.keeps_raised or (chain.way and chain.way.keeps_raised):
                found[chain.name] = (0, 0)
        return self._needs(found)

    def _turns(self) -> list[dict]:
        dims = []
        for name, values in self.area.turns.items():
            used = {value for way in self._ways() for turned, value in way.path.turned if turned == name}
            start = dict(self.state.turned).get(name, values[0])
            if used - {start}:
                kept = [value for value in values if value in used or value in (start, values[0])]
                dims.append(_dim(name, kept, start, self._minutes_of_change(name)) | {"end": [values[0]]})
        return dims

    def _swaps(self) -> list[dict]:
        if self.state.swapped:
            return []
        prices = {target.name.name: target.new for target in self.area.targets}
        return [
            {"id": f"swap {name}", "item": name, "time": Fraction(0), "cost": prices.get(name, Fraction(0)), "ways": [{}]}
            for name in self.targets
        ]

    # What falls due once, what waits, what every job has

    def _once(self) -> list[dict]:
        due: dict[str, list] = {}
        for move in self.moves:
            for name in dict.fromkeys(name for way in move.ways for name in way.path.follow_ups):
                indexes = [index for index, way in enumerate(move.ways) if name in way.path.follow_ups]
                all_ways = len(indexes) == len(move.ways)
                due.setdefault(name, []).extend([[move.id]] if all_ways else [[move.id, index] for index in indexes])
        entries = [
            {"id": name, "ops": ops, "offers": self._offers(self.area.follow_ups[name])[0]}
            for name, ops in due.items()
            if name not in self._owed()
        ]
        return [entry for entry in entries if any(any(offer.values()) for offer in entry["offers"])] + self._helpers()

    def _owed(self) -> list[str]:
        """Follow-ups of what was off already when the job was taken up."""
        names = [
            ref.name
            for chain in self.kept.values()
            if chain.start == chain.levels
            for ref in chain.item.base.follow_ups
        ]
        return list(dict.fromkeys(names))

    def _helpers(self) -> list[dict]:
        entries = []
        for move in self.moves:
            times = {way.path.helper for way in move.ways if way.path.helper is not None}
            for time in sorted(times):
                indexes = [index for index, way in enumerate(move.ways) if way.path.helper == time]
                ops = [[move.id]] if len(indexes) == len(move.ways) else [[move.id, index] for index in indexes]
                offers = [{"time": time, "cost": Fraction(0)}]
                entries.append({"id": f"second person: {move.id}", "ops": ops, "offers": offers})
        return entries

    def _waits(self) -> list[dict]:
        if self.no_overlap:
            return []
        entries = []
        for chain in self.kept.values():
            if chain.item.wait:
                entries += self._wait(chain)
        return entries

    def _wait(self, chain: Chain) -> list[dict]:
        left = (self.state.waiting or {}).get(chain.item.name, Fraction(0))
        before = [
            move.id
            for move in self.moves
            if move.step.direction == OUT and any(way.needs.get(chain.name, (0, 0))[0] > 0 for way in move.ways)
        ]
        after = [m.id for m in self.moves if m.step.chain is chain and m.step.direction == OUT and m.step.level == chain.levels]
        if not before or (chain.start == chain.levels and not left):
            return []
        entry = {"id": f"wait after {chain.name}", "after": after, "before": before, "time": chain.item.wait}
        return [entry | ({"left": left} if left else {})]

    def _fixed(self) -> list[dict]:
        skipped = {"before", "swap"} if self.state.swapped else set()
        entries = [
            {"id": work.name, "when": work.when, "time": work.minutes.likely, "cost": Fraction(0)}
            for work in self.area.job_work
            if work.name not in self.state.done and work.when not in skipped
        ]
        entries += [_bought(f"new {part.name}", part.cost) for part in self.area.always_new]
        entries += [_bought(f"new {name}", price) for name, price in (self.state.broken or {}).items()]
        entries += [
            {"id": name, "when": "after", "time": spread.likely, "cost": Fraction(0)} for name, spread in self.state.added
        ]
        for name in self._owed():
            offers, _ = self._offers(self.area.follow_ups[name])
            cheapest = min(offers, key=lambda offer: self.shop.labour * offer["time"] / 60 + offer["cost"], default=None)
            if cheapest and any(cheapest.values()):
                entries.append({"id": name, "when": "after"} | cheapest)
        return entries

    # Equipment

    def _pools_of(self, equipment: Iterable[Equipment]) -> dict[str, int]:
        """What some equipment takes from each pool: a rated demand counts in every pool rated no higher."""
        taken: dict[str, int] = {}
        for one in equipment:
            for rating in self._ratings(one.name):
                if (rating or 0) <= (one.rating or 0):
                    name = str(Equipment(one.name, 1, rating))
                    taken[name] = taken.get(name, 0) + one.count
        return taken

    def _ratings(self, name: str) -> list[int | None]:
        """The ratings that anything here asks of a kind of equipment, lowest first."""
        asked = [one.rating for one in self._all_equipment() if one.name == name]
        return sorted(dict.fromkeys(asked), key=lambda rating: rating or 0)

    def _all_equipment(self) -> Iterable[Equipment]:
        for move in self.moves:
            for way in move.ways:
                yield from way.equipment
            yield from means.equipment(self.shop, move.step.holds)[0]
        for one in self.raising:
            yield from (*one.holds, *one.moving)

    def _settle_pools(self, draft: Draft) -> None:
        """Name the pools, and forget those of which there is enough even if all were asked for at once."""
        most = _most_at_once(draft)
        for wanted in dict.fromkeys(Equipment(one.name, 1, one.rating) for one in self._all_equipment()):
            name, count = str(wanted), self.shop.count(wanted)
            if most.get(name, 0) > count:
                draft.pools[name] = count
        for holder in _holders(draft):
            for name in [name for name in holder if name not in draft.pools]:
                del holder[name]
        _drop_empty(draft)

    # Words

    def _operation(self, move: Move) -> Operation:
        step, item = move.step, move.step.chain.item
        fastener = item.fastener
        level_after = step.area_level if step.direction == OUT else step.area_level - 1
        return Operation(
            id=move.id,
            item=step.chain.name,
            part=item.owner or item.name,
            kind=item.kind,
            direction=step.direction,
            level=step.level,
            state=item.states[level_after],
            text=sentence(item, step.chain.name, step.direction, step.area_level, step.pieces),
            about=item.about or (fastener.where if fastener else ""),
            fastener=fastener,
            pieces=int(step.pieces * fastener.count) if fastener else 1,
            minutes=step.minutes,
            expected_risk=expected(step.risks, self.rust),
            risks=step.risks,
            cautions=step.cautions,
            holds=means.equipment(self.shop, step.holds)[0],
            uses_up=step.new_parts,
            fluid=step.fluid,
            source=(fastener.source if fastener else None) or self.area.figures_from,
            why=item.why,
            ways=tuple(self._operation_way(way, move) for way in move.ways),
        )

    def _operation_way(self, way: Doable, move: Move) -> OperationWay:
        path = way.path
        return OperationWay(
            path.name,
            way.needs,
            path.vantages,
            way.postures,
            path.turned,
            way.tools,
            way.equipment,
            path.certificates,
            move.step.minutes + path.extra,
            path.risks,
            path.cautions,
            path.follow_ups,
        )


def _dim(name: str, values: Iterable[str], start: str, change: Fraction) -> dict:
    return {"name": name, "values": list(dict.fromkeys(values)), "start": start, "change": change}


def _bought(name: str, cost: Fraction) -> dict:
    return {"id": name, "when": "before", "time": Fraction(0), "cost": cost}


def _holders(draft: Draft) -> list[dict]:
    """Every mapping of pools to numbers in a draft."""
    found = [held for item in draft.items.values() for held in item.get("holds", {}).values()]
    found += [held for dim in draft.dims for key in ("holds", "moving") for held in dim.get(key, {}).values()]
    return found + [way["uses"] for op in draft.ops for way in op["ways"] if "uses" in way]


def _most_at_once(draft: Draft) -> dict[str, int]:
    """The most of each pool that could ever be asked for at the same time."""
    total: dict[str, int] = {}
    groups = [list(item.get("holds", {}).values()) for item in draft.items.values()]
    groups += [list(dim.get(key, {}).values()) for dim in draft.dims for key in ("holds", "moving")]
    groups.append([way["uses"] for op in draft.ops for way in op["ways"] if "uses" in way])
    for group in groups:
        for name in dict.fromkeys(name for held in group for name in held):
            total[name] = total.get(name, 0) + max(held.get(name, 0) for held in group)
    return total


def _drop_empty(draft: Draft) -> None:
    """Leave out mappings that say nothing any more."""
    for holder in (*draft.items.values(), *draft.dims):
        for key in ("holds", "moving", "needs"):
            if key in holder:
                holder[key] = {name: held for name, held in holder[key].items() if held}
                if not holder[key]:
                    del holder[key]
    for op in draft.ops:
        for way in op["ways"]:
            if not way.get("uses", True):
                del way["uses"]
