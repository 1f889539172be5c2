"""Fasteners that were told off, loose, in or tight: events of the ledger, or questions."""

import re
from collections.abc import Iterator

from putback.capture.events import Event as Told
from putback.capture.lexicon import singular
from putback.desk.heard_names import Known, Names, Telling
from putback.job.kinds import HAND_TIGHT, SEATED
from putback.job.state import NOT_SAID
from putback.units import FOOT_POUND, INCH_POUND

OFF, LOOSENED, ON, TIGHTENED = "fasteners off", "fasteners loosened", "fasteners on", "fasteners tightened"
UNITS = {"N·m": 1.0, "lbf·ft": FOOT_POUND, "lbf·in": INCH_POUND}
SHOWN = {"N·m": "N·m", "lbf·ft": "ft-lb", "lbf·in": "in-lb"}
PRESSED = (
    "clip",
    "pin",
    "rivet",
    "tie",
    "clamp",
    "tab",
    "catch",
    "stud-clip",
    "fir-tree",
    "fastener-clip",
    "christmas-tree",
)
BY_FEEL = "said in words: "
_ALONE = re.compile(r"\d+ mm|\d+/\d+ in")


def hear(one: Telling) -> Iterator[tuple | dict]:
    """What one telling of fasteners means.

    Parameters
    ----------
    one : Telling
    """
    if "cut" in one.told.flags:
        return  # a cable tie that was cut does not go back
    if one.told.action in ("remove", "loosen"):
        yield from _going(one.told, one.names, one.owner, one.tray)
    elif one.told.action == "replace":
        yield {"text": f"{one.told.item}: say what came off, and what went on and how tight"}
    else:
        yield from _coming(one.told, one.names, one.owner)


def _going(told: Told, names: Names, owner: str, tray: str) -> Iterator[tuple | dict]:
    if told.action == "loosen" and told.kind == "catch":
        return  # a tab that was pressed stays on its part
    kind = OFF if told.action == "remove" else LOOSENED
    found = _found(told, names, owner, True)
    if len(found) > 1 or (not found and names.described):
        yield _which(told, names, found, kind, {"count": told.count or 1} | _place(kind, tray))
        return
    name = found[0] if found else names.new_name(told.item, owner, told.tool)
    known = names.known.get(name)
    data = {"item": name} | _place(kind, tray) | _described(told, owner, kind, names)
    count = told.count or _all_in(known) or (None if _is_plural(told.item) else 1)
    yield (kind, data | {"count": count}) if count else _how_many(name, kind, data)


def _coming(told: Told, names: Names, owner: str) -> Iterator[tuple | dict]:
    found = _found(told, names, owner, False) or _closed_already(told, names, owner)
    if len(found) != 1:
        data = {"count": told.count or 1, "new": "new" in told.flags} | tight(told)
        yield _which(told, names, found, ON, data)
        return
    yield from closing(told, names.known[found[0]], told.count)


def closing(told: Told, known: Known, count: int | None) -> Iterator[tuple | dict]:
    """Events that bring so many of a group home as they were told.

    Parameters
    ----------
    told : Event
    known : Known
        The group.
    count : int or None
        All that are open where nothing was said.
    """
    count = count or known.out + known.loose or known.total
    put, turned = min(count, known.out), max(0, count - known.out)
    how = tight(told)
    if how is None:
        how = {"evidence": HAND_TIGHT}
        yield _which_unit(told, known, count)
    pressed = _is_pressed(known.name) and how["evidence"] in (HAND_TIGHT, "by feel")
    if pressed:
        how = {"evidence": SEATED}
    if put:
        yield ON, {"item": known.name, "count": put, "new": "new" in told.flags} | how
    if turned and how["evidence"] != HAND_TIGHT:
        yield TIGHTENED, {"item": known.name, "count": turned} | how
    if put and how["evidence"] == HAND_TIGHT and told.action == "fit" and told.torque is None:
        yield _how_tight(known.name, put)


def tight(told: Told) -> dict | None:
    """How tight, as an event says it; None where a torque has no clear unit.

    Parameters
    ----------
    told : Event
    """
    if told.torque is not None and told.unit is None:
        return None
    if told.torque is not None:
        angle = {"angle": told.angle} if told.angle else {}
        return {"evidence": "clicked at the setting", "torque": round(told.torque * UNITS[told.unit], 4)} | angle
    if told.action in ("tighten", "close"):
        return {"evidence": "by feel", "reason": BY_FEEL + " ".join(told.source.text.split())}
    return {"evidence": HAND_TIGHT}


def _found(told: Told, names: Names, owner: str, going: bool) -> list[str]:
    name = names.told.get(told.thing)
    known = names.known.get(name) if name else None
    if known and known.group and (not known.open if going and not names.described else True) and (going or known.open):
        return [name]
    found = names.alike(told.item, True, owner, going)
    if going and not names.described:  # the same ones once more, or others that are called alike
        found = [one for one in found if names.known[one].owner == owner or not owner]
        return found[:1] if len(told.item.split()) > 1 or owner else []
    return found


def _closed_already(told: Told, names: Names, owner: str) -> list[str]:
    """A further stage of what is tight already."""
    return names.alike(told.item, True, owner) if told.action == "tighten" else []


def _place(kind: str, tray: str) -> dict:
    return place(tray) if kind == OFF else {}


def place(tray: str) -> dict:
    """Where fasteners went, as an event says it.

    Parameters
    ----------
    tray : str
        Empty where nobody said.
    """
    return {"to": "tray", "tray position": tray or NOT_SAID}


def _described(told: Told, owner: str, kind: str, names: Names) -> dict:
    if names.described or kind != OFF:
        return {}
    return ({"size": told.tool} if told.tool else {}) | ({"belongs to": owner} if owner else {})


def _all_in(known: Known | None) -> int:
    return known.total - known.out - known.loose if known else 0


def _is_plural(item: str) -> bool:
    last = item.split()[-1].lower()
    return singular(last) != last


def _is_pressed(name: str) -> bool:
    return singular(name.split()[-1].lower()) in PRESSED


def _which(told: Told, names: Names, found: list[str], kind: str, data: dict | None) -> dict:
    offered = found[:5] or ([] if kind == OFF else names.open_ones(True))
    data = {} if data is None else {key: value for key, value in data.items() if value is not None}
    text = f"which {told.item}?" if offered else f'"{told.item}": no fasteners of that name are known here'
    choices = tuple((name, kind, {"item": name} | data) for name in offered)
    if kind in (OFF, LOOSENED):
        choices += ((f"{told.item}: there besides", kind, {"item": told.item} | data),)
    return {"text": text, "choices": choices}


def _how_many(name: str, kind: str, data: dict) -> dict:
    choices = tuple((str(n), kind, data | {"count": n}) for n in range(2, 9))
    return {"text": f"{name}: how many?", "choices": choices, "missing": "count", "kind": kind, "data": data}


def _how_tight(name: str, count: int) -> dict:
    data = {"item": name, "count": count, "evidence": "clicked at the setting"}
    feel = {"item": name, "count": count, "evidence": "by feel", "reason": "no torque was said"}
    return {
        "text": f"{name}: how tight? They count as run in by hand",
        "choices": (("by feel", TIGHTENED, feel),),
        "missing": "torque",
        "kind": TIGHTENED,
        "data": data,
    }


def _which_unit(told: Told, known: Known, count: int) -> dict:
    """A figure without a unit is never guessed: newton metres and foot-pounds differ by a third."""

    def meant(unit: str) -> dict:
        torque = round(told.torque * UNITS[unit], 4)
        return {"item": known.name, "count": count, "evidence": "clicked at the setting", "torque": torque}

    choices = tuple((f"{told.torque:g} {SHOWN[unit]}", TIGHTENED, meant(unit)) for unit in UNITS)
    return {"text": f"{known.name}: {told.torque:g} of which unit? They count as run in by hand", "choices": choices}
