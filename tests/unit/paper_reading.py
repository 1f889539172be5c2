"""Reads PDFs back: text, fonts, and the size of what is drawn, by a library that has no part in making them."""

import re

import pypdfium2
import pypdfium2.raw as pdfium

MM = 25.4 / 72  # of a point; ISO 32000-1, 8.3.2.3


def text(pdf: bytes) -> str:
    """All text in the order of the pages, blanks made one; the feet and heads of the pages with it."""
    document = pypdfium2.PdfDocument(pdf)
    pages = [page.get_textpage().get_text_bounded() for page in document]
    return re.sub(r"\s+", " ", " ".join(pages).replace("\u200b", "").replace("\ufffe", "")).strip()


def pages(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of each page [mm]."""
    return [(round(page.get_width() * MM, 1), round(page.get_height() * MM, 1)) for page in pypdfium2.PdfDocument(pdf)]


def drawn(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of everything that is drawn as a path [mm]."""
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        for thing in page.get_objects(filter=(pdfium.FPDF_PAGEOBJ_PATH,), max_depth=3):
            left, bottom, right, top = thing.get_bounds()
            found.append(((right - left) * MM, (top - bottom) * MM))
    return found


def has_drawn(pdf: bytes, width: float, height: float, within: float = 0.1) -> bool:
    """Whether something of a size is drawn [mm]."""
    return any(abs(w - width) <= within and abs(h - height) <= within for w, h in drawn(pdf))


def fonts(pdf: bytes) -> dict[str, bool]:
    """The fonts that texts are set in, each with whether it is embedded."""
    found = {}
    for page in pypdfium2.PdfDocument(pdf):
        for thing in page.get_objects(filter=(pdfium.FPDF_PAGEOBJ_TEXT,), max_depth=3):
            font = pdfium.FPDFTextObj_GetFont(thing.raw)
            name = _name(font)
            found[name] = found.get(name, True) and pdfium.FPDFFont_GetIsEmbedded(font) == 1
    return found


def _name(font) -> str:
    import ctypes

    room = ctypes.create_string_buffer(200)
    pdfium.FPDFFont_GetBaseFontName(font, room, 200)
    return room.value.decode()
