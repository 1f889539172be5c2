"""The step now: the page that a technician has in his hand. The whole job comes with it."""

import json

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.desk.people import known_people
from putback.job_json import job_object
from putback.web.asked import NOBODY, settings, stamp, view
from putback.web.render import page


def step_now(request: Request) -> Response:
    """The job page."""
    seen, said = view(request), stamp(request)
    told = job_object(seen, said.now())
    person = "" if said.person == NOBODY else said.person
    people = [name for name in known_people(settings(request).ledger, person) if name != NOBODY]
    return page("step.html", job=told, data=in_page(told | {"person": person, "device": said.device, "people": people}))


def in_page(value: object) -> str:
    """JSON that may stand inside a page: nothing in it ends the block it stands in.

    Parameters
    ----------
    value : object
    """
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")


ROUTES = [Route("/jobs/{job}", step_now)]
