"""What being wrong costs on a certain car in a certain shop: the planner's figures, in the minutes of a model."""

from collections.abc import Iterable

from putback.area.model import CABLE, PLUG, Area
from putback.area.shop_file import Shop
from putback.desk.planning import Thinking
from putback.desk.prices import Price, reading_price, repair_price
from putback.errors import InputError, NoWay
from putback.models.engine import Prices
from putback.models.form import Form

KINDS = {"stud": CABLE, "plug": PLUG}  # what a model calls an access, and what it is in an area


def prices(form: Form, area: Area, shop: Shop, target: str, thinking: Thinking) -> Prices:
    """The costs of the model's target, and of the accesses that the area has.

    Parameters
    ----------
    form : Form
    area : Area
    shop : Shop
    target : str
        The part in question, by its name in the area.
    thinking : Thinking

    Raises
    ------
    InputError
        The area has no such part.
    NoWay
        The shop cannot reach it.
    """
    repair = repair_price(area, shop, target, thinking)
    costs = {name: _access(area, shop, items, thinking) for name, items in _places(form, area, target)}
    known = {name: cost for name, cost in costs.items() if cost is not None}
    return Prices({form.target: _minutes(shop, repair)}, known)


def _minutes(shop: Shop, price: Price) -> float:
    """Minutes, with what is bought turned into minutes of the bill where the shop has a rate."""
    if shop.labour and price.total.money is not None:
        return float(price.total.money * 60 / shop.labour)
    return float(price.total.minutes)


def _places(form: Form, area: Area, target: str) -> Iterable[tuple[str, list[str]]]:
    """Of each access of the model the items it may be: of its name, else of its kind and near the target."""
    behind = [ref.name for ref in area.items[target].base.behind] if target in area.items else []
    near = [*behind, *(name for name, item in area.items.items() if item.owner == target)]
    for name in form.access:
        kind = KINDS.get(name)
        yield name, [name] if name in area.items else [one for one in near if area.items[one].kind == kind]


def _access(area: Area, shop: Shop, items: list[str], thinking: Thinking) -> float | None:
    try:
        return float(reading_price(area, shop, items[0], thinking).total.minutes) if items else None
    except (NoWay, InputError):
        return None
