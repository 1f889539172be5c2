"""The API behind the pages: one table of calls makes the routes and the description."""

from starlette.requests import Request

from putback.web import api_belts, api_closing, api_events, api_files, api_jobs, api_papers, api_words
from putback.web.calls import Call, route
from putback.web.openapi import description


def described(_: Request) -> dict:
    """The OpenAPI document."""
    return description(CALLS)


CALLS = [
    *api_jobs.CALLS,
    *api_events.CALLS,
    *api_closing.CALLS,
    *api_files.CALLS,
    *api_belts.CALLS,
    *api_papers.CALLS,
    *api_words.CALLS,
    Call("GET", "/api/openapi.json", "description", "This description.", described, "description"),
]
ROUTES = [route(call) for call in CALLS]
