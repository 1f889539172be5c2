"""Whether two names mean the same thing."""

import re
from collections.abc import Sequence
from functools import lru_cache

from rapidfuzz import fuzz

from putback.capture.lexicon import singular

# Words of place that stand against each other; a name with the one cannot be a name with the other.
_AGAINST = (
    (
        {"left", "lh", "l/h", "nearside", "n/s", "ns", "nsf", "nsr", "left-hand", "passenger", "kerbside"},
        {"right", "rh", "r/h", "offside", "o/s", "os", "osf", "osr", "right-hand", "driver"},
    ),
    ({"upper", "top", "uppermost"}, {"lower", "bottom", "lowest"}),
    ({"front", "forward", "leading"}, {"rear", "back", "trailing"}),
    ({"inner", "inside", "inboard"}, {"outer", "outside", "outboard"}),
    ({"long", "longer"}, {"short", "shorter"}),
    ({"big", "large"}, {"small"}),
)
_COLOURS = frozenset("blue red green black white yellow grey gray brown orange purple pink".split())
_LIKENESS = 88  # of 100: two spellings of one word (own trials on slips of the pen)
_LIKELY = 5  # letters; shorter words differ by a letter that counts


@lru_cache(20_000)
def plain_words(name: str) -> tuple[str, ...]:
    """The words of a name, singular, in small letters, hyphens as blanks.

    Parameters
    ----------
    name : str
    """
    return tuple(singular(word) for word in re.split(r"[\s-]+", name.lower()) if word)


@lru_cache(20_000)
def same_word(one: str, other: str) -> bool:
    """Whether two words are one, or spellings of one.

    Parameters
    ----------
    one, other : str
    """
    if one == other:
        return True
    return min(len(one), len(other)) >= _LIKELY and one[0] == other[0] and fuzz.ratio(one, other) >= _LIKENESS


def against(one: Sequence[str], other: Sequence[str]) -> bool:
    """Whether a word of place of one name stands against one of the other.

    Parameters
    ----------
    one, other : sequence of str
        As `plain_words` gives them
    """
    ones, others = {*one}, {*other}
    if any((a & ones and b & others) or (b & ones and a & others) for a, b in _AGAINST):
        return True
    first, second = _COLOURS & ones, _COLOURS & others
    return bool(first and second and first != second)


@lru_cache(50_000)
def likeness(one: str, other: str) -> float:
    """How well one name can stand for another, from 0 to 1; 0 where it cannot.

    Parameters
    ----------
    one, other : str

    Examples
    --------
    >>> likeness("tray", "undertray") > 0, likeness("upper bolt", "lower bolt")
    (True, 0.0)
    """
    first, second = plain_words(one), plain_words(other)
    if not first or not second or not same_head(first[-1], second[-1]) or against(first, second):
        return 0.0
    common = sum(any(same_word(a, b) for b in second) for a in first)
    share = 2 * common / (len(first) + len(second))
    shorter = min(first, second, key=len)
    if common == len(shorter) or (common == 0 and len(shorter) == 1):
        return max(share, 0.5 + 0.1 * share)
    return share if share >= 0.6 else 0.3


@lru_cache(50_000)
def same_head(one: str, other: str) -> bool:
    """Whether the last nouns of two names may mean the same: tray and undertray.

    Parameters
    ----------
    one, other : str
        Singular, in small letters
    """
    if same_word(one, other):
        return True
    shorter, longer = sorted((one, other), key=len)
    return len(shorter) >= 4 and longer.endswith(shorter)


SIDES = frozenset().union(*(a | b for a, b in _AGAINST[:4])) | {
    "middle",
    "centre",
    "center",
    "side",
    "outermost",
    "innermost",
    "lowest",
    "uppermost",
    "rearmost",
    "far",
    "other",
    "end",
}
_OPPOSITE = {
    "left": "right",
    "lh": "rh",
    "l/h": "r/h",
    "nearside": "offside",
    "near-side": "off-side",
    "n/s": "o/s",
    "ns": "os",
    "nsf": "osf",
    "nsr": "osr",
    "left-hand": "right-hand",
    "driver's": "passenger's",
    "driver": "passenger",
    "drivers": "passengers",
    "n/s/f": "o/s/f",
    "n/s/r": "o/s/r",
    "lhs": "rhs",
    "driver side": "passenger side",
    "front-left": "front-right",
    "rear-left": "rear-right",
}
OPPOSITE = _OPPOSITE | {other: one for one, other in _OPPOSITE.items()}


def without_sides(words: Sequence[str]) -> tuple[str, ...]:
    """A name's words less those of place or side.

    Parameters
    ----------
    words : sequence of str
    """
    return tuple(word for word in words if word.lower() not in SIDES)


def other_side(words: Sequence[str]) -> tuple[str, ...]:
    """A name's words with left and right changed over.

    Parameters
    ----------
    words : sequence of str
    """
    return tuple(OPPOSITE.get(word.lower(), word) for word in words)
