"""The description of the API (OpenAPI 3.1), made from the tables that also make the routes."""

import re
from collections.abc import Iterable
from typing import Any

from putback import __version__
from putback.web.calls import Call
from putback.web.json_shapes import HASH, ID, SHAPES, ref

ANY_FILE = {"*/*": {"schema": {}}}
_PATH_SHAPES = {
    "job": ID,
    "hash": HASH,
    "belt": {"type": "string", "pattern": r"^[1-9][0-9]?\.svg$"},
    "paper": {"type": "string", "pattern": r"^[a-z-]+\.(pdf|csv|json)$"},
}


def description(calls: Iterable[Call]) -> dict[str, Any]:
    """All calls as one OpenAPI document.

    Parameters
    ----------
    calls : iterable of Call
    """
    paths: dict[str, dict] = {}
    for call in calls:
        paths.setdefault(call.path, {})[call.method.lower()] = _operation(call)
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Putback",
            "version": __version__,
            "description": "What stands behind the pages. Whatever is wrong is told in one shape, `error`.",
        },
        "paths": paths,
        "components": {"schemas": SHAPES},
    }


def _operation(call: Call) -> dict[str, Any]:
    told = {"operationId": call.name, "summary": call.does, "responses": _responses(call)}
    if parameters := [*_in_path(call.path), *_asked(call.asks)]:
        told["parameters"] = parameters
    if call.takes:
        told["requestBody"] = {"required": True, "content": _json(call.takes.shape)}
    elif call.method == "POST":
        told["requestBody"] = {"required": True, "content": ANY_FILE}
    return told


def _responses(call: Call) -> dict[str, Any]:
    done = {"description": "done", "content": _json(ref(call.gives)) if call.gives else ANY_FILE}
    trouble = {"description": "what is wrong, in one sentence", "content": _json(ref("error"))}
    nothing_new = {"204": {"description": "nothing new"}} if "after" in call.asks and call.gives == "job" else {}
    return {"200": done, **nothing_new, "default": trouble}


def _json(shape: dict) -> dict[str, Any]:
    return {"application/json": {"schema": shape}}


def _in_path(path: str) -> list[dict[str, Any]]:
    names = re.findall(r"{(\w+)}", path)
    return [{"name": name, "in": "path", "required": True, "schema": _PATH_SHAPES[name]} for name in names]


def _asked(asks: dict[str, str]) -> list[dict[str, Any]]:
    return [
        {"name": name, "in": "query", "description": text, "schema": {"type": "string"}} for name, text in asks.items()
    ]
