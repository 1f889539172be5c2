"""Hazard tags: what each brings by rule, from data/hazards.yaml."""

from dataclasses import dataclass
from functools import cache
from importlib import resources

from putback.area.area_shapes import cautions
from putback.area.build import sided
from putback.area.model import Caution, Demand, Equipment
from putback.area.nodes import parse
from putback.area.shape import Names, OneOf, Record, Several, Word

CARRIED = "it is carried"
_HAZARD = Record(
    "a hazard",
    {
        "needs": OneOf(("battery", "support")),
        "certificate": Word(str, "a certificate", "airbags"),
        "equipment": Several(Word(str, "equipment", "drain pan")),
        "said where": OneOf((CARRIED,)),
        "cautions": cautions("off", "on"),
    },
)


@dataclass(frozen=True)
class Hazard:
    """What a tag brings to every operation that touches the item; `carried` ones to what moves or carries it alone."""

    name: str
    needs: str | None
    certificates: tuple[str, ...]
    equipment: tuple[Demand, ...]
    cautions: tuple[Caution, ...]
    carried: bool = False


@cache
def hazards() -> dict[str, Hazard]:
    """The built-in hazards by name."""
    name = "hazards.yaml"
    root, findings = parse(resources.files(__package__).joinpath("data").joinpath(name).read_bytes(), name)
    rows = Names(_HAZARD).read(root, findings.append)
    if findings:
        raise findings[0]
    return {tag.name: _hazard(tag.name, row) for tag, row in rows}


def _hazard(name: str, row: dict) -> Hazard:
    return Hazard(
        name,
        row.get("needs"),
        (row["certificate"],) if "certificate" in row else (),
        tuple(Demand((Equipment(one),)) for one in row.get("equipment", ())),
        sided(row.get("cautions", ()), "off", "on"),
        "said where" in row,
    )
