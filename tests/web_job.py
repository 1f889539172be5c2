"""A job on demo car A that is half done, as a person at the pages would leave it: for whatever looks at every page."""

import struct
import zlib

from web_server import Device

FILES = {"area": "demo-a.yaml", "shop": "demo-shop.yaml"}


def half_done(device: Device, many: int = 24) -> str:
    """Open it, do its first steps, and leave a note, a photo, a difference and a part on order; its id.

    Parameters
    ----------
    device : Device
    many : int
        Steps that are done.
    """
    job = device.open(
        "alternator", vehicle="demo car A, AB 1234", complaint="charge lamp comes on when warm", cap=90_000, **FILES
    )
    for step in device.asking.get(f"/api/jobs/{job}").json()["steps"][:many]:
        events = [device.event(job, said["kind"]) | {"data": said["data"]} for said in step["closes"]]
        if events:
            assert device.say(job, *events).status_code == 200
    photo = device.asking.post("/api/files", content=picture()).json()
    more = [
        device.event(job, "note added", note="hose runs behind the bracket", item="intake duct"),
        device.event(job, "file added", hash=photo["hash"], name="duct.png", type=photo["type"], item="intake duct"),
        device.event(job, "part ordered", part="alternator", count=1),
        device.event(job, "difference found", item="push pins", what="broken", count=2),
        device.event(job, "person went under", who="technician 2"),
    ]
    assert device.say(job, *more).status_code == 200
    return job


def picture(width: int = 320, height: int = 240) -> bytes:
    """A small picture as PNG (ISO/IEC 15948): grey stripes."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = b"".join(
        b"\0" + bytes(64 + (column // 20 + row // 20) % 2 * 96 for column in range(width)) for row in range(height)
    )
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")
