"""The sheet for a colleague and the tag for the car as plain values: what is off, loose, live, and what is forbidden."""

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from putback.area.model import ON_THE_GROUND
from putback.desk.passing_on import hand_on_of
from putback.desk.view import View
from putback.job.asked import Stop
from putback.job.guards import stops
from putback.paper.head import head_of
from putback.paper.look import Look

_LISTS = (
    "live",
    "held",
    "loose",
    "off",
    "unplugged",
    "put_in",
    "drained",
    "out",
    "waits",
    "differences",
    "questions",
    "owed",
    "last",
)
_START = ("engine ran", {"what": "started"})
_LOWER = ("car moved", {"posture": ON_THE_GROUND})


def hand_on_data(view: View, look: Look, now: str) -> dict[str, Any]:
    """All that the next person has to know.

    Parameters
    ----------
    view : View
    look : Look
    now : str
        The time in UTC.
    """
    sheet = hand_on_of(view, now)
    told = asdict(sheet)
    counted = {
        "loose": [f"{one.count} of {one.of} {one.item}" for one in sheet.loose],
        "out": [f"{one.count} of {one.of} {one.item}{f', {one.where}' if one.where else ''}" for one in sheet.out],
    }
    return {
        "head": head_of(view, look),
        "at": now,
        "handed_to": view.state.handed_to or "",
        **{name: told[name] for name in ("posture", "battery", "next")},
        "under": list(sheet.under),
        "facts": [fact.text for fact in sheet.facts],
        **{name: counted.get(name, list(told[name])) for name in _LISTS},
        "trays": [
            {"position": tray.position, "holds": [f"{count} x {name}" for name, count in tray.holds]}
            for tray in sheet.trays
        ],
    }


def tag_data(view: View, look: Look, now: str) -> dict[str, Any]:
    """What hangs at the wheel: what nobody may do, why, who is under the car, and who knows.

    Parameters
    ----------
    view : View
    look : Look
    now : str
        The time in UTC.
    """
    sheet = hand_on_of(view, now)
    last = view.state.steps[-1] if view.state.steps else None
    return {
        "head": head_of(view, look),
        "at": now,
        "under": list(sheet.under),
        "start": list(_because(_START, view, now)),
        "lower": list(_because(_LOWER, view, now)),
        "posture": sheet.posture,
        "battery": sheet.battery,
        "live": list(sheet.live),
        "held": list(sheet.held),
        "ask": view.state.handed_to or (last.person if last else ""),
    }


def _because(intended: tuple[str, dict], view: View, now: str) -> Iterator[str]:
    """What speaks against it now, each in its first words; the rest is for whoever does it all the same."""
    for stop in stops(view.state, view.car, [intended], now, view.plan):
        yield _briefly(stop)


def _briefly(stop: Stop) -> str:
    return (
        stop.text.partition("; only for ")[0]
        .partition("; look at each ")[0]
        .partition(": the engine is not started")[0]
        .partition(": it does not come down")[0]
    )
