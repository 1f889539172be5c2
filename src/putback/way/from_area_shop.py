"""What a shop can do of what an area asks for, and what it would take to do the rest."""

from dataclasses import dataclass
from itertools import product

from putback.area.model import ON_A_LIFT, ON_THE_GROUND, SECOND_PERSON, Demand, Equipment
from putback.area.shop_file import Raising, Shop
from putback.area.tools import BARE_HANDS

EQUIPMENT, TOOL, CERTIFICATE, PERSON, SERVICE = "equipment", "tool", "certificate", "person", "service"


@dataclass(frozen=True)
class Lack:
    """One thing that the shop has not got (or not in that number, or not rated so high)."""

    kind: str
    name: str
    count: int = 1
    rating: int | None = None

    def __str__(self) -> str:
        if self.kind == CERTIFICATE:
            return f"certificate for {self.name}"
        return str(Equipment(self.name, self.count, self.rating))


def by_name(lack: Lack) -> tuple[str, str, int, int]:
    """Sorts lacks: by kind, then by name, then the smaller demand first."""
    return lack.kind, lack.name, lack.count, lack.rating or 0


# What would open a way: any one of these sets of lacks. One empty set means nothing is lacking.
Lacks = tuple[tuple[Lack, ...], ...]
NOTHING: Lacks = ((),)


def all_of(*lacks: Lacks) -> Lacks:
    """The sets that would mend every one of several lacks."""
    sets = (tuple(sorted({lack for part in parts for lack in part}, key=by_name)) for parts in product(*lacks))
    return tuple(dict.fromkeys(sets))


def equipment(shop: Shop, demands: tuple[Demand, ...]) -> tuple[tuple[Equipment, ...], Lacks]:
    """The equipment taken for some demands, and what is lacking."""
    chosen = [shop.choose(demand) for demand in demands]
    lacking = [
        tuple((lack_of(offer),) for offer in demand.offers)
        for demand, offer in zip(demands, chosen, strict=True)
        if offer is None
    ]
    return tuple(offer for offer in chosen if offer is not None), all_of(*lacking)


def lack_of(wanted: Equipment) -> Lack:
    """The lack of some equipment, or of a second person."""
    if wanted.name == SECOND_PERSON.name:
        return Lack(PERSON, wanted.name)
    return Lack(EQUIPMENT, wanted.name, wanted.count, wanted.rating)


def tools(shop: Shop, sets: tuple[tuple[str, ...], ...]) -> tuple[tuple[tuple[str, ...], ...], Lacks]:
    """Of some tool sets those that the shop has, the first of each main tool; and what is lacking if none."""
    sets = sets or ((BARE_HANDS,),)
    found: dict[str, tuple[str, ...]] = {}
    for one in sets:
        if not _missing_tools(shop, one):
            found.setdefault(one[0], one)
    if found:
        return tuple(found.values()), NOTHING
    return (), tuple(tuple(Lack(TOOL, name) for name in _missing_tools(shop, one)) for one in sets)


def _missing_tools(shop: Shop, one: tuple[str, ...]) -> list[str]:
    return [name for name in one if name != BARE_HANDS and name not in shop.tools]


def certificates(shop: Shop, names: tuple[str, ...]) -> Lacks:
    """What is lacking of some certificates."""
    return (tuple(Lack(CERTIFICATE, name) for name in sorted(set(names) - set(shop.certificates))),)


def raising(shop: Shop) -> tuple[Raising, ...]:
    """How the shop can raise the car; stands are left out where a lift is never slower."""
    able = [one for one in shop.raising if not _missing_for(shop, one)]
    lift = next((one for one in able if one.posture == ON_A_LIFT), None)
    return tuple(one for one in able if one is lift or lift is None or one.up < lift.up or one.down < lift.down)


def postures(shop: Shop, wanted: tuple[str, ...]) -> tuple[tuple[str, ...], Lacks]:
    """Of the postures wanted those that the shop can do; and what is lacking if it can do none."""
    able = {ON_THE_GROUND, *(one.posture for one in raising(shop))}
    found = tuple(posture for posture in wanted if posture in able)
    if found or not wanted:
        return found, NOTHING
    return (), tuple(_missing_for(shop, one) for one in shop.raising if one.posture in wanted)


def _missing_for(shop: Shop, one: Raising) -> tuple[Lack, ...]:
    lacks = (lack_of(wanted) for wanted in (*one.holds, *one.moving) if not shop.has(wanted))
    return tuple(sorted(lacks, key=by_name))
