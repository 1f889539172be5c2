"""Figures with a meaning: torques, angles, sizes of tools, counts, and those that mean none of these."""

import re
from collections.abc import Sequence
from typing import NamedTuple

from putback.capture.numbers import Number, read_in_groups, read_number
from putback.capture.tokens import CODE, NUMBER, WORD, Token

N_M, FT_LB, IN_LB = "N·m", "lbf·ft", "lbf·in"

_SEP = r"[\s.·⋅*-]*"
_UNITS = (
    (N_M, rf"n{_SEP}m(?![\w])|newton{_SEP}met(?:re|er)s?\b|newtons?\b"),
    (FT_LB, rf"(?:ft|foot|feet){_SEP}(?:lbf|lb|pound)s?\b\.?|(?:lbf|lb|pound)s?{_SEP}(?:ft|foot|feet)\b\.?|ft/lbs?\b"),
    (IN_LB, rf"in(?:ch)?{_SEP}(?:lbf|lb|pound)s?\b\.?|(?:lbf|lb|pound)s?{_SEP}in(?:ch)?(?:es)?\b\.?|in/lbs?\b"),
)  # fmt: skip
_HALF_UNITS = re.compile(r"\s*(?:lbf?s?|pounds?|kilos?|kgf?m?|mkg|kilogram(?:me)?s?)\b\.?", re.IGNORECASE)
_UNIT = re.compile(r"\s*-?\s*(?:" + "|".join(f"({pattern})" for _, pattern in _UNITS) + ")", re.IGNORECASE)
_NAMES = tuple(name for name, _ in _UNITS)

# What a number counts or measures that is neither a fastener nor a torque nor the size of a tool.
_OTHER = re.compile(
    r"\s*-?\s*(?:min(?:ute)?s?|secs?|seconds?|hours?|hrs?|days?|weeks?|months?|years?|k|km|kms|"
    r"miles?|litres?|liters?|l|ml|cc|qts?|quarts?|pints?|gal|gallons?|odd|thousand|oz|ounces?|bar|"
    r"psi|stages?|steps?|rounds?|passes|goes|laps?|clicks?|threads?|notches|teeth|tries|attempts|notch|"
    r"volts?|v|amps?|a|ohms?|%|percent|per cent|quid|pounds? fifty|euros?|dollars?|cm|metres?|"
    r"meters?|pins?|way|point|"
    r"o'?clock|pm|am|years? old|thou|microns?|grams?|g|kilos? of|pence|rpm|teeth|ribs?|stage|speed|"
    r"door|doors)(?![\w'])",
    re.IGNORECASE,
)  # fmt: skip
_MM = re.compile(r"\s*-?\s*(?:mm|mills?|mils?|millimet(?:re|er)s?)(?!\w)", re.IGNORECASE)
_INCH = re.compile(
    r"\s*-?\s*(?:(?:of an |an )?inch(?:es)?|in|\"|''|”)(?!\w)(?!\s*(?:of|the|a|it|place|lb|pound))", re.IGNORECASE
)
_HEX = re.compile(
    r"\s*-?\s*(?:hex(?:agon)?(?:[ -](?:key|bit|socket|head))?|allen(?:[ -](?:key|bit|socket|head))?|"
    r"inbus|allan(?:[ -]key)?)s?\b(?!\s*(?:bolt|nut|screw|plug)s?\b)",
    re.IGNORECASE,
)
_HEX_HEAD = re.compile(r"\s*(?:hex|allen)(?:[ -]head)?(?=\s+(?:bolt|screw|plug|cap)s?\b)", re.IGNORECASE)
_SPLINE = re.compile(r"\s*-?\s*(?:spline|splined)(?:[ -](?:bit|key|socket|head))?s?\b", re.IGNORECASE)
_TWELVE = re.compile(
    r"\s*-?\s*(?:12[ -]?point|twelve[ -]point|bi-?hex|multi-?point)(?:[ -](?:bit|socket))?s?\b", re.IGNORECASE
)
_NOT_A_TOOL = re.compile(
    r"\s*(?:long(?:er)?|deep|thick|wide|gap|high|tall|down|lower|drop|of (?:thread|play|travel|meat|"
    r"pad)|left|play|clear|clearance|apart|in from|from|off the floor|shorter|bore|hole|diameter|"
    r"dia)\b",
    re.IGNORECASE,
)  # fmt: skip
_NO_SIZE = re.compile(
    r"\s*-?\s*(?:turns?|way|full|open|hours?|days?|a|of|litres?|liters?|pints?|gallons?|quarts?|qts?|cups?|l|tank|ton|"
    r"throttle|done|mile|time|price|size)\b",
    re.IGNORECASE,
)
_TOOL_NOUN = re.compile(
    r"\s*-?\s*(?:(?:deep|long|short|ring|open|open-ended|combination|impact|flare|crows?-?foot|"
    r"wobble|swivel|stubby|ratchet|offset|long-reach|long reach|thin)[ -])*"
    r"(?:sockets?|spanners?|wrench(?:es)?|ratchets?|ring|ringspanner|swivel|crows?-?foot|heads?|"
    r"headed|nut runner|deep|wobble|open end|combination|(?:nut )?drivers?)\b",
    re.IGNORECASE,
)  # fmt: skip
_DEGREES = re.compile(r"\s*-?\s*(?:°|degrees?|deg\b\.?|º)", re.IGNORECASE)
_TURN = re.compile(r"\s*(?:-|of a |of |a |an )?\s*turns?\b", re.IGNORECASE)
_PLUS = re.compile(
    r"\s*,?\s*(?:\+|(?:and |then )?plus|and then|then|and|,)?\s*(?:an?other |a further |an extra |an )?", re.IGNORECASE
)
_TO = re.compile(r"\s*(?:-|–|to|or|up to)\s*", re.IGNORECASE)
_TIMES = re.compile(
    r"\s*(?:x|×|\*|off(?=\s*(?:\d|m\d|(?:[a-z-]+\s+){0,2}(?:bolt|nut|screw|stud|clip|pin|rivet|"
    r"washer)))|times)(?![a-wyz])\s*",
    re.IGNORECASE,
)


_CROSS_HEADS = frozenset(("phillips", "philips", "cross-head", "crosshead", "pozi", "pozidriv"))
_SLOTTED = re.compile(r"(?:\s*-?heads?)?(?=\s*(?:[,.;:]|$))", re.IGNORECASE)
_SCREW = re.compile(r"\s*(?:head(?:ed)?\s+)?(?:screw|bolt)", re.IGNORECASE)
_FASTENERS_BEHIND = re.compile(r"\s*(?:nut|bolt|screw|stud|clip)s?\b", re.IGNORECASE)
_KIND_OF_SIZE = re.compile(
    r"(?:(?P<hex>(?:hex|allen|inbus)(?:[ -](?:key|bit|socket))?)|key|socket|spanner|wrench)\s+of\s+",
    re.IGNORECASE,
)

_NEXT_STAGE = re.compile(r"\s*(?:/|,\s*(?:then|and)?|then|and)\s*(?:then\s+)?", re.IGNORECASE)


class Quantity(NamedTuple):
    """What a figure says, and the tokens it takes, from `first` up to before `after`.

    `kind` is torque, angle, tool, count, number or other; `unit` that of a torque, None where it is unclear.
    """

    kind: str
    first: int
    after: int
    value: float | str | None = None
    unit: str | None = None
    plural: bool = False


class Reader:
    """Reads quantities off the tokens of one text.

    Parameters
    ----------
    text : str
    tokens : sequence of Token
        Those of the text, without times and line ends
    """

    def __init__(self, text: str, tokens: Sequence[Token]):
        self.text, self.tokens = text, tokens
        self.by_start = {token.start: n for n, token in enumerate(tokens)}

    def read(self, at: int) -> list[Quantity]:
        """The quantities that begin at a token, one behind the other; none where none does."""
        token = self.tokens[at]
        if token.kind == CODE:
            return [self._code(at)]
        if token.low in _CROSS_HEADS and not self._at(at + 1, _SCREW):
            return [Quantity("tool", at, at + 1, "cross-head")]
        if token.low == "slotted" and at and self._at(at + 1, _SLOTTED):
            return [Quantity("tool", at, at + 1, "flat screwdriver")]
        if found := self._kind_of_size(at):
            return [found]
        if token.kind == WORD and token.low in ("torx", "tx", "t", "e", "m", "star"):
            if found := self._spoken_code(at):
                return [found]
        if token.low in ("x", "×") and self._joins_a_number(at):
            number = read_number(self.tokens, at + 1)
            return [Quantity("count", at, number.after, number.value)] if number else []
        number = read_number(self.tokens, at)
        if number is None:
            return self._few(at)
        return self._of_number(number, at)

    def _kind_of_size(self, at: int) -> Quantity | None:
        """Key of ten, Allen of six: the tool first, its size behind it."""
        kind = _KIND_OF_SIZE.match(self.text, self.tokens[at].start)
        number = read_number(self.tokens, self._token_at(kind.end(), at)) if kind else None
        if number is None or not _is_size(number.value) or self._at(number.after, _FASTENERS_BEHIND):
            return None
        size = f"{number.value:g} mm hex" if kind.group("hex") else metric(number.value)
        return Quantity("tool", at, number.after, size)

    # -- numbers ---------------------------------------------------------------------------------

    def _of_number(self, number: Number, at: int) -> list[Quantity]:
        groups = read_in_groups(self.tokens, at)
        if groups and (found := self._torque(groups)):
            return found
        for read in (self._series, self._torque, self._angle, self._times, self._size, self._other, self._half):
            if found := read(number):
                return found
        if groups and groups.after > number.after and not self._size(self._rest(number, groups)):
            return [Quantity("number", at, groups.after, groups.value)]
        return [Quantity("number", at, number.after, number.value, plural=number.plural or self._has_s(number))]

    def _rest(self, number: Number, groups: Number) -> Number:
        return read_number(self.tokens, number.after) or groups

    def _torque(self, number: Number) -> list[Quantity]:
        found = self._at(number.after, _UNIT)
        if not found:
            return self._range(number)
        unit = _NAMES[found.lastindex - 1]
        after = self._token_at(found.end(), number.after)
        if self.tokens[after - 1].low in ("in",) or after == number.after:
            return []
        return [Quantity("torque", number.first, after, number.value, unit), *self._angle_after(after)]

    def _series(self, number: Number) -> list[Quantity]:
        """20 / 50 / 95 ft-lb, 20, 40 and 60 N·m: stages with one unit."""
        told = [number]
        while (found := self._at(told[-1].after, _NEXT_STAGE)) and found.group().strip():
            following = read_number(self.tokens, self._token_at(found.end(), told[-1].after))
            if following is None or following.value <= told[-1].value or following.first == told[-1].after:
                break
            told.append(following)
        unit = self._at(told[-1].after, _UNIT) if len(told) > 1 else None
        if not unit:
            return []
        after = self._token_at(unit.end(), told[-1].after)
        name = _NAMES[unit.lastindex - 1]
        return [
            Quantity("torque", one.first, one.after if one is not told[-1] else after, one.value, name) for one in told
        ]

    def _range(self, number: Number) -> list[Quantity]:
        """20 to 25 N·m is its middle."""
        found = self._at(number.after, _TO)
        if not found or not found.group().strip() or number.fraction:
            return []
        second = read_number(self.tokens, self._token_at(found.end(), number.after))
        if second is None or second.value <= number.value or second.value > 2 * number.value:
            return []
        unit = self._at(second.after, _UNIT)
        if not unit:
            return []
        after = self._token_at(unit.end(), second.after)
        middle = (number.value + second.value) / 2
        return [Quantity("torque", number.first, after, middle, _NAMES[unit.lastindex - 1])]

    def _angle_after(self, at: int) -> list[Quantity]:
        found = self._at(at, _PLUS)
        start = self._token_at(found.end(), at) if found else at
        number = read_number(self.tokens, start) if start < len(self.tokens) else None
        return self._angle(number) if number else []

    def _angle(self, number: Number) -> list[Quantity]:
        if found := self._at(number.after, _DEGREES):
            return [Quantity("angle", number.first, self._token_at(found.end(), number.after), number.value)]
        if (found := self._at(number.after, _TURN)) and (number.fraction or number.value <= 3):
            after = self._token_at(found.end(), number.after)
            return [Quantity("angle", number.first, after, round(360 * number.value, 1))]
        return []

    def _times(self, number: Number) -> list[Quantity]:
        """2x, 4 off, and what stands behind: 2x17, 2x 14mm."""
        found = self._at(number.after, _TIMES)
        if not found or number.value != int(number.value) or number.value > 60:
            return []
        after = self._token_at(found.end(), number.after)
        count = Quantity("count", number.first, after, number.value)
        second = read_number(self.tokens, after) if after < len(self.tokens) else None
        if second is None:
            return [count] if after > number.after else []
        if self._is_swapped(number, second):
            return [
                Quantity("count", number.first, second.after, second.value),
                Quantity("tool", second.after, second.after, metric(number.value)),
            ]
        sized = self._size(second) or [Quantity("tool", after, second.after, metric(second.value))]
        return [count, *sized] if not self._torque(second) and _is_size(second.value) else [count]

    def _is_swapped(self, number: Number, second: Number) -> bool:
        """19 x5: the size first, the count behind it."""
        return (
            is_usual_size(number.value)
            and number.value >= 7
            and second.value <= 12
            and second.value < number.value
            and not self._size(second)
        )

    def _size(self, number: Number) -> list[Quantity]:
        first, after = number.first, number.after
        if number.fraction and (found := self._inch(number)):
            return [found]
        spline, twelve = self._at(after, _SPLINE), self._at(after, _TWELVE)
        mm = self._at(after, _MM)
        if mm:
            after = self._token_at(mm.end(), after)
            spline, twelve = self._at(after, _SPLINE), self._at(after, _TWELVE)
        if spline and spline.group().strip():
            return [Quantity("tool", first, self._token_at(spline.end(), after), f"M{number.value:g} spline")]
        if twelve and _is_size(number.value):
            return [Quantity("tool", first, self._token_at(twelve.end(), after), f"{number.value:g} mm 12-point")]
        if (
            (found := self._at(after, _HEX) or self._at(after, _HEX_HEAD))
            and number.value <= 22
            and found.group().strip()
        ):
            return [
                Quantity(
                    "tool",
                    first,
                    self._token_at(found.end(), after),
                    f"{number.value:g} mm hex",
                    plural=self._has_s(number),
                )
            ]
        if mm and (number.value > 60 or self._at(after, _NOT_A_TOOL)):
            return [Quantity("other", first, after)]
        if found := self._at(after, _TOOL_NOUN):
            return (
                [Quantity("tool", first, self._token_at(found.end(), after), metric(number.value))]
                if _is_size(number.value) or mm
                else []
            )
        return [Quantity("tool", first, after, metric(number.value))] if mm else []

    def _inch(self, number: Number) -> Quantity | None:
        upper, lower = number.fraction
        inch = self._at(number.after, _INCH)
        after = self._token_at(inch.end(), number.after) if inch else number.after
        hex_key, noun = self._at(after, _HEX), self._at(after, _TOOL_NOUN)
        drive = re.match(
            r"\s*-?(?:drive|square|ratchet|extension|bar|breaker|impact)\b",
            self.text[self.tokens[after - 1].end :],
            re.IGNORECASE,
        )
        if drive:
            return Quantity("other", number.first, after)
        figures = "/" in self.tokens[number.first].text and not self._at(after, _NO_SIZE)
        if not (inch or hex_key or noun or lower in (8, 16, 32, 64) or (figures and lower in (2, 4))):
            return None
        whole, part = divmod(upper, lower)
        dash = "-" if "-" in self.tokens[number.first].text and whole else " "
        size = f"{whole}{dash}{part}/{lower} in" if whole else f"{part}/{lower} in"
        if hex_key:
            return Quantity("tool", number.first, self._token_at(hex_key.end(), after), f"{size} hex")
        return Quantity("tool", number.first, self._token_at(noun.end(), after) if noun else after, size)

    def _other(self, number: Number) -> list[Quantity]:
        found = self._at(number.after, _OTHER)
        return [Quantity("other", number.first, self._token_at(found.end(), number.after))] if found else []

    def _half(self, number: Number) -> list[Quantity]:
        """Forty pounds: half a unit, and a torque only where one must be meant."""
        found = self._at(number.after, _HALF_UNITS)
        return (
            [Quantity("half", number.first, self._token_at(found.end(), number.after), number.value)] if found else []
        )

    def _has_s(self, number: Number) -> bool:
        """13s, 13's."""
        if number.after >= len(self.tokens):
            return False
        token = self.tokens[number.after]
        return token.low in ("s", "'s") and token.start == self.tokens[number.after - 1].end

    # -- codes and words -------------------------------------------------------------------------

    def _code(self, at: int) -> Quantity:
        text = self.tokens[at].text.upper().replace("-", "")
        if text.startswith("M"):
            spline = self._at(at + 1, _SPLINE)
            if spline:
                return Quantity("tool", at, self._token_at(spline.end(), at + 1), f"{text} spline")
            return self._thread(at)
        after = at + 1
        if found := self._at(after, _TOOL_NOUN) or self._at(
            after, re.compile(r"\s*(?:bits?|torx|keys?|screwdriver|driver)\b", re.I)
        ):
            after = self._token_at(found.end(), after)
        return Quantity("tool", at, after, text.replace("TX", "T"), plural=self._has_s(Number(0, at, at + 1)))

    def _thread(self, at: int) -> Quantity:
        """A thread, with the length in figures behind it: M8 x 40."""
        found = self._at(at + 1, re.compile(r"\s*(?:x|by)\s*\d+(?:[.,]\d+)?\s*(?:mm)?(?:\s*long)?", re.IGNORECASE))
        return Quantity("thread", at, self._token_at(found.end(), at + 1) if found else at + 1, self.tokens[at].text)

    def _spoken_code(self, at: int) -> Quantity | None:
        """Torx thirty, E ten, T thirty."""
        number = read_number(self.tokens, at + 1)
        word = self.tokens[at].low
        if number is None or not 4 <= number.value <= 100 or number.value != int(number.value) or number.fraction:
            return None
        if word in ("e", "m") or not self._torque(number):
            letter = "T" if word in ("torx", "tx", "t", "star") else word.upper()
            outer = at and self.tokens[at - 1].low in ("outer", "external", "inverse", "female", "reverse")
            return Quantity(
                "thread" if letter == "M" else "tool", at, number.after, f"{'E' if outer else letter}{number.value:g}"
            )
        return None

    def _few(self, at: int) -> list[Quantity]:
        """A couple of, a pair of, half a dozen, a turn."""
        if self.tokens[at].low not in _FEW_BEGIN:
            return []
        for pattern, value, kind in _FEW:
            if found := pattern.match(self.text, self.tokens[at].start):
                return [Quantity(kind, at, self._token_at(found.end(), at), value)]
        return []

    # -- places ----------------------------------------------------------------------------------

    def _joins_a_number(self, at: int) -> bool:
        return at + 1 < len(self.tokens) and self.tokens[at + 1].kind == NUMBER

    def _at(self, at: int, pattern: re.Pattern) -> re.Match | None:
        """What a pattern finds behind a token."""
        return pattern.match(self.text, self.tokens[at - 1].end) if 0 < at <= len(self.tokens) else None

    def _token_at(self, place: int, from_token: int) -> int:
        """The first token that begins at or behind a place in the text."""
        at = from_token
        while at < len(self.tokens) and self.tokens[at].start < place:
            at += 1
        return at


def unit_in(words: str) -> str | None:
    """The unit of torque that words have somewhere; None if none.

    Parameters
    ----------
    words : str
    """
    found = re.search(r"(?<!\w)(?:" + "|".join(f"({pattern})" for _, pattern in _UNITS) + ")", words, re.IGNORECASE)
    return _NAMES[found.lastindex - 1] if found else None


def metric(value: float) -> str:
    """A width across flats [mm] as a tool.

    Parameters
    ----------
    value : float
    """
    return f"{value:g} mm"


def _is_size(value: float) -> bool:
    return 3 <= value <= 60


# Widths across flats that sockets and spanners are sold in [mm]; common practice, no source.
_SOCKETS = frozenset((*range(4, 20), 21, 22, 24, 27, 29, 30, 32, 34, 36, 38, 41, 46, 50, 52, 55))


def is_usual_size(value: float) -> bool:
    """Whether a bare number can be the width across flats of a usual fastener [mm].

    Parameters
    ----------
    value : float
    """
    return value in _SOCKETS


_FEW_BEGIN = frozenset("half a one dozen the couple pair full another".split())
_FEW = tuple(
    (re.compile(pattern, re.IGNORECASE), value, kind)
    for pattern, value, kind in (
        (r"half a dozen\b", 6, "count"),
        (r"(?:a|one) dozen\b|dozen\b", 12, "count"),
        (r"(?:a |the )?couple(?: of)?\b", 2, "count"),
        (r"(?:a |the )?pair(?: of)\b", 2, "count"),
        (r"(?:a|one|full|another) (?:full )?turn\b", 360.0, "angle"),
    )
)
