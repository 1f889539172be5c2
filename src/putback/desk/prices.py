"""What being wrong costs, from the planner: a repair that was not the cause, and a reading that lies behind parts."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from putback.area.model import BELT, CABLE, MARKS, OUT, PLUG, PUT_IN, Area, Item
from putback.area.shop_file import Shop
from putback.area.state_file import State
from putback.desk.planning import Thinking, Total, total
from putback.desk.reach import undone
from putback.desk.safe import sheet_to
from putback.errors import NoWay
from putback.way import names
from putback.way.plan import plan
from putback.way.sheet import Sheet
from putback.way.sheet_step import SheetStep
from putback.way.task import Task, make_task

# How what a fault model calls an access ends, and what that is in an area.
_KINDS = {"stud": CABLE, "cable": CABLE, "wire": CABLE, "plug": PLUG}
NOTHING = Total(Fraction(0), Fraction(0))


@dataclass(frozen=True)
class Price:
    """What it takes to get somewhere and back.

    Attributes
    ----------
    total : Total
        Expected minutes, and money before tax in cents; no money where the shop has no labour rate.
    opened : tuple of str
        The parts that are off or aside meanwhile, in the order in which they come off.
    """

    total: Total
    opened: tuple[str, ...]


def repair_price(area: Area, shop: Shop, item: str, thinking: Thinking, state: State | None = None) -> Price:
    """What a repair of one thing costs, and so what is lost where it was not the cause.

    Parameters
    ----------
    area : Area
    shop : Shop
    item : str
        A target: the way in, the new part and the way back. Anything else: its way out and back, nothing bought for it.
    thinking : Thinking
    state : State, optional
        Where a job under way stands.

    Raises
    ------
    InputError
        The area has no such thing.
    NoWay
        The shop cannot get there.
    """
    names.check_targets(area, [item])
    if item in [target.name.name for target in area.targets]:
        return _price(plan(_task(area, shop, [item], state), clock=thinking.clock, seconds=thinking.seconds), [item])
    if _is_away(item, state):
        return Price(NOTHING, ())
    price = _price(_way_to(area, shop, item, thinking, state), [item])
    return replace(price, total=price.total + _labour(shop, _minutes_off(area, item)))


def reading_price(
    area: Area, shop: Shop, item: str, thinking: Thinking, state: State | None = None, running: bool = False
) -> Price:
    """What it costs to lay a thing bare so that something can be measured at it, and to close up again.

    Parameters
    ----------
    area : Area
    shop : Shop
    item : str
        Where the leads go; it stays as it is, and the battery stays on.
    thinking : Thinking
    state : State, optional
        Where a job under way stands.
    running : bool
        Whether the engine runs meanwhile.

    Raises
    ------
    InputError
        The area has no such thing.
    NoWay
        The shop cannot get there, or the belt would be off where the engine has to run.
    """
    names.check_targets(area, [item])
    if _is_away(item, state):
        return Price(NOTHING, ())
    sheet = _way_to(_without_battery(area, item), shop, item, thinking, state)
    price = _price(sheet, [item])
    belts = [name for name in price.opened if area.items[name].kind == BELT]
    if running and belts:
        raise NoWay(f"{item}: the engine cannot run for this reading, for the {belts[0]} has to come off first")
    own = sum((step.way.minutes.likely for step in sheet.steps if _is_of(step, item)), Fraction(0))
    return replace(price, total=(price.total - _labour(shop, own)).at_least_nothing())


def place_of(access: str, area: Area, targets: Iterable[str]) -> str | None:
    """The item at which something behind an access of a fault model is read.

    Parameters
    ----------
    access : str
        As the model calls it.
    area : Area
    targets : iterable of str
        What the car came for.

    Returns
    -------
    item : str or None
        The item of that name; else the first cable, or plug, that a target lies behind or has of its own.
    """
    if access in area.items:
        return access
    kind = _KINDS.get(access.split()[-1].removesuffix("s"))
    near = (name for target in targets for name in _near(area, target))
    return next((name for name in near if area.items[name].kind == kind), None)


def _near(area: Area, target: str) -> Iterator[str]:
    yield from (ref.name for ref in (area.items[target].base.behind if target in area.items else ()))
    yield from (name for name, item in area.items.items() if item.owner == target)


def _task(area: Area, shop: Shop, targets: Iterable[str], state: State | None, **options) -> Task:
    return make_task(area, shop, targets, state, by="money" if shop.labour else "minutes", **options)


def _way_to(area: Area, shop: Shop, item: str, thinking: Thinking, state: State | None) -> Sheet:
    """The way to a thing that stands undone, and back with it done: all but its own way out."""
    start = undone(area, item, state or State("", {}, {}))
    return sheet_to(_task(area, shop, (), start, home=[item]), thinking)


def _is_away(item: str, state: State | None) -> bool:
    return state is not None and (item in state.at or item in state.absent)


def _without_battery(area: Area, item: str) -> Area:
    """The area as it is for somebody who only holds leads to a thing: live as it is, the battery on."""
    battery = area.battery.name if area.battery else None
    marks = [name for name, one in area.items.items() if item in [ref.name for ref in one.marks]]
    bare = {name: _live(area.items[name], battery) for name in (item, *marks)}
    return replace(area, items={**area.items, **bare})


def _live(item: Item, battery: str | None) -> Item:
    behind = tuple(ref for ref in item.base.behind if ref.name != battery)
    hazards = tuple(ref for ref in item.hazards if ref.name != "live")
    return replace(item, base=replace(item.base, behind=behind), hazards=hazards)


def _price(sheet: Sheet, besides: Iterable[str]) -> Price:
    opened = dict.fromkeys(step.operation.part for step in sheet.moves(OUT))
    aids = [name for name in opened if sheet.area.items[name].kind in (PUT_IN, MARKS)]
    return Price(total(sheet), tuple(name for name in opened if name not in {*aids, *besides}))


def _is_of(step: SheetStep, item: str) -> bool:
    return step.operation is not None and item in (step.operation.name, step.operation.part)


def _minutes_off(area: Area, item: str) -> Fraction:
    minutes = area.items[item].minutes
    return minutes.out.likely if minutes else Fraction(0)


def _labour(shop: Shop, minutes: Fraction) -> Total:
    return Total(minutes, minutes * shop.labour / 60 if shop.labour else None)
