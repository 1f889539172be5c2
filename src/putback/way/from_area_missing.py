"""What a shop would have to get for a way to open: the smallest sets of things."""

from collections.abc import Iterable
from itertools import combinations

from putback.area.model import Area, Equipment
from putback.area.shop_file import Shop
from putback.area.state_file import State
from putback.way import from_area_shop as means
from putback.way.from_area_described import Chain, Description
from putback.way.from_area_moves import moves
from putback.way.from_area_reduce import reached
from putback.way.from_area_shop import Lack
from putback.way.from_area_steps import Step, all_steps

MOST = 4  # kinds of things; a way that lacks more is no advice


def smallest_missing(
    area: Area,
    shop: Shop,
    targets: Iterable[str],
    state: State | None = None,
    *,
    avoid: Iterable[str] = (),
    without: Iterable[str] = (),
) -> list[tuple[Lack, ...]]:
    """The smallest sets of things that would let every target be reached, in order of their names.

    Parameters
    ----------
    area, shop, targets, state, avoid, without
        As for `core_problem`.

    Returns
    -------
    sets : list of tuple of Lack
        All sets of the least size, none where even `MOST` kinds of things would not do. Only reaching is
        judged, not whether equipment is needed twice at once: plan with `having` to be sure.
    """
    shop = shop.without(without)
    described = Description(area, state, tuple(avoid))
    steps = all_steps(described)
    wanted = [chain for name in targets for chain in described.of_item.get(name, ())]
    _, dropped = moves(steps, area, shop)
    lacks = sorted({lack for way in dropped for one in way.lacks for lack in one}, key=means.by_name)
    for size in range(MOST + 1):
        sets = [one for one in combinations(lacks, size) if _opens(described, steps, wanted, having(shop, one))]
        if sets:
            return sets
    return []


def _opens(described: Description, steps: list[Step], wanted: list[Chain], shop: Shop) -> bool:
    able, _ = moves(steps, described.area, shop)
    levels = reached(able, described.chains)
    return all(levels[chain.name] == chain.levels for chain in wanted)


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
