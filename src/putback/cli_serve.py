"""`putback serve`: the pages at the car, from this computer."""

import os
from pathlib import Path

from putback.errors import InputError

PORT = 8140
HERE, EVERYWHERE = "127.0.0.1", "0.0.0.0"
UNROUTED = ("192.0.2.1", 9)  # of a range that belongs to nobody (RFC 5737); nothing is sent there


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--ledger", metavar="WHERE", help="a file, or postgresql://...; PUTBACK_LEDGER when left out")
    parser.add_argument(
        "--areas", metavar="FOLDER", help="where the area files and the shop file lie; beside the ledger when left out"
    )
    parser.add_argument(
        "--demo", action="store_true", help="put the demo areas, their belt drive and the demo shop into that folder first"
    )
    parser.add_argument(
        "--port", metavar="N", default=str(PORT), help=f"{PORT} when left out; 0 takes any that is free"
    )
    parser.add_argument(
        "--lan", action="store_true", help="let devices of the shop's network in, each paired once by a code"
    )
    parser.add_argument(
        "--host", action="append", default=[], metavar="NAME", help="another name that this computer has in the network"
    )
    parser.add_argument(
        "--tls", nargs=2, metavar=("CERT", "KEY"), help="files of a certificate and its key: the pages come by https"
    )
    parser.add_argument("--devices", action="store_true", help="list the devices that were paired, and serve nothing")
    parser.add_argument("--revoke", metavar="NUMBER", help="lock a device of that list out, and serve nothing")


def run(args) -> int:
    """Serve until somebody stops it, or look after the devices."""
    where = args.ledger or os.environ.get("PUTBACK_LEDGER") or str(_home() / "ledger.db")
    if args.devices or args.revoke:
        return _devices(where, args.revoke)
    return _serve(args, where)


def _home() -> Path:
    from putback.cli_job_common import own_ledger

    return own_ledger(create=True).parent


# --- devices --------------------------------------------------------------------------------------


def _access(where: str):
    from putback.web.access import Access, access_beside

    return Access(access_beside(where, _home()))


def _devices(where: str, revoked: str | None) -> int:
    from putback.terminal import visible

    access = _access(where)
    if revoked is not None and not (_is_number(revoked) and access.revoke(int(revoked))):
        raise InputError(f'there is no device "{revoked}"; `putback serve --devices` lists them with their numbers')
    for one in access.devices():
        days = f"paired {one.paired_at[:10]}, last here {one.seen_at[:10]}, until {one.until[:10]}"
        print(visible(f"{one.number:3}  {one.name}, {days}"))
    if not access.devices():
        print("no device is paired")
    return 0


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 10


# --- the server -----------------------------------------------------------------------------------


def _serve(args, where: str) -> int:
    import ssl
    from datetime import UTC, datetime
    from threading import Thread
    from time import perf_counter
    from uuid import uuid4

    from putback.desk.jobs import open_jobs
    from putback.job.ledger import open_ledger
    from putback.web.app import make_app
    from putback.web.settings import LOOPBACK, Settings

    areas = _areas(args)
    if args.tls:
        _check_certificate(ssl, *args.tls)
    with _listening(args) as socket, open_ledger(where) as ledger:
        port, scheme = socket.getsockname()[1], "https" if args.tls else "http"
        names = _names(args.host) if args.lan else ()
        settings = Settings(
            ledger,
            areas,
            lambda: datetime.now(UTC),
            lambda: uuid4().hex,
            perf_counter,
            hosts=(*LOOPBACK, *names),
            lan=args.lan,
            address=f"{scheme}://{names[0] if names else HERE}:{port}",
            access=_access(where),
        )
        Thread(
            target=open_jobs, args=(ledger, True), daemon=True
        ).start()  # so that the first look at the list is quick
        _tell(settings, f"{scheme}://{HERE}:{port}")
        _server(make_app(settings), args.tls).run(sockets=[socket])
    return 0


def _areas(args) -> Path:
    """The folder with the shop's files; the demo's are put there where they are not, and never over any."""
    folder = Path(args.areas) if args.areas else _home() / "areas"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if args.demo:
            _put_demo(folder)
    except OSError as error:
        raise InputError(
            f"{folder}: this folder cannot be used ({error.strerror}); name another with --areas"
        ) from None
    return folder


def _put_demo(folder: Path) -> None:
    from putback import demo

    for name in demo.SHELVED:
        if not (folder / name).exists():
            (folder / name).write_bytes(demo.text(name))


def _check_certificate(ssl, certificate: str, key: str) -> None:
    try:
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(certificate, key, password=lambda: b"")
    except (OSError, ValueError) as error:
        words = error.strerror or getattr(error, "reason", None) or error
        raise InputError(f"{certificate}, {key}: no certificate with its key in PEM form ({words})") from None


def _listening(args):
    """The socket on which we listen, taken before anything is opened."""
    from socket import IPPROTO_TCP, TCP_NODELAY, create_server

    if not _is_number(args.port) or int(args.port) > 65535:
        raise InputError(
            f'--port "{args.port}" is no port; take a number from 1024 to 65535, or 0 for any that is free'
        )
    try:
        socket = create_server((EVERYWHERE if args.lan else HERE, int(args.port)), backlog=128)
    except OSError as error:
        raise InputError(f"port {args.port} cannot be had ({error.strerror}); name another with --port") from None
    socket.setsockopt(IPPROTO_TCP, TCP_NODELAY, 1)  # passed on to each connection; else every answer waits 40 ms
    return socket


def _names(given: list[str]) -> tuple[str, ...]:
    """The names and numbers under which the shop's network knows this computer, the likeliest to be reached first."""
    from socket import gethostname

    name = gethostname().lower()
    short = name.partition(".")[0]
    return tuple(dict.fromkeys([*(one.lower() for one in given), *_own_number(), name, short, f"{short}.local"]))


def _own_number() -> list[str]:
    """The number that this computer would speak from."""
    from socket import AF_INET, SOCK_DGRAM, socket

    with socket(AF_INET, SOCK_DGRAM) as asking:
        try:
            asking.connect(UNROUTED)
            return [asking.getsockname()[0]]
        except OSError:
            return []


def _tell(settings, here: str) -> None:
    from putback.terminal import visible
    from putback.web.codes import grouped
    from putback.web.pairing import pairing_address

    print(f"the pages are at {here}/  (stop with Ctrl-C)", flush=True)
    if not settings.lan:
        return
    code = settings.codes.offer().text
    print(visible(f"devices of the network find them at {settings.address}/"))
    if not here.startswith("https:"):
        print("whoever can listen in on this network can read what is sent; --tls keeps it to yourselves")
    print(f"\nto let a device in, within ten minutes: {settings.address}/pair, code {grouped(code)}")
    _print_picture(pairing_address(settings.address, code))
    print(f"further codes: {here}/devices, here on this computer", flush=True)


def _print_picture(text: str) -> None:
    """A QR code, where the terminal has the signs for it."""
    import sys

    import segno

    if sys.stdout.isatty() and (sys.stdout.encoding or "").lower().replace("-", "") == "utf8":
        segno.make(text, error="m").terminal(compact=True)


def _server(app, tls):
    import uvicorn

    from putback.web.patience import Patient

    certificate, key = tls or (None, None)
    config = uvicorn.Config(
        app,
        http=Patient,
        log_level="warning",
        access_log=False,
        proxy_headers=False,
        server_header=False,
        lifespan="off",
        timeout_graceful_shutdown=5,
        ssl_certfile=certificate,
        ssl_keyfile=key,
    )
    return uvicorn.Server(config)
