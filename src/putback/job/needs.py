"""What an item waits for, as the description has it: near enough for one tap, and quick.

The planner knows all of it and takes seconds; here only the needs that a thing names itself are looked up.
"""

from collections.abc import Iterator

from putback.area import needs
from putback.area.hazards import Hazard, hazards
from putback.area.model import FASTENERS, Item, Manner, Ref
from putback.area.needs import Need
from putback.job.car import Car
from putback.job.fold import minutes_between
from putback.job.state import Group, JobState

HOT, SUPPORTED = "hot", "supported"  # names of hazards


def owner_of(item: Item, car: Car) -> Item | None:
    """The part that a fastener, plug or cable belongs to.

    Parameters
    ----------
    item : Item
    car : Car
    """
    return car.items.get(item.owner) if item.owner else None


def stood_on(item: Item, car: Car) -> bool:
    """Whether the car stands on an item, or on the part that it belongs to.

    Parameters
    ----------
    item : Item
    car : Car
    """
    return car.area is not None and (item.owner or item.name) in {ref.name for ref in car.area.stands_on}


def tags(item: Item, car: Car) -> dict[str, Hazard]:
    """The hazards of an item and of the part that it belongs to, by name.

    Parameters
    ----------
    item : Item
    car : Car
    """
    owner = owner_of(item, car)
    refs = (*(owner.hazards if owner else ()), *item.hazards)
    return {ref.name: hazards()[ref.name] for ref in refs}


def behind(item: Item, car: Car, way: str = "") -> list[Need]:
    """What must be out of the way before an item moves, out or back.

    Parameters
    ----------
    item : Item
    car : Car
    way : str, optional
        Which of its own ways is taken; where it has several and none is named, what all of them need.
    """
    owner = owner_of(item, car)
    refs = (*(owner.base.behind if owner else ()), *item.base.behind, *item.covers, *_battery(item, car))
    found = [needs.find(car.area, ref) for ref in refs]
    of_ways = [[needs.find(car.area, ref) for ref in one.behind] for one in _ways(item, way)]
    found += [need for need in (of_ways[0] if of_ways else ()) if all(need in others for others in of_ways)]
    return [need for need in dict.fromkeys(found) if need.item in car.items and need.item != item.name]


def _ways(item: Item, way: str) -> tuple[Manner, ...]:
    named = tuple(one for one in item.ways if one.name == way)
    return named or item.ways


def _battery(item: Item, car: Car) -> tuple[Ref, ...]:
    """The battery, where a hazard of the item asks for it to be off."""
    battery = car.area.battery
    asked = battery is not None and any(tag.needs == "battery" for tag in tags(item, car).values())
    return (battery,) if asked and battery.name not in (item.name, item.owner) else ()


def out_of_the_way(need: Need, state: JobState, car: Car) -> bool:
    """Whether what a need asks for is as far out as it asks.

    Parameters
    ----------
    need : Need
    state : JobState
    car : Car
    """
    group, item = state.groups.get(need.item), state.items.get(need.item)
    if group is not None:
        return beyond(group, need.level - 1, car) >= group.total
    return item is not None and item.level >= need.level


def beyond(group: Group, level: int, car: Car) -> int:
    """How many of a group stand further out than a level.

    Parameters
    ----------
    group : Group
    level : int
        0 is tight. A group that is broken loose first has 1 for loose; 0 counts the loose ones of any group.
    car : Car
    """
    levels = car.items[group.name].levels if group.name in car.items else 1
    return group.out + (group.hand_tight if level == 0 and levels > 1 else 0)


def secured_by(item: Item, car: Car) -> Iterator[Item]:
    """What must be put in or marked before an item, or the part that it fastens, is opened.

    Parameters
    ----------
    item : Item
    car : Car
    """
    names = {item.name, item.owner} if item.kind == FASTENERS else {item.name}
    for other in car.items.values():
        if any(ref.name in names for ref in (*other.secures, *other.marks)):
            yield other


def minutes_left(item: Item, state: JobState, car: Car, now: str, way: str = "") -> dict[str, float]:
    """Minutes that an item has to wait still, by what it waits for.

    Parameters
    ----------
    item : Item
    state : JobState
    car : Car
    now : str
        The time in UTC, as events have it.
    way : str, optional
        Which of its own ways is taken.
    """
    found = {need.item: waiting(need.item, state, car, now) for need in behind(item, car, way)}
    return {name: left for name, left in found.items() if left > 0}


def waiting(name: str, state: JobState, car: Car, now: str) -> float:
    """Minutes until whatever needs a thing that is off may begin; 0 where nothing waits.

    Parameters
    ----------
    name : str
        What is off.
    state : JobState
    car : Car
    now : str
    """
    described, item = car.items.get(name), state.items.get(name)
    if described is None or not described.wait or item is None or item.level < item.levels:
        return 0.0
    return max(0.0, float(described.wait) - minutes_between(item.left_at, now))
