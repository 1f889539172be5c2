"""The record of a job as a page: what was signed, or a draft of it."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.desk.handing_over import record_of
from putback.record_text import record_sections
from putback.web.asked import view
from putback.web.pages_common import job_page


def record(request: Request) -> Response:
    """All of it, to be read or printed."""
    seen = view(request)
    found = record_of(seen)
    return job_page(request, "record.html", seen, record=found, sections=list(record_sections(found)))


ROUTES = [Route("/jobs/{job}/record", record)]
