"""The log of a job as a page: who said what and when, what was taken back, and whether all is as it was logged."""

from time import perf_counter

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from putback.desk.concluding import weigh_again
from putback.desk.planning import Thinking
from putback.errors import InputError
from putback.event_text import event_words
from putback.job.fold import taken_back
from putback.job.ledger import Logged
from putback.web.asked import form_of, settings, stamp, view
from putback.web.render import page

FOR_GOOD = ("job opened", "hand-over signed")  # what nobody takes back from a page


def log(request: Request) -> Response:
    """All events, the newest first."""
    seen = view(request)
    undone = taken_back(seen.logged)
    rows = [_row(row, row.event.id in undone) for row in reversed(seen.logged)]
    broken = settings(request).ledger.verify(seen.id)
    return page("log.html", job=seen.id, name=seen.state.name, rows=rows, broken=broken, hash=seen.logged[-1].hash)


def _row(row: Logged, undone: bool) -> dict:
    event = row.event
    told = {"number": row.number, "id": event.id, "at": event.at, "person": event.person, "words": event_words(event)}
    return told | {"undone": undone, "open": not undone and event.kind not in FOR_GOOD}


async def take_back(request: Request) -> Response:
    """Take back one event; it stays in the log, and so does its taking back."""
    said = await form_of(request, "event")
    return await run_in_threadpool(_take_back, request, said["event"])


def _take_back(request: Request, id: str) -> Response:
    seen = view(request)
    if id not in {row.event.id for row in seen.logged if row.event.kind not in FOR_GOOD}:
        raise InputError("there is no such event in this log that could be taken back")
    ledger, event = settings(request).ledger, stamp(request).event(seen.id, "event undone", event=id)
    ledger.append([event])
    weigh_again(ledger, seen.id, stamp(request), Thinking(perf_counter), [event])
    return RedirectResponse(f"/jobs/{seen.id}/log", 303)


ROUTES = [Route("/jobs/{job}/log", log, methods=["GET"]), Route("/jobs/{job}/log", take_back, methods=["POST"])]
