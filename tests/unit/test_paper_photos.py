"""Photos on the record of a job: upright, small, without what the camera noted; what is no photo is named."""

from io import BytesIO

import numpy
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from desk_samples import THINKING, Desk
from paper_reading import text
from PIL import Image

from putback.paper.kinds import made, pdf
from putback.paper.look import Look
from putback.paper.matter import matter_of
from putback.paper.photos import LONG_SIDE, MOST_BYTES, small_photo

NOW = "2026-03-02T10:00:00.000Z"
ORIENTATION, PLACE = 0x0112, 0x8825  # tags of Exif 2.32 (CIPA DC-008)


def photo(width: int = 400, height: int = 300, seed: int = 1, **more) -> bytes:
    """A picture of noise, the hardest to make small, as JPEG."""
    noise = numpy.random.default_rng(seed).integers(0, 256, (height, width, 3), dtype=numpy.uint8)
    to = BytesIO()
    Image.fromarray(noise).save(to, "JPEG", quality=90, **more)
    return to.getvalue()


def record_with(desk: Desk, *files: tuple[str, str, bytes]):
    """A job with some files: name, type and content; what its record is made of."""
    desk.open(name="photos")
    for name, kind, data in files:
        desk.say("file added", hash=desk.ledger.put_file(data), name=name, type=kind)
    return matter_of(desk.ledger, desk.job, Look(), NOW, THINKING)


def images(paper: bytes) -> int:
    """How many pictures are on the pages of a PDF."""
    kinds = (pdfium.FPDF_PAGEOBJ_IMAGE,)
    return sum(len(list(page.get_objects(filter=kinds, max_depth=3))) for page in pypdfium2.PdfDocument(paper))


def test_a_photo_becomes_small_whatever_it_shows():
    """Noise is the worst that there is, and 40 of it are still below 10 MB."""
    small = small_photo(photo(2400, 1800))
    assert len(small) <= MOST_BYTES
    assert 40 * MOST_BYTES < 10_000_000
    assert max(Image.open(BytesIO(small)).size) == LONG_SIDE


def test_a_photo_stands_upright_and_forgets_where_it_was_taken():
    """A phone held upright writes how to turn the picture; the place stays with the phone."""
    noted = Image.Exif()
    noted[ORIENTATION] = 6  # a quarter turn
    noted.get_ifd(PLACE)[1] = "N"
    small = Image.open(BytesIO(small_photo(photo(400, 300, exif=noted))))
    assert small.size == (300, 400)
    assert not small.getexif()


@pytest.mark.parametrize("data", [b"", b"\xff\xd8\xff\xe0 no picture", photo()[:2000], b"%PDF-1.7"])
def test_what_cannot_be_read_is_no_photo(data):
    """A broken file is left out, and no trouble."""
    small = small_photo(data)
    assert small is None or Image.open(BytesIO(small)).size


def test_a_picture_too_large_to_be_one_is_left_out():
    """A small file may claim to be a picture of a billion points."""
    to = BytesIO()
    Image.new("1", (30_000, 20_000)).save(to, "PNG")
    assert small_photo(to.getvalue()) is None


def test_photos_are_shown_and_other_files_named(tmp_path):
    """Two photos, a PDF and a photo that broke off at its head."""
    with Desk(tmp_path) as desk:
        files = (("duct.jpg", "image/jpeg", photo()), ("plug.jpg", "image/jpeg", photo(seed=2)))
        files += (("report.pdf", "application/pdf", b"%PDF-1.7"), ("broken.jpg", "image/jpeg", b"\xff\xd8\xff"))
        matter = record_with(desk, *files)
        paper, said = pdf("record", matter), made("record", matter).data
    shown = [one["name"] for one in said["files"] if one["shown"]]
    assert shown == ["duct.jpg", "plug.jpg"]
    assert images(paper) == 2
    assert all(name in text(paper) for name, _, _ in files)
