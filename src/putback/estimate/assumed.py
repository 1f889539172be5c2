"""What a quote takes for granted where nobody has said: a clean car, a shop that lacks nothing."""

from dataclasses import replace

from putback.area.model import Area
from putback.area.shop_file import Shop
from putback.area.state_file import State
from putback.way.from_area import core_problem
from putback.way.from_area_missing import having
from putback.way.full_shop import full_shop

CLEAN_CAR = "Clean car: its rust is not given, so that nothing is seized here."
FULL_SHOP = "Full shop: its equipment is not given, so that nothing is lacking here."
BOTH = "Clean car, full shop: neither the car's rust nor the shop's equipment is given."


def assumed(
    area: Area, shop: Shop | None, targets: list[str], state: State | None = None, rust: str | None = None
) -> tuple[Shop, str]:
    """The shop that a quote is made for, and what was taken for granted, in a sentence.

    Parameters
    ----------
    area : Area
    shop : Shop or None
    targets : names
        As for :func:`putback.way.from_area.core_problem`.
    state : State, optional
    rust : "clean", "usual" or "heavy", optional
        What was said of this car; else the shop's own class.

    Returns
    -------
    shop : Shop
        With a rust class, and with everything that the area asks for where it lists neither equipment nor tools.
    words : str
        Empty where nothing was taken for granted.
    """
    full = shop is None or not (shop.stock or shop.tools)
    clean = not (rust or (shop and shop.rust))
    shop = _full(area, shop, targets, state) if full else shop
    shop = replace(shop, rust=rust or ("clean" if clean else shop.rust))
    return shop, {(True, True): BOTH, (True, False): CLEAN_CAR, (False, True): FULL_SHOP}.get((clean, full), "")


def _full(area: Area, shop: Shop | None, targets: list[str], state: State | None) -> Shop:
    if shop is None:
        return full_shop(area, targets, state)
    dropped = core_problem(area, shop, targets, state).dropped
    return having(shop, dict.fromkeys(lack for way in dropped for one in way.lacks for lack in one))
