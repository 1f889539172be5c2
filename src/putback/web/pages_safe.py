"""Make safe: the shortest way to a car that can be lowered, or pushed out of the bay."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.desk.passing_on import hand_on_of
from putback.desk.safe import make_safe
from putback.web.asked import stamp, thinking, view
from putback.web.pages_common import job_page

LOWERED, ROLLED = "lowered", "rolled"


def safe(request: Request) -> Response:
    """How it stands; and the steps, once somebody has said what for, since they take a moment to work out."""
    seen, now, goal = view(request), stamp(request).now(), request.query_params.get("to", "")
    found = make_safe(seen, now, thinking(request), goal == ROLLED) if goal in (LOWERED, ROLLED) else None
    return job_page(request, "safe.html", seen, goal=goal, safe=found, sheet=hand_on_of(seen, now))


ROUTES = [Route("/jobs/{job}/safe", safe)]
