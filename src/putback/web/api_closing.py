"""The end of a job for programs: the hand-over, its record, and what is known of the vehicle from before."""

from dataclasses import asdict

from putback.desk.handing_over import hand_over, record_of
from putback.desk.history import vehicle_history
from putback.desk_json import reach_object
from putback.errors import InputError
from putback.job_json import point_object
from putback.web.asked import of_job, settings, stamp, thinking, view
from putback.web.calls import Call, body
from putback.web.json_shapes import HAND_OVER
from putback.web.people import may_sign


def sign(request, said: dict) -> dict:
    """Hand the car over, or tell what bars it."""
    may_sign(request, said["by"], said.get("pin", ""))
    own, job = settings(request), of_job(request)
    told = hand_over(own.ledger, job, stamp(request), thinking(request), said["by"], said.get("customer"))
    reasons = [
        point_object(one.point) | {"reach": reach_object(one.reach) if one.reach else None} for one in told.barred
    ]
    return {"signed": told.record is not None, "reasons": reasons, "record": told.record}


def record(request) -> dict:
    """The record as it was signed, or as it is so far."""
    return record_of(view(request))


def history(request) -> list:
    """What was done to a vehicle before."""
    vehicle = request.query_params.get("vehicle", "").strip()
    if not 0 < len(vehicle) <= 200:
        raise InputError('say which vehicle, or a part of what its jobs call it, as in "?vehicle=1234"')
    return [asdict(one) for one in vehicle_history(settings(request).ledger, vehicle)]


JOB = "/api/jobs/{job}"
CALLS = [
    Call(
        "POST",
        f"{JOB}/hand-over",
        "hand_over",
        "Hands the car over, or tells what bars it and what that costs to reach.",
        sign,
        "handed_over",
        body("hand-over", HAND_OVER),
    ),
    Call(
        "GET", f"{JOB}/record", "record", "The record of a job as it was signed, or as it is so far.", record, "record"
    ),
    Call(
        "GET",
        "/api/history",
        "history",
        "The jobs of a vehicle, the latest first.",
        history,
        "history",
        asks={"vehicle": "as its jobs name it, or a part of that"},
    ),
]
