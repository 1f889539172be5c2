"""A device of the shop's network is let in once: by a code that the shop's computer shows."""

from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from putback.errors import InputError
from putback.web.access import LASTS, one_line
from putback.web.asked import PERSON, TOKEN, access, cookie, form_of, only_at_this_computer, settings
from putback.web.codes import grouped
from putback.web.render import page


def pair_form(request: Request) -> Response:
    """Where a device says the code."""
    return _pair_page(request, {"code": request.query_params.get("code", "")[:20], "device": "", "person": ""})


def _pair_page(request: Request, said: dict, wrong: str = "", status: int = 200) -> Response:
    return page("pair.html", status=status, said=said, wrong=wrong, days=LASTS.days)


async def pair(request: Request) -> Response:
    """Let the device in, and give it its token."""
    said = await form_of(request, "code", "device", "person")
    return await run_in_threadpool(_pair, request, said)


def _pair(request: Request, said: dict[str, str]) -> Response:
    own = settings(request)
    try:
        person = one_line("person", said["person"])
        one_line("device", said["device"])
        own.codes.spend(said["code"], request.client.host if request.client else "")
    except InputError as wrong:
        return _pair_page(request, said, str(wrong), 400)
    except HTTPException as wrong:
        return _pair_page(request, said, wrong.detail, wrong.status_code)
    token = access(request).pair(said["device"], own.clock())
    answer = RedirectResponse("/", 303)
    secure = request.url.scheme == "https"
    cookie(answer, TOKEN, token, secure, httponly=True)
    cookie(answer, PERSON, quote(person), secure)
    return answer


def devices(request: Request) -> Response:
    """At the shop's computer: the code, and the devices that may come in."""
    only_at_this_computer(request)
    own = settings(request)
    code = own.codes.now() if own.lan else None
    shown = {"code": grouped(code.text), "picture": picture(own.address, code.text)} if code else None
    return page("devices.html", lan=own.lan, address=own.address, shown=shown, devices=access(request).devices())


def pairing_address(address: str, code: str) -> str:
    """What a device opens to be let in.

    Parameters
    ----------
    address : str
        Of this server.
    code : str
    """
    return f"{address}/pair?code={code}"


def picture(address: str, code: str) -> str:
    """The address as a QR code (ISO/IEC 18004) for a page.

    Parameters
    ----------
    address, code : str
    """
    import segno

    return segno.make(pairing_address(address, code), error="m").svg_data_uri(
        scale=6, border=4, dark="#000", light="#fff"
    )


def new_code(request: Request) -> Response:
    """Show a new code."""
    only_at_this_computer(request)
    if not settings(request).lan:
        raise InputError("no device can come in: start `putback serve --lan` for that")
    settings(request).codes.offer()
    return RedirectResponse("/devices", 303)


def revoke(request: Request) -> Response:
    """Lock a device out."""
    only_at_this_computer(request)
    access(request).revoke(request.path_params["number"])
    return RedirectResponse("/devices", 303)


ROUTES = [
    Route("/pair", pair_form, methods=["GET"]),
    Route("/pair", pair, methods=["POST"]),
    Route("/devices", devices, methods=["GET"]),
    Route("/devices/code", new_code, methods=["POST"]),
    Route("/devices/{number:int}/revoke", revoke, methods=["POST"]),
]
