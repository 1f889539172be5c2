"""Pictures of every page with demo data, for the docs; `scripts/screenshots` calls it."""

import argparse
import re
import struct
import tempfile
import zlib
from pathlib import Path

from phone import CHROMIUM, SCREEN
from web_addresses import pages
from web_job import half_done
from web_server import Device, serving

FOLDER = Path(__file__).resolve().parent.parent / "docs" / "screens"
SCREENS = {"phone": SCREEN, "tablet": {"width": 1180, "height": 820}}
GREYS = 16  # shades that are kept: ink on paper has few


def main(words: list[str] | None = None) -> None:
    """Take them all, or those whose address has a word in it."""
    parser = argparse.ArgumentParser(
        "scripts/screenshots", description="Takes a picture of every page into docs/screens."
    )
    parser.add_argument("word", nargs="?", default="", help="only pages whose address has this in it")
    parser.add_argument("--theme", choices=("light", "dark"), default="light")
    parser.add_argument("--to", type=Path, default=FOLDER, metavar="FOLDER")
    args = parser.parse_args(words)
    args.to.mkdir(parents=True, exist_ok=True)
    with (
        tempfile.TemporaryDirectory() as folder,
        serving(Path(folder), "--lan") as server,
        Device(server.address) as device,
    ):
        take(server, half_done(device), args)


def take(server, job: str, args: argparse.Namespace) -> None:
    """Each page on each screen.

    Parameters
    ----------
    server : Served
    job : str
    args : argparse.Namespace
        `word`, `theme` and `to` count.
    """
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        for name, screen in SCREENS.items():
            context = browser.new_context(viewport=screen, color_scheme=args.theme, reduced_motion="reduce")
            page = context.new_page()
            for path in (path for path in pages(job) if args.word in path and not path.endswith((".svg", "/area.yaml"))):
                page.goto(server.address + path, wait_until="networkidle")  # what a script still asks for as well
                file = args.to / f"{named(path, job)}-{name}.png"
                file.write_bytes(smaller(page.screenshot()))
                print(f"{file.name}: {file.stat().st_size / 1000:.0f} kB", flush=True)
            context.close()
        browser.close()


def named(path: str, job: str) -> str:
    """What the picture of a page is called: the words of its address.

    Parameters
    ----------
    path, job : str
    """
    words = re.sub(r"[^a-z-]+", "-", path.replace(f"jobs/{job}", "job").replace(".yaml", "").lower())
    return words.strip("-") or "jobs"


# --- small PNGs -----------------------------------------------------------------------------------


def smaller(png: bytes) -> bytes:
    """The same picture in a few shades of grey (ISO/IEC 15948), which is all that ink on paper needs.

    Parameters
    ----------
    png : bytes
        Of 8 bits a channel, not interlaced, as a browser makes it.
    """
    width, height, channels, rows = read(png)
    grey = [
        bytes(((GREYS - 1) * row[at] + 127) // 255 for at in range(1 if channels > 1 else 0, len(row), channels))
        for row in rows
    ]
    packed = b"".join(
        b"\0" + bytes(a << 4 | b for a, b in zip(row[::2], row[1::2] + b"\0", strict=False)) for row in grey
    )
    head = struct.pack(">IIBBBBB", width, height, 4, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", zlib.compress(packed, 9)) + _chunk(b"IEND", b"")
    )


def read(png: bytes) -> tuple[int, int, int, list[bytes]]:
    """Width, height, channels, and the rows of a picture.

    Parameters
    ----------
    png : bytes
    """
    at, data, head = 8, b"", b""
    while at < len(png):
        length, kind = struct.unpack_from(">I4s", png, at)
        head = png[at + 8 : at + 8 + length] if kind == b"IHDR" else head
        data += png[at + 8 : at + 8 + length] if kind == b"IDAT" else b""
        at += 12 + length
    width, height, _, colours = struct.unpack_from(">IIBB", head)
    channels = {0: 1, 2: 3, 4: 2, 6: 4}[colours]
    return width, height, channels, _unfiltered(zlib.decompress(data), width * channels, channels)


def _unfiltered(data: bytes, length: int, step: int) -> list[bytes]:
    """The rows, each filter undone (ISO/IEC 15948, clause 9)."""
    rows, above = [], bytes(length)
    for at in range(0, len(data), length + 1):
        above = _row(data[at], bytearray(data[at + 1 : at + 1 + length]), above, step)
        rows.append(above)
    return rows


def _row(kind: int, row: bytearray, above: bytes, step: int) -> bytes:
    if kind == 2:
        return bytes((one + up) & 255 for one, up in zip(row, above, strict=True))
    for at in range(len(row)) if kind else ():
        left, up = row[at - step] if at >= step else 0, above[at]
        corner = above[at - step] if at >= step else 0
        row[at] = (row[at] + (left, up, (left + up) // 2, _nearest(left, up, corner))[kind - 1]) & 255
    return bytes(row)


def _nearest(left: int, up: int, corner: int) -> int:
    guess = left + up - corner
    return min((left, up, corner), key=lambda one: abs(guess - one))


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


if __name__ == "__main__":
    main()
