"""JSON Schema of area, shop, state, terms and drive files, for editors and other programs.

It says which keys stand where. What a phrase such as a fastener line may hold is left to `putback check`.
"""

import json

from putback.area.area_shapes import AREA
from putback.area.shop_file import SHOP
from putback.area.state_file import STATE
from putback.drive_file import DRIVE
from putback.estimate.terms import TERMS

_SHAPES = {"area": AREA, "shop": SHOP, "state": STATE, "terms": TERMS, "drive": DRIVE}
KINDS = tuple(_SHAPES)


def schema(kind: str) -> dict:
    """The schema of one kind of file, one of `KINDS`."""
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": f"Putback {kind} file, version 1"}
    defs: dict = {}
    return head | _SHAPES[kind].schema(defs) | {"$defs": defs}


def text(kind: str) -> str:
    """The schema as it is published under schema/."""
    return json.dumps(schema(kind), indent=2, ensure_ascii=False) + "\n"
