"""The kinds of events, and what each one says: a table, so that a new kind is a new line.

Each field is named with what it must be; a name that ends in `?` may be left out. Figures are in SI, volumes in litres,
angles in degrees and distances in kilometres, as a workshop writes them down; money is in whole cents.
"""

import math
import re
from reprlib import repr as brief

from putback.errors import InputError

LONGEST_TEXT = 4000  # characters; longer notes belong into a file


# A name that holds one of these could forge a line of a list.
_CONTROLS = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029]")


def _is_words(value) -> bool:
    return isinstance(value, str) and 0 < len(value.strip()) and len(value) <= LONGEST_TEXT and "\0" not in value


def _is_text(value) -> bool:
    return _is_words(value) and not _CONTROLS.search(value)


def _are_texts(value) -> bool:
    return isinstance(value, list) and all(map(_is_text, value))


def _is_number(value) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _is_count(value) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 < value <= 10_000


def _is_hash(value) -> bool:
    return isinstance(value, str) and len(value) == 64 and not value.strip("0123456789abcdef")


def _is_mapping(value) -> bool:
    return isinstance(value, dict) and all(_is_text(name) and _is_text(said) for name, said in value.items())


CHECKS = {
    "text": (f"one line of text, at most {LONGEST_TEXT} signs", _is_text),
    "words": (f"a text, at most {LONGEST_TEXT} signs", _is_words),
    "texts": (f"a list of texts of one line, at most {LONGEST_TEXT} signs each", _are_texts),
    "number": ("a number", _is_number),
    "amount": ("a number, 0 or more", lambda value: _is_number(value) and value >= 0),
    "count": ("a whole number from 1 to 10000", _is_count),
    "yes or no": ("true or false", lambda value: isinstance(value, bool)),
    "mapping": ("an object of texts", _is_mapping),
    "hash": ("a SHA-256 of 64 digits 0-9 and a-f", _is_hash),
}

VERDICTS = "go|not yet|not this part"
DIFFERENCES = "not fitted|extra found|seized|broken|wrong part|other tool"
MEASURED = ("clicked at the setting", "value read")
UNMEASURED = ("by feel", "assumed")  # the words of the torque room; both ask for a reason
SEATED, HAND_TIGHT = "seated", "hand-tight"  # a clip or a clamp that is home; a thread that is only run in
_EVIDENCE = "|".join((*MEASURED, *UNMEASURED, SEATED, HAND_TIGHT))
_TIGHTENED = {
    "evidence": _EVIDENCE, "torque?": "amount", "angle?": "amount", "wrench?": "text", "reason?": "words",
    "passes?": "count", "in order?": "yes or no", "at?": "text",
}  # fmt: skip
_ALONG = {"minutes?": "amount", "note?": "words"}  # what any step may say besides

KINDS = {
    "job opened": {
        "name": "text", "vehicle?": "text", "area?": "hash", "area file?": "text", "shop?": "hash", "shop file?": "text",
        "drives?": "mapping", "targets?": "texts", "variants?": "texts", "cap?": "amount",
    },
    "intake noted": {
        "complaint?": "words", "kilometres?": "amount", "lamps on?": "texts", "stored codes?": "texts",
        "audio code?": "text", "damage already there?": "texts",
    },
    "role given": {"who": "text", "role": "technician|apprentice|supervisor"},
    "plan made": {
        "plan": "hash", "money?": "amount", "minutes?": "amount", "spent money?": "amount", "spent minutes?": "amount",
        "why?": "words",
    },
    "item moved": {"item": "text", "state": "text", "way?": "text", "confirmed?": "text", "new parts?": "texts", **_ALONG},
    "fasteners loosened": {"item": "text", "count": "count", **_ALONG},
    "fasteners off": {
        "item": "text", "count": "count", "to": "tray|back in their holes", "tray position?": "text",
        "size?": "text", "belongs to?": "text", **_ALONG,
    },
    "fasteners on": {"item": "text", "count": "count", "new": "yes or no", "cleaned?": "yes or no", **_TIGHTENED, **_ALONG},
    "fasteners tightened": {"item": "text", "count": "count", **_TIGHTENED, **_ALONG},
    "part compared": {"part": "text", "old": "mapping", "new": "mapping", "accepted?": "mapping"},
    "part swapped": {"part": "text", "number?": "text", **_ALONG},
    "difference found": {"item": "text", "what": DIFFERENCES, "count?": "count", "tool?": "text", "price?": "amount", **_ALONG},
    "difference settled": {"item": "text", "how": "text", **_ALONG},
    "variant found": {"variant": "text", **_ALONG},
    "event undone": {"event": "text", "reason?": "words"},
    "job paused": {"reason?": "words"},
    "job resumed": {},
    "job handed on": {"to": "text"},
    "job taken over": {"confirmed": "texts"},
    "steps confirmed": {"events": "texts"},
    "person went under": {"who": "text"},
    "person came clear": {"who": "text"},
    "car moved": {"posture": "on the ground|on a lift|on stands"},
    "engine ran": {"what": "started|stopped", "why?": "words"},
    "consent given": {"to what": "text", "by": "text", "total?": "amount", "how?": "text"},
    "part ordered": {"part": "text", "count": "count"},
    "part arrived": {"part": "text", "count": "count"},
    "part found wrong": {"part": "text", "count?": "count", "note?": "words"},
    "part returned": {"part": "text", "count": "count"},
    "fluid drained": {"fluid": "text", "litres": "amount"},
    "fluid filled": {"fluid": "text", "litres": "amount"},
    "thing put in": {"what": "cap|rag|tool", "name": "text", "where": "text", "count?": "count"},
    "thing taken out": {"what": "cap|rag|tool", "name": "text", "where": "text", "count?": "count"},
    "reading taken": {
        "what": "text", "value?": "number", "unit?": "text", "word?": "text", "when?": "before|after",
        "good?": "yes or no",
    },
    "suspects weighed": {
        "model": "text", "verdict": VERDICTS, "action": "text", "share?": "amount",
        "why?": "texts", "missing?": "texts", "again?": "texts", "limits?": "mapping", "behind?": "mapping", "open first?": "texts",
        "excluded?": "texts",
    },
    "readings judged": {"model": "text", "good": "texts", "bad": "texts"},
    "note added": {"note": "words", "item?": "text", "to hear?": "yes or no"},
    "note heard": {"note": "text", "events": "texts"},
    "file added": {"hash": "hash", "name": "text", "type": "text", "item?": "text"},
    "work added": {"work": "text", "minutes?": "amount"},
    "work done": {"work": "text", "result?": "words", **_ALONG},
    "fastener found": {"what": "text", "count": "count"},
    "hold point released": {"item": "text"},
    "point accepted": {"point": "text", "reason": "words", "by": "text"},
    "hand-over refused": {"reasons": "texts"},
    "hand-over signed": {"by": "text", "customer?": "text"},
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
    if kind in KINDS:
        check_fields(kind, KINDS[kind], data)
        _check_together(kind, data)


def check_fields(kind: str, fields: dict[str, str], data: dict) -> None:
    """Refuses what has not the fields that it must have, or has others.

    Parameters
    ----------
    kind : str
        What it is, for the sentence.
    fields : dict of str
        Each field with what it must be, as `KINDS` has them.
    data : dict

    Raises
    ------
    InputError
        A field is missing, is not known, or is not what it must be.
    """
    known = {name.rstrip("?"): (name, must_be) for name, must_be in fields.items()}
    for name in data:
        if name not in known:
            raise InputError(f'"{kind}" has no "{name}"; it may say: {", ".join(known) or "nothing more"}')
    for name, (asked, must_be) in known.items():
        if name in data:
            _check_field(kind, name, must_be, data[name])
        elif not asked.endswith("?"):
            raise InputError(f'"{kind}" does not say "{name}"; add it, as {_wanted(must_be)}')


def _wanted(must_be: str) -> str:
    return CHECKS[must_be][0] if must_be in CHECKS else " or ".join(f'"{one}"' for one in must_be.split("|"))


def _check_field(kind: str, name: str, must_be: str, value) -> None:
    good = CHECKS[must_be][1](value) if must_be in CHECKS else value in must_be.split("|")
    if not good:
        raise InputError(f'"{kind}": "{name}" must be {_wanted(must_be)}, not {brief(value)}')


def _check_together(kind: str, data: dict) -> None:
    """What one field asks of another."""
    if kind == "reading taken" and "word" not in data and "value" not in data:
        raise InputError('"reading taken": say the "value" with its "unit", or the "word" that was seen, as glazed')
    if kind == "reading taken" and ("value" in data) != ("unit" in data):
        raise InputError('"reading taken": a "value" and its "unit" go together')
    if data.get("to") == "tray" and kind == "fasteners off" and "tray position" not in data:
        raise InputError('"fasteners off": say the "tray position" they went to')
    if data.get("evidence") in UNMEASURED and "reason" not in data:
        raise InputError(f'"{kind}": say the "reason" why no torque was measured')
    if data.get("evidence") in MEASURED and "torque" not in data:
        raise InputError(f'"{kind}": say the "torque" in N·m, or that it was "by feel" and why')
