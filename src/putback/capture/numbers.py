"""Numbers in words and figures: "two", "a couple of", "one oh five", "three eighths", "2 1/2"."""

from collections.abc import Sequence
from typing import NamedTuple

from putback.capture.tokens import NUMBER, Token

_ONES = {
    word: value
    for value, word in enumerate(
        "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
        "seventeen eighteen nineteen".split()
    )
}
_TENS = {
    word: 10 * value for value, word in enumerate("twenty thirty forty fifty sixty seventy eighty ninety".split(), 2)
}
_SPELT_ALIKE = {"fourty": 40, "ninteen": 19, "fourten": 14, "oh": 0, "nought": 0}
_WORDS = {**_ONES, **_TENS, **_SPELT_ALIKE}
_PLURALS = {
    **{f"{word}s": value for word, value in _ONES.items() if value > 6},
    "sixes": 6, "fives": 5, "fours": 4, **{f"{word[:-1]}ies": value for word, value in _TENS.items()},
}  # fmt: skip
_PARTS = {
    "half": 2,
    "halves": 2,
    "third": 3,
    "thirds": 3,
    "quarter": 4,
    "quarters": 4,
    "fourths": 4,
    "fifth": 5,
    "sixth": 6,
    "sixths": 6,
    "twelfth": 12,
    "eighth": 8,
    "eighths": 8,
    "sixteenth": 16,
    "sixteenths": 16,
    "thirty-seconds": 32,
}
_SIGNS = {"½": (1, 2), "¼": (1, 4), "¾": (3, 4), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8)}


_FIRST = frozenset((*_WORDS, *_PLURALS, *_PARTS, "a", "an", "hundred")) - {"oh"}


class Number(NamedTuple):
    """A number and the tokens it takes, from `first` up to before `after`; a fraction keeps its two figures.

    `plural` is set for "thirteens" and "13s", which name things by their size.
    """

    value: float
    first: int
    after: int
    fraction: tuple[int, int] | None = None
    plural: bool = False


def read_number(tokens: Sequence[Token], at: int) -> Number | None:
    """The number that begins at a token, or None.

    Parameters
    ----------
    tokens : sequence of Token
    at : int
        Where it would begin
    """
    if at >= len(tokens):
        return None
    if tokens[at].kind == NUMBER:
        return _figures(tokens, at)
    return _in_words(tokens, at) if tokens[at].low.partition("-")[0] in _FIRST else None


def _figures(tokens: Sequence[Token], at: int) -> Number:
    text = tokens[at].text
    whole, part = _cut_figures(text)
    if part:
        value = whole + part[0] / part[1]
        return Number(value, at, at + 1, (part[0] + int(whole) * part[1], part[1]))
    more = _sign_of_a_part(tokens, at + 1)
    return Number(whole + more, at, at + 1 + bool(more))


def _cut_figures(text: str) -> tuple[float, tuple[int, int] | None]:
    """`2 1/2` as 2 and 1/2."""
    if text in _SIGNS:
        return 0, _SIGNS[text]
    whole, _, part = text.replace("-", " ").rpartition(" ")
    if "/" in part:
        upper, lower = (int(figure) for figure in part.split("/"))
        return (float(whole or 0), (upper, lower)) if lower else (float(upper), None)
    return float(part.replace(",", ".")), None


def _sign_of_a_part(tokens: Sequence[Token], at: int) -> float:
    upper, lower = _SIGNS.get(tokens[at].text, (0, 1)) if at < len(tokens) else (0, 1)
    return upper / lower


def _in_words(tokens: Sequence[Token], at: int) -> Number | None:
    for read in (_part, _plural, _whole):
        if found := read(tokens, at):
            return found
    return None


def _words(tokens: Sequence[Token], at: int) -> list[tuple[str, int]]:
    """The next few words with the token each belongs to; `twenty-two` is two."""
    found: list[tuple[str, int]] = []
    for n, token in enumerate(tokens[at : at + 7], at):
        if token.kind != "word":
            break
        found += [(word, n) for word in token.low.split("-")]
    return found


def _part(tokens: Sequence[Token], at: int) -> Number | None:
    """Three eighths, a half, five sixteenths, a quarter."""
    words = _words(tokens, at)
    names = [word for word, _ in words]
    upper = _ONES.get(names[0]) if names else None
    turns = upper == 2 and names[1:2] == ["quarter"]  # two quarter turn fasteners
    if upper and len(names) > 1 and names[1] in _PARTS and not turns:
        return Number(upper / _PARTS[names[1]], at, words[1][1] + 1, (upper, _PARTS[names[1]]))
    skipped = 1 if names[:1] in (["a"], ["an"]) and len(names) > 1 else 0
    if (
        names[skipped : skipped + 1]
        and names[skipped] in ("half", "quarter", "third", "sixth", "eighth", "twelfth")
        and (skipped or names[skipped] in ("half", "quarter"))
    ):
        return Number(1 / _PARTS[names[skipped]], at, words[skipped][1] + 1, (1, _PARTS[names[skipped]]))
    return None


def _plural(tokens: Sequence[Token], at: int) -> Number | None:
    words = _words(tokens, at)
    if words and words[0][0] in _PLURALS:
        return Number(_PLURALS[words[0][0]], at, words[0][1] + 1, plural=True)
    if len(words) > 1 and words[0][0] in _TENS and words[1][0] in _PLURALS and _PLURALS[words[1][0]] < 10:
        return Number(_TENS[words[0][0]] + _PLURALS[words[1][0]], at, words[1][1] + 1, plural=True)
    return None


def _whole(tokens: Sequence[Token], at: int) -> Number | None:
    """Twenty-two, a hundred and five, one oh five, seven and a half, eight point eight."""
    words = _words(tokens, at)
    names = [word for word, _ in words]
    value, used = _hundreds(names)
    if not used:
        return None
    more, extra = _behind(names[used:])
    used += extra
    return Number(value + more, at, words[used - 1][1] + 1) if _ends_a_token(words, used) else None


def _ends_a_token(words: list[tuple[str, int]], used: int) -> bool:
    """Whether a reading stops between two tokens: "one-piece" is no number."""
    return used == len(words) or words[used][1] != words[used - 1][1]


def _hundreds(names: list[str]) -> tuple[float, int]:
    """The value of the words at the beginning, and how many of them it takes."""
    if names[:2] in (["a", "hundred"], ["one", "hundred"]) or names[:1] == ["hundred"]:
        return _after_hundred(100, names, 1 if names[0] == "hundred" else 2)
    if len(names) > 1 and names[1] == "hundred" and names[0] in _ONES:
        return _after_hundred(100 * _ONES[names[0]], names, 2)
    if len(names) > 2 and names[1] in ("oh", "o") and 0 < _WORDS.get(names[0], 0) < 10 and _ones(names[2]):
        return 100 * _WORDS[names[0]] + _ones(names[2]), 3
    return _below_hundred(names)


def _after_hundred(value: int, names: list[str], used: int) -> tuple[float, int]:
    skipped = used + (names[used : used + 1] == ["and"])
    more, extra = _below_hundred(names[skipped:])
    return (value + more, skipped + extra) if extra and names[skipped] != "oh" else (value, used)


def _below_hundred(names: list[str]) -> tuple[float, int]:
    if not names or names[0] not in _WORDS or names[0] == "oh":
        return 0, 0
    value = _WORDS[names[0]]
    if value >= 20 and len(names) > 1 and _ones(names[1]):
        return value + _ones(names[1]), 2
    return value, 1


def _ones(name: str) -> int:
    value = _WORDS.get(name, 0)
    return value if value < 10 else 0


def _behind(names: list[str]) -> tuple[float, int]:
    """A half or decimals behind a whole number, and how many words that takes."""
    if names[:2] == ["and", "a"] and names[2:3] in (["half"], ["quarter"]):
        return 1 / _PARTS[names[2]], 3
    if names[:1] == ["point"]:
        figures = [str(_WORDS[name]) for name in _while_digits(names[1:])]
        return (float("0." + "".join(figures)), 1 + len(figures)) if figures else (0, 0)
    return 0, 0


def _while_digits(names: list[str]) -> list[str]:
    end = next((n for n, name in enumerate(names) if not 0 <= _WORDS.get(name, 10) < 10), len(names))
    return names[:end][:3]


def read_in_groups(tokens: Sequence[Token], at: int) -> Number | None:
    """A number said in two groups, as torques are: "one twenty" is 120, "one ten" 110, "two fifty" 250.

    Parameters
    ----------
    tokens : sequence of Token
    at : int
        Where it would begin
    """
    if tokens[at].low.partition("-")[0] not in _ONES:
        return None
    words = _words(tokens, at)
    names = [word for word, _ in words]
    value, used = _below_hundred(names[1:])
    if not names or not _ones(names[0]) or not 10 <= value < 100:
        return None
    return Number(100 * _ones(names[0]) + value, at, words[used][1] + 1) if _ends_a_token(words, used + 1) else None
