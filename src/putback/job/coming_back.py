"""What it costs to get at something again once a part is over it: that part and everything that lies over it."""

from fractions import Fraction

from putback.area.model import MARKS, PUT_IN, Item
from putback.job.car import Car
from putback.job.needs import behind
from putback.way.from_area_minutes import own_minutes


def coming_back(cover: Item, car: Car) -> str:
    """Minutes to take a part and what lies over it off and put it on again, in words.

    Parameters
    ----------
    cover : Item
    car : Car

    Returns
    -------
    words : str
        Without what only belongs to another part's minutes; empty where the area has no minutes.
    """
    wholes = _wholes(cover, car)
    off = sum((own_minutes(one).out.likely for one in wholes), Fraction(0))
    on = sum((own_minutes(one).back.likely for one in wholes), Fraction(0))
    if not wholes:
        return ""
    names = ", ".join(one.name for one in wholes)
    return f"to come back later: {float(off):g} min off and {float(on):g} min on ({names})"


def _wholes(cover: Item, car: Car) -> list[Item]:
    """The part, and by the description whatever must be off before it, each with minutes of its own."""
    found = {cover.name: cover}
    for item in (queue := [cover]):
        for need in behind(item, car):
            whole = _whole(car.items[need.item], car)
            if whole.name not in found:
                found[whole.name] = whole
                queue.append(whole)
    return [one for one in found.values() if own_minutes(one) and one.kind not in (PUT_IN, MARKS)]


def _whole(item: Item, car: Car) -> Item:
    return car.items.get(item.owner, item) if item.owner else item
