"""The kinds of events, and what each one says: a table, so that a new kind is a new line.

Each field is named with what it must be; a name that ends in `?` may be left out. Figures are in SI, volumes in litres
and distances in kilometres, as a workshop writes them down.
"""

import math

from putback.errors import InputError

LONGEST_TEXT = 4000  # characters; longer notes belong into a file


def _is_text(value) -> bool:
    return isinstance(value, str) and 0 < len(value.strip()) and len(value) <= LONGEST_TEXT


def _is_number(value) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _is_count(value) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 < value <= 10_000


def _is_hash(value) -> bool:
    return isinstance(value, str) and len(value) == 64 and not value.strip("0123456789abcdef")


CHECKS = {
    "text": ("a text", _is_text),
    "texts": ("a list of texts", lambda value: isinstance(value, list) and all(map(_is_text, value))),
    "number": ("a number", _is_number),
    "amount": ("a number, 0 or more", lambda value: _is_number(value) and value >= 0),
    "count": ("a whole number from 1 to 10000", _is_count),
    "yes or no": ("true or false", lambda value: isinstance(value, bool)),
    "mapping": ("an object", lambda value: isinstance(value, dict)),
    "hash": ("a SHA-256 of 64 digits 0-9 and a-f", _is_hash),
}

_DIFFERENCES = "not fitted|extra found|seized|broken|wrong part|other tool"
_EVIDENCE = "clicked at the setting|value read|by feel|assumed"  # the words of the torque room

KINDS = {
    "job opened": {"name": "text", "area?": "mapping", "shop?": "mapping"},
    "intake noted": {
        "complaint?": "text", "kilometres?": "amount", "lamps on?": "texts", "stored codes?": "texts",
        "audio code?": "text", "damage already there?": "texts",
    },
    "step done": {"step": "text", "item?": "text", "level?": "amount", "way?": "text"},
    "fasteners off": {"item": "text", "count": "count", "to": "tray|back in their holes", "tray position?": "text"},
    "fasteners on": {
        "item": "text", "count": "count", "new": "yes or no", "evidence": _EVIDENCE,
        "torque?": "amount", "wrench?": "text", "reason?": "text",
    },
    "part swapped": {"part": "text", "matched": "yes or no", "note?": "text"},
    "difference found": {"item": "text", "what": _DIFFERENCES, "note?": "text"},
    "event undone": {"event": "text", "reason?": "text"},
    "job paused": {"reason?": "text"},
    "job resumed": {},
    "job handed on": {"to": "text"},
    "person went under": {"who": "text"},
    "person came clear": {"who": "text"},
    "consent given": {"to what": "text", "by": "text"},
    "part ordered": {"part": "text", "count": "count"},
    "part arrived": {"part": "text", "count": "count"},
    "part found wrong": {"part": "text", "note?": "text"},
    "part returned": {"part": "text", "count": "count"},
    "fluid drained": {"fluid": "text", "litres": "amount"},
    "fluid filled": {"fluid": "text", "litres": "amount"},
    "thing put in": {"what": "cap|rag|tool", "name": "text", "where": "text"},
    "thing taken out": {"what": "cap|rag|tool", "name": "text", "where": "text"},
    "reading taken": {"what": "text", "value": "number", "unit": "text", "where?": "text"},
    "file added": {"hash": "hash", "name": "text", "type": "text"},
    "hold point released": {"point": "text"},
    "hand-over refused": {"reasons": "texts"},
    "hand-over signed": {"by": "text"},
}  # fmt: skip


def check(kind: str, data: dict) -> None:
    """Refuses what an event of a known kind cannot say; a kind from a newer program passes as it is.

    Parameters
    ----------
    kind : str
    data : dict
        What the event says, as read from JSON.

    Raises
    ------
    InputError
        A field is missing, is not known, or is not what it must be.
    """
    if kind not in KINDS:
        return
    fields = {name.rstrip("?"): (name, must_be) for name, must_be in KINDS[kind].items()}
    for name in data:
        if name not in fields:
            raise InputError(f'"{kind}" has no "{name}"; it may say: {", ".join(fields) or "nothing more"}')
    for name, (asked, must_be) in fields.items():
        if name in data:
            _check_field(kind, name, must_be, data[name])
        elif not asked.endswith("?"):
            raise InputError(f'"{kind}" does not say "{name}"; add it, as {_wanted(must_be)}')
    _check_together(kind, data)


def _wanted(must_be: str) -> str:
    return CHECKS[must_be][0] if must_be in CHECKS else " or ".join(f'"{one}"' for one in must_be.split("|"))


def _check_field(kind: str, name: str, must_be: str, value) -> None:
    good = CHECKS[must_be][1](value) if must_be in CHECKS else value in must_be.split("|")
    if not good:
        raise InputError(f'"{kind}": "{name}" must be {_wanted(must_be)}, not {value!r}')


def _check_together(kind: str, data: dict) -> None:
    """What one field asks of another."""
    if data.get("to") == "tray" and kind == "fasteners off" and "tray position" not in data:
        raise InputError('"fasteners off": say the "tray position" they went to')
    if data.get("evidence") in ("by feel", "assumed") and "reason" not in data:
        raise InputError('"fasteners on": say the "reason" why no torque was measured')
    if data.get("evidence") in ("clicked at the setting", "value read") and "torque" not in data:
        raise InputError('"fasteners on": say the "torque" in N·m, or that it was "by feel" and why')
