"""What is printed of a text: every sign that the fonts have, and a stand-in for every other.

A text is never markup: it goes to the page as a value. What cannot be seen (control signs, signs that turn the
direction of reading about) is left out, so that nobody prints words that read otherwise than they are.
"""

import re
from functools import lru_cache
from importlib import resources
from typing import Any

STAND_IN = "▯"
LONGEST = 20_000  # signs of one text
_LONGEST_WORD = 24  # signs; a longer one gets places where a line may end
_BREAK = "\u200b"
_LONG = re.compile(rf"\S{{{_LONGEST_WORD},}}")
# Controls, marks of direction, signs without width; line ends stay.
_UNSEEN = re.compile(
    "[\x00-\x09\x0b-\x1f\x7f-\x9f\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f"
    "\ufe00-\ufe0f\ufeff\ufff9-\ufffb\U000e0000-\U000e01ef]"
)


def printable(value: Any) -> Any:
    """A plain value with all of its texts as they can be printed; names of keys stay as they are.

    Parameters
    ----------
    value : plain value
    """
    if isinstance(value, str):
        return text(value)
    if isinstance(value, dict):
        return {key: printable(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [printable(one) for one in value]
    return value


def text(said: str) -> str:
    """A text as it can be printed.

    Parameters
    ----------
    said : str
        What is longer than 20 000 signs is cut there, with an ellipsis.
    """
    seen = _UNSEEN.sub("", said.replace("\r\n", "\n").replace("\t", " "))
    seen = seen if len(seen) <= LONGEST else f"{seen[:LONGEST]}…"
    return _LONG.sub(_with_breaks, with_stand_ins(seen))


def with_stand_ins(said: str) -> str:
    """A text with the stand-in for every sign that the fonts lack.

    Parameters
    ----------
    said : str
    """
    return "".join(map(_sign, said))


def has_stand_in(value: Any) -> bool:
    """Whether anything in a value is printed by the stand-in.

    Parameters
    ----------
    value : plain value
    """
    if isinstance(value, str):
        return STAND_IN in value
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return any(map(has_stand_in, inner))


def short(said: str, most: int) -> str:
    """The beginning of a text, where there is no room for all of it.

    Parameters
    ----------
    said : str
    most : int
        Signs, the ellipsis among them.
    """
    line = " ".join(said.split())
    return line if len(line) <= most else f"{line[: most - 1].rstrip()}…"


def _with_breaks(found: re.Match) -> str:
    word = found[0]
    return _BREAK.join(word[at : at + _LONGEST_WORD] for at in range(0, len(word), _LONGEST_WORD))


def _sign(one: str) -> str:
    return one if one == "\n" or ord(one) in _known() else STAND_IN


@lru_cache(maxsize=1)
def _known() -> frozenset[int]:
    lines = resources.files(__package__).joinpath("signs.txt").read_text(encoding="utf-8").splitlines()
    ranges = (word.split("-") for line in lines if not line.startswith("#") for word in line.split())
    return frozenset(n for ends in ranges for n in range(int(ends[0], 16), int(ends[-1], 16) + 1))
