"""What every request passes first: the right name, the right origin, not too much, not too slow, from whom."""

import asyncio
from ipaddress import ip_address
from time import monotonic

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.requests import cookie_parser
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from putback.errors import LedgerError
from putback.web.access import Device
from putback.web.asked import LOCAL, PAIRED, TOKEN
from putback.web.settings import LOOPBACK, Settings
from putback.web.trouble import LATER, refused

READING = ("GET", "HEAD", "OPTIONS")
LARGEST_BODY = 24_000_000  # bytes; one photo of 20 MB and what goes with it
LONGEST_WAIT = 20.0  # seconds for the next piece of a body
LONGEST_BODY = 300.0  # seconds for all of it: a photo over a bad connection
PAIR, STATIC = "/pair", "/static/"  # what a device needs to be let in
FORWARDED = ("forwarded", "x-forwarded-for", "x-forwarded-host", "x-real-ip")
CLOSE = {"connection": "close"}

HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; "
        "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(self), geolocation=(), microphone=(self)",
}


class Guard:
    """Refuses what comes under a foreign name, from a foreign page, from a device that was not let in, or is too much.

    Parameters
    ----------
    app : ASGI application
    settings : Settings
    """

    def __init__(self, app: ASGIApp, settings: Settings):
        self.app, self.settings = app, settings

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        try:
            answer = await self._answer(scope, Headers(scope=scope))
        except LedgerError as trouble:
            answer = refused(scope["path"], LATER, str(trouble))
        await answer(scope, _bounded(receive), _with_headers(send))

    async def _answer(self, scope: Scope, headers: Headers) -> ASGIApp:
        if wrong := self._wrong(scope, headers):
            return refused(scope["path"], *wrong)
        scope[LOCAL] = _is_local(scope, headers)
        scope[PAIRED] = None if scope[LOCAL] else await self._device(headers)
        if scope[LOCAL] or scope[PAIRED] or (self.settings.lan and _is_for_all(scope["path"])):
            return self.app
        return self._not_let_in(scope)

    def _wrong(self, scope: Scope, headers: Headers) -> tuple[int, str] | None:
        if not self._own_name(scope, _name(headers.get("host", ""))):
            return 421, "this server does not answer under that name; use the address that it showed at its start"
        if scope["method"] not in READING and not _own_page(scope, headers):
            return 403, "this came from another page than ours; open the page here and do it again"
        length = headers.get("content-length", "0")
        if not (length.isascii() and length.isdigit()) or len(length) > 12 or int(length) > LARGEST_BODY:
            return 413, "this is too much at once; a photo or a file may have 20 MB"
        return None

    def _own_name(self, scope: Scope, name: str) -> bool:
        """A name of ours; in the network also the number that was reached, which no foreign name can stand for."""
        return name in self.settings.hosts or (self.settings.lan and name == _number(scope.get("server")))

    async def _device(self, headers: Headers) -> Device | None:
        token = cookie_parser(headers.get("cookie", "")).get(TOKEN)
        if not (self.settings.lan and self.settings.access and token):
            return None
        return await run_in_threadpool(self.settings.access.device, token, self.settings.clock())

    def _not_let_in(self, scope: Scope) -> Response:
        if not self.settings.lan:
            return refused(scope["path"], 403, "only the shop's own computer may come in here")
        if scope["path"].startswith("/api/") or scope["method"] not in READING:
            return refused(
                scope["path"], 401, "this device is not paired, or no more; open the page Pair on it, at /pair"
            )
        return RedirectResponse(PAIR, 303)


def _is_for_all(path: str) -> bool:
    return path == PAIR or path.startswith(STATIC)


def _is_local(scope: Scope, headers: Headers) -> bool:
    """Whether this comes from the same computer, straight: what somebody passed on comes from elsewhere."""
    address = (scope.get("client") or ("", 0))[0]
    passed_on = any(name in headers for name in FORWARDED)
    return _is_loopback(address) and _name(headers.get("host", "")) in LOOPBACK and not passed_on


def _is_loopback(address: str) -> bool:
    try:
        return ip_address(address).is_loopback
    except ValueError:
        return False


def _name(host: str) -> str:
    """A host without its port."""
    name, sign, port = host.rpartition(":")
    return (name if sign and port.isdigit() else host).lower()


def _number(server: tuple | None) -> str:
    """The address that was reached, as a host writes it."""
    address = server[0] if server else ""
    return f"[{address}]" if ":" in address else address


def _own_page(scope: Scope, headers: Headers) -> bool:
    """Whether what changes something comes from a page of this server; a program that is none may say nothing."""
    if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
        return False
    origin = headers.get("origin")
    return origin is None or origin.lower() == f"{scope['scheme']}://{headers.get('host', '').lower()}"


def _bounded(receive: Receive) -> Receive:
    """Ends a body that goes on past what may be, or dawdles."""
    seen, whole, until = 0, False, monotonic() + LONGEST_BODY

    async def bounded() -> Message:
        nonlocal seen, whole
        if whole:
            return await receive()  # what is waited for now is that the other side hangs up
        try:
            async with asyncio.timeout(min(LONGEST_WAIT, until - monotonic())):
                message = await receive()
        except TimeoutError:
            raise HTTPException(408, "the body came too slowly; try again nearer to the antenna", CLOSE) from None
        seen += len(message.get("body", b""))
        if seen > LARGEST_BODY:
            raise HTTPException(413, "this is too much at once; a photo or a file may have 20 MB", CLOSE)
        whole = not message.get("more_body", False)
        return message

    return bounded


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("cache-control", "no-store")
        await send(message)

    return sending
