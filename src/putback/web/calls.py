"""A call of the API as a row of a table: the routes and their description are both made of it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from inspect import iscoroutinefunction

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.errors import InputError
from putback.job.kinds import check_fields
from putback.web.asked import values
from putback.web.json_shapes import shape_of
from putback.web.trouble import Json


@dataclass(frozen=True)
class Body:
    """What a call takes: its JSON Schema, and what reads it from JSON values or refuses it."""

    shape: dict
    read: Callable[[object], object]


@dataclass(frozen=True)
class Call:
    """One call.

    Attributes
    ----------
    method, path : str
    name : str
        Of its own, for programs that are made from the description.
    does : str
        One sentence.
    answer : function
        Takes the request, and what was read from the body where there is one. It gives JSON values or a response.
    gives : str
        The name of a shape in `json_shapes.SHAPES`; empty where it gives no JSON.
    takes : Body or None
    asks : dict of str
        What may stand behind the question mark, each with what it means.
    """

    method: str
    path: str
    name: str
    does: str
    answer: Callable
    gives: str = ""
    takes: Body | None = None
    asks: dict[str, str] = field(default_factory=dict)


def body(name: str, fields: dict[str, str]) -> Body:
    """A body of fields, as `putback.job.kinds.KINDS` has them.

    Parameters
    ----------
    name : str
        What it is, for sentences.
    fields : dict of str
    """
    return Body(shape_of(fields), partial(_read, name, fields))


def _read(name: str, fields: dict[str, str], said: object) -> dict:
    if not isinstance(said, dict):
        raise InputError(f"{name}: send one JSON object")
    check_fields(name, fields, said)
    return said


def route(call: Call) -> Route:
    """The route of a call; what it does runs in a thread, since the ledger waits for the disk.

    Parameters
    ----------
    call : Call
    """

    async def answer(request: Request) -> Response:
        said = [call.takes.read(await values(request))] if call.takes else []
        if iscoroutinefunction(call.answer):
            return _response(await call.answer(request, *said))
        return _response(await run_in_threadpool(call.answer, request, *said))

    return Route(call.path, answer, methods=[call.method], name=call.name)


def _response(found: object) -> Response:
    return found if isinstance(found, Response) else Json(found)


def number(request: Request, name: str) -> int:
    """A whole number behind the question mark; 0 where it is not there.

    Parameters
    ----------
    request : Request
    name : str

    Raises
    ------
    InputError
        It is none.
    """
    text = request.query_params.get(name, "0")
    if not (text.isascii() and text.isdigit()) or len(text) > 9:
        raise InputError(f'"{name}" must be a whole number such as 12')
    return int(text)


def yes(request: Request, name: str) -> bool:
    """Whether 1 was given for something behind the question mark.

    Parameters
    ----------
    request : Request
    name : str
    """
    return number(request, name) == 1
