"""The lay-out list as plain values: what has to lie ready before the first step, and what soaks the evening before."""

from collections.abc import Iterator
from typing import Any

from putback.area.model import OUT, PUT_IN, Item, Manner
from putback.desk.view import View
from putback.estimate.words import fastener_words
from putback.job.plan_moves import IN
from putback.paper.head import head_of
from putback.paper.job_sheet_data import planned
from putback.paper.look import Look


def lay_out_data(view: View, look: Look) -> dict[str, Any]:
    """All that a lay-out list says.

    Parameters
    ----------
    view : View
    look : Look

    Raises
    ------
    InputError
        Nothing is planned.
    """
    plan = planned(view)
    return {
        "head": head_of(view, look),
        "targets": list(plan["targets"]),
        "tools": plan["tools"],
        "wrenches": list(_wrenches(plan, look)),
        "equipment": plan["equipment"],
        "new_parts": [_part(one, view) for one in plan["new_parts"]],
        "fluids": [{"name": one["name"], "amount": look.litres(one["litres"])} for one in plan["fluids"]],
        "match": [{"feature": feature, "wanted": value} for feature, value in (view.area.match if view.area else ())],
        "people": list(_people(plan, view)),
        "certificates": list(_certificates(plan, view)),
        "soak": list(_soak(plan, view)),
        "put_in": [
            one["text"] for one in plan["steps"] if one["direction"] == IN and view.car.kind(one["item"]) == PUT_IN
        ],
    }


def _wrenches(plan: dict, look: Look) -> Iterator[dict]:
    """The torque wrenches, each with its settings in the order of the way back."""
    settings: dict[str, dict[str, list[str]]] = {}
    for step in plan["steps"]:
        how = step.get("tightening") or {"wrenches": [], "in_line": []}
        for one in filter(None, (*how["wrenches"], *how["in_line"])):
            settings.setdefault(one["name"], {}).setdefault(look.torque(one["setting"]), []).append(step["item"])
    for name, found in settings.items():
        yield {
            "name": name,
            "settings": [{"setting": value, "for": list(dict.fromkeys(items))} for value, items in found.items()],
        }


def _part(one: dict, view: View) -> dict:
    name, row = one["name"], view.state.parts.get(one["name"], {})
    fastener, item = view.car.fastener(name), view.car.items.get(name)
    return {
        "name": name,
        "count": one["count"],
        "about": fastener_words(fastener) if fastener else (item.about if item else ""),
        "one_time": bool(fastener and fastener.one_time),
        "ordered": row.get("ordered", 0),
        "here": row.get("arrived", 0),
    }


def _moved(plan: dict, view: View) -> Iterator[tuple[dict, Item, list[Manner]]]:
    """The steps out and back with what they move, and the manners in which it may be done on this way."""
    for step in plan["steps"]:
        item = view.car.items.get(step.get("item", ""))
        if item is not None:
            yield step, item, [item.base, *(way for way in item.ways if way.name == step["way"])]


def _people(plan: dict, view: View) -> Iterator[dict]:
    """What takes a second person."""
    for step, _, manners in _moved(plan, view):
        if any(one.helper is not None for one in manners) or any("second person" in one for one in step["equipment"]):
            yield {"number": step["number"], "text": step["text"]}


def _certificates(plan: dict, view: View) -> Iterator[str]:
    found = dict.fromkeys(name for _, _, manners in _moved(plan, view) for one in manners for name in one.certificates)
    yield from found


def _soak(plan: dict, view: View) -> Iterator[dict]:
    """Fasteners of the way that rust may hold: they take penetrating oil the evening before."""
    for step, item, manners in _moved(plan, view):
        rusting = [risk for one in manners for risk in one.risks if risk.rusts and risk.direction == OUT]
        if step["direction"] == IN and item.fastener and rusting:
            yield {
                "item": item.name,
                "part": item.owner or "",
                "where": item.fastener.where or item.about,
                "risks": [risk.what for risk in rusting],
            }
