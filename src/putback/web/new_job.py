"""Opening a job from a page: which car, what it came for, and the files that describe it."""

from contextlib import suppress
from pathlib import Path

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from putback.desk.opening import File, open_job
from putback.desk.planning import Thinking, first_plan
from putback.desk.shelf import AREA, SHOP, beside, shelved, take
from putback.errors import Findings, InputError, NoWay
from putback.job.vin import read_vin
from putback.units import number
from putback.web.asked import settings, stamp
from putback.web.render import page

TEXTS = ("name", "vehicle", "vin", "complaint", "kilometres", "lamps", "codes", "audio", "damage", "area", "shop", "targets", "variants", "cap")


def form(request: Request) -> Response:
    """The empty form."""
    return _page(request, dict.fromkeys(TEXTS, ""), ())


def _page(request: Request, said: dict[str, str], wrong: tuple[str, ...], status: int = 200) -> Response:
    folder = settings(request).areas
    return page("new_job.html", status=status, said=said, wrong=wrong, areas=shelved(folder, AREA), shops=shelved(folder, SHOP))


async def open_it(request: Request) -> Response:
    """Open the job, and go to it; or show the form again with what is wrong."""
    async with request.form(max_files=0, max_fields=40) as sent:
        said = {name: _text(sent, name) for name in TEXTS} | {"sure": _text(sent, "sure")}
    return await run_in_threadpool(_opened, request, said)


def _text(sent: FormData, name: str) -> str:
    value = sent.get(name, "")
    return value.strip() if isinstance(value, str) else ""


def _opened(request: Request, said: dict[str, str]) -> Response:
    try:
        job = _open(request, said)
    except Findings as wrong:
        return _page(request, said, tuple(map(str, wrong.findings)), 400)
    except InputError as wrong:
        return _page(request, said, (str(wrong),), 400)
    return RedirectResponse(f"/jobs/{job}", 303)


def _open(request: Request, said: dict[str, str]) -> str:
    own, who = settings(request), stamp(request)
    vin = read_vin(said["vin"])
    if vin.trouble and not said["sure"]:
        raise InputError(f"identification number: {vin.trouble}. If it is right all the same, tick the box below it")
    files = _files(own.areas, said)
    intake = _intake(said)
    job = open_job(
        own.ledger,
        who,
        said["name"] or said["vehicle"] or _no_name(),
        **files,
        beside=beside(own.areas),
        targets=_listed(said["targets"]),
        variants=_listed(said["variants"]),
        vehicle=", ".join(one for one in (said["vehicle"], vin.text) if one) or None,
        cap=_cents(said["cap"]),
    )
    if intake:
        own.ledger.append([who.event(job, "intake noted", **intake)])
    with suppress(NoWay):  # the job is open all the same, and its page says what would open a way
        first_plan(own.ledger, job, who, Thinking(own.seconds))
    return job


def _files(folder: Path, said: dict[str, str]) -> dict[str, File]:
    """The area file with the shop file that goes with it; the only one there is where none was chosen."""
    if not said[AREA]:
        return {}
    shops = [one.file for one in shelved(folder, SHOP)]
    shop = said[SHOP] or (shops[0] if len(shops) == 1 else "")
    if not shop:
        raise InputError("an area is planned for a shop: choose the shop file as well")
    return {AREA: take(folder, said[AREA]), SHOP: take(folder, shop)}


def _no_name() -> str:
    raise InputError("say what this job is called, or which car it is")


def _intake(said: dict[str, str]) -> dict:
    told = {
        "complaint": said["complaint"],
        "kilometres": _figure("kilometres", said["kilometres"]),
        "lamps_on": _listed(said["lamps"]),
        "stored_codes": _listed(said["codes"]),
        "audio_code": said["audio"],
        "damage_already_there": _listed(said["damage"]),
    }
    return {name: value for name, value in told.items() if value not in ("", None, [])}


def _figure(what: str, text: str) -> float | None:
    try:
        return number(text) if text else None
    except InputError as error:
        raise InputError(f"{what}: {error}") from None


def _cents(text: str) -> float | None:
    figure = _figure("what the customer agreed to", text)
    return None if figure is None else round(100 * figure, 2)


def _listed(text: str) -> list[str]:
    """What was written with commas between."""
    return [one.strip() for one in text.split(",") if one.strip()]


ROUTES = [Route("/jobs/new", form, methods=["GET"]), Route("/jobs/new", open_it, methods=["POST"])]
