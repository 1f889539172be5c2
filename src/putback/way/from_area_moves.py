"""What a shop can do of all steps, and what it cannot, for want of what."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from putback.area.model import BACK, OUT, SECOND_PERSON, Area, Demand, Equipment, FollowUp
from putback.area.shop_file import Shop
from putback.way import from_area_shop as means
from putback.way.from_area_described import Needs
from putback.way.from_area_shop import Lacks
from putback.way.from_area_steps import Path, Step
from putback.way.from_area_words import verb

_HELPER = (Demand((SECOND_PERSON,)),)


@dataclass
class Doable:
    """A path that the shop can do: with which tool sets, postures and equipment."""

    path: Path
    needs: Needs
    tools: tuple[tuple[str, ...], ...]
    postures: tuple[str, ...]
    equipment: tuple[Equipment, ...]


@dataclass
class Move:
    """A step with the ways that are left, and what it keeps busy from then on."""

    id: str
    step: Step
    ways: list[Doable]
    holds: tuple[Equipment, ...] = ()

    @property
    def out(self) -> bool:
        return self.step.direction == OUT


@dataclass(frozen=True)
class Dropped:
    """A way that does not exist for this shop, and what would bring it back: any one of the sets of lacks.

    There are none where the way is lost only because another one is.
    """

    step: Step
    way: str
    lacks: Lacks
    reason: str

    @property
    def operation(self) -> str:
        return operation_id(self.step)


def moves(steps: Iterable[Step], area: Area, shop: Shop) -> tuple[list[Move], list[Dropped]]:
    """What the shop can do of all steps, and what not."""
    found, dropped = [], []
    for step in steps:
        move = Move(operation_id(step), step, [], means.equipment(shop, step.holds)[0])
        for path in step.paths:
            way, lacks = doable(path, step, area, shop)
            if way is not None:
                move.ways.append(way)
            else:
                dropped.append(Dropped(step, path.name, lacks, _for_want_of(lacks)))
        found.append(move)
    return found, _each_once(dropped)


def _each_once(dropped: list[Dropped]) -> list[Dropped]:
    """Without the ways back that are lacking for the same want as the way out."""
    out = {(one.step.chain.name, one.step.level, one.way, one.lacks) for one in dropped if one.step.direction == OUT}
    return [
        one
        for one in dropped
        if one.step.direction == OUT or (one.step.chain.name, one.step.level, one.way, one.lacks) not in out
    ]


def operation_id(step: Step) -> str:
    """A name for people and programs: `left mount nuts: undo`."""
    chain = step.chain
    text = f"{chain.name}: {verb(chain.item, step.direction, step.area_level)}"
    if step.pieces == 1 or chain.item.fastener is None:
        return text
    return f"{text} {_half(step)}{int(step.pieces * chain.item.fastener.count)} of {chain.item.fastener.count}"


def _half(step: Step) -> str:
    """Of a group that is half out both halves go back, each by an operation of its own."""
    _, done = step.chain.stops[step.level - 1]
    return "the other " if step.direction == BACK and done and 2 * step.pieces == 1 else ""


def doable(path: Path, step: Step, area: Area, shop: Shop) -> tuple[Doable | None, Lacks]:
    """A way of a step as this shop does it, and the sets of things of which one is lacking for it."""
    tools, no_tools = means.tools(shop, path.tools)
    postures, no_postures = means.postures(shop, path.postures)
    used, no_equipment = means.equipment(shop, path.equipment)
    _, no_holds = means.equipment(shop, step.holds)
    _, no_helper = means.equipment(shop, () if path.helper is None else _HELPER)
    lacks = means.all_of(
        no_tools,
        no_postures,
        no_equipment,
        no_holds,
        no_helper,
        means.certificates(shop, path.certificates),
        *(offers(area.follow_ups[name], shop)[1] for name in path.follow_ups),
    )
    if lacks != means.NOTHING:
        return None, lacks
    return Doable(path, path.needs, tools, postures, used), lacks


def _for_want_of(lacks: Lacks) -> str:
    return "for want of " + ", or ".join(" and ".join(map(str, one)) for one in lacks)


def offers(follow_up: FollowUp, shop: Shop) -> tuple[list[dict], Lacks]:
    """How the shop can see to a follow-up, each with its minutes and cents; and what is lacking if it cannot."""
    found, lacks = [], []
    if follow_up.at_hand_over:
        found.append({"time": Fraction(0), "cost": Fraction(0)})
    if follow_up.minutes is not None:
        _, lacking = means.equipment(shop, follow_up.equipment)
        if lacking == means.NOTHING:
            found.append({"time": follow_up.minutes, "cost": Fraction(0)})
        lacks += lacking
    if follow_up.sublet is not None:
        if follow_up.sublet in shop.sublets:
            found.append({"time": Fraction(0), "cost": shop.sublets[follow_up.sublet]})
        lacks.append((means.Lack(means.SERVICE, follow_up.sublet),))
    return found, means.NOTHING if found else tuple(lacks)
