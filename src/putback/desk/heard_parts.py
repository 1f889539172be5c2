"""Parts, plugs, lines, fluids, supports and the car itself, as somebody tells of them."""

import re
from collections.abc import Iterator

from putback.capture.events import ON as COMING
from putback.capture.events import Event as Told
from putback.capture.numbers import read_number
from putback.capture.tokens import tokens
from putback.desk.heard_fasteners import OFF, closing, place
from putback.desk.heard_names import ACTIONS, Known, Names, Telling

MOVED = "item moved"
AWAY = {action: state for state, action in ACTIONS.items()}
BACK = {"plug in": "plugged", "close": "joined"}
HOME = {"electric": "plugged", "battery": "plugged", "line": "joined", "lid": "closed", "belt": "on"}
LITRES = {
    "l": 1.0,
    "litre": 1.0,
    "liter": 1.0,
    "ml": 0.001,
    "millilitre": 0.001,
    "milliliter": 0.001,
    "quart": 0.946353,
    "qt": 0.946353,
}
_AMOUNT = re.compile(r"(\d+(?:[.,]\d+)?|half an?)\s*(ml|millilit\w+|l|lit(?:re|er)s?|qts?|quarts?)\b", re.IGNORECASE)
_PLACE = re.compile(
    r"\b(?:in|into|on|onto|over|under|behind|through|between)\s+(?:the |its |each |both |all )?([\w' /-]+)"
)
_TRIED = re.compile(r"\b(?:click(?:ed|s)?|pulled|tugged|tug)\b", re.IGNORECASE)
_RAG, _CAP = re.compile(r"\b(rag|cloth|towel|tissue)"), re.compile(r"\b(cap|plug|bung|cover|tape|film|bag|glove)")
POSTURES = (("on a lift", r"\b(lift|ramps?|hoist|two.?post|four.?post)\b"), ("on stands", r"\b(stands?|jackstands?)\b"))


def hear(one: Telling) -> Iterator[tuple | dict]:
    """What one telling of a part, a plug, a line or a belt means.

    Parameters
    ----------
    one : Telling
    """
    told, names = one.told, one.names
    if told.action in ("bleed", "fill", "drain"):
        yield from fluid(one)
        return
    going = told.action in AWAY and not _comes_home(told, names)
    found = _found(told, names, going)
    if told.action == "replace":
        yield from _replaced(told, names, found)
    elif len(found) > 1 or (not found and (names.described or not going)):
        yield _which(told, names, found, going)
    else:
        yield from _moved(one, found[0] if found else told.item, going)


def _comes_home(told: Told, names: Names) -> bool:
    """What was lowered is raised, and what was raised is lowered."""
    found = names.alike(told.item, False, going=False)
    state = names.known[found[0]].state if found else ""
    return (told.action, state) in (("raise", "lowered"), ("lower", "raised"))


def _found(told: Told, names: Names, going: bool) -> list[str]:
    name = names.told.get(told.thing)
    known = names.known.get(name) if name else None
    if known and not known.group and (going or known.open):
        return [name]
    return names.alike(told.item, False, going=going)


def _moved(one: Telling, name: str, going: bool) -> Iterator[tuple | dict]:
    told, names = one.told, one.names
    known = names.known.get(name)
    if going or known is None or known.out:
        yield MOVED, {"item": name, "state": _state(told, known, going)} | ({} if going else _tried(one.words))
    if going and (told.count or told.tool):
        yield from _told_with_it(one, name)
    if not going and told.torque is not None:
        yield from _tightened_with_it(told, names, name)
    if not going and "new" in told.flags:
        yield "part swapped", {"part": name}


def _tried(words: str) -> dict:
    """How a plug was tried, where that was said."""
    found = _TRIED.search(words)
    return {"confirmed": "clicked" if found[0].lower().startswith("click") else "pulled"} if found else {}


def _state(told: Told, known: Known | None, going: bool) -> str:
    """In the words of the area where there are any."""
    states = known.states if known else ()
    if not going:
        return states[0] if states else HOME.get(told.kind) or BACK.get(told.action, "fitted")
    word = AWAY[told.action]
    if not states:
        return word
    alike = [state for state in states[1:] if state.startswith(word)]
    return alike[0] if alike else states[-1]


def _told_with_it(one: Telling, name: str) -> Iterator[tuple]:
    """ "Carrier off, two 17s": the fasteners have no name but the part's."""
    told, names = one.told, one.names
    held = [group for group in names.held_by(name) if group.total - group.out]
    known = [group for group in held if told.count in (None, group.total)]
    if names.described and len(known) != 1:
        return
    item = known[0].name if known else names.new_name("fasteners", name, None)
    count = told.count or (known[0].total if known else None)
    if count:
        size = {} if names.described or not told.tool else {"size": told.tool}
        owner = {} if names.described else {"belongs to": name}
        yield OFF, {"item": item, "count": count} | place(one.tray) | size | owner


def _tightened_with_it(told: Told, names: Names, name: str) -> Iterator[tuple | dict]:
    open_ones = [one for one in names.held_by(name) if one.open]
    fitting = [one for one in open_ones if told.count in (None, one.total, one.out + one.loose)]
    if len(fitting) == 1:
        yield from closing(told, fitting[0], told.count)
    else:
        offered = tuple((one.name, *_whole(told, one)) for one in open_ones[:5] if told.unit)
        yield {"text": f"{name}: which of its fasteners took {told.torque:g}?", "choices": offered}


def _whole(told: Told, one: Known) -> tuple[str, dict]:
    return next((said for said in closing(told, one, None) if isinstance(said, tuple)), ("", {}))


def _replaced(told: Told, names: Names, found: list[str]) -> Iterator[tuple | dict]:
    """Old for new in one word: off, and the new one on."""
    if names.described and len(found) != 1:
        yield _which(told, names, found, True)
        return
    name = found[0] if found else told.item
    known = names.known.get(name)
    if known is None or not known.out:
        yield MOVED, {"item": name, "state": known.states[-1] if known and known.states else "off"}
    yield "part swapped", {"part": name}
    yield MOVED, {"item": name, "state": known.states[0] if known and known.states else HOME.get(told.kind, "fitted")}


def _which(told: Told, names: Names, found: list[str], going: bool) -> dict:
    offered = found[:5] or ([] if going else names.open_ones(False))
    text = f"which {told.item}?" if offered else f'"{told.item}": nothing of that name is known here'
    if not going and not found:
        text = f"{told.item}: nothing of that name is off" + ("; what went back?" if offered else "")
    choices = tuple((name, MOVED, {"item": name, "state": _state(told, names.known[name], going)}) for name in offered)
    if going:
        choices += ((f"{told.item}: there besides", MOVED, {"item": told.item, "state": AWAY[told.action]}),)
    return {"text": text, "choices": choices}


def _work(told: Told, names: Names) -> Iterator[tuple]:
    owed = [work for work in names.added if "bleed" in work.lower()]
    yield "work done", {"work": owed[0] if owed else f"bleed the {told.item}"}


def fluid(one: Telling) -> Iterator[tuple | dict]:
    """A fluid that came out or went in; how much is asked for where it was not said.

    Parameters
    ----------
    one : Telling
    """
    told = one.told
    if told.action == "bleed":
        yield from _work(told, one.names)
        return
    kind = "fluid filled" if told.action in COMING else "fluid drained"
    amount = litres(told.source.text) or litres(one.words[told.source.start :])
    data = {"fluid": told.item}
    if amount is None:
        text = f"{told.item}: how many litres {'went in' if kind == 'fluid filled' else 'came out'}?"
        yield {"text": text, "missing": "litres", "kind": kind, "data": data}
    else:
        yield kind, data | {"litres": amount}


def litres(words: str) -> float | None:
    """An amount in litres that words tell; None for none.

    Parameters
    ----------
    words : str

    Examples
    --------
    >>> litres("about two litres came out"), litres("0.7 l"), litres("half a litre")
    (2.0, 0.7, 0.5)
    """
    found = _AMOUNT.search(words)
    if found:
        figure = 0.5 if found[1].lower().startswith("half") else float(found[1].replace(",", "."))
        return round(figure * LITRES[_unit(found[2])], 4)
    return _in_words(words)


def _unit(word: str) -> str:
    return word.lower().rstrip("s") if word.lower() not in ("ml", "l") else word.lower()


def _in_words(words: str) -> float | None:
    told = tokens(words)
    for at in range(len(told)):
        number = read_number(told, at)
        if number and number.after < len(told) and (unit := _unit(told[number.after].low)) in LITRES:
            return round(number.value * LITRES[unit], 4)
    return None


def car(one: Telling) -> Iterator[tuple | dict]:
    """The car was raised or lowered.

    Parameters
    ----------
    one : Telling
    """
    if one.told.action == "lower":
        yield "car moved", {"posture": "on the ground"}
    elif one.told.action == "raise":
        found = [posture for posture, word in POSTURES if re.search(word, one.words, re.IGNORECASE)]
        if len(found) == 1:
            yield "car moved", {"posture": found[0]}
        else:
            choices = tuple((posture, "car moved", {"posture": posture}) for posture, _ in POSTURES)
            yield {"text": f"the {one.told.item} is up: on what?", "choices": choices}


def put_in(one: Telling) -> Iterator[tuple | dict]:
    """A rag, cap or pin that was put in for the work, or taken out again.

    Parameters
    ----------
    one : Telling
    """
    told = one.told
    what = "rag" if _RAG.search(told.item.lower()) else "cap" if _CAP.search(told.item.lower()) else "tool"
    count = {"count": told.count} if told.count else {}
    if told.action in ("remove", "open", "unplug", "loosen"):
        yield _taken(told, one.names, what, count)
        return
    place = _PLACE.search(one.words[told.source.start :])
    yield (
        "thing put in",
        {"what": what, "name": told.item, "where": place[1].strip() if place else "place not said"} | count,
    )


def _taken(told: Told, names: Names, what: str, count: dict) -> tuple | dict:
    inside = [one for one in names.things if one[0] == what] or sorted(names.things)
    choices = tuple(
        (f"{name} at {where}", "thing taken out", {"what": kind, "name": name, "where": where} | count)
        for kind, name, where in inside[:5]
    )
    if len(choices) == 1 and inside[0][0] == what:
        return choices[0][1:]
    text = "which of what was put in?" if choices else "nothing was logged as put in"
    return {"text": f"{told.item}: {text}", "choices": choices}


def prop(one: Telling) -> Iterator[tuple | dict]:
    """A support that was set under something, or taken away.

    Parameters
    ----------
    one : Telling
    """
    told = one.told
    if told.action == "support":
        yield "thing put in", {"what": "tool", "name": told.tool or "support", "where": told.item}
    elif told.action in ("unsupport", "remove", "lower"):
        yield _taken(told, one.names, "tool", {})
    elif told.action in ("fit", "raise"):
        yield from put_in(one)
