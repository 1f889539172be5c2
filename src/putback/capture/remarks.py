"""Remarks that mean something as a whole: headings, "everything back", "same on the other side", corrections."""

import re
from functools import cache, lru_cache

from putback.capture.lexicon import sections


@cache
def _patterns() -> dict[str, re.Pattern]:
    return {kind: re.compile("|".join(lines)) for kind, lines in sections("remarks.txt").items()}


@lru_cache(4096)
def says(kind: str, words: str) -> re.Match | None:
    """Whether words make a remark of a kind, one of the headings of remarks.txt.

    Parameters
    ----------
    kind : str
    words : str
        In small letters, one blank apart
    """
    return _patterns()[kind].search(words)


def heading(words: str) -> str:
    """The direction that a heading begins, off or on; "" where the words are none.

    Parameters
    ----------
    words : str
        In small letters, without signs

    Examples
    --------
    >>> heading("refit"), heading("wheel off")
    ('on', '')
    """
    if says("heading off", words):
        return "off"
    return "on" if says("heading on", words) else ""
