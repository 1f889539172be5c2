"""The server, put together in one place: addresses, what guards them, and what becomes of trouble."""

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route

from putback.errors import PutbackError
from putback.web import (
    api,
    jobs,
    log,
    menu,
    new_job,
    pages_areas,
    pages_belt,
    pages_hand_on,
    pages_hand_over,
    pages_history,
    pages_match,
    pages_off,
    pages_order,
    pages_papers,
    pages_readings,
    pages_record,
    pages_safe,
    pages_way,
    pairing,
    people,
    step,
)
from putback.web.guard import Guard
from putback.web.render import STATIC, static
from putback.web.settings import Settings
from putback.web.trouble import told
from putback.web.views import Views

# Each with its list ROUTES; of two that fit the first counts.
PAGES = (
    jobs,
    new_job,
    step,
    menu,
    log,
    pages_off,
    pages_way,
    pages_belt,
    pages_order,
    pages_match,
    pages_readings,
    pages_hand_on,
    pages_safe,
    pages_hand_over,
    pages_record,
    pages_papers,
    pages_history,
    pages_areas,
    people,
    pairing,
    api,
)


def make_app(settings: Settings) -> Guard:
    """The application for one server.

    Parameters
    ----------
    settings : Settings
    """
    troubles = (PutbackError, HTTPException, ClientDisconnect, Exception)
    app = Starlette(routes=ROUTES, exception_handlers=dict.fromkeys(troubles, _told))
    app.state.settings, app.state.views = settings, Views(settings.ledger)
    return Guard(app, settings)


async def _told(request: Request, error: Exception) -> Response:
    return told(request, error)


async def _static(request: Request) -> Response:
    """A file of ours; only those that are there by name, for no path from outside is opened."""
    name = request.path_params["name"]
    if name not in {path.name for path in STATIC.iterdir()} or static(name) != request.url.path:
        raise HTTPException(404)
    return FileResponse(STATIC / name, headers={"cache-control": "public, max-age=31536000, immutable"})


ROUTES = [Route("/static/{digest}/{name}", _static), *(route for page in PAGES for route in page.ROUTES)]
