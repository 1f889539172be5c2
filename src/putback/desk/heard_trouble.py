"""What words tell besides steps: broken and seized things, work that is owed, a figure that nobody can place."""

import re
from collections.abc import Iterator

from putback.capture.events import Heard
from putback.desk.heard_names import Names

_SENTENCES = re.compile(r"[^.!?\n]+")
_BROKEN = re.compile(r"\b(snapped|sheared|broke|broken|stripped|cracked in two|rounded off|rounded)\b", re.IGNORECASE)
_STUCK = re.compile(
    r"\b(seized|stuck|rusted solid|siezed|won'?t (?:budge|move|turn)|wouldn'?t (?:budge|move|turn))\b", re.IGNORECASE
)
_NOT = re.compile(r"\b(?:not|nothing|no|isn'?t|aren'?t|wasn'?t|never)\b[^,;]{0,20}$", re.IGNORECASE)


def besides(heard: Heard, words: str, names: Names) -> Iterator[tuple | dict]:
    """Events as (kind, data, words), and questions as mappings.

    Parameters
    ----------
    heard : Heard
    words : str
        The whole text.
    names : Names
    """
    for sentence in _SENTENCES.findall(words):
        yield from _differs(sentence.strip(), names)
    for one in heard.owed:
        yield "work added", {"work": _one_line(one.what)}, _one_line(one.source.text)
    if heard.closings:
        text = "all back: say of each what went back, and how tight; the list of steps asks for it"
        yield {"text": text, "words": _one_line(heard.closings[0][2].text)}


def tells(sentence: str) -> bool:
    """Whether a sentence tells of something broken or seized.

    Parameters
    ----------
    sentence : str
    """
    return any(sign.search(sentence) for sign in (_BROKEN, _STUCK))


def _differs(sentence: str, names: Names) -> Iterator[tuple | dict]:
    for what, sign in (("broken", _BROKEN), ("seized", _STUCK)):
        found = sign.search(sentence)
        if not found or _NOT.search(sentence[: found.start()]):
            continue
        told = _subject(sentence[: found.start()])
        meant = (names.alike(told, True) or names.alike(told, False)) if told else []
        data = {"what": what, "note": _one_line(sentence)}
        if len(meant) == 1:
            yield "difference found", {"item": meant[0]} | data, _one_line(sentence)
            return
        offered = dict.fromkeys((*meant, *([told] if told else ()), *names.open_ones(True)))
        choices = tuple((name, "difference found", {"item": name} | data) for name in list(offered)[:6])
        yield {"text": f"{what}: what?", "words": _one_line(sentence), "choices": choices}
        return


def _subject(words: str) -> str:
    """The noun that stands before what is said of it; empty for a pronoun or nothing."""
    clause = re.split(r"[,;:]| but | and | then ", words.lower())[-1]
    told = re.sub(
        r"\b(?:the|a|an|one of|both|all|my|its|that|this|those|these|is|are|was|were|has|have|just|really|properly)\b",
        " ",
        clause,
    )
    told = " ".join(told.split())
    return "" if told in ("", "it", "they", "them", "he", "she", "one", "i") or len(told.split()) > 5 else told


def _one_line(text: str) -> str:
    return " ".join(text.split())[:400].strip(" .,;")
