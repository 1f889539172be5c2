"""The programs' side of the pages: events in and out, the job as values, the same JSON as the command line."""

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from putback.desk.jobs import open_jobs
from putback.errors import InputError
from putback.job.events import HEAD, Event
from putback.job.ledger import Ledger, Logged
from putback.web.asked import settings, values

MOST_AT_ONCE = 500  # events in one request


def job_list(request: Request) -> Response:
    """All jobs, each as one line."""
    lines = open_jobs(settings(request).ledger, signed=request.query_params.get("all") == "1")
    return JSONResponse([line._asdict() for line in lines])


def events(request: Request) -> Response:
    """The events of a job, those behind a number where one is named."""
    after = request.query_params.get("after", "0")
    if not after.isdigit() or len(after) > 9:
        raise InputError('"after" must be the number of an event, such as 12')
    rows = settings(request).ledger.events(request.path_params["job"], int(after))
    return JSONResponse({"events": [event_object(row) for row in rows]})


def event_object(row: Logged) -> dict:
    """An event with its number and its hash.

    Parameters
    ----------
    row : Logged
    """
    return {"number": row.number, "hash": row.hash} | {name: getattr(row.event, name) for name in (*HEAD, "data")}


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
    Route("/api/jobs/{job}/events", events, methods=["GET"]),
    Route("/api/jobs/{job}/events", add_events, methods=["POST"]),
]
