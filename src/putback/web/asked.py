"""What a request asks for: the settings it runs under, who speaks, the job it means, and its body as values."""

import json

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from putback.desk.planning import Thinking
from putback.desk.stamp import Stamp
from putback.desk.view import View
from putback.errors import InputError
from putback.web.access import LASTS, Access
from putback.web.settings import Settings

# Cookies: what this is called, who holds it, and what lets it in.
DEVICE, PERSON, TOKEN = "putback-device", "putback-person", "putback-token"
NOBODY, THIS = "somebody", "this computer"
PAIRED, LOCAL = "putback.device", "putback.local"  # what the guard found out about a request
LARGEST_JSON = 8_000_000  # bytes; 500 long events


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
    own, paired = settings(request), request.scope.get(PAIRED)
    device = paired.name if paired else _cookie(request, DEVICE, THIS)
    return Stamp(_cookie(request, PERSON, NOBODY), device, own.clock, own.new_id)


def _cookie(request: Request, name: str, otherwise: str) -> str:
    from urllib.parse import unquote

    said = unquote(request.cookies.get(name, "")).strip()
    return said if said and said.isprintable() and len(said) <= 200 else otherwise


def thinking(request: Request) -> Thinking:
    """How long the planner may think about it.

    Parameters
    ----------
    request : Request
    """
    return Thinking(settings(request).seconds)


def view(request: Request) -> View:
    """The job that the address means, as it stands now.

    Parameters
    ----------
    request : Request
    """
    try:
        return request.app.state.views.look(request.path_params["job"])
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
    if not settings(request).ledger.has(job):
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
    if len(body) > LARGEST_JSON:
        raise HTTPException(413, f"this is too much JSON at once; send at most {LARGEST_JSON // 1_000_000} MB")
    try:
        return await run_in_threadpool(json.loads, body)
    except (ValueError, RecursionError):
        raise InputError("the body is no JSON") from None


async def form_of(request: Request, *names: str) -> dict[str, str]:
    """The named fields of a form that was sent, each as one text; empty where it was not sent.

    Parameters
    ----------
    request : Request
    names : str
    """
    async with request.form(max_files=0, max_fields=100) as sent:
        values = {name: sent.get(name, "") for name in names}
    return {name: value.strip() if isinstance(value, str) else "" for name, value in values.items()}


def access(request: Request) -> Access:
    """The devices that were paired, and the PINs.

    Parameters
    ----------
    request : Request

    Raises
    ------
    HTTPException
        This server keeps none.
    """
    found = settings(request).access
    if found is None:
        raise HTTPException(404, "this server pairs no devices and keeps no PINs")
    return found


def at_this_computer(request: Request) -> bool:
    """Whether somebody asks who sits at the computer that the server runs on.

    Parameters
    ----------
    request : Request
    """
    return request.scope.get(LOCAL, False)


def only_at_this_computer(request: Request) -> None:
    """Refuses whoever sits elsewhere.

    Parameters
    ----------
    request : Request

    Raises
    ------
    HTTPException
        It is asked from a device.
    """
    if not at_this_computer(request):
        raise HTTPException(403, "this is done at the shop's own computer")


def cookie(answer: Response, name: str, value: str, secure: bool, httponly: bool = False) -> None:
    """Give a device something to say with each request to this server, and to no other.

    Parameters
    ----------
    answer : Response
    name, value : str
    secure : bool
        Only over TLS.
    httponly : bool
        Not to be read by a script.
    """
    lasts = int(LASTS.total_seconds())
    answer.set_cookie(name, value, max_age=lasts, secure=secure, httponly=httponly, samesite="strict")
