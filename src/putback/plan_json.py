"""A plan as plain JSON values, for other programs."""

from fractions import Fraction
from typing import Any

from putback.area.model import OUT
from putback.way.lay_out import equipment, new_parts, tools
from putback.way.sheet import Sheet, SheetStep


def plan_object(sheet: Sheet) -> dict[str, Any]:
    """The whole sheet; minutes and money as decimal numbers, money before tax."""
    return {
        "area": sheet.area.name,
        "shop": sheet.shop.name,
        "targets": list(sheet.targets),
        "by": sheet.by,
        "minutes": _number(sheet.minutes),
        "money": None if sheet.money is None else _number(sheet.money / 100),
        "spread_minutes": [_number(value) for value in (sheet.likely.low, sheet.likely.likely, sheet.likely.high)],
        "proved": sheet.proved,
        "gap": float(sheet.gap),
        "seconds": round(sheet.solved.seconds, 4),
        "first_plan_s": round(sheet.solved.first_seconds, 4),
        "steps": [_step(step) for step in sheet.steps],
        "job_work": [
            {"name": work.name, "when": work.when, "minutes": _number(work.minutes.likely)} for work in sheet.job_work
        ],
        "ending": [{"name": name, "value": value, "minutes": _number(time)} for name, value, time in sheet.ending],
        "new_parts": [
            {"name": name, "each": _number(price / 100), "count": count} for name, price, count in new_parts(sheet)
        ],
        "tools": tools(sheet),
        "equipment": [str(one) for one in equipment(sheet)],
        "owed": [{"name": name, "minutes": _number(time)} for name, time in sheet.due],
        "not_possible_here": [
            {"operation": one.operation, "way": one.way, "reason": one.reason} for one in sheet.dropped
        ],
    }


def _step(step: SheetStep) -> dict[str, Any]:
    told: dict[str, Any] = {
        "number": step.number,
        "id": step.id,
        "text": step.text,
        "context": step.context,
        "set_up_minutes": _number(step.set_up),
        "wait_minutes": _number(step.wait),
    }
    if step.operation is None:
        return told | {"direction": "swap"}
    operation, way = step.operation, step.way
    torque = operation.fastener.torque if operation.fastener and operation.direction != OUT else None
    return told | {
        "direction": "in" if operation.direction == OUT else "back",
        "part": operation.part,
        "item": operation.name,
        "state": operation.state,
        "pieces": operation.pieces,
        "way": way.name,
        "tools": list(way.tool_set(step.context.get("tool", ""))),
        "equipment": [str(one) for one in way.equipment],
        "minutes": _number(way.minutes.likely),
        "torque": torque.text or f"{torque.final:g} N·m" if torque and operation.level == 1 else None,
        "torque_source": operation.source if torque else None,
        "cautions": list(dict.fromkeys((*operation.cautions, *way.cautions))),
        "risks": [
            {"what": risk.what, "probability": float(risk.probability), "minutes": _number(risk.minutes)}
            for risk in (*operation.risks, *way.risks)
        ],
        "reason": list(step.reason),
    }


def _number(value: Fraction) -> int | float:
    return int(value) if value.denominator == 1 else round(float(value), 4)
