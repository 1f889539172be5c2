"""A plan as plain JSON values, for other programs."""

from fractions import Fraction
from typing import Any

from putback.area.model import OUT
from putback.tightening import Tightening, tightening, wrenches
from putback.way.afterwards import afterwards
from putback.way.alternatives import Alternative
from putback.way.car_moves import CAR_MOVES
from putback.way.compare import difference
from putback.way.fills import Fill, fills
from putback.way.lay_out import equipment, fluids, new_parts, tools
from putback.way.no_way import NoSafeWay, ways_taken
from putback.way.one_more import Saving
from putback.way.price_order import Priced
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
        "steps": [_step(sheet, step) for step in sheet.steps],
        "job_work": [
            {"name": work.name, "when": work.when, "minutes": _number(work.minutes.likely)} for work in sheet.job_work
        ],
        "ending": [
            {"name": name, "value": value, "minutes": _number(time), "car": _car_move(name, value)}
            for name, value, time in sheet.ending
        ],
        "new_parts": [
            {"name": name, "each": _number(price / 100), "count": count} for name, price, count in new_parts(sheet)
        ],
        "fluids": [
            {"name": one.name, "litres": _number(one.litres), "price": _number(one.price / 100)}
            | {"filled": [_fill(fill) for fill in fills(sheet) if fill.fluid.name == one.name]}
            for one in fluids(sheet)
        ],
        "tools": tools(sheet),
        "torque_wrenches": wrenches(sheet),
        "equipment": [str(one) for one in equipment(sheet)],
        "stays_on": list(sheet.stays_on),
        "owed": [{"name": name, "minutes": _number(time)} for name, time in sheet.due],
        "afterwards": [
            {"kind": one.kind, "name": one.name, "minutes": _number(one.minutes)} for one in afterwards(sheet)
        ],
        "not_possible_here": [
            {"operation": one.operation, "way": one.way, "reason": one.reason} for one in sheet.dropped
        ],
    }


def _fill(fill: Fill) -> dict[str, Any]:
    return {
        "part": fill.part,
        "litres": _number(fill.fluid.litres),
        "step": fill.step,
        "follow_up": fill.follow_up,
    }


def others_object(alternatives: list[Alternative], savings: list[Saving]) -> dict[str, Any]:
    """What the other ways cost and why they lost, and what one thing more would save."""
    best = alternatives[0].sheet
    return {
        "alternatives": [_alternative(one, best) for one in alternatives],
        "one_thing_more": [
            {"name": str(one.lack), "saves": _worth(best, one.saves), **_totals(one.sheet)} for one in savings
        ],
    }


def _alternative(one: Alternative, best: Sheet) -> dict[str, Any]:
    told: dict[str, Any] = {
        "choices": [{"part": choice.part, "way": choice.way} for choice in one.choices],
        "chosen": one.chosen,
        "lacks": [str(lack) for lack in one.lacks],
        "reason": one.reason,
    }
    if one.sheet is None:
        return told | {"money": None, "minutes": None}
    more = difference(one.sheet, best)
    return (
        told
        | _totals(one.sheet)
        | {
            "equipment": [str(thing) for thing in equipment(one.sheet)],
            "tools": tools(one.sheet),
            "more": {
                "money": None if more.money is None else _number(more.money / 100),
                "minutes": _number(more.minutes),
                "work_minutes": _number(more.work),
                "risk_minutes": _number(more.risks),
                "set_up_minutes": _number(more.set_up),
                "waiting_minutes": _number(more.waits),
                "bought": _number(more.bought / 100),
            },
        }
    )


def _totals(sheet: Sheet) -> dict[str, Any]:
    amount = None if sheet.money is None else _number(sheet.money / 100)
    return {"money": amount, "minutes": _number(sheet.minutes), "proved": sheet.proved}


def _worth(sheet: Sheet, worth: Fraction) -> int | float:
    """Money or minutes, whichever the plan is to save."""
    return _number(worth / 100 if sheet.saves_money else worth)


def no_way_object(no_way: NoSafeWay) -> dict[str, Any]:
    """Why there is no way, and what would open one, the cheapest first."""
    return {
        "possible": False,
        "targets": list(no_way.task.targets),
        "reason": str(no_way),
        "stuck": [
            {"operation": one.operation, "ways": [{"way": way, "why": why} for way, why in one.ways]}
            for one in no_way.stuck
        ],
        "missing": [
            {"things": [str(lack) for lack in one.lacks]}
            | ({"opens": ways_taken(one.sheet), **_totals(one.sheet)} if one.sheet else {})
            for one in no_way.openings
        ],
    }


def priced_object(priced: Priced) -> dict[str, Any]:
    """What an order costs, and where it is not allowed or dearer than it need be."""
    best = priced.best
    return {
        "order": {
            "name": priced.order.name,
            "cheapest": _totals(best),
            "more": _worth(best, priced.sheet.worth - best.worth),
            "more_by_what_is_opened": _worth(best, priced.route),
            "more_by_the_order": _worth(best, priced.sequence),
            "not_allowed": [{"entry": point.entry, "first": list(point.first)} for point in priced.points],
            "done_already": list(priced.done_already),
            "left_out": [step.text for step in priced.left_out],
            "dearer": [{"entry": entry, "saves": _worth(best, saves)} for entry, saves in priced.dearer],
            "looked_at_all": priced.looked_at_all,
            "not_said_by_reverse": list(priced.reverse),
        }
    }


def _step(sheet: Sheet, step: SheetStep) -> dict[str, Any]:
    told: dict[str, Any] = {
        "number": step.number,
        "id": step.id,
        "text": step.text,
        "context": step.context,
        "car": _car_move("posture", step.context["posture"]) if "posture" in step.changes else None,
        "set_up_minutes": _number(step.set_up),
        "wait_minutes": _number(step.wait),
        "then_wait_minutes": _number(step.then_wait),
        "not_before": [{"minutes": _number(time), "after_step": since} for time, since in step.not_before],
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
        "torque": torque.shown if torque and operation.level == 1 else None,
        "torque_source": operation.source if torque else None,
        "tightening": _tightening(tightening(sheet, step)),
        "cautions": list(step.cautions),
        "risks": [
            {"what": risk.what, "probability": float(risk.probability), "minutes": _number(risk.minutes)}
            for risk in (*operation.risks, *way.risks)
        ],
        "reason": list(step.reason),
    }


def _car_move(name: str, value: str) -> dict[str, Any] | None:
    """How the car gets up or down, where it is that which changes."""
    move = CAR_MOVES[value] if name == "posture" else None
    return move and {"text": move.text, "cautions": list(move.cautions)}


def _tightening(how: Tightening | None) -> dict[str, Any] | None:
    """The torques, the shop's wrench with its settings, and the order over the group."""
    if how is None:
        return None
    return {
        "stages_nm": list(how.torque.stages),
        "angle_deg": how.torque.angle,
        "passes": how.torque.passes,
        "order": list(how.order),
        "wrenches": [choice and {"name": choice.wrench.name, "setting": choice.shown} for choice in how.settings.stages],
        "in_line": [
            choice and {"name": choice.wrench.name, "setting": choice.shown}
            for choice in (how.in_line.stages if how.in_line else ())
        ],
        "missing": list(how.settings.missing),
    }


def _number(value: Fraction) -> int | float:
    return int(value) if value.denominator == 1 else round(float(value), 4)
