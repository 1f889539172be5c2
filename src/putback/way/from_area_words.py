"""What an operation is called, and the sentence that tells people to do it."""

from fractions import Fraction

from putback.area import called
from putback.area.model import BELT, CABLE, FASTENERS, LINE, MARKS, OUT, PLUG, PUT_IN, Item
from putback.way.from_area_described import Chain

# Where a part goes, as the file says it, and what one does to get it there.
_PARTICIPLES = {
    "drained": "drain", "folded": "fold", "hung": "hang", "lowered": "lower", "moved": "move", "pulled": "pull",
    "pushed": "push", "raised": "raise", "released": "release", "slackened": "slacken", "slid": "slide",
    "swung": "swing", "tied": "tie", "tilted": "tilt", "turned": "turn", "undone": "undo",
}  # fmt: skip
_RETURNS = {"drained": "fill", "lowered": "raise", "raised": "lower", "slackened": "adjust"}


def verb(item: Item, direction: str, area_level: int) -> str:
    """The word that tells this move from the other moves of the item; with the item's name it is unique."""
    out = direction == OUT
    match item.kind:
        case kind if kind == FASTENERS:
            return _fastener_verb(item, out, area_level)
        case kind if kind == PLUG:
            return "unplug" if out else "plug in"
        case kind if kind == LINE:
            return "open" if out else "join"
        case kind if kind in (BELT, CABLE):
            return "take off" if out else "put on"
        case kind if kind == PUT_IN:
            return "put in" if out else "take out"
        case kind if kind == MARKS:
            return "mark"
    return _part_verb(item, out)


def _fastener_verb(item: Item, out: bool, area_level: int) -> str:
    if is_clip(item):
        return "release" if out else "press in"
    if item.levels == 1:
        return "undo" if out else "tighten"
    if area_level == 1:
        return "break loose" if out else "tighten finally"
    return "take out" if out else "run in"


def is_clip(item: Item) -> bool:
    """Pins, clips and the like, which are pressed in rather than tightened.

    Parameters
    ----------
    item : Item
        A group of fasteners.
    """
    return called.is_clip(item.fastener.noun, threaded=item.fastener.thread is not None)


def _part_verb(item: Item, out: bool) -> str:
    first = item.states[1].split()[0]
    if first in ("off", "out"):
        return "remove" if out else "refit"
    if first == "aside":
        return "set aside" if out else "put back"
    if first == "apart":
        return "take apart" if out else "join"
    if not out:
        return _RETURNS.get(first, "refit")
    return _PARTICIPLES.get(first, "free")


def sentence(chain: Chain, direction: str, area_level: int, pieces: Fraction) -> str:
    """What to do, as one reads it at the car: `undo the 2 left mount nuts`."""
    item = chain.item
    own = dict(item.how).get(direction)
    if own:
        return own
    word = verb(item, direction, area_level)
    thing = _thing(item, pieces)
    by = f", by {chain.way.name}" if chain.way and direction == OUT else ""
    first, _, second = word.partition(" ")
    if direction == OUT and first in _PARTICIPLES.values():
        second = item.states[1].partition(" ")[2]
    if word == "mark":
        first = "set"
    return f"{first} {thing}{' ' if second else ''}{second}{by}"


def _thing(item: Item, pieces: Fraction) -> str:
    if item.fastener is None or item.fastener.count == 1:
        return f"the {item.name}"
    count = item.fastener.count
    moved = int(pieces * count)
    return f"the {count} {item.name}" if moved == count else f"{moved} of the {count} {item.name}"
