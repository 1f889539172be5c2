"""The record of a job: what came in, what was opened and how it was closed, who says so, and what it is chained to.

    record(state, car)                  # plain values, ready for JSON; docs/job-record.md has every key

It is worked out of the events alone, so the same log always gives the same record.
"""

import re
from collections.abc import Iterable, Iterator
from typing import Any

from putback.job.audit_fasteners import hold_point
from putback.job.audit_work import fluids_out, owed, still_owed
from putback.job.car import Car
from putback.job.fold import minutes_between
from putback.job.match import fits
from putback.job.points import Point
from putback.job.state import Group, Item, JobState, Lot, whole_job

FORM = 1
_AFTER_KM = re.compile(r"after (\d+(?:\.\d+)?) ?km")


def record(state: JobState, car: Car, points: Iterable[Point] = (), hash: str | None = None) -> dict[str, Any]:
    """The whole record.

    Parameters
    ----------
    state : JobState
        As it was at the signature; before one it is a draft.
    car : Car
    points : iterable of Point
        What stood open: remarks once it is signed.
    hash : str, optional
        Of the event that signed it, which stands for the whole log up to there.
    """
    return {
        "record": FORM,
        "job": _job(state, car),
        "intake": _intake(state),
        "readings": _readings(state),
        "verdict": _verdict(state),
        "way": _way(state),
        "opened": [_opened(item, state) for item in state.items.values() if item.left],
        "fasteners": [told for group in state.groups.values() for told in _fasteners(group, state, car)],
        "parts": _parts(state),
        "match": _match(state, car),
        "fluids": _fluids(state, car),
        "work": _work(state),
        "follow_ups": _follow_ups(state, car),
        "slips": list(_slips(state, car)),
        "deviations": [_deviation(one) for one in state.differences],
        "accepted": [_accepted(key, said) for key, said in state.accepted.items()],
        "consents": [_consent(one) for one in state.consents],
        "remarks": [point.text for point in points],
        "people": _people(state),
        "notes": [_note(item, one) for item, found in state.notes.items() for one in found if "note" in one],
        "files": [_file(item, one) for item, found in state.notes.items() for one in found if "file" in one],
        "refusals": [{"at": one["at"], "reasons": one["reasons"]} for one in state.refusals],
        "signature": _signature(state, hash),
    }


def _job(state: JobState, car: Car) -> dict:
    return {
        "id": state.job,
        "name": state.name,
        "vehicle": state.vehicle or (car.area.vehicle if car.area else "") or None,
        "variants": list(state.variants),
        "targets": list(state.targets),
        "area": car.area.name if car.area else None,
        "opened_at": state.opened_at,
        "pauses": [{"from": since, "to": until} for since, until in state.pauses],
    }


def _intake(state: JobState) -> dict:
    """What the car came in with. The audio code itself stays in the log: a record is handed out."""
    said: dict[str, Any] = {}
    for one in state.intake:
        said |= one
    return {
        "complaint": said.get("complaint"),
        "kilometres": said.get("kilometres"),
        "lamps_on": said.get("lamps on", []),
        "stored_codes": said.get("stored codes", []),
        "damage": said.get("damage already there", []),
        "audio_code_noted": "audio code" in said,
    }


def _readings(state: JobState) -> list[dict]:
    """The last figure of each reading before, beside the last one after."""
    last = {(one.what, one.when): one for one in state.readings}
    names = dict.fromkeys(one.what for one in state.readings)
    limits = (state.weighed or {}).get("limits", {})
    return [
        {"what": name, "wanted": limits.get(name)}
        | {when: _reading(last.get((name, when))) for when in ("before", "after")}
        for name in names
    ]


def _reading(one) -> dict | None:
    if one is None:
        return None
    word = {"word": one.word} if one.word else {}
    return {"value": one.value, "unit": one.unit, **word, "good": one.good, "person": one.person, "at": one.at}


def _verdict(state: JobState) -> dict | None:
    """What the readings before the swap spoke for when they were last weighed; None where they never were."""
    said = state.weighed
    if said is None:
        return None
    plain = {name: said[name] for name in ("model", "verdict", "action", "person", "at")}
    return plain | {"share": said.get("share"), "why": said.get("why", []), "excluded": said.get("excluded", [])}


def _way(state: JobState) -> dict:
    """Which ways things really went, and why plans changed."""
    ways = dict.fromkeys((item.name, way) for item in state.items.values() for way in item.ways if item.left)
    return {
        "taken": [{"part": part, "way": way} for part, way in ways],
        "plans": [
            {"minutes": whole_job(one, "minutes"), "money": _cents(whole_job(one, "money")), "why": one.get("why")}
            for one in state.plans
        ],
    }


def _cents(amount: float | None) -> float | None:
    return None if amount is None else round(amount / 100, 2)


def _opened(item: Item, state: JobState) -> dict:
    return {
        "item": item.name,
        "stands": item.state,
        "off_at": item.left_at,
        "back_at": item.last.at if item.last and item.home else None,
        "person": item.last.person if item.last else None,
        "confirmed": item.confirmed or None,
        "new_parts": list(item.new_parts),
        "described": item.described,
    }


def _fasteners(group: Group, state: JobState, car: Car) -> Iterator[dict]:
    """One entry for those of a group that were closed alike; those never touched are left out."""
    fastener = car.fastener(group.name)
    described = car.items.get(group.name)
    head = {
        "item": group.name,
        "part": (described.owner if described else None) or group.belongs_to or None,
        "thread": (fastener.thread.text if fastener and fastener.thread else "") or group.size or None,
        "asked": fastener.torque.shown if fastener and fastener.torque else None,
        "source": (fastener.source if fastener else None) or (car.area.figures_from if fastener else None),
        "of": group.total,
    }
    for lot in group.lots:
        if lot.standing != "untouched":
            yield head | _lot(lot) | {"released_by": _released(group, lot, state, fastener)}


def _lot(lot: Lot) -> dict:
    return {
        "count": lot.count,
        "stands": lot.standing,
        "new": lot.new,
        "cleaned": lot.cleaned,
        "torque_nm": lot.torque,
        "angle_deg": lot.angle,
        "evidence": lot.evidence or None,
        "reason": lot.reason or None,
        "wrench": lot.wrench or None,
        "passes": lot.passes,
        "in_order": lot.in_order,
        "where": lot.where or None,
        "posture": lot.posture,
        "person": lot.person or None,
        "at": lot.at or None,
    }


def _released(group: Group, lot: Lot, state: JobState, fastener) -> str | None:
    by, number = state.released.get(group.name, (None, 0))
    return by if hold_point(fastener) and number > lot.number else None


def _parts(state: JobState) -> list[dict]:
    names = dict.fromkeys((*state.targets, *state.swapped, *state.parts))
    return [{"part": name, "swapped": name in state.swapped} | _counts(state.parts.get(name, {})) for name in names]


def _counts(row: dict[str, int]) -> dict[str, int]:
    return {what: row.get(what, 0) for what in ("ordered", "arrived", "wrong", "returned")}


def _match(state: JobState, car: Car) -> list[dict]:
    return [entry for part, said in state.compared.items() for entry in _compared(part, said, car)]


def _compared(part: str, said: dict, car: Car) -> Iterator[dict]:
    wanted = dict(car.area.match) if car.area else {}
    for feature in dict.fromkeys((*wanted, *said["old"], *said["new"])):
        asked, new = wanted.get(feature) or said["old"].get(feature), said["new"].get(feature)
        yield {
            "part": part,
            "feature": feature,
            "wanted": wanted.get(feature),
            "old": said["old"].get(feature),
            "new": new,
            "fits": fits(asked, new) if asked and new else None,
            "accepted": said.get("accepted", {}).get(feature),
            "person": said["person"],
        }


def _fluids(state: JobState, car: Car) -> list[dict]:
    out, filled = fluids_out(state, car), state.filled
    return [
        {"fluid": name, "out_l": out.get(name, 0.0), "in_l": filled.get(name, 0.0), "measured": name in state.drained}
        for name in dict.fromkeys((*out, *filled))
    ]


def _work(state: JobState) -> list[dict]:
    return [
        {"work": name, "result": said.get("result"), "person": said["person"], "at": said["at"]}
        for name, said in state.work.items()
    ]


def _follow_ups(state: JobState, car: Car) -> list[dict]:
    still = still_owed(state, car)
    return [
        {"name": name, "done": name not in still, "result": state.work.get(name, {}).get("result")}
        for name in owed(state, car)
    ]


def _slips(state: JobState, car: Car) -> Iterator[dict]:
    """What the customer is to come back for: follow-ups that are only told of at the hand-over."""
    for name in owed(state, car):
        if car.area.follow_ups[name].at_hand_over:
            yield {
                "what": name,
                "at_kilometres": _due_at(name, state),
                "fasteners": list(_of_the_slip(name, state, car)),
                "answer": state.work.get(name, {}).get("result"),
            }


def _due_at(name: str, state: JobState) -> float | None:
    """The reading of the odometer at which it falls due, where both figures are known."""
    came_in = [one["kilometres"] for one in state.intake if "kilometres" in one]
    after = _AFTER_KM.search(name)
    return came_in[-1] + float(after[1]) if came_in and after else None


def _of_the_slip(name: str, state: JobState, car: Car) -> Iterator[dict]:
    """The fasteners of the parts that oblige to it, with their torque."""
    for group in state.groups.values():
        fastener, item = car.fastener(group.name), car.items.get(group.name)
        owner = car.items.get(item.owner or "") if item else None
        asking = [ref.name for one in (item, owner) if one for ref in one.base.follow_ups]
        if fastener and fastener.torque and name in asking:
            yield {"item": group.name, "count": group.total, "asked": fastener.torque.shown}


def _deviation(one) -> dict:
    return {
        "item": one.item,
        "what": one.what,
        "count": one.count or None,
        "note": one.note or None,
        "tool": one.tool or None,
        "settled": one.settled or None,
    }


def _accepted(key: str, said: dict) -> dict:
    return {"point": key, "by": said["by"], "reason": said["reason"], "person": said["person"]}


def _consent(one: dict) -> dict:
    return {
        "to": one["to what"],
        "by": one["by"],
        "total": _cents(one.get("total")),
        "how": one.get("how"),
        "person": one["person"],
        "at": one["at"],
    }


def _people(state: JobState) -> list[dict]:
    steps: dict[str, list] = {}
    for report in state.steps:
        steps.setdefault(report.person, []).append(report)
    return [
        {"person": name, "role": state.roles.get(name), "steps": len(done), "from": done[0].at, "to": done[-1].at}
        for name, done in steps.items()
    ]


def _note(item: str, one: dict) -> dict:
    return {"item": item or None, "note": one["note"], "person": one["person"], "at": one["at"]}


def _file(item: str, one: dict) -> dict:
    head = {"item": item or None, "name": one["name"], "type": one["type"], "sha256": one["file"]}
    return head | {"person": one["person"], "at": one["at"]}


def _signature(state: JobState, hash: str | None) -> dict | None:
    if not state.signed:
        return None
    return {
        "by": state.signed["by"],
        "customer": state.signed.get("customer"),
        "person": state.signed["person"],
        "at": state.signed["at"],
        "event": state.signed["number"],
        "hash": hash,
        "minutes_since_opened": round(minutes_between(state.opened_at or state.signed["at"], state.signed["at"]), 1),
    }
