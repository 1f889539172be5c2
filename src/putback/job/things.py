"""Caps, rags and tools that were put in: each comes out before it is covered, at the latest when all else is back."""

from collections.abc import Iterator

from putback.job.car import Car
from putback.job.state import JobState
from putback.job.step import WAY_BACK, Said, Step


def things_in(back: list[Step], state: JobState, car: Car) -> list[Step]:
    """The way back with what has to be taken out at its place: before the step that covers it, else at its end.

    Parameters
    ----------
    back : list of Step
    state : JobState
    car : Car
    """
    found = list(back)
    for step, thing in _steps(state):
        over = (at for at, one in enumerate(found) if one.key[:5] != "thing" and may_cover(one.item, thing, state, car))
        found.insert(next(over, len(found)), step)
    return found


def _steps(state: JobState) -> Iterator[tuple[Step, tuple[str, str, str]]]:
    for (what, name, where), count in state.things.items():
        if count > 0:
            words = f"take out: {count} x {name}, {where}" if count > 1 else f"take out: {name}, {where}"
            said = Said("thing taken out", {"what": what, "name": name, "where": where, "count": count})
            key = f"thing: {what}, {name}, {where}"
            yield Step(key, WAY_BACK, words, where=where, left=count, of=count, closes=(said,)), (what, name, where)


def may_cover(cover: str, thing: tuple[str, str, str], state: JobState, car: Car) -> bool:
    """Whether what goes on may hide a thing: its place names it, or nobody described it and the thing came in later.

    Parameters
    ----------
    cover : str
        What goes on; empty for nothing.
    thing : (what, name, where)
        A cap, a rag or a tool, as the state has it.
    state : JobState
    car : Car
    """
    item = state.items.get(cover)
    later = item is not None and cover not in car.items and 0 < item.left < state.put_in.get(thing, 0)
    return later or is_at(thing[2], cover)


def is_at(where: str, name: str) -> bool:
    """Whether a place that somebody named is at a thing.

    Parameters
    ----------
    where : str
        As it was said: `intake duct`, `left port under the intake duct`.
    name : str
        Of an item; empty for none.
    """
    return bool(name) and (name.casefold() in where.casefold() or where.casefold() in name.casefold())
