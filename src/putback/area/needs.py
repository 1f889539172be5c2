"""What a name in a file refers to: an item, one of its states, and for a thing put in the way it is held.

belt                            fully displaced: off
wheel bolts loose               at least loose
engine support by support bar   in, and held by the bar
"""

from dataclasses import dataclass

from putback.area.model import Area, Item, Ref
from putback.area.spelling import nearest
from putback.errors import InputError


@dataclass(frozen=True)
class Need:
    """An item and the level it must have reached, or for a limit must not have passed."""

    item: str
    level: int
    way: str | None = None


def find(area: Area, ref: Ref, still: bool = False) -> Need:
    """Look a need up.

    Parameters
    ----------
    area : Area
    ref : Ref
        An item's name, alone or with one of its states.
    still : bool
        A name alone means fully displaced; with `still`, where it belongs.

    Raises
    ------
    InputError
        No item is called so, or it has no such state.
    """
    item, rest = _split(area, ref.name)
    if item is None or (rest and not _is_way(item, rest)):  # the name of a way may have a comma in it
        _no_list(area, ref)
    if item is None:
        raise InputError(f'"{ref.name}" is not in this file{_suggestion(ref.name, area.items)}', ref.place)
    if not rest:
        return Need(item.name, 0 if still else item.levels)
    if rest.startswith("by "):
        return Need(item.name, item.levels, find_way(item, rest[3:], ref))
    return Need(item.name, find_level(item, rest, ref, area.items))


def _is_way(item: Item, rest: str) -> bool:
    return rest.removeprefix("by ") in [way.name for way in item.ways]


def _no_list(area: Area, ref: Ref) -> None:
    """Refuse several names that stand there as if they were one."""
    names = [part.strip() for part in ref.name.split(",")]
    first, rest = _split(area, names[0])
    if (len(names) > 1 and first is not None) or rest in area.items:
        names = names if len(names) > 1 else [first.name, rest]
        raise InputError(f'several names stand in brackets, with commas: [{", ".join(names)}]', ref.place)


def find_item(area: Area, ref: Ref) -> Item:
    """Look an item up by its bare name."""
    if ref.name in area.items:
        return area.items[ref.name]
    raise InputError(f'"{ref.name}" is not in this file{_suggestion(ref.name, area.items)}', ref.place)


def _split(area: Area, text: str) -> tuple[Item | None, str]:
    """The item with the longest name that the text begins with, and what follows it."""
    words = text.split()
    for end in range(len(words), 0, -1):
        item = area.items.get(" ".join(words[:end]))
        if item is not None:
            return item, " ".join(words[end:])
    return None, ""


def find_way(item: Item, name: str, ref: Ref) -> str:
    """The name of one of an item's ways."""
    names = [way.name for way in item.ways]
    if name in names:
        return name
    raise InputError(f'"{item.name}" has no way "{name}"; it has: {"; ".join(names) or "none"}', ref.place)


def level_of(item: Item, state: str) -> int | None:
    """The level of a state's name; its first word will do where it is plain (`lowered` for `lowered 65 mm`)."""
    if state in item.states:
        return item.states.index(state)
    matches = [level for level, name in enumerate(item.states) if name.split()[0] == state]
    return matches[0] if len(matches) == 1 else None


def find_level(item: Item, state: str, ref: Ref, known=()) -> int:
    """The level of a state, named in a file; `known` are names that a slip of the pen may have meant."""
    level = level_of(item, state)
    if level is None:
        near = nearest(ref.name, known, 0.85)
        if near:
            raise InputError(f'"{ref.name}" is not in this file; did you mean "{near}"?', ref.place)
        states = ", ".join(item.states)
        raise InputError(f'"{item.name}" is never "{state}"; its states are: {states}', ref.place)
    return level


def _suggestion(name: str, known) -> str:
    near = nearest(name, known)
    return f'; did you mean "{near}"?' if near else ""
