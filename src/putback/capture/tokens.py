"""Text to tokens that know where they stand.

Words keep their hyphens, so that a name reads as its author wrote it; figures are parted from the letters that
touch them (`105Nm`), but for the signs of threads and bits (`M8x1.25`, `T30`).
"""

import re
from collections.abc import Iterator
from typing import NamedTuple

WORD, NUMBER, CODE, SIGN, STAMP, LINE_END = "word", "number", "code", "sign", "stamp", "line end"

_LETTERS = r"[^\W\d_]+"
_PATTERNS = (
    (STAMP, r"\[\s*\d{1,3}:\d{2}(?::\d{2})?(?:[.,]\d+)?\s*\]|(?m:^)[ \t]*\(?\d{1,3}:\d{2}(?::\d{2})?\)?(?=[ \t])"),
    (CODE, r"\bM\d{1,2}(?:[.,]\d{1,2})?(?:[ ]?[x×][ ]?\d{1,3}(?:[.,]\d{1,2})?(?![.,]?\d|[ ]?mm)){0,2}(?![\w])"
           r"|\b(?:TX|[TE])-?\d{1,2}(?![\w])|\b(?:PH|PZ)-?\d(?![\w])"),
    (NUMBER, r"\d{1,3}[ -](?=\d{1,2}/\d)\d{1,2}/\d{1,2}(?![\d/])|\d{1,2}/\d{1,2}(?![\d/])"
             r"|\d{1,7}(?:[.,]\d{1,4})?(?!\d)|[½¼¾⅜⅝⅞]"),
    (WORD, r"\b[on]/s(?:/?[fr])?\b|\b[lr]/h\b|\ba/c\b|\b[a-z]/[a-z]+\b|\br\d{2,4}[a-z]{0,2}\b|\bo2\b"
           r"|\b[bd]\+(?!\w)|\bw/(?=\s|\d)"
           rf"|{_LETTERS}(?:-{_LETTERS})*(?:['’](?!s\b){_LETTERS})*|['’](?:s|em)\b"),
    (LINE_END, r"\r\n?|\n"),
    (SIGN, r"\.{2,}|[^\w\s]|_|\d"),
)  # fmt: skip
_TOKEN = re.compile("|".join(f"(?P<k{n}>{pattern})" for n, (_, pattern) in enumerate(_PATTERNS)), re.IGNORECASE)
_KINDS = tuple(kind for kind, _ in _PATTERNS)


class Token(NamedTuple):
    """A piece of the text: what kind, as written, in small letters, where it begins and ends in the text."""

    kind: str
    text: str
    low: str
    start: int
    end: int


def tokens(text: str) -> list[Token]:
    """The tokens of a text in their order; blanks are none.

    Parameters
    ----------
    text : str
    """
    return list(_tokens(text))


def _tokens(text: str) -> Iterator[Token]:
    for found in _TOKEN.finditer(text):
        kind = _KINDS[found.lastindex - 1]
        word = found.group()
        yield Token(kind, word, word.lower().replace("’", "'").strip(), found.start(), found.end())
