"""Text in a drawing: how wide it may come out, where to break it, and how to keep labels apart.

A drawing names only generic families, so that widths can but be guessed: for a wide face, so that text may come out
narrower than was thought, but hardly ever wider.
"""

import re
import unicodedata
from collections.abc import Sequence

# Shares of the type size: no less than DejaVu Sans takes, one of the widest faces in common use.
_SHARES = (
    dict.fromkeys("ijlI.,'| ", 0.34) | dict.fromkeys("frt():;[]-/!", 0.44) | dict.fromkeys("mwMW%@&#+<=>^~—…", 1.0)
)
_SMALL, _CAPITAL, _OTHER, _BOLD = 0.64, 0.79, 1.2, 1.13
_TURNING = re.compile(
    "[\u200e\u200f\u202a-\u202e\u2066-\u2069]"
)  # characters that turn the direction of all text after them
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def clean(text: str) -> str:
    """The text on one line, a mark in place of each character that XML cannot hold or that would turn what follows."""
    return " ".join(_NOT_XML.sub("\ufffd", _TURNING.sub("\ufffd", text)).split())


def text_width(text: str, size: float, bold: bool = False) -> float:
    """How wide a text may come out, in the unit of `size`.

    Parameters
    ----------
    text : str
    size : float
        Type size.
    bold : bool
    """
    return size * sum(map(_share, unicodedata.normalize("NFD", text))) * (_BOLD if bold else 1)


def _share(sign: str) -> float:
    if sign in _SHARES:
        return _SHARES[sign]
    if sign.isascii():
        return _CAPITAL if sign.isupper() else _SMALL
    return 0.0 if unicodedata.combining(sign) else _OTHER


def wrapped(text: str, size: float, room: float, bold: bool = False, most: int = 2) -> list[str]:
    """The text, cleaned, in lines that fit, the last one cut off with an ellipsis if there would be more.

    Parameters
    ----------
    text : str
    size, room : float
        Type size, and the width there is, in the same unit.
    bold : bool
    most : int
        How many lines there may be, 1 or more.
    """
    lines = _lines(clean(text), lambda line: text_width(line, size, bold) <= room)
    if len(lines) <= most:
        return lines
    last = lines[most - 1] + " " + lines[most]
    while last and text_width(last + "…", size, bold) > room:
        last = last[:-1].rstrip()
    return [*lines[: most - 1], last + "…"]


def _lines(text: str, fits) -> list[str]:
    """Broken between words; a word that fits no line is broken anywhere."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".lstrip()
        if fits(longer):
            lines[-1] = longer
            continue
        *pieces, rest = _pieces(word, fits)
        lines += [*pieces, rest]
    return [line for line in lines if line] or [""]


def _pieces(word: str, fits) -> list[str]:
    pieces = [""]
    for sign in word:
        if pieces[-1] and not fits(pieces[-1] + sign):
            pieces.append("")
        pieces[-1] += sign
    return pieces


def apart(wanted: Sequence[float], heights: Sequence[float], top: float, bottom: float) -> list[float]:
    """Tops of labels that keep their order, do not overlap, and stay as near as can be to where each belongs.

    Parameters
    ----------
    wanted : sequence of float
        The middle that each would like to have, in rising order.
    heights : sequence of float
    top, bottom : float
        The room; the heights must fit in it.

    Notes
    -----
    Less the heights above it, each top must only not fall below the one before: that is an isotonic regression, which
    pooling neighbours that are out of order solves with the least sum of squares.

    Examples
    --------
    >>> apart([10, 10, 50], [10, 10, 10], 0, 60)
    [0.0, 10.0, 45.0]
    """
    above = [sum(heights[:n]) for n in range(len(heights))]
    pools: list[tuple[float, int]] = []  # mean and size
    for middle, height, offset in zip(wanted, heights, above, strict=True):
        mean, size = middle - height / 2 - offset, 1
        while pools and pools[-1][0] >= mean:
            before, count = pools.pop()
            mean, size = (before * count + mean * size) / (count + size), count + size
        pools.append((mean, size))
    bases = [mean for mean, size in pools for _ in range(size)]
    room = bottom - top - sum(heights)
    return [float(top + min(max(base - top, 0), room) + offset) for base, offset in zip(bases, above, strict=True)]
