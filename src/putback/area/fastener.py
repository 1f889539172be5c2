"""A group of fasteners in one line.

    7 x M6x16, class 8.8, 10 mm, 7 N·m, one-time, left-hand, on the ground, rear edge only

The first phrase says how many and of what; the others may stand in any order. Words that mean nothing
here are taken for the place where the fasteners sit.
"""

import re
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import lru_cache

from putback import units
from putback.area import quantity, tools
from putback.area.model import Fastener, Thread, Torque
from putback.area.spelling import nearest
from putback.errors import InputError

CLASSES = ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9", "5", "6", "8", "10", "12")
PATTERNS = ("cross pattern", "star pattern", "centre outwards", "in the order of the numbers")
_FROM_THE_CENTRE = re.compile(r"centre outwards \d+ ?x ?\d+")  # rows and columns, as 2 x 5
FLAGS = {
    "one-time": {"one_time": True},
    "left-hand": {"left_hand": True},
    "coated": {"coated": True},
    "on the ground": {"on_the_ground": True},
}
MOST_PHRASES = 24  # of one line; a full one has nine
THINNEST, THICKEST = 0.5, 150  # mm; metric threads run from M1 to M68 and a little beyond
LONGEST = 2_000  # mm
STRONGEST = 10_000  # N·m; a wheel hub of a heavy lorry takes a tenth
MOST_PASSES = 20

_NUMBER = r"\d+(?:\.\d+)?"
_WORDS_THAT_ARE_KNOWN = (*FLAGS, *PATTERNS, *tools.NAMED)
_NOT_LATIN = re.compile(r"[^\W\d_A-Za-zµΩØø](?=\d)")  # a letter of another alphabet ahead of a figure
_METRIC = re.compile(rf"M({_NUMBER})(?:\s*[x×]\s*({_NUMBER}))?(?:\s*[x×]\s*({_NUMBER}))?(?:\s+(\D[^,]*))?")
_MORE_THAN_A_NUMBER = re.compile(r"\bpass(?:es)?\b|°|\bdeg")
_TAPPING = re.compile(rf"ST({_NUMBER})(?:\s*[x×]\s*({_NUMBER}))?(?:\s+(\D[^,]*))?")


@dataclass(frozen=True)
class Line:
    """What one line says: the fasteners, the tool sets, from where, and what is tightened before them."""

    fastener: Fastener = field(default_factory=Fastener)
    tools: tuple[tuple[str, ...], ...] = ()
    stand: str | None = None
    after: tuple[str, ...] = ()


def read_line(text: str) -> Line:
    """Read one line.

    Parameters
    ----------
    text : str
        As shown at the head of this module.

    Returns
    -------
    line : Line

    Raises
    ------
    InputError
        The first phrase that is not understood, with what to write instead.
    """
    if re.search(r"\d,\d", text):
        words = 'a decimal is written with a point, as in "9.5"; behind a comma that parts two phrases stands a space'
        raise InputError(f'"{text}": {words}')
    first, *rest = [part.strip() for part in text.split(",")]
    if len(rest) > MOST_PHRASES:
        raise InputError(f"a fastener line of more than {MOST_PHRASES} phrases; say the rest under keys of its own")
    line = Line(_what(first))
    for phrase in rest:
        line = _with_phrase(line, phrase)
    return line


def _what(phrase: str) -> Fastener:
    found = re.fullmatch(r"(?:(\d+)\s*[x×](?:\s+|(?=M\d|ST\d)))?(.+)", phrase)
    count = quantity.pieces(found[1] or "1") if found else 0
    if count == 0:
        raise InputError(f'"{phrase}" does not say what is fastened; begin as in "7 x M6x16" or "4 x push pin"')
    thread, noun = _thread(found[2])
    return Fastener(count, noun, thread)


def _thread(text: str) -> tuple[Thread | None, str]:
    if found := _METRIC.fullmatch(text):
        diameter, second, third = (float(part) if part else None for part in found.groups()[:3])
        pitch, length = (second, third) if third or (second or diameter) < diameter / 4 else (None, second)
        size = found[0].removesuffix(found[4] or "").strip()
        return _real(Thread("M", diameter, pitch, length, size)), found[4] or "bolt"
    if found := _TAPPING.fullmatch(text):
        length = float(found[2]) if found[2] else None
        size = found[0].removesuffix(found[3] or "").strip()
        return _real(Thread("ST", float(found[1]), None, length, size)), found[3] or "tapping screw"
    if alien := _NOT_LATIN.search(text):
        words = f'"{text}": U+{ord(alien[0]):04X} only looks like a letter of ours; type it again, as in "M8x20"'
        raise InputError(words)
    if re.match(r"\d+/\d+", text):
        raise InputError(f'"{text}": an inch thread stands behind a word, as in "3 x bolt {text}", and is not judged')
    if not text[0].isalpha():
        raise InputError(f'"{text}" does not say what is fastened; begin as in "7 x M6x16" or "4 x push pin"')
    return None, text


def _real(thread: Thread) -> Thread:
    """The thread, if there can be one of its size."""
    diameter, pitch, length = thread.diameter, thread.pitch, thread.length
    if not THINNEST <= diameter <= THICKEST:
        raise InputError(f'"{thread.text}": no thread is {diameter:g} mm thick; write the size as in "M8x20"')
    if pitch is not None and not 0 < pitch < diameter:
        raise InputError(f'"{thread.text}": a pitch of {pitch:g} mm does not go with {diameter:g} mm; look at the size')
    if length is not None and not 0 < length <= LONGEST:
        raise InputError(f'"{thread.text}": no bolt is {length:g} mm long; write the length in mm, as in "M8x20"')
    return thread


def _with_phrase(line: Line, phrase: str) -> Line:
    fastener = line.fastener
    if phrase in FLAGS:
        return replace(line, fastener=replace(fastener, **FLAGS[phrase]))
    if phrase in PATTERNS or _FROM_THE_CENTRE.fullmatch(phrase):
        return replace(line, fastener=replace(fastener, pattern=phrase))
    if (sets := tools.tool_sets(phrase)) is not None:
        return replace(line, tools=line.tools + sets)
    word, _, rest = phrase.partition(" ")
    match word:
        case "class":
            return replace(line, fastener=replace(fastener, property_class=_property_class(rest)))
        case "from":
            return replace(line, stand=rest)
        case "after":
            return replace(line, after=(*line.after, rest))
        case "source":
            return replace(line, fastener=replace(fastener, source=rest))
    if phrase.endswith(" each"):
        return replace(line, fastener=replace(fastener, price=_price(phrase)))
    if phrase[:1].isdecimal() or word == "passes":
        return replace(line, fastener=replace(fastener, torque=read_torque(phrase)))
    return replace(line, fastener=replace(fastener, where=_where(fastener.where, phrase)))


def _property_class(text: str) -> str:
    if text not in CLASSES:
        raise InputError(f'"class {text}" is no property class; write one of {", ".join(CLASSES)}')
    return text


def _price(phrase: str) -> Fraction:
    return quantity.money(phrase.removesuffix(" each"))


def read_torque(text: str) -> Torque:
    """Read `7 N·m`, `20-25 N·m`, `92 N·m + 90°`, `104 N·m in 2 passes` or `passes 8 / 16 / 23 N·m`; SI inside."""
    if text in CLASSES and "." in text:
        raise InputError(f'"{text}" may be a class or a torque; write "class {text}", or the torque with its unit')
    if re.match(rf"{_NUMBER}\s*mm\b", text):
        raise InputError(f'"{text}" is no tool that is known; write "10 mm" for a socket, "10 mm spanner", "5 mm hex key"')
    if not (units.looks_like_torque(text) or _MORE_THAN_A_NUMBER.search(text)):
        raise InputError(
            f'"{text}" is not understood here; a fastener line takes sizes, "class 8.8", a torque such as "25 N·m", '
            'a tool such as "10 mm" or "T25", a price such as "2.10 each"'
        )
    told = units.read_tightening(text)
    if told.final is None:
        raise InputError(f'"{text}" is an angle without a torque; write what is tightened to before it as well')
    if told.final > STRONGEST or told.passes > MOST_PASSES:
        words = f"no more than {STRONGEST} N·m and {MOST_PASSES} passes are taken for real; look at the figure"
        raise InputError(f'"{text}": {words}')
    angle = int(sum(told.angles)) if told.angles else None
    return Torque(told.stages, angle, told.passes, text.strip(), told.low, told.high)


def _where(before: str, phrase: str) -> str:
    """Words that say where; a slip of the pen in a word with a meaning is told from them."""
    if near := _meant(phrase):
        raise InputError(f'"{phrase}" is not understood; did you mean "{near}"?')
    if not phrase:
        raise InputError("two commas with nothing between them; take one out")
    if units.torque_unit(phrase.split()[-1]) is not None:
        raise InputError(f'"{phrase}" is no torque; write a number and a unit, as in "25 N·m"')
    return f"{before}, {phrase}" if before else phrase


@lru_cache(1000)
def _meant(phrase: str) -> str | None:
    return nearest(phrase, _WORDS_THAT_ARE_KNOWN, 0.8)
