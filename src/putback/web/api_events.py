"""Events in and out, and what speaks against them before they happen."""

from time import perf_counter

from starlette.exceptions import HTTPException

from putback.desk.concluding import weigh_again
from putback.desk.planning import Thinking
from putback.errors import InputError
from putback.job.events import HEAD, Event
from putback.job.guards import stops
from putback.job.kinds import check
from putback.job.step import Said
from putback.job_json import event_object
from putback.web.asked import of_job, settings, stamp, view
from putback.web.calls import Body, Call, number
from putback.web.json_shapes import ref
from putback.web.people import check_signatures

HANDED_OVER = "hand-over signed"
MOST_AT_ONCE = 500  # events in one request


def log(request) -> dict:
    """The events of a job, those behind a number where one is named, and whether all is as it was logged."""
    ledger, job = settings(request).ledger, of_job(request)
    broken = ledger.verify(job)
    rows = ledger.events(job, number(request, "after"))
    return {"job": job, "whole": broken is None, "changed_at": broken, "events": [event_object(row) for row in rows]}


def held_back(request, intended: list[Said]) -> dict:
    """What speaks against events before they happen."""
    seen, who = view(request), stamp(request)
    found = stops(seen.state, seen.car, intended, who.now(), seen.plan, who.person)
    return {"stops": [vars(stop) for stop in found]}


def keep(request, said: dict) -> dict:
    """Keep events; each is acknowledged with its number once it is safe on the disk."""
    job = request.path_params["job"]
    events = [_event(row, job) for row in said["events"]]
    if any(event.kind == HANDED_OVER for event in events):
        raise HTTPException(403, "a hand-over is signed on its own page, which looks first for what stands open")
    check_signatures(request, events, said.get("pin", ""))
    logged = settings(request).ledger.append(events)
    weigh_again(settings(request).ledger, job, stamp(request), Thinking(perf_counter), events)
    return {"logged": [{"id": row.event.id, "number": row.number} for row in logged]}


def _event(row: object, job: str) -> Event:
    if not isinstance(row, dict) or row.keys() != {*HEAD, "data"}:
        raise InputError(f"an event is an object with exactly: {', '.join((*HEAD, 'data'))}")
    event = Event(**row)
    if event.job != job:
        raise InputError(f"this event is of job {event.job}, and was sent to job {job}")
    return event


def _read_events(said: object) -> dict:
    if not isinstance(said, dict) or not said.keys() <= {"events", "pin"} or not isinstance(said.get("pin", ""), str):
        raise InputError('send {"events": [...]}, and with a signature a "pin"')
    rows = said.get("events")
    if not isinstance(rows, list) or not 0 < len(rows) <= MOST_AT_ONCE:
        raise InputError(f'send {{"events": [...]}} with 1 to {MOST_AT_ONCE} events')
    return said


def _read_intended(said: object) -> list[Said]:
    rows = said.get("events") if isinstance(said, dict) else None
    if not isinstance(rows, list) or len(rows) > MOST_AT_ONCE:
        raise InputError('send {"events": [{"kind": ..., "data": {...}}]}')
    return [_intended(row) for row in rows]


def _intended(row: object) -> Said:
    if not isinstance(row, dict) or row.keys() != {"kind", "data"}:
        raise InputError('an event to be asked about is {"kind": ..., "data": {...}}')
    if not isinstance(row["kind"], str) or not isinstance(row["data"], dict):
        raise InputError('an event to be asked about has a "kind", a text, and "data", an object')
    check(row["kind"], row["data"])
    return Said(row["kind"], row["data"])


CALLS = [
    Call(
        "GET",
        "/api/jobs/{job}/events",
        "log",
        "The events of a job in the order in which they were logged.",
        log,
        "log",
        asks={"after": "only events with a greater number"},
    ),
    Call(
        "POST",
        "/api/jobs/{job}/events",
        "keep",
        "Keeps events; the answer comes when they are safe on the disk.",
        keep,
        "logged",
        Body(ref("events"), _read_events),
    ),
    Call(
        "POST",
        "/api/jobs/{job}/stops",
        "held_back",
        "Tells what speaks against events before they happen.",
        held_back,
        "stops",
        Body(ref("intended"), _read_intended),
    ),
]
