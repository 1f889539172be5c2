"""Caps, rags and tools that were put in: each comes out before it is covered, at the latest when all else is back."""

from collections.abc import Iterator

from putback.job.state import JobState
from putback.job.step import WAY_BACK, Said, Step


def things_in(back: list[Step], state: JobState) -> list[Step]:
    """The way back with what has to be taken out at its place: before the step that covers it, else at its end.

    Parameters
    ----------
    back : list of Step
    state : JobState
    """
    found = list(back)
    for step, where in _steps(state):
        covering = (at for at, one in enumerate(found) if is_at(where, one.item) and one.key[:5] != "thing")
        found.insert(next(covering, len(found)), step)
    return found


def _steps(state: JobState) -> Iterator[tuple[Step, str]]:
    for (what, name, where), count in state.things.items():
        if count > 0:
            words = f"take out: {count} x {name}, {where}" if count > 1 else f"take out: {name}, {where}"
            said = Said("thing taken out", {"what": what, "name": name, "where": where, "count": count})
            key = f"thing: {what}, {name}, {where}"
            yield Step(key, WAY_BACK, words, where=where, left=count, of=count, closes=(said,)), where


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
