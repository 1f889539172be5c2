"""A shop that lacks nothing, for areas that are planned without a shop file."""

from fractions import Fraction

from putback.area.model import Area
from putback.area.shop_file import Shop
from putback.area.state_file import State
from putback.way import names
from putback.way.from_area import core_problem
from putback.way.from_area_missing import having


def full_shop(area: Area, targets: list[str], state: State | None = None) -> Shop:
    """Everything that any way in an area asks for, a clean car, and no labour rate: good for minutes only.

    Parameters
    ----------
    area : Area
    targets : names
        As for :func:`putback.way.from_area.core_problem`.
    state : State, optional
        Where a job under way stands, and which variant the car is.
    """
    names.check_targets(area, targets)
    shop = Shop("a shop that lacks nothing", "", labour=Fraction(0), rust="clean")
    dropped = core_problem(area, shop, targets, state, by="minutes").dropped
    return having(shop, dict.fromkeys(lack for way in dropped for one in way.lacks for lack in one))
