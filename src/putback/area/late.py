"""The order of what is done behind the last step: follow-ups and job work that name what they come after."""

from collections.abc import Iterable, Iterator

from putback.area.model import Area, FollowUp, JobWork, Ref
from putback.area.spelling import nearest
from putback.errors import InputError


def findings(area: Area) -> Iterator[InputError]:
    """Names under `after` that lead nowhere or in a circle, and one name for two pieces of work."""
    for name in (work.name for work in area.job_work if work.name in area.follow_ups):
        yield InputError(f'"{name}" is a follow-up and job work; give each its own name', (area.file,))
    if not {"follow-ups", "job work"} & set(area.spoilt):
        found = [finding for one in area.late.values() for finding in _of_one(area, one)]
        yield from found or _circles(area)


def _of_one(area: Area, one: FollowUp | JobWork) -> Iterator[InputError]:
    if one.after and _is_told(one):
        words = f'"{one.name}" is told at the hand-over, behind everything else; leave after out'
        yield InputError(words, one.after[0].place)
    for ref in one.after:
        yield from _unknown(area, ref)


def _is_told(one: FollowUp | JobWork) -> bool:
    """Whether it is only said, at the hand-over."""
    return isinstance(one, FollowUp) and one.at_hand_over


def _unknown(area: Area, ref: Ref) -> Iterator[InputError]:
    other = area.late.get(ref.name)
    if other is None:
        near = nearest(ref.name, area.late)
        advice = f'did you mean "{near}"?' if near else f"there are: {', '.join(area.late) or 'none'}"
        yield InputError(f'"{ref.name}" is neither a follow-up nor job work that comes after; {advice}', ref.place)
    elif _is_told(other):
        yield InputError(f'"{ref.name}" is told at the hand-over, so nothing comes after it; take it out', ref.place)


def _circles(area: Area) -> Iterator[InputError]:
    """One finding for each circle, at the first entry of the file that is in it."""
    told: set[str] = set()
    for name, one in area.late.items():
        circle = _circle(area, name)
        if circle and told.isdisjoint(circle):
            told.update(circle)
            pairs = zip(circle, (*circle[1:], name), strict=True)
            words = ", ".join(f'"{first}" comes after "{second}"' for first, second in pairs)
            words += ": a circle, in which nothing can be first; take one of them out"
            yield InputError(words, one.after[0].place)


def _circle(area: Area, start: str) -> list[str]:
    """The shortest way from a name back to itself along what each comes after; empty where there is none."""
    paths = {start: [start]}
    for name in (queue := [start]):
        for ref in area.late[name].after:
            if ref.name == start:
                return paths[name]
            if ref.name not in paths:
                paths[ref.name] = [*paths[name], ref.name]
                queue.append(ref.name)
    return []


def before(area: Area, name: str) -> frozenset[str]:
    """Everything that comes before a follow-up or job work, however long the chain."""
    found: dict[str, None] = {}
    asked = [name]
    while asked:
        one = area.late.get(asked.pop())
        new = [ref.name for ref in one.after if ref.name not in found] if one else []
        found |= dict.fromkeys(new)
        asked += new
    return frozenset(found)


def in_order(area: Area, names: Iterable[str]) -> list[str]:
    """Names sorted so that each comes after what it names, and else stays where it stands."""
    left, found = list(names), []
    earlier = {name: before(area, name) for name in left}
    while left:
        ready = next(name for name in left if earlier[name].isdisjoint(left))
        left.remove(ready)
        found.append(ready)
    return found
