"""A job as plain JSON values: the same for `--json`, for the pages and for other programs."""

from typing import Any

from putback.desk.belts import BeltPicture, belt_help, belt_pictures
from putback.desk.view import View
from putback.job.next_step import next_steps
from putback.job.points import Point
from putback.job.rows import Logged
from putback.job.state import JobState, whole_job
from putback.job.step import Step


def job_object(view: View, now: str) -> dict[str, Any]:
    """A whole job: what it is, where it stands, and everything that is still to do.

    Parameters
    ----------
    view : View
    now : str
        The time in UTC, for waits that are running.
    """
    state, plan = view.state, view.plan or {}
    return {
        "job": view.id,
        "name": state.name,
        "vehicle": state.vehicle,
        "opened_at": state.opened_at,
        "last": state.last,
        "described": view.area is not None,
        "targets": list(state.targets),
        "plan": {"minutes": plan.get("minutes"), "money": plan.get("money"), "comes_to": comes_to(state)} if plan else None,
        "signed": state.signed,
        "stands": stand_object(state),
        "steps": [step_object(step) | belt_of_step(view, step) for step in next_steps(state, view.car, view.plan, now)],
        "points": [point_object(point) for point in view.points],
    }


def comes_to(state: JobState) -> float | None:
    """What the whole job comes to before tax: what it has cost, and what is still to do by the plan in force.

    Parameters
    ----------
    state : JobState
    """
    cents = whole_job(state.plans[-1], "money") if state.plans else None
    return None if cents is None else round(cents / 100, 2)


def step_object(step: Step) -> dict[str, Any]:
    """A step with the events that one tap logs.

    Parameters
    ----------
    step : Step
    """
    return vars(step) | {"closes": [{"kind": said.kind, "data": said.data} for said in step.closes]}


def belt_of_step(view: View, step: Step) -> dict[str, Any]:
    """What a step about a belt shows besides, as `belt`; nothing for any other.

    Parameters
    ----------
    view : View
    step : Step
    """
    help = belt_help(view, step)
    if help is None:
        return {}
    pictures = [belt_object(view, one) for one in help.pictures if one.shows]
    return {"belt": {"photo": help.photo, "words": list(help.words), "pictures": pictures}}


def belt_objects(view: View) -> list[dict[str, Any]]:
    """How the belts of a job run.

    Parameters
    ----------
    view : View
    """
    return [belt_object(view, one) | {"words": list(one.words)} for one in belt_pictures(view)]


def belt_object(view: View, one: BeltPicture) -> dict[str, Any]:
    """A belt's picture with the address at which the server has its drawing; both empty where no route can be.

    Parameters
    ----------
    view : View
    one : BeltPicture
    """
    address = f"/api/jobs/{view.id}/belts/{1 + list(view.drives).index(one.file)}.svg"
    return {"name": one.name, "shows": one.shows, "drawing": address if one.shows else ""}


def event_object(row: Logged) -> dict[str, Any]:
    """An event with its number and its hash.

    Parameters
    ----------
    row : Logged
    """
    event = row.event
    head = {"number": row.number, "id": event.id, "kind": event.kind, "at": event.at, "person": event.person}
    return head | {"device": event.device, "data": event.data, "hash": row.hash}


def point_object(point: Point) -> dict[str, Any]:
    """An open point.

    Parameters
    ----------
    point : Point
    """
    return {"key": point.key, "kind": point.kind, "item": point.item, "text": point.text, "weight": point.weight}


def stand_object(state: JobState) -> dict[str, Any]:
    """What is off, loose, in, drained and under way.

    Parameters
    ----------
    state : JobState
    """
    return {
        "away": [{"item": item.name, "state": item.state, "since": item.left_at} for item in state.away()],
        "fasteners": [
            {"item": group.name, "out": group.out, "loose": group.hand_tight, "of": group.total, "trays": group.trays}
            for group in state.open_groups()
        ],
        "put_in": [
            {"what": what, "name": name, "where": where, "count": count}
            for (what, name, where), count in state.things.items()
            if count
        ],
        "drained": state.drained,
        "filled": state.filled,
        "under": state.under,
        "posture": state.posture or "on the ground",
        "paused": state.paused[0] if state.paused else None,
        "handed_to": state.handed_to,
        "unconfirmed": list(state.unconfirmed),
        "swapped": list(state.swapped),
        "unheard": [{"note": id, "words": words} for id, words in state.unheard.items()],
    }
