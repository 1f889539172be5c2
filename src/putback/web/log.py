"""The log of a job as a page: who said what and when, what was taken back, and whether all is as it was logged."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.event_text import event_words
from putback.web.asked import settings, view
from putback.web.render import page


def log(request: Request) -> Response:
    """All events, the newest first."""
    seen = view(request)
    undone = {row.event.data["event"] for row in seen.logged if row.event.kind == "event undone"}
    rows = [
        {"number": row.number, "at": row.event.at, "person": row.event.person, "words": event_words(row.event), "undone": row.event.id in undone}
        for row in reversed(seen.logged)
    ]
    broken = settings(request).ledger.verify(seen.id)
    return page("log.html", job=seen.id, name=seen.state.name, rows=rows, broken=broken, hash=seen.logged[-1].hash)


ROUTES = [Route("/jobs/{job}/log", log)]
