"""Who holds this device, and who may sign: a person is chosen on each device, and a PIN stands behind a signature."""

from collections.abc import Iterable
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from putback.desk.people import known_people
from putback.errors import InputError
from putback.job.events import Event
from putback.web.access import one_line, person_key
from putback.web.asked import (
    NOBODY,
    PERSON,
    access,
    at_this_computer,
    cookie,
    form_of,
    only_at_this_computer,
    settings,
    stamp,
)
from putback.web.render import page

# What is signed, and which field of the event names the signer; the one who says it where none does.
# A hand-over has a call of its own.
SIGNED = {"point accepted": "by", "hold point released": ""}


def may_sign(request: Request, person: str, pin: str) -> None:
    """Let pass what a person signs with the PIN.

    Parameters
    ----------
    request : Request
    person : str
    pin : str
        Empty where none was asked for: at the shop's computer a person without a PIN signs by name alone.

    Raises
    ------
    HTTPException
        It is not the person's PIN, too many were tried, or the person has none and signs on a device.
    """
    known = settings(request).access
    if known is None:
        return
    if not known.has_pin(person):
        if at_this_computer(request):
            return
        raise HTTPException(403, f"{person} has no PIN yet; set one at the shop's computer, on the page People")
    if not pin:
        raise HTTPException(403, f"this is signed with the PIN of {person}")
    if not settings(request).pins.take(person_key(person)):
        raise HTTPException(429, "too many wrong PINs; wait a quarter of an hour", {"retry-after": "900"})
    if not known.is_pin(person, pin):
        raise HTTPException(403, f"this is not the PIN of {person}")
    settings(request).pins.forget(person_key(person))


def check_signatures(request: Request, events: Iterable[Event], pin: str) -> None:
    """Let events pass that nobody signs, and those that their signer's PIN came with.

    Parameters
    ----------
    request : Request
    events : iterable of Event
    pin : str

    Raises
    ------
    HTTPException
        As `may_sign` does.
    """
    signers = (event.data.get(SIGNED[event.kind]) or event.person for event in events if event.kind in SIGNED)
    for person in dict.fromkeys(signers):
        may_sign(request, person, pin)


def people(request: Request) -> Response:
    """Who holds this device; at the shop's computer the PINs as well."""
    who, here = stamp(request), at_this_computer(request)
    person = "" if who.person == NOBODY else who.person
    known = [name for name in known_people(settings(request).ledger, person) if name != NOBODY]
    with_pin = access(request).with_pin() if here and settings(request).access else []
    return page("people.html", person=person, device=who.device, known=known, here=here, with_pin=with_pin)


async def choose(request: Request) -> Response:
    """This device is in the hands of somebody else now."""
    said = await form_of(request, "person")
    person = one_line("person", said["person"])
    answer = RedirectResponse("/", 303)
    cookie(answer, PERSON, quote(person), request.url.scheme == "https")
    return answer


async def set_pin(request: Request) -> Response:
    """Give a person a PIN, or take it away."""
    only_at_this_computer(request)
    said = await form_of(request, "person", "pin", "again", "drop")
    if not said["drop"] and said["pin"] != said["again"]:
        raise InputError("the two PINs are not the same; type them again")
    if said["drop"]:
        await run_in_threadpool(access(request).drop_pin, said["person"])
    else:
        await run_in_threadpool(access(request).set_pin, said["person"], said["pin"])
    return RedirectResponse("/people", 303)


ROUTES = [
    Route("/people", people, methods=["GET"]),
    Route("/people/this", choose, methods=["POST"]),
    Route("/people/pin", set_pin, methods=["POST"]),
]
