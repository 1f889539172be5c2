"""What a shop would have to get for a way to open: the smallest sets of things."""

from collections.abc import Iterable
from itertools import combinations

from putback.area.model import Equipment
from putback.area.shop_file import Shop
from putback.way import from_area_shop as means
from putback.way.from_area import Translated, core_problem
from putback.way.from_area_shop import Lack

MOST = 4  # kinds of things; a way that lacks more is no advice


def smallest_missing(area, shop: Shop, targets: Iterable[str], state=None, *, without=(), **options) -> list[tuple[Lack, ...]]:
    """The smallest sets of things that would let every target be reached, in order of their names.

    Parameters
    ----------
    area, shop, targets, state, without, options
        As for `core_problem`.

    Returns
    -------
    sets : list of tuple of Lack
        All sets of the least size, none where even `MOST` kinds of things would not do. Only reaching is
        judged, not whether equipment is needed twice at once: plan with `having` to be sure.
    """
    targets, shop = list(targets), shop.without(without)
    for size in range(MOST + 1):
        sets = [one for one in _candidates(area, shop, targets, state, options, size)]
        if sets:
            return sets
    return []


def _candidates(area, shop: Shop, targets, state, options, size: int) -> list[tuple[Lack, ...]]:
    lacks = _all_lacks(area, shop, targets, state, options)
    sets = combinations(lacks, size)
    return [one for one in sets if reaches(core_problem(area, having(shop, one), targets, state, **options))]


def _all_lacks(area, shop: Shop, targets, state, options) -> list[Lack]:
    dropped = core_problem(area, shop, targets, state, **options).dropped
    return sorted({lack for way in dropped for one in way.lacks for lack in one})


def having(shop: Shop, lacks: Iterable[Lack]) -> Shop:
    """The shop with some things that it lacks; a sublet without a known price is left out of the total."""
    for lack in lacks:
        match lack.kind:
            case means.TOOL:
                shop = shop.with_more(tools=[lack.name])
            case means.CERTIFICATE:
                shop = shop.with_more(certificates=[lack.name])
            case means.SERVICE:
                shop = shop.with_more(sublets=[lack.name])
            case _:
                shop = shop.with_more(equipment=[Equipment(lack.name, lack.count, lack.rating)])
    return shop


def reaches(translated: Translated) -> bool:
    """Whether every target can be brought to its last level, as far as needs go."""
    ops = {(op["item"], op["level"]) for op in translated.core["ops"] if op["dir"] == "out" and op["ways"]}
    items = translated.core["items"]
    wanted = [swap["item"] for swap in translated.core["swaps"]]
    return all(
        (name, level) in ops
        for name in wanted
        for level in range(items[name].get("start", 0) + 1, items[name]["levels"] + 1)
    )
