"""What was done to a vehicle before, and what this job found that its area file does not know."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.desk.drafting import area_of_jobs
from putback.desk.edited import drives_edited, edited_since
from putback.desk.history import again_soon, vehicle_history
from putback.desk.proposals import proposals
from putback.desk.shelf import beside, take
from putback.desk.view import View
from putback.errors import InputError
from putback.web.asked import settings, stamp, view
from putback.web.pages_common import job_page
from putback.web.render import page

LONGEST = 200


def history(request: Request) -> Response:
    """The other jobs of this vehicle, and parts that are replaced again too soon."""
    seen = view(request)
    past = vehicle_history(settings(request).ledger, seen.state.vehicle) if seen.state.vehicle else []
    before = [one for one in past if one.job != seen.id and one.opened_at < seen.state.opened_at]
    soon = again_soon(before, seen.state.targets, stamp(request).now())
    return job_page(request, "history.html", seen, past=[one for one in past if one.job != seen.id], soon=soon, vehicle=seen.state.vehicle)


def search(request: Request) -> Response:
    """The jobs of any vehicle, by a part of what they call it."""
    asked = request.query_params.get("vehicle", "").strip()[:LONGEST]
    past = vehicle_history(settings(request).ledger, asked) if asked else []
    return page("vehicle.html", asked=asked, past=past)


def found(request: Request) -> Response:
    """What is in the area file now and was not then, and lines that would put into it what this job found."""
    seen = view(request)
    return job_page(request, "found.html", seen, edited=_edited(request, seen), proposals=proposals(seen) if seen.area else [], area=seen.area)


def drafted(request: Request) -> Response:
    """An area file drafted from a job on a car that nobody had described, to be kept among the areas or sent on."""
    seen = view(request)
    headers = {"content-disposition": 'attachment; filename="area.yaml"'}
    return Response(area_of_jobs([seen], seen.state.name), media_type="text/yaml; charset=utf-8", headers=headers)


def _edited(request: Request, seen: View) -> list[str]:
    name, folder = seen.state.files.get("area", ""), settings(request).areas
    try:
        edited = edited_since(seen, take(folder, name).data, name) if seen.area else []
        return [*edited, *drives_edited(seen, beside(folder))]
    except InputError:
        return [f"{name}: not among the files of this shop any more"]


ROUTES = [Route("/vehicle", search), Route("/jobs/{job}/history", history), Route("/jobs/{job}/found", found), Route("/jobs/{job}/area.yaml", drafted)]
