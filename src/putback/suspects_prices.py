"""What being wrong costs on a certain car in a certain shop: the planner's figures, in the minutes of a model."""

from putback.area.model import Area
from putback.area.shop_file import Shop
from putback.desk.planning import Thinking
from putback.desk.prices import Price, place_of, reading_price, repair_price
from putback.errors import InputError, NoWay
from putback.models.engine import Prices
from putback.models.form import Form


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
    costs = {name: _access(area, shop, place_of(name, area, [target]), thinking) for name in form.access}
    known = {name: cost for name, cost in costs.items() if cost is not None}
    return Prices({form.target: _minutes(shop, repair)}, known)


def _minutes(shop: Shop, price: Price) -> float:
    """Minutes, with what is bought turned into minutes of the bill where the shop has a rate."""
    if shop.labour and price.total.money is not None:
        return float(price.total.money * 60 / shop.labour)
    return float(price.total.minutes)


def _access(area: Area, shop: Shop, item: str | None, thinking: Thinking) -> float | None:
    try:
        return float(reading_price(area, shop, item, thinking).total.minutes) if item else None
    except (NoWay, InputError):
        return None
