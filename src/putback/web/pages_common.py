"""What the pages around a job have in common: their frame, their forms, and the way on after something was sent."""

from collections.abc import Callable, Iterator
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from putback.desk.people import known_people
from putback.desk.view import View
from putback.errors import Findings, InputError
from putback.units import number
from putback.web.asked import NOBODY, of_job, settings, stamp
from putback.web.render import page

MOST_FIELDS = 200
NOT_THERE = 404
Said = dict[str, str]


def job_page(request: Request, template: str, view: View, wrong: tuple[str, ...] = (), status: int = 200, **values) -> Response:
    """A page of a job.

    Parameters
    ----------
    request : Request
    template : str
    view : View
    wrong : tuple of str
        What is wrong with what was sent last, in sentences.
    status : int
        Of HTTP.
    values : what the template shows besides
    """
    person = stamp(request).person
    known = known_people(settings(request).ledger, "" if person == NOBODY else person)
    asks_pin = settings(request).access is not None
    frame = {"job": view.id, "name": view.state.name, "wrong": wrong, "person": person, "known": known, "asks_pin": asks_pin}
    return page(template, status, **frame, **values)


def posting(address: str, shows: Callable[..., Response], does: Callable[[Request, Said], str]) -> list[Route]:
    """The two routes of a page with forms: what was sent is done, and the browser goes on to another address.

    Parameters
    ----------
    address : str
    shows : function
        Takes the request, what is wrong in sentences, and a status of HTTP; gives the page.
    does : function
        Takes the request and what was sent; gives the address to go on to.
    """

    async def sent(request: Request) -> Response:
        async with request.form(max_files=0, max_fields=MOST_FIELDS) as form:
            said = {name: value.strip() for name, value in form.items() if isinstance(value, str)}
        return await run_in_threadpool(done, request, said, shows, does)

    return [Route(address, shows, methods=["GET"]), Route(address, sent, methods=["POST"])]


def done(request: Request, said: dict, shows: Callable[..., Response], does: Callable[[Request, dict], str]) -> Response:
    """Do what was sent, or show the page again with what is wrong.

    Parameters
    ----------
    request : Request
    said : dict
    shows, does : function
        As for `posting`.
    """
    try:
        return RedirectResponse(does(request, said), 303)
    except Findings as wrong:
        return shows(request, tuple(map(str, wrong.findings)), 400)
    except InputError as wrong:
        return shows(request, (str(wrong),), 400)
    except HTTPException as wrong:
        if wrong.status_code == NOT_THERE:
            raise
        return shows(request, (wrong.detail,), wrong.status_code)


def one_of(actions: dict[str, Any], said: Said) -> Any:
    """What the button that was pressed stands for.

    Parameters
    ----------
    actions : dict
        By what the buttons say.
    said : dict of str

    Raises
    ------
    InputError
        There is no such button.
    """
    if said.get("do") not in actions:
        raise InputError("this page has no such button; open it again")
    return actions[said["do"]]


def log(request: Request, kind: str, **data) -> None:
    """Log one event on the job that the address means.

    Parameters
    ----------
    request : Request
    kind : str
    data : what the event says, `_` for a blank in a name; what is None is left out
    """
    settings(request).ledger.append([stamp(request).event(of_job(request), kind, **data)])


def needed(said: Said, name: str, words: str) -> str:
    """A field that has to be filled in.

    Parameters
    ----------
    said : dict of str
    name : str
    words : str
        What to do where it is empty.

    Raises
    ------
    InputError
        It is empty.
    """
    if not said.get(name):
        raise InputError(words)
    return said[name]


def whole(text: str, what: str) -> int:
    """A whole number from 1.

    Parameters
    ----------
    text : str
    what : str
        What is counted, for the sentence.

    Raises
    ------
    InputError
        It is none.
    """
    try:
        figure = number(text)
    except InputError:
        figure = 0
    if figure < 1 or figure != int(figure):
        raise InputError(f'{what}: "{text}" is no count; write a whole number such as 2')
    return int(figure)


def under(said: Said, prefix: str) -> Iterator[tuple[str, str]]:
    """Those fields that begin alike, by what comes behind, without the empty ones.

    Parameters
    ----------
    said : dict of str
    prefix : str
    """
    return ((name.removeprefix(prefix), value) for name, value in said.items() if name.startswith(prefix) and value)
