"""What of a plan is still to do, and whether the plan still fits: the plan as JSON against the state."""

from collections.abc import Iterator
from typing import NamedTuple

from putback.area.model import MARKS, PUT_IN
from putback.job.car import Car
from putback.job.needs import behind, beyond, out_of_the_way
from putback.job.planner_state import area_state
from putback.job.state import Group, JobState

IN, SWAP, BACK_AGAIN = "in", "swap", "back"


class Left(NamedTuple):
    """A step of a plan with how many are left to do; 0 when it is done."""

    step: dict
    left: int


def swapped_part(step: dict) -> str:
    """The part that a step of a plan swaps.

    Parameters
    ----------
    step : dict
        Of the plan's JSON.
    """
    return step["id"].removeprefix("swap ")


def swap_is_over(state: JobState, plan: dict) -> bool:
    """Whether everything that a plan is to replace has been replaced.

    Parameters
    ----------
    state : JobState
    plan : dict
    """
    parts = [swapped_part(step) for step in plan["steps"] if step["direction"] == SWAP]
    return all(part in state.swapped for part in parts or state.targets)


def moves_left(state: JobState, car: Car, plan: dict) -> list[Left]:
    """Every step of a plan with how many are left to do, in the plan's order.

    Parameters
    ----------
    state : JobState
    car : Car
    plan : dict
        As JSON has it.

    Returns
    -------
    moves : list of Left
        A group that is moved in several steps is counted from its last one; what is more than the plan knew of goes to
        the first. On the way back everything counts that is out, or is to come out before the swap.
    """
    going = _share(plan, IN, lambda step: 0 if _was_out(step, state, plan) else _to_go(step, state, car))
    coming = {step["item"] for step, left in going if left}
    back = _share(plan, BACK_AGAIN, lambda step: None if step["item"] in coming else _to_come(step, state, car))
    swaps = (step for step in plan["steps"] if step["direction"] == SWAP)
    swaps = [Left(step, int(swapped_part(step) not in state.swapped)) for step in swaps]
    return sorted((*going, *swaps, *back), key=lambda one: one.step["number"])


def _was_out(step: dict, state: JobState, plan: dict) -> bool:
    """Whether the way in is over for an item: with the swap, or, where a plan was made after that, once it has been out."""
    if any(one["direction"] == SWAP for one in plan["steps"]):
        return swap_is_over(state, plan)
    made, group, item = plan_number(state), state.groups.get(step["item"]), state.items.get(step["item"])
    if group is not None:
        return any(lot.evidence and lot.number > made for lot in group.lots)
    return item is not None and item.home and item.left > made


def plan_number(state: JobState) -> int:
    """The number of the event that put the plan in force; 0 where there is none.

    Parameters
    ----------
    state : JobState
    """
    return state.plans[-1]["number"] if state.plans else 0


def _share(plan: dict, direction: str, remaining) -> list[Left]:
    """What remains of each item, shared among its steps to one state, the last one first."""
    by_state: dict[tuple, list[dict]] = {}
    for step in plan["steps"]:
        if step["direction"] == direction:
            by_state.setdefault((step["item"], step["state"]), []).append(step)
    found: list[Left] = []
    for steps in by_state.values():
        rest = remaining(steps[0])
        rest = sum(step["pieces"] for step in steps) if rest is None else rest
        for step in reversed(steps):
            mine = rest if step is steps[0] else min(rest, step["pieces"])
            rest -= mine
            found.append(Left(step, mine))
    return found


def _level(step: dict, car: Car) -> int:
    described = car.items.get(step["item"])
    return described.states.index(step["state"]) if described and step["state"] in described.states else 0


def _to_go(step: dict, state: JobState, car: Car) -> int:
    """How many do not yet stand as far out as a step takes them."""
    fastener, level = car.fastener(step["item"]), _level(step, car)
    if fastener is None:
        item = state.items.get(step["item"])
        return int(item is None or item.level < level)
    group = state.groups.get(step["item"])
    return group.total - beyond(group, level - 1, car) if group else fastener.count


def _to_come(step: dict, state: JobState, car: Car) -> int:
    """How many stand further out than a step on the way back leaves them."""
    level = _level(step, car)
    if step["item"] in state.groups:
        return not_back(state.groups[step["item"]], level)
    item = state.items.get(step["item"])
    return int(item is not None and item.level > level)


def not_back(group: Group, level: int) -> int:
    """How many of a group have still to come back to a level.

    Parameters
    ----------
    group : Group
    level : int
        0 is tight: what is in and not tight has still to be gone to.
    """
    return group.out + (group.hand_tight if level == 0 else 0)


def misfits(state: JobState, car: Car, plan: dict) -> list[str]:
    """Why a plan does not fit any more, one clause each; empty while it does.

    Parameters
    ----------
    state : JobState
    car : Car
    plan : dict
    """
    found = (_strays(state, car, plan), _gone(state, car, plan), _other_ways(state, car, plan), _shut_in(state, car))
    return list(dict.fromkeys(text for one in found for text in one))


def _strays(state: JobState, car: Car, plan: dict) -> Iterator[str]:
    for name in strays(state, car, plan):
        if name in car.items:
            are = "are" if name in state.groups and state.groups[name].total > 1 else "is"
            yield f"the {name} {are} open outside the plan"


def _shut_in(state: JobState, car: Car) -> Iterator[str]:
    """What is still off while something in front of it has gone back since the plan was made; no step of it comes to that."""
    made = plan_number(state)
    away = (*(item.name for item in state.away()), *(group.name for group in state.open_groups() if group.out))
    for name in (name for name in away if car.kind(name) not in ("", MARKS)):
        for need in behind(car.items[name], car):
            thing = state.groups.get(need.item) or state.items.get(need.item)
            moved = thing is not None and thing.last is not None and thing.last.number > made
            if moved and not out_of_the_way(need, state, car):
                yield f"the {need.item} is back in front of the {name}, which is still open"


def strays(state: JobState, car: Car, plan: dict | None) -> list[str]:
    """What is not where it belongs and no step of the plan brings back, the last one that left first.

    Parameters
    ----------
    state : JobState
    car : Car
    plan : dict or None
    """
    furthest = _furthest(car, plan) if plan else {}
    items = ((item.left, item.name, item.level) for item in state.away())
    groups = ((group.left, group.name, _out(group, car)) for group in state.open_groups())
    found = [(left, name) for left, name, level in (*items, *groups) if level > furthest.get(name, 0)]
    return [name for _, name in sorted(found, reverse=True) if car.kind(name) != MARKS and name not in state.absent]


def _furthest(car: Car, plan: dict) -> dict[str, int]:
    """From how far out a plan brings each item back."""
    found: dict[str, int] = {}
    for step in plan["steps"]:
        if step["direction"] == BACK_AGAIN:
            found[step["item"]] = max(found.get(step["item"], 0), _level(step, car) + 1)
    return found


def _out(group: Group, car: Car) -> int:
    levels = car.items[group.name].levels if group.name in car.items else 1
    return levels if group.out else 1


def _gone(state: JobState, car: Car, plan: dict) -> Iterator[str]:
    shut = area_state(state, car.area).shut if car.area else {}
    for step, left in moves_left(state, car, plan):
        name = step.get("item", "")
        if left and (name in state.absent or step.get("part") in state.absent):
            yield f"this car has no {name}"
        elif left and step["direction"] == IN and name in shut:
            yield f"the {name} cannot be opened ({shut[name]})"


def _other_ways(state: JobState, car: Car, plan: dict) -> Iterator[str]:
    """Things put in otherwise than the plan has it: what it then says of the posture and the order does not hold."""
    for step in plan["steps"]:
        item = state.items.get(step.get("item", ""))
        if item and not item.home and item.ways and car.kind(item.name) == PUT_IN and step["direction"] == BACK_AGAIN:
            if step["way"] and item.ways[-1] != step["way"]:
                yield f"the {item.name} is in by {item.ways[-1]}, not by {step['way']}"
