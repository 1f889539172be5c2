"""What a request asks for: the settings it runs under, who speaks, the job it means, and its body as values."""

import json

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request

from putback.desk.stamp import Stamp
from putback.desk.view import View, look
from putback.errors import InputError
from putback.web.settings import Settings

DEVICE, PERSON = "putback-device", "putback-person"  # cookies: what this is called, and who holds it
NOBODY, THIS = "somebody", "this computer"


def settings(request: Request) -> Settings:
    """What the server is set up with.

    Parameters
    ----------
    request : Request
    """
    return request.app.state.settings


def stamp(request: Request) -> Stamp:
    """Who speaks, on what.

    Parameters
    ----------
    request : Request
    """
    own = settings(request)
    return Stamp(_cookie(request, PERSON, NOBODY), _cookie(request, DEVICE, THIS), own.clock, own.new_id)


def _cookie(request: Request, name: str, otherwise: str) -> str:
    from urllib.parse import unquote

    said = unquote(request.cookies.get(name, "")).strip()
    return said if said and said.isprintable() and len(said) <= 200 else otherwise


def view(request: Request) -> View:
    """The job that the address means, as it stands now.

    Parameters
    ----------
    request : Request
    """
    try:
        return look(settings(request).ledger, request.path_params["job"])
    except InputError as none:
        raise HTTPException(404, str(none)) from None


def of_job(request: Request) -> str:
    """The id of the job that the address means.

    Parameters
    ----------
    request : Request

    Raises
    ------
    HTTPException
        There is no such job.
    """
    job = request.path_params["job"]
    if job not in {row.id for row in settings(request).ledger.jobs()}:
        raise HTTPException(404, "there is no such job; the list of jobs tells which there are")
    return job


async def values(request: Request) -> object:
    """A body in JSON.

    Parameters
    ----------
    request : Request

    Raises
    ------
    InputError
        It is none.
    """
    if not request.headers.get("content-type", "").startswith("application/json"):
        raise InputError("send JSON, and say so: content-type: application/json")
    body = await request.body()
    try:
        return await run_in_threadpool(json.loads, body)
    except (ValueError, RecursionError):
        raise InputError("the body is no JSON") from None
