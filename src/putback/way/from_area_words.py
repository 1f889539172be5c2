"""What an operation is called, and the sentence that tells people to do it."""

from fractions import Fraction

from putback.area.model import BELT, CABLE, FASTENERS, LINE, MARKS, OUT, PLUG, PUT_IN, Item

_CLIPS = ("pin", "clip", "rivet", "clamp")


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
    if _is_clip(item):
        return "release" if out else "press in"
    if item.levels == 1:
        return "undo" if out else "tighten"
    if area_level == 1:
        return "break loose" if out else "tighten finally"
    return "take out" if out else "run in"


def _is_clip(item: Item) -> bool:
    return item.fastener.thread is None and item.fastener.noun.split()[-1].rstrip("s") not in ("screw", "bolt", "nut") \
        and "clamp" not in item.fastener.noun


def _part_verb(item: Item, out: bool) -> str:
    match item.states[1].split()[0]:
        case "off" | "out":
            return "remove" if out else "refit"
        case "aside":
            return "set aside" if out else "put back"
        case "lowered":
            return "lower" if out else "raise"
        case "raised":
            return "raise" if out else "lower"
        case "apart":
            return "take apart" if out else "join"
    return "free" if out else "refit"


def sentence(item: Item, name: str, direction: str, area_level: int, pieces: Fraction) -> str:
    """What to do, as one reads it at the car: `undo the 2 left mount nuts`."""
    own = dict(item.how).get(direction)
    if own:
        return own
    word = verb(item, direction, area_level)
    thing = _thing(item, name, pieces)
    if item.kind == FASTENERS and word in ("break loose", "take out", "run in", "press in"):
        first, second = word.split()
        return f"{first} {thing} {second}"
    if item.kind == FASTENERS and word == "tighten finally":
        return f"tighten {thing} finally"
    if word in ("set aside", "put back", "put in", "take out", "take off", "put on", "plug in"):
        first, second = word.split()
        return f"{first} {thing} {second}"
    if word == "mark":
        return f"set {thing}"
    if word in ("lower", "raise") and direction == OUT:
        return f"{word} {thing} {item.states[1].split(' ', 1)[-1]}"
    if word == "free":
        return f"bring {thing} {item.states[1]}"
    if word == "take apart":
        return f"take {thing} apart"
    return f"{word} {thing}"


def _thing(item: Item, name: str, pieces: Fraction) -> str:
    if item.fastener is None or item.fastener.count == 1:
        return f"the {name}"
    count = item.fastener.count
    moved = int(pieces * count)
    return f"the {count} {name}" if moved == count else f"{moved} of the {count} {name}"
