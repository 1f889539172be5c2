"""What every request passes first: the right name, the right origin, not too much; and what every answer carries."""

from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from putback.web.trouble import refused

READING = ("GET", "HEAD", "OPTIONS")
LARGEST_BODY = 24_000_000  # bytes; one photo of 20 MB and what goes with it

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
    """Refuses what comes under a foreign name, from a foreign page, or is too much.

    Parameters
    ----------
    app : ASGI application
    hosts : tuple of str
        The names under which this server answers.
    """

    def __init__(self, app: ASGIApp, hosts: tuple[str, ...]):
        self.app, self.hosts = app, hosts

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        wrong = self._wrong(scope, headers)
        answer = refused(scope["path"], *wrong) if wrong else self.app
        await answer(scope, _bounded(receive), _with_headers(send))

    def _wrong(self, scope: Scope, headers: Headers) -> tuple[int, str] | None:
        if _name(headers.get("host", "")) not in self.hosts:
            return 421, "this server does not answer under that name; use the address that it showed when it started"
        if scope["method"] not in READING and not self._own_page(headers):
            return 403, "this came from another page than ours; open the page here and do it again"
        if not headers.get("content-length", "0").isdigit() or int(headers.get("content-length", "0")) > LARGEST_BODY:
            return 413, "this is too much at once; a photo or a file may have 20 MB"
        return None

    def _own_page(self, headers: Headers) -> bool:
        """Whether a request that changes something comes from a page of this server; a program that is none may say nothing."""
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return False
        origin = headers.get("origin")
        return origin is None or urlsplit(origin).netloc == headers.get("host")


def _name(host: str) -> str:
    """A host without its port."""
    name, sign, port = host.rpartition(":")
    return (name if sign and port.isdigit() else host).lower()


def _bounded(receive: Receive) -> Receive:
    """Stops a body that goes on past what it said, or never said how long it is."""
    seen = 0

    async def bounded() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > LARGEST_BODY:
            return {"type": "http.disconnect"}
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
