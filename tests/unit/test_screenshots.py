"""The pictures in the docs: small, and the same as what was on the screen."""

import struct
import zlib

import pytest

from screenshots import named, read, smaller
from web_job import picture


def filtered(kind: int, rows: list[bytes], step: int) -> bytes:
    """A picture whose rows went through one filter of ISO/IEC 15948, as its clause 9 tells to make it."""
    out, above = b"", bytes(len(rows[0]))
    for row in rows:
        line = bytes((one - guess(kind, row, above, at, step)) & 255 for at, one in enumerate(row))
        out, above = out + bytes([kind]) + line, row
    return out


def guess(kind: int, row: bytes, above: bytes, at: int, step: int) -> int:
    a = row[at - step] if at >= step else 0
    b, c = above[at], above[at - step] if at >= step else 0
    if kind == 4:
        far = [abs(a + b - c - one) for one in (a, b, c)]
        return (a, b, c)[far.index(min(far))]
    return [0, a, b, (a + b) // 2][kind]


def png(data: bytes, width: int, height: int, colours: int) -> bytes:
    def chunk(kind: bytes, inner: bytes) -> bytes:
        return struct.pack(">I", len(inner)) + kind + inner + struct.pack(">I", zlib.crc32(kind + inner))

    head = struct.pack(">IIBBBBB", width, height, 8, colours, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(data)) + chunk(b"IEND", b"")


@pytest.mark.parametrize("kind", range(5))
def test_each_filter_is_undone(kind):
    """All five, on rows that differ from the left, from above and from the corner."""
    rows = [bytes((17 * x * x + 31 * y + 5 * x * y) % 256 for x in range(9)) for y in range(4)]
    read_again = read(png(filtered(kind, rows, 3), 3, 4, 2))

    assert read_again == (3, 4, 3, rows)


def test_a_picture_becomes_one_of_sixteen_greys():
    """White stays white, black stays black, and an odd width loses no column: 4 bits each, 15 is white."""
    rows = [bytes(3 * [0]) + bytes(3 * [128]) + bytes(3 * [255])]
    small = smaller(png(filtered(0, rows, 3), 3, 1, 2))
    data = zlib.decompress(small[small.index(b"IDAT") + 4 : small.index(b"IEND") - 8])

    assert data == bytes([0, 0x08, 0xF0])
    assert struct.unpack_from(">IIBB", small, 16) == (3, 1, 4, 0)


def test_a_picture_gets_smaller():
    """One that a phone's page would have."""
    assert len(smaller(picture(200, 200))) < len(picture(200, 200)) + 200


def test_a_picture_is_called_by_its_pages_address():
    """The job's id is of no interest."""
    job = "J" * 26
    paths = ["/", "/jobs/new", f"/jobs/{job}", f"/jobs/{job}/log", "/areas/demo-a.yaml"]

    assert [named(path, job) for path in paths] == ["jobs", "jobs-new", "job", "job-log", "areas-demo-a"]
