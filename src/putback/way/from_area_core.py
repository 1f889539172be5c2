"""From steps and a shop to the core problem of docs/core-problem.md: names, whole numbers, nothing else.

Nothing is kept that cannot matter: ways that the shop has not got the means for, items that no way to the
goal can need, equipment that there is enough of whatever happens.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from putback.area.model import OUT, SECOND_PERSON, Demand, Equipment, Risk
from putback.area.shop_file import Shop
from putback.errors import InputError
from putback.way import from_area_shop as means
from putback.way.from_area_shop import Lacks
from putback.way.from_area_steps import Needs, Path, Step
from putback.way.from_area_words import verb

FINEST = 10**9  # parts of a minute; beyond that the numbers of the file are at fault


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
    """A step with the ways that are left."""

    id: str
    step: Step
    ways: list[Doable]


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


def moves(steps: Iterable[Step], shop: Shop, offers) -> tuple[list[Move], list[Dropped]]:
    """What the shop can do of all steps, and what not.

    `offers` tells for a follow-up's name whether the shop can see to it, as Lacks.
    """
    found, dropped = [], []
    for step in steps:
        move = Move(operation_id(step), step, [])
        for path in step.paths:
            doable, lacks = _doable(path, step, shop, offers)
            if doable is not None:
                move.ways.append(doable)
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
    return f"{text} {int(step.pieces * chain.item.fastener.count)} of {chain.item.fastener.count}"


def _doable(path: Path, step: Step, shop: Shop, offers) -> tuple[Doable | None, Lacks]:
    tools, no_tools = means.tools(shop, path.tools)
    postures, no_postures = means.postures(shop, path.postures)
    used, no_equipment = means.equipment(shop, path.equipment)
    _, no_holds = means.equipment(shop, step.holds)
    helper = () if path.helper is None else (_SECOND,)
    _, no_helper = means.equipment(shop, helper)
    lacks = means.all_of(
        no_tools,
        no_postures,
        no_equipment,
        no_holds,
        no_helper,
        means.certificates(shop, path.certificates),
        *(offers(name) for name in path.follow_ups),
    )
    if lacks != means.NOTHING:
        return None, lacks
    return Doable(path, path.needs, tools, postures, used), lacks


def _for_want_of(lacks: Lacks) -> str:
    return "for want of " + ", or ".join(" and ".join(map(str, one)) for one in lacks)


_SECOND = Demand((SECOND_PERSON,))


def expected(risks: Iterable[Risk], rust: int) -> Fraction:
    """The minutes that risks take on average; rust makes those likelier that grow with it."""
    return sum((risk.probability * risk.minutes * (rust if risk.rusts else 1) for risk in risks), Fraction(0))


@dataclass
class Draft:
    """A core problem whose times are minutes and whose costs are cents, both exact."""

    name: str
    rate: Fraction  # cents per hour
    dims: list[dict]
    pools: dict[str, int]
    items: dict[str, dict]
    ops: list[dict]
    swaps: list[dict]
    once: list[dict]
    waits: list[dict]
    fixed: list[dict]


def whole_numbers(draft: Draft, by: str) -> dict:
    """The draft in whole numbers: a time unit and a cost unit just fine enough for every figure to be exact.

    Parameters
    ----------
    draft : Draft
    by : "money" or "minutes"
        With "minutes" an hour costs nothing but its minutes, and what is bought costs nothing.

    Raises
    ------
    InputError
        The minutes would need parts finer than 1e-9 of one.
    """
    parts = {name: getattr(draft, name) for name in ("dims", "ops", "swaps", "once", "waits", "fixed")}
    times = list(_figures(parts, _TIMES))
    per_minute = lcm(*(time.denominator for time in times))
    if per_minute > FINEST:
        raise InputError("the minutes have too many different fractions to be counted exactly; give them as decimals")
    if by == "minutes":
        rate, per_cent = 1, None
    else:
        costs = [cost * 60 * per_minute for cost in _figures(parts, _COSTS)]
        finer = lcm(draft.rate.denominator, *(cost.denominator for cost in costs))
        rate, per_cent = int(draft.rate * finer), 60 * per_minute * finer
    scaled = {name: _scaled(value, per_minute, per_cent) for name, value in parts.items()}
    unit = {"time": _unit("min", per_minute), "cost": _unit("cent", per_cent) if per_cent else _unit("min", per_minute)}
    head = {"core": 2, "name": draft.name, "unit": unit, "rate": rate}
    return head | {"dims": scaled["dims"], "pools": draft.pools, "items": draft.items} | scaled


_TIMES, _COSTS = ("time", "change", "left"), ("cost",)


def _unit(name: str, parts: int) -> str:
    return name if parts == 1 else f"1/{parts} {name}"


def _figures(value, keys: tuple[str, ...], wanted: bool = False):
    """Every number that stands under one of some keys, however deep."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _figures(inner, keys, wanted or key in keys)
    elif isinstance(value, list):
        for inner in value:
            yield from _figures(inner, keys, wanted)
    elif wanted and isinstance(value, Fraction):
        yield value


def _scaled(value, per_minute: int, per_cent: int | None, key: str = ""):
    if isinstance(value, dict):
        return {name: _scaled(inner, per_minute, per_cent, name) for name, inner in value.items()}
    if isinstance(value, list):
        return [_scaled(inner, per_minute, per_cent, key) for inner in value]
    if not isinstance(value, Fraction):
        return value
    if key in _COSTS:
        return int(value * per_cent) if per_cent else 0
    return int(value * per_minute)
