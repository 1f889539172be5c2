"""The programs' side of the pages: events in and out, the job as values, the same JSON as the command line."""

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from putback.desk.jobs import open_jobs
from putback.errors import InputError
from putback.job.events import HEAD, Event
from putback.job.kinds import check
from putback.job.ledger import Ledger, Logged
from putback.job.step import Said
from putback.job_json import job_object
from putback.web.asked import settings, stamp, values, view

MOST_AT_ONCE = 500  # events in one request


def job_list(request: Request) -> Response:
    """All jobs, each as one line."""
    lines = open_jobs(settings(request).ledger, signed=request.query_params.get("all") == "1")
    return JSONResponse([line._asdict() for line in lines])


def events(request: Request) -> Response:
    """The events of a job, those behind a number where one is named."""
    rows = settings(request).ledger.events(request.path_params["job"], _number(request.query_params.get("after", "0")))
    return JSONResponse({"events": [event_object(row) for row in rows]})


def _number(text: str) -> int:
    if not text.isdigit() or len(text) > 9:
        raise InputError('"after" must be the number of an event, such as 12')
    return int(text)


def event_object(row: Logged) -> dict:
    """An event with its number and its hash.

    Parameters
    ----------
    row : Logged
    """
    return {"number": row.number, "hash": row.hash} | {name: getattr(row.event, name) for name in (*HEAD, "data")}


def job(request: Request) -> Response:
    """A whole job; nothing where `after` is the number of its last event, so that asking often costs little."""
    after, own = request.query_params.get("after"), settings(request)
    if after is not None and _number(after) and not own.ledger.events(request.path_params["job"], _number(after)):
        return Response(status_code=204)
    return JSONResponse(job_object(view(request), stamp(request).now()))


async def held_back(request: Request) -> Response:
    """What speaks against events before they happen."""
    intended = _intended(await values(request))
    return JSONResponse(await run_in_threadpool(_stops, request, intended))


def _stops(request: Request, intended: list[Said]) -> dict:
    from putback.job.guards import stops

    seen = view(request)
    found = stops(seen.state, seen.car, intended, stamp(request).now(), seen.plan)
    return {"stops": [{"key": one.key, "text": one.text, "hard": one.hard} for one in found]}


def _intended(said: object) -> list[Said]:
    rows = said.get("events") if isinstance(said, dict) else None
    if not isinstance(rows, list) or not all(isinstance(row, dict) and row.keys() == {"kind", "data"} for row in rows):
        raise InputError('send {"events": [{"kind": ..., "data": {...}}]}')
    for row in rows:
        if not isinstance(row["kind"], str) or not isinstance(row["data"], dict):
            raise InputError('an event to be asked about has a "kind", a text, and "data", an object')
        check(row["kind"], row["data"])
    return [Said(row["kind"], row["data"]) for row in rows]


async def add_events(request: Request) -> Response:
    """Keep events; each is acknowledged with its number once it is safe on the disk."""
    said = await values(request)
    rows = await run_in_threadpool(_keep, settings(request).ledger, request.path_params["job"], said)
    return JSONResponse({"logged": [{"id": row.event.id, "number": row.number} for row in rows]})


def _keep(ledger: Ledger, job: str, said: object) -> list[Logged]:
    rows = said.get("events") if isinstance(said, dict) else None
    if not isinstance(rows, list) or not 0 < len(rows) <= MOST_AT_ONCE:
        raise InputError(f'send {{"events": [...]}} with 1 to {MOST_AT_ONCE} events')
    return ledger.append([_event(row, job) for row in rows])


def _event(row: object, job: str) -> Event:
    names = {*HEAD, "data"}
    if not isinstance(row, dict) or row.keys() != names:
        raise InputError(f"an event is an object with exactly: {', '.join((*HEAD, 'data'))}")
    if row["job"] != job:
        raise InputError(f"this event is of job {row['job']}, and was sent to job {job}")
    return Event(**row)


ROUTES = [
    Route("/api/jobs", job_list),
    Route("/api/jobs/{job}", job, methods=["GET"]),
    Route("/api/jobs/{job}/stops", held_back, methods=["POST"]),
    Route("/api/jobs/{job}/events", events, methods=["GET"]),
    Route("/api/jobs/{job}/events", add_events, methods=["POST"]),
]
