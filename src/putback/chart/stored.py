"""A plan that was kept as JSON, read back as far as the chart tells of it."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from putback.area.model import ON_THE_GROUND, Item
from putback.chart.arcs import Plan, Stage

IN, SWAP = "in", "swap"


def stored_plan(plan: Mapping[str, Any], items: Mapping[str, Item]) -> Plan:
    """What the chart tells of a plan in JSON.

    Parameters
    ----------
    plan : mapping
        As `putback way --json` has it.
    items : mapping of str to Item
        Of the area that it was made for, by name.
    """
    return Plan(
        area=plan["area"],
        targets=tuple(plan["targets"]),
        stages=tuple(_stage(step, items) for step in plan["steps"]),
        swap=sum((_exact(work["minutes"]) for work in plan["job_work"] if work["when"] == SWAP), Fraction(0)),
        ending=tuple((one["name"], one["value"], _exact(one["minutes"])) for one in plan["ending"]),
        begins=_begins(plan["steps"]),
        expected=_exact(plan["minutes"]),
    )


def _begins(steps: list[dict]) -> str:
    """How the car stands at the start: as at the first step, unless it is moved for that one already."""
    if not steps or "posture" not in steps[0]["context"]:
        return ""
    return ON_THE_GROUND if steps[0]["car"] else steps[0]["context"]["posture"]


def _stage(step: dict, items: Mapping[str, Item]) -> Stage:
    posture = step["context"]["posture"] if step["car"] else ""
    times = _exact(step["set_up_minutes"]), _exact(step["wait_minutes"])
    if step["direction"] == SWAP:
        return Stage(step["id"], *times, Fraction(0), posture=posture)
    item, is_out = items[step["item"]], step["direction"] == IN
    level = item.states.index(step["state"]) + (not is_out)
    return Stage(step["id"], *times, _exact(step["minutes"]), step["part"], item.name, item.kind, level, is_out, posture)


def _exact(value: float) -> Fraction:
    return Fraction(str(value))
