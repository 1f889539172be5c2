"""Equipment as numbered pools, kept only where there might not be enough of it.

A jack rated for an engine is a jack as well: what is asked of the better ones counts against all. For every
rating asked for there is a pool of all pieces rated so high or higher, and a demand takes from each pool
that is rated no higher than itself. That is enough: the pools are nested, so demands that fit in each of
them can be met together (Hall's condition for nested sets).
"""

from collections.abc import Iterable

from putback.area.model import Equipment
from putback.way.from_area_job import Job
from putback.way.from_area_whole import Draft


class Pools:
    """The pools of one job."""

    def __init__(self, job: Job):
        self.ratings: dict[str, list[int | None]] = {}
        for one in job.equipment():
            known = self.ratings.setdefault(one.name, [])
            if one.rating not in known:
                known.append(one.rating)
        self.available = {
            pool(name, rating): job.shop.count(Equipment(name, 1, rating))
            for name, ratings in self.ratings.items()
            for rating in sorted(ratings, key=lambda rating: rating or 0)
        }

    def taken(self, equipment: Iterable[Equipment]) -> dict[str, int]:
        """What some equipment takes from each pool."""
        found: dict[str, int] = {}
        for one in equipment:
            for rating in self.ratings[one.name]:
                if (rating or 0) <= (one.rating or 0):
                    name = pool(one.name, rating)
                    found[name] = found.get(name, 0) + one.count
        return found

    def settle(self, draft: Draft) -> None:
        """Keep the pools of which too many pieces could be asked for at once, and forget the others."""
        most = _most_at_once(draft)
        draft.pools = {name: count for name, count in self.available.items() if most.get(name, 0) > count}
        for holder in _holders(draft):
            for name in [name for name in holder if name not in draft.pools]:
                del holder[name]
        _drop_empty(draft)


def pool(name: str, rating: int | None) -> str:
    """The name of a pool."""
    return str(Equipment(name, 1, rating))


def _groups(draft: Draft) -> list[list[dict]]:
    """Mappings of pools to numbers, grouped so that only one of a group counts at a time."""
    groups = [list(item.get("holds", {}).values()) for item in draft.items.values()]
    groups += [list(dim.get(key, {}).values()) for dim in draft.dims for key in ("holds", "moving")]
    return [*groups, [way["uses"] for op in draft.ops for way in op["ways"] if "uses" in way]]


def _holders(draft: Draft) -> list[dict]:
    return [held for group in _groups(draft) for held in group]


def _most_at_once(draft: Draft) -> dict[str, int]:
    total: dict[str, int] = {}
    for group in _groups(draft):
        for name in dict.fromkeys(name for held in group for name in held):
            total[name] = total.get(name, 0) + max(held.get(name, 0) for held in group)
    return total


def _drop_empty(draft: Draft) -> None:
    """Leave out mappings that say nothing any more."""
    for holder in (*draft.items.values(), *draft.dims):
        for key in ("holds", "moving", "needs"):
            kept = {name: held for name, held in holder.get(key, {}).items() if held}
            if kept:
                holder[key] = kept
            else:
                holder.pop(key, None)
    for op in draft.ops:
        for way in op["ways"]:
            if not way.get("uses", True):
                del way["uses"]
