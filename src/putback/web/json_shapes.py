"""The shapes of what the API takes and gives, as JSON Schema; those of events are made from their table."""

from typing import Any

from putback.job.kinds import CHECKS, DIFFERENCES, KINDS, LONGEST_TEXT

_TEXT = {"type": "string", "pattern": r"^[^\x00]*[^\s\x00][^\x00]*$", "maxLength": LONGEST_TEXT}
_NAME = {"type": "string", "pattern": r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]*$", "minLength": 1, "maxLength": LONGEST_TEXT}
_LINE = {"type": "string", "pattern": r"\S", "maxLength": 200, "description": "one line of signs that can be seen"}
ID = {"type": "string", "pattern": "^([0-9A-Za-z]{26}|[0-9A-Za-z]{32})$"}
HASH = {"type": "string", "pattern": "^[0-9a-f]{64}$"}

# What a field must be, in the words of `kinds.CHECKS`.
FIELDS: dict[str, dict[str, Any]] = {
    "text": _NAME,
    "words": _TEXT,
    "texts": {"type": "array", "items": _NAME},
    "number": {"type": "number"},
    "amount": {"type": "number", "minimum": 0},
    "count": {"type": "integer", "minimum": 1, "maximum": 10_000},
    "yes or no": {"type": "boolean"},
    "mapping": {"type": "object", "additionalProperties": _NAME},
    "hash": HASH,
}

# What the calls take, field by field, in the same words.
OPEN = {
    "name": "text", "vehicle?": "text", "area?": "text", "shop?": "text", "targets?": "texts", "variants?": "texts",
    "cap?": "amount", "complaint?": "text",
}  # fmt: skip
DIFFERS = {
    "item": "text", "what": DIFFERENCES, "count?": "count", "note?": "text", "tool?": "text", "price?": "amount",
}  # fmt: skip
PLAN = {"why?": "text", "avoid?": "texts", "without?": "texts"}
VARIANT = {"variant": "text"}
HEARD = {"note": "text", "tray?": "text"}
HAND_ON = {"to": "text"}
HAND_OVER = {"by": "text", "customer?": "text", "pin?": "text"}


def shape_of(fields: dict[str, str]) -> dict[str, Any]:
    """An object with these fields and no others.

    Parameters
    ----------
    fields : dict of str
        Each with what it must be; a name that ends in `?` may be left out.
    """
    return {
        "type": "object",
        "properties": {name.rstrip("?"): _field(must_be) for name, must_be in fields.items()},
        "required": [name for name in fields if not name.endswith("?")],
        "additionalProperties": False,
    }


def _field(must_be: str) -> dict[str, Any]:
    return FIELDS[must_be] if must_be in CHECKS else {"enum": must_be.split("|")}


def ref(name: str) -> dict[str, str]:
    """A shape by its name.

    Parameters
    ----------
    name : str
    """
    return {"$ref": f"#/components/schemas/{name}"}


def _list(shape: dict) -> dict[str, Any]:
    return {"type": "array", "items": shape}


def _object(**properties: dict) -> dict[str, Any]:
    """An object that has these at least."""
    return {"type": "object", "properties": properties, "required": list(properties)}


def _event(kind: str) -> dict[str, Any]:
    """An event of one kind, as a device sends it."""
    head = {"id": ID, "job": ID, "kind": {"const": kind}, "at": ref("time"), "person": _LINE, "device": _LINE}
    return _object(**head, data=shape_of(KINDS[kind])) | {"additionalProperties": False}


def _said(kind: str) -> dict[str, Any]:
    return _object(kind={"const": kind}, data=shape_of(KINDS[kind])) | {"additionalProperties": False}


_NULL = {"type": "null"}
_STRING, _NUMBER, _INTEGER, _YES = {"type": "string"}, {"type": "number"}, {"type": "integer"}, {"type": "boolean"}
_TEXTS = _list(_STRING)


def _or_none(shape: dict) -> dict[str, Any]:
    return {"anyOf": [shape, _NULL]}


SHAPES: dict[str, dict[str, Any]] = {
    "time": {
        "type": "string",
        "pattern": r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{3}Z$",
        "description": "in UTC",
    },
    "error": _object(error=_object(status=_INTEGER, sentence=_STRING, findings=_TEXTS)),
    "event": {"oneOf": [_event(kind) for kind in KINDS], "description": "one fact about a job, as a device sends it"},
    "said": {"oneOf": [_said(kind) for kind in KINDS], "description": "an event to be, without its head"},
    "events": _object(events=_list(ref("event")) | {"minItems": 1}, pin=_STRING) | {"required": ["events"]},
    "intended": _object(events=_list(ref("said"))),
    "logged": _object(logged=_list(_object(id=ID, number=_INTEGER))),
    "log": _object(
        job=ID,
        whole=_YES,
        changed_at=_or_none(_INTEGER),
        events=_list(
            _object(
                number=_INTEGER,
                id=ID,
                kind=_STRING,
                at=ref("time"),
                person=_STRING,
                device=_STRING,
                data={"type": "object"},
                hash=HASH,
            )
        ),
    ),
    "stops": _object(stops=_list(_object(key=_STRING, text=_STRING, hard=_YES, cost=_STRING))),
    "jobs": _list(
        _object(
            id=ID, name=_STRING, vehicle=_STRING, opened_at=_STRING, last_at=_STRING, waits_for=_STRING, words=_STRING
        )
    ),
    "job": _object(
        job=ID,
        name=_STRING,
        last=_INTEGER,
        described=_YES,
        stands={"type": "object"},
        steps=_list({"type": "object"}),
        points=_list(ref("point")),
    ),
    "opened": _object(job=ID),
    "point": _object(key=_STRING, kind=_STRING, item=_STRING, text=_STRING, weight={"enum": ["stop", "ask", "remark"]}),
    "points": _list({"allOf": [ref("point"), _object(reach=_or_none({"type": "object"}))]}),
    "differs": _object(
        job=ID,
        last=_INTEGER,
        sentences=_TEXTS,
        ladder=_or_none({"type": "object"}),
        change=_or_none({"type": "object"}),
        no_way=_or_none(_STRING),
        meanwhile=_or_none(ref("safe")),
        variants=_list(_object(variant=_STRING, to_do={"type": "object"}, words=_STRING)),
    ),
    "understood": _object(
        job=ID,
        last=_INTEGER,
        logged=_list({"type": "object"}),
        questions=_list({"type": "object"}),
        held_back=_list({"type": "object"}),
        warnings=_TEXTS,
    ),
    "handed_over": _object(signed=_YES, reasons=ref("points"), record=_or_none(ref("record"))),
    "record": {"type": "object", "description": "as `putback job record --json` prints it"},
    "history": _list(
        _object(
            job=ID,
            name=_STRING,
            opened_at=_STRING,
            signed_at=_STRING,
            swapped=_TEXTS,
            opened=_TEXTS,
            differences=_TEXTS,
        )
    ),
    "safe": _object(steps=_TEXTS, minutes=_or_none(_NUMBER), stays=_TEXTS, cautions=_TEXTS, no_way=_or_none(_STRING)),
    "sheet": _object(
        job=_STRING, posture=_STRING, battery=_STRING, next=_STRING, facts=_list(_object(key=_STRING, text=_STRING))
    ),
    "matches": _list(_object(item=_STRING, part=_STRING, words=_STRING, out=_INTEGER, trays=_TEXTS, agrees=_TEXTS)),
    "belts": _list(_object(name=_STRING, words=_TEXTS, shows=_STRING, drawing=_STRING)),
    "areas": _object(areas=_list(ref("shelved")), shops=_list(ref("shelved")), drives=_list(ref("shelved"))),
    "shelved": _object(file=_STRING, title=_STRING),
    "plan": {"type": "object", "description": "as `putback way --json` prints it"},
    "description": {"type": "object", "description": "an OpenAPI document"},
    "kept": _object(hash=HASH, type=_STRING, bytes=_INTEGER),
}
