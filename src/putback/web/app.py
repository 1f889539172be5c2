"""The server, put together in one place: addresses, what guards them, and what becomes of trouble."""

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route

from putback.errors import PutbackError
from putback.web import api, jobs, log, menu, new_job, step
from putback.web.guard import Guard
from putback.web.render import STATIC, static
from putback.web.settings import Settings
from putback.web.trouble import told


def make_app(settings: Settings) -> Guard:
    """The application for one server.

    Parameters
    ----------
    settings : Settings
    """
    app = Starlette(
        routes=[Route("/static/{digest}/{name}", _static), *jobs.ROUTES, *new_job.ROUTES, *step.ROUTES, *menu.ROUTES, *log.ROUTES, *api.ROUTES],
        exception_handlers=dict.fromkeys((PutbackError, HTTPException, ClientDisconnect, Exception), _told),
    )
    app.state.settings = settings
    return Guard(app, settings.hosts)


async def _told(request: Request, error: Exception) -> Response:
    return told(request, error)


async def _static(request: Request) -> Response:
    """A file of ours; only those that are there by name, for no path from outside is opened."""
    name = request.path_params["name"]
    if name not in {path.name for path in STATIC.iterdir()} or static(name) != request.url.path:
        raise HTTPException(404)
    return FileResponse(STATIC / name, headers={"cache-control": "public, max-age=31536000, immutable"})
