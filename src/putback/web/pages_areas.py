"""The shop's area, shop and drive files: the list, one of them as it is understood, bringing one in, and writing in one."""

from collections.abc import Iterator
from functools import lru_cache, partial
from pathlib import Path

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback import starters
from putback.area.area_file import scan_area
from putback.area.model import Area, Item
from putback.area.nodes import LARGEST
from putback.check import check_files, kind_of, wrong
from putback.desk.belts import DriveSeen, drive_seen
from putback.desk.opening import File
from putback.desk.proposals import fastener_phrase
from putback.desk.shelf import AREA, DRIVE, KINDS, SHOP, add, beside, save, shelved, stamp_of, take
from putback.errors import Advice, InputError
from putback.web.asked import settings
from putback.web.api_belts import PICTURE
from putback.web.pages_common import Said, done, needed, one_of
from putback.web.render import page

FIELDS = 20


# --- the list, and one area -----------------------------------------------------------------------


def areas(request: Request) -> Response:
    """What the folder holds."""
    folder = settings(request).areas
    return page("areas.html", areas=shelved(folder, AREA), shops=shelved(folder, SHOP), drives=shelved(folder, DRIVE))


def area(request: Request) -> Response:
    """One file as it is understood, with what is wrong with it; for a shop, whether it can reach the targets."""
    folder, file = settings(request).areas, _file(request)
    shops = shelved(folder, SHOP)
    shop = _shop_file(folder, request.query_params.get("shop", ""))
    found = list(findings(file, shop))
    described = _read(file) if kind_of(file.data, file.name) == AREA else None
    parts = list(_parts(described)) if described else []
    belt = _drive_seen(file)
    return page(
        "area.html",
        file=file.name,
        area=described,
        parts=parts,
        belt=belt,
        drives=_drives(folder, described),
        findings=found,
        shops=shops,
        shop=shop,
        text=_text(file.data),
    )


def belt_drawing(request: Request) -> Response:
    """How the belt of a drive file runs."""
    file = _file(request, "drive")
    belt = _drive_seen(file)
    if belt is None or not belt.svg:
        raise HTTPException(404, f"{file.name} has no belt that can be drawn")
    return Response(belt.svg, media_type=PICTURE)


def _drive_seen(file: File) -> DriveSeen | None:
    return drive_seen(file.data, file.name) if kind_of(file.data, file.name) == DRIVE else None


def _drives(folder: Path, described: Area | None) -> list[tuple[str, DriveSeen | None]]:
    """The drive files that an area names, each as far as it is here and can be read."""
    lies = beside(folder)
    names = [ref.name for ref in described.drives] if described else []
    return [(name, _drive_seen(file) if (file := lies(name)) else None) for name in names]


def _file(request: Request, name: str = "file") -> File:
    try:
        return take(settings(request).areas, request.path_params[name])
    except InputError as none:
        raise HTTPException(404, str(none)) from None


def _shop_file(folder: Path, name: str) -> File | None:
    return take(folder, name) if name else None


@lru_cache(maxsize=64)
def findings(file: File, shop: File | None = None) -> tuple[InputError, ...]:
    """What is wrong with a file, and what would make it better, by itself or for a shop, which is looked at as well.

    Parameters
    ----------
    file : File
    shop : File, optional
    """
    files = {file.name: file.data} | ({shop.name: shop.data} if shop else {})
    return tuple(check_files(files, shop.name if shop else None))


@lru_cache(maxsize=32)
def _read(file: File) -> Area | None:
    return scan_area(file.data, file.name)[0]


def _parts(described: Area) -> Iterator[tuple[Item, list[str]]]:
    """Each thing that belongs to no other, with what holds it and hangs on it."""
    for item in described.items.values():
        if not item.owner:
            yield item, [_line(one) for one in described.belonging_to(item.name)]


def _line(item: Item) -> str:
    if item.fastener is None:
        return f"{item.name} ({item.kind})"
    return f"{item.name}: {fastener_phrase(item.fastener, item.base.tools)}"


def _text(data: bytes) -> str:
    return data.decode("utf-8", "replace")


# --- writing in one -------------------------------------------------------------------------------


def edit(request: Request, wrong: tuple[str, ...] = (), status: int = 200, said: Said | None = None) -> Response:
    """The file as text, with the findings beside its lines."""
    file = _file(request)
    began = said["began"] if said else stamp_of(file.data)
    text = said["text"] if said else _text(file.data)
    found = findings(File(file.name, text.encode("utf-8", "replace")))
    lines = list(_beside(text, found)) if found else []
    return page("area_edit.html", status, file=file.name, text=text, began=began, wrong=wrong, lines=lines, findings=found, checked=bool(said))


def _beside(text: str, found: tuple[InputError, ...]) -> Iterator[tuple[int, str, list[str]]]:
    """The lines of a text by their numbers, each with what is found there."""
    by_line: dict[int, list[str]] = {}
    for one in found:
        advice = "advice: " if isinstance(one, Advice) else ""
        by_line.setdefault((one.place.line if one.place else None) or 1, []).append(f"{advice}{one.message}")
    for number, line in enumerate(text.splitlines() or [""], 1):
        yield number, line, by_line.get(number, [])


async def edited(request: Request) -> Response:
    """Look at what was written, or save it."""
    async with request.form(max_files=0, max_fields=FIELDS, max_part_size=2 * LARGEST) as form:
        said = {name: _unix(form.get(name)) for name in ("text", "began", "do")}
    return await run_in_threadpool(_edited, request, said)


def _unix(value: object) -> str:
    """A text as it was written, with line ends as files here have them; browsers send others."""
    return value.replace("\r\n", "\n").replace("\r", "\n") if isinstance(value, str) else ""


def _edited(request: Request, said: Said) -> Response:
    shows = partial(edit, said=said)
    return shows(request) if said["do"] == "check" else done(request, said, shows, _save)


def _save(request: Request, said: Said) -> str:
    """Keep it as it is, with its mistakes if it has any; only what is none of them any more is refused."""
    one_of({"save": save}, said)
    name = _file(request).name
    _check_kind(name, said["text"])
    save(settings(request).areas, name, said["text"], said["began"])
    return f"/areas/{name}"


def _check_kind(name: str, text: str) -> None:
    data = text.encode("utf-8", "replace")
    if len(data) > LARGEST:
        raise InputError(f"{name}: larger than {LARGEST // 1000} kB; no description needs that much")
    if kind_of(data, name) not in KINDS:
        first = wrong(list(findings(File(name, data))))
        begins = f'{name}: begin with "area: 1", "shop: 1" or "drive: 1"'
        raise InputError(f"this is no area, shop or drive file: {first[0]}" if first else begins)


# --- a new one ------------------------------------------------------------------------------------


def new(request: Request, wrong: tuple[str, ...] = (), status: int = 200) -> Response:
    """Bring a file, or begin one."""
    return page("area_new.html", status, wrong=wrong)


async def brought(request: Request) -> Response:
    """Keep a file that was brought, or one to begin with."""
    async with request.form(max_files=1, max_fields=FIELDS) as form:
        said = {name: value.strip() for name, value in form.items() if isinstance(value, str)}
        sent = form.get("file")
        if isinstance(sent, UploadFile):
            said["sent as"], said["data"] = sent.filename or "", await sent.read(LARGEST + 1)
    return await run_in_threadpool(done, request, said, new, _new)


def _new(request: Request, said: dict) -> str:
    return one_of({"bring": _bring, "begin": _begin}, said)(request, said)


def _bring(request: Request, said: dict) -> str:
    data = said.get("data", b"")
    name = said.get("name") or said.get("sent as", "").replace("\\", "/").rpartition("/")[2]
    if not data:
        raise InputError("choose a file to bring")
    try:
        text = _unix(data.decode("utf-8-sig"))
    except UnicodeDecodeError:
        raise InputError(f"{name}: this is no text in UTF-8; save it as such and bring it again") from None
    _check_kind(name, text)
    return f"/areas/{add(settings(request).areas, name, text)}"


def _begin(request: Request, said: dict) -> str:
    title = needed(said, "title", "say what the area is called")
    target = needed(said, "target", "say which part is to be replaced")
    name = add(settings(request).areas, said.get("name") or title, starters.area(title, target))
    return f"/areas/{name}/edit"


ROUTES = [
    Route("/areas", areas, methods=["GET"]),
    Route("/areas/new", new, methods=["GET"]),
    Route("/areas/new", brought, methods=["POST"]),
    Route("/areas/{file}", area, methods=["GET"]),
    Route("/areas/{drive}/belt.svg", belt_drawing, methods=["GET"]),
    Route("/areas/{file}/edit", edit, methods=["GET"]),
    Route("/areas/{file}/edit", edited, methods=["POST"]),
]
