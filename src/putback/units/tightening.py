"""How a fastener is tightened, as a sheet says it: torques, how far they may be off, passes, angles.

    25 N·m                      20-25 N·m                 25 N·m ± 10 %
    92 N·m + 90°                20 N·m + 40 N·m + 90°     snug + 1/4 turn
    104 N·m in 2 passes         passes 8 / 16 / 23 N·m    25 N·m (18 ft-lb)

Torques come first, angles after them; two figures for one torque must agree.
"""

import re
from dataclasses import dataclass

from putback.errors import InputError
from putback.units.numbers import FRACTION, NUMBER, number, plain, show_number
from putback.units.torques import Reading, half_a_unit, show_torque, torque_unit, unclear_unit

_LONGEST = 200  # signs; nobody means more


@dataclass(frozen=True)
class Tightening:
    """What to tighten to.

    Parameters
    ----------
    stages : tuple of float
        Torques one after the other [N·m], the last one final; empty where an angle follows contact
    angles : tuple of float
        Angles one after the other, after the torques [degrees]
    low, high : float, optional
        What the final torque may lie between [N·m], where the sheet says so
    passes : int
        Rounds over a group of fasteners
    readings : tuple of Reading
        The torques as typed, with their units; of a range its middle
    text : str
        The words as typed
    """

    stages: tuple[float, ...] = ()
    angles: tuple[float, ...] = ()
    low: float | None = None
    high: float | None = None
    passes: int = 1
    readings: tuple[Reading, ...] = ()
    text: str = ""

    @property
    def final(self) -> float | None:
        """The last torque [N·m]; None where an angle follows contact."""
        return self.stages[-1] if self.stages else None

    @property
    def highest(self) -> float | None:
        """The highest torque that the words allow [N·m]."""
        return max((*self.stages, self.high or 0)) if self.stages else None

    @property
    def unit(self) -> str | None:
        """The name of the unit of the last torque, as typed."""
        return self.readings[-1].unit.name if self.readings else None


@dataclass(frozen=True)
class _Stage:
    """One torque with its bounds, or one angle, or mere contact."""

    reading: Reading | None = None
    low: float | None = None
    high: float | None = None
    angle: float | None = None


_ANGLE = re.compile(
    rf"({NUMBER})\s*(?:±\s*{NUMBER}\s*)?(?:°|deg\b\.?|degrees?)(?:\s*±\s*{NUMBER}\s*(?:°|deg(?:rees?)?\.?)?)?"
)
_TURN = re.compile(rf"(?:an?\s+)?({NUMBER}|{FRACTION}|one|half|quarter|three quarters)(?:\s+of)?(?:\s+a)?\s+turns?")
_TURNS = {"one": 1.0, "half": 0.5, "quarter": 0.25, "three quarters": 0.75}
_CONTACT = re.compile(r"(?:gasket )?contact|snug|(?:hand|finger)[ -]tight")
_AFTER_CONTACT = re.compile(
    r"\s+(?:after|past|from)\s+(?:(?:the\s+)?(?:gasket|seal)\s+)?(?:contact|touches|snug)$", re.IGNORECASE
)
_LABEL = re.compile(r"(?:stage|step|pass)\s*[0-9]+\s*[:.)]?\s*|[0-9]+(?:st|nd|rd|th)\s*(?:stage|step)?\s*[:.)]?\s+")
_NEXT = re.compile(
    rf"\s*(?:\+|;|,?\s*\b(?:and\s+)?then\b|\bplus\b|(?<=[^\W\d_]|°)(?:\s*[,/]|\s)(?=\s*(?:{NUMBER}|{FRACTION})\s*(?:°|deg|turn)))"
    r"\s*(?:an?\s+)?(?:further\s+|another\s+)?",
    re.IGNORECASE,
)
_UNIT = r"[^\d±+()\[\]°%/.…-][^\d±+()\[\]°%]*?"
_PLUS_MINUS = re.compile(rf"({NUMBER})\s*({_UNIT})?\s*\+\s*({NUMBER})\s*/\s*-\s*({NUMBER})\s*({_UNIT})?")
_TOLERANCE = re.compile(rf"({NUMBER})\s*({_UNIT})?\s*±\s*({NUMBER})\s*(%|{_UNIT})?")
_RANGE = re.compile(rf"({NUMBER})\s*({_UNIT})?\s*(?:-|to|…|\.{{2,3}})\s*({NUMBER})\s*({_UNIT})?")
_BESIDE = re.compile(r"(.*?)\s*(?:[(\[]\s*(.+?)\s*[)\]]|=\s*(.+))")
_PASSES = re.compile(
    rf"(?:passes\s+)?({NUMBER}(?:\s*/\s*{NUMBER})+)\s*({_UNIT}|)(?=\s*$|{_NEXT.pattern})", re.IGNORECASE
)
_IN_PASSES = re.compile(r"(.+?)\s+in\s+([1-9][0-9]?)\s+passes", re.IGNORECASE)
_NUMBER_FIRST = re.compile(rf"({NUMBER})\s*(.*)")


def read_tightening(text: str, unit: str | None = None) -> Tightening:
    """Read what to tighten to.

    Parameters
    ----------
    text : str
        As shown at the head of this module.
    unit : str, optional
        The unit of numbers that have none, such as the one that stands over a column

    Returns
    -------
    tightening : Tightening

    Raises
    ------
    InputError
        No clear unit, two figures for one torque that do not agree, or words that are not understood.

    Examples
    --------
    >>> read_tightening("92 N·m + 90°").angles
    (90.0,)
    >>> read_tightening("20-25", "Nm").final
    22.5
    """
    words = _AFTER_CONTACT.sub("", plain(text))
    if len(words) > _LONGEST:
        raise _not_understood(text[:_LONGEST])
    passes = 1
    if found := _IN_PASSES.match(words):
        passes, words = int(found[2]), found[1] + words[found.end() :]
    if (found := _PASSES.match(words)) and not _TURN.fullmatch(words.lower()):
        return _in_passes(found, words[found.end() :], unit, text)
    stages = [_stage(piece, unit, text) for piece in _pieces(words)]
    return _put_together(stages, passes, text)


def looks_like_torque(text: str) -> bool:
    """Whether words begin as a torque does: a number, then a unit of torque or half of one, or nothing."""
    words = re.sub(r"^passes\s+", "", plain(text), flags=re.IGNORECASE)
    found = re.match(rf"{NUMBER}(?:\s*(?:[/-]|to)\s*{NUMBER})*", words)
    if not found:
        return False
    rest = re.match(r"[^\d+±(\[=;,]*", words[found.end() :]).group()
    word = re.sub(r"(?:\s+(?:to|in|and|then|plus|an?|further)|[\s/-])*\s*$", "", rest)
    return half_a_unit(word) or torque_unit(word) is not None


def _pieces(words: str) -> list[str]:
    """The stages; a plus that belongs to "+3/-2" parts nothing."""
    if _PLUS_MINUS.fullmatch(words):
        return [words]
    return [_LABEL.sub("", piece, count=1) if _LABEL.match(piece) else piece for piece in _NEXT.split(words)]


def _in_passes(found: re.Match, rest: str, unit: str | None, text: str) -> Tightening:
    """`8 / 16 / 23 N·m`: a torque for each pass; whatever follows is stages after them."""
    numbers = re.split(r"\s*/\s*", found[1])
    stages = [_stage(f"{one} {found[2]}", unit, text) for one in numbers]
    more = [_stage(piece, unit, text) for piece in _pieces(rest)[1:]] if rest.strip() else []
    if rest.strip() and not _NEXT.match(rest):
        raise _not_understood(text)
    return _put_together(stages + more, len(stages), text)


def _put_together(stages: list[_Stage], passes: int, text: str) -> Tightening:
    torques = [stage for stage in stages if stage.reading]
    angles = [stage.angle for stage in stages if stage.angle is not None]
    first_angle = next((at for at, stage in enumerate(stages) if stage.angle is not None), len(stages))
    if any(stage.angle is None for stage in stages[first_angle:]) or not (torques or angles):
        raise _not_understood(text)
    readings = tuple(stage.reading for stage in torques)
    last = torques[-1] if torques else _Stage()
    return Tightening(
        tuple(one.value for one in readings), tuple(angles), last.low, last.high, passes, readings, text.strip()
    )


def _stage(piece: str, unit: str | None, text: str) -> _Stage:
    low = piece.lower()
    if _CONTACT.fullmatch(low):
        return _Stage()
    if found := _ANGLE.fullmatch(low):
        return _Stage(angle=_turned(number(found[1]), text))
    if found := _TURN.fullmatch(low):
        return _Stage(angle=_turned(360 * (_TURNS.get(found[1]) or number(found[1])), text))
    if found := _BESIDE.fullmatch(piece):
        return _agreeing(_torque(found[1], unit, text), [found[2] or found[3]], text)
    if (parts := re.split(r"(?<=[^\W\d])\s*/\s*(?=[0-9])", piece))[1:]:
        return _agreeing(_torque(parts[0], unit, text), parts[1:], text)
    return _torque(piece, unit, text)


def _turned(angle: float, text: str) -> float:
    if not 0 < angle <= 1080:
        raise InputError(f'"{text}": an angle of tightening is above 0 and at most three turns')
    return angle


def _torque(piece: str, unit: str | None, text: str) -> _Stage:
    """One torque, with its bounds where it has any."""
    if found := _PLUS_MINUS.fullmatch(piece):
        middle = _reading(found[1], found[2] or found[5], unit, text)
        up, down = (_reading(found[at], found[5] or found[2], unit, text, zero=True).value for at in (3, 4))
        return _bounded(middle, middle.value - down, middle.value + up, text)
    if found := _TOLERANCE.fullmatch(piece):
        middle = _reading(found[1], found[2] or (None if found[4] == "%" else found[4]), unit, text)
        off = _off(middle, found, unit, text)
        return _bounded(middle, middle.value - off, middle.value + off, text)
    if found := _RANGE.fullmatch(piece):
        own = found[2] or found[4]
        if not (own or unit):
            raise InputError(unclear_unit(text.strip(), f"{found[1]}-{found[3]}"))
        ends = [_reading(found[at], found[at + 1] or own, unit, text) for at in (1, 3)]
        low, high = (end.value for end in ends)
        return _bounded(Reading((low + high) / 2 / ends[1].unit.size, ends[1].unit), low, high, text)
    found = _NUMBER_FIRST.fullmatch(piece)
    if not found:
        raise _not_understood(text)
    return _Stage(_reading(found[1], found[2], unit, text))


def _off(middle: Reading, found: re.Match, unit: str | None, text: str) -> float:
    """How far the torque may be off [N·m]: a share of it, or a torque."""
    if found[4] == "%":
        return middle.value * number(found[3]) / 100
    return _reading(found[3], found[4] or found[2], unit, text, zero=True).value


def _reading(figure: str, word: str | None, unit: str | None, text: str, zero: bool = False) -> Reading:
    """A number with its own unit, or else with that of its column."""
    own = (word or "").strip()
    found = torque_unit(own or unit or "")
    if found is None and (half_a_unit(own) or not re.search(r"[\s\d]", own)):
        raise InputError(unclear_unit(text.strip(), figure, own))
    if found is None:
        raise _not_understood(text)
    reading = Reading(number(figure), found)
    if reading.value <= 0 and not zero:
        raise InputError(f'"{text.strip()}": a torque is above 0')
    return reading


def _bounded(middle: Reading, low: float, high: float, text: str) -> _Stage:
    if not 0 < low <= high:
        raise InputError(f'"{text.strip()}": the bounds of a torque rise from above 0, as in "20-25 N·m"')
    return _Stage(middle, low, high)


def _agreeing(stage: _Stage, others: list[str], text: str) -> _Stage:
    """One torque said in several units: they must be the same, as nearly as they are printed."""
    for other in others:
        second = _torque(other, None, text)
        for one, two in zip(_ends(stage), _ends(second), strict=True):
            if abs(one.value - two.value) > 0.01 * one.value + _last_digit(one) + _last_digit(two):
                both = f"{show_number(one.number)} {one.unit.name} and {show_number(two.number)} {two.unit.name}"
                raise InputError(
                    f'"{text.strip()}" says two torques: {both}, which is {show_torque(two.value)}; '
                    "look at the sheet and write the right one"
                )
    return stage


def _ends(stage: _Stage) -> tuple[Reading, ...]:
    unit = stage.reading.unit
    ends = (stage.low, stage.high) if stage.low is not None else (stage.reading.value,) * 2
    return tuple(Reading(end / unit.size, unit) for end in ends)


def _last_digit(reading: Reading) -> float:
    """Half of the last digit that a figure is printed to [N·m]; of a whole number half of one."""
    figure = show_number(reading.number, 6)
    decimals = len(figure.partition(".")[2])
    return 0.5 * 10**-decimals * reading.unit.size


def _not_understood(text: str) -> InputError:
    return InputError(
        f'"{text.strip()}" is no torque that is understood; write it as in "25 N·m", "20-25 N·m", "25 N·m ± 10 %", '
        '"92 N·m + 90°" or "passes 8 / 16 / 23 N·m"'
    )
