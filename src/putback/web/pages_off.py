"""Everything that is off the car, by tray; and whose bolt it is that lies on the floor."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.desk.passing_on import hand_on_of
from putback.desk.view import View
from putback.job.hand_on import Tray
from putback.job.whose import whose
from putback.web.asked import stamp, view
from putback.web.pages_common import job_page

LONGEST = 200  # signs of what somebody sees of a bolt


def off(request: Request) -> Response:
    """What is out, and what was asked for."""
    seen = view(request)
    asked = request.query_params.get("seen", "").strip()[:LONGEST]
    sheet = hand_on_of(seen, stamp(request).now())
    found = whose(asked, seen.state, seen.car) if asked else []
    trays = [(tray.position, _holds(tray, seen)) for tray in sheet.trays]
    return job_page(request, "off.html", seen, asked=asked, found=found, trays=trays, sheet=sheet)


def _holds(tray: Tray, seen: View) -> list[dict]:
    return [{"count": count, "words": _named(name, seen), "part": _part(name, seen), "tools": _tools(name, seen)} for name, count in tray.holds]


def _named(name: str, seen: View) -> str:
    size = seen.state.groups[name].size
    return seen.car.named(name) if name in seen.car.items or not size else f"{name}, {size}"


def _part(name: str, seen: View) -> str:
    described = seen.car.items.get(name)
    return (described.owner if described else seen.state.groups[name].belongs_to) or ""


def _tools(name: str, seen: View) -> str:
    described = seen.car.items.get(name)
    return " or ".join(" + ".join(tools) for tools in described.base.tools) if described else ""


ROUTES = [Route("/jobs/{job}/off", off)]
