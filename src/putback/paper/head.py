"""What stands at the head of every paper of a job."""

from typing import Any

from putback.desk.view import View
from putback.paper.look import Look
from putback.paper.signs import short

NAME, LINE = 160, 90  # signs there is room for: in a title, and at the head of a page


def head_of(view: View, look: Look) -> dict[str, Any]:
    """The job, its car and its day, as every paper tells them.

    Parameters
    ----------
    view : View
    look : Look
    """
    state, area = view.state, view.area
    vehicle = state.vehicle or (area.vehicle if area else "") or ""
    name = state.name or (area.name if area else "")
    intake: dict[str, Any] = {}
    for one in state.intake:
        intake |= one
    return {
        "job": view.id,
        "name": short(name, NAME),
        "vehicle": vehicle,
        "short": short(", ".join(one for one in (name, vehicle) if one), LINE),
        "targets": list(state.targets),
        "area": area.name if area else "",
        "shop": view.shop.name if view.shop else "",
        "complaint": intake.get("complaint", ""),
        "kilometres": intake.get("kilometres"),
        "odometer": look.distance(intake.get("kilometres")),
        "date": state.last_at[:10],
    }
