"""Where one sentence of a note ends and the next begins: stops, lines of a pad, and the times of a transcript."""

import re
from collections.abc import Sequence

from putback.capture.tokens import LINE_END, NUMBER, SIGN, STAMP, Token

# A line of at least this many characters may have been broken because it was full.
WIDE = 50
TITLE = 14  # words; a longer line in which somebody tells what he did is no title
_TOLD = re.compile(r"\b(?:i|i've|i'm|we|we've|lets|let's)\b")
MOSTLY = 0.6  # share of the lines of a text that are full, if it was broken because of that
_STOPS = frozenset(".;!?")
_BULLETS = frozenset("-*•·–—>")


def sentences(text: str, told: Sequence[Token]) -> list[list[Token]]:
    """The tokens of each sentence, without times, line ends and bullets; a sentence keeps its last stop.

    Parameters
    ----------
    text : str
    told : sequence of Token
        Those of the whole text
    """
    found: list[list[Token]] = [[]]
    widest = _width(text)
    aside = False
    for at, token in enumerate(told):
        if token.kind == STAMP:
            continue
        aside = (aside or _begins_an_aside(told, at)) and token.kind != LINE_END
        if aside:
            continue
        if token.kind == LINE_END:
            if _ends_a_sentence(text, told, at, widest):
                found.append([])
            continue
        if _is_bullet(told, at):
            continue
        found[-1].append(token)
        if _is_stop(text, told, at):
            found.append([])
    return [breath for sentence in found if sentence for breath in _breaths(sentence)]


def _breaths(sentence: list[Token]) -> list[list[Token]]:
    """Dictation without stops, cut where its author begins anew: "... then the wheel, okay now the caliper"."""
    if len(sentence) < LONG:
        return [sentence]
    starts = [0]
    for at in range(1, len(sentence) - SHORTEST):
        if at - starts[-1] >= SHORTEST and _begins_anew(sentence, at):
            starts.append(at)
    return [sentence[start:end] for start, end in zip(starts, [*starts[1:], len(sentence)], strict=True)]


def _begins_anew(sentence: Sequence[Token], at: int) -> bool:
    low, before, following = sentence[at].low, sentence[at - 1].low, sentence[at + 1]
    if before in _TURNS or before in _LEADS or following.kind == NUMBER or following.low in _NUMBERS:
        return False
    if low in _TURNS:
        return True
    return low in ("so", "and", "but") and following.low in _ACTORS


LONG, SHORTEST = 30, 4  # tokens
_TURNS = frozenset("then okay ok now next anyway anyways afterwards alright".split())
_LEADS = frozenset("so and but and, until till before after right by just up from for".split())
_ACTORS = frozenset("i we you i've i'm we've the it it's that that's there there's theres my".split())
_NUMBERS = frozenset(
    "one two three four five six seven eight nine ten eleven twelve thirteen fifteen twenty thirty forty fifty sixty "
    "seventy eighty ninety a up".split()
)


def _width(text: str) -> int:
    """The width to which running text was broken; 0 where most lines end because they are done."""
    lines = [line.rstrip() for line in text.splitlines()]
    widest = max(map(len, lines), default=0)
    pairs = [
        (line, after.split(maxsplit=1)[0])
        for line, after in zip(lines, lines[1:], strict=False)
        if line and after.strip()
    ]
    full = sum(len(line) + 1 + len(word) > widest for line, word in pairs)
    return widest if widest >= WIDE and len(pairs) and full >= MOSTLY * len(pairs) else 0


def _is_stop(text: str, told: Sequence[Token], at: int) -> bool:
    token = told[at]
    if token.kind != SIGN or token.low[0] not in _STOPS:
        return False
    if token.low == "." and at and told[at - 1].low in _SHORT and told[at - 1].end == token.start:
        return _capital_follows(told, at) and told[at - 1].low not in ("approx", "no", "dia")
    return token.low != ".." and (not token.low.startswith("...") or _capital_follows(told, at))


_SHORT = frozenset("approx lb lbs ft in mm max min no nr dia pos neg temp in-lb lh rh eg ie".split())


def _capital_follows(told: Sequence[Token], at: int) -> bool:
    following = next((token for token in told[at + 1 :] if token.kind not in (LINE_END, STAMP)), None)
    return following is None or following.text[:1].isupper()


def _begins_an_aside(told: Sequence[Token], at: int) -> bool:
    """A line that begins with two dashes was said to somebody else."""
    heads = at == 0 or told[at - 1].kind in (LINE_END, STAMP)
    dashes = told[at].low in ("–", "—") or (
        told[at].low == "-" and at + 1 < len(told) and told[at + 1].low == "-" and told[at + 1].start == told[at].end
    )
    return heads and dashes and told[at].low == "-"


def _is_bullet(told: Sequence[Token], at: int) -> bool:
    """A dash or a number at the head of a line."""
    if at and told[at - 1].kind not in (LINE_END, STAMP):
        return False
    return told[at].low in _BULLETS


def _ends_a_sentence(text: str, told: Sequence[Token], at: int, widest: int) -> bool:
    """Whether a line end parts two sentences: not in running text that is broken because a line was full."""
    before = next((token for token in reversed(told[max(0, at - 2) : at])), None)
    following = told[at + 1] if at + 1 < len(told) else None
    if before is None or following is None or following.kind == LINE_END or before.kind == LINE_END:
        return True
    if following.kind == STAMP:
        return before.low in (".", "!", "?", ":", ";") or _starts_anew(told, at + 1)
    begins = text.rfind("\n", 0, told[at].start) + 1
    line = text[begins : told[at].start].rstrip()
    word = text[following.start :].split(maxsplit=1)[0]
    return not (widest and len(line) + 1 + len(word) > widest)


def _starts_anew(told: Sequence[Token], at: int) -> bool:
    """After a time: a capital begins a sentence, where the text has capitals at all."""
    following = next((token for token in told[at:] if token.kind != STAMP), None)
    return following is None or (following.text[:1].isupper() and following.text != "I")


def title(text: str, told: Sequence[Token]) -> int:
    """Where the title of a note ends: a first line that stands by itself and names no figure; 0 where there is none.

    Parameters
    ----------
    text : str
    told : sequence of Token
        Those of the whole text
    """
    found = re.match(r"\s*([^\n]+)\n[ \t]*\r?\n(?=[ \t]*\S)", text)
    if not found or STAMP in {token.kind for token in told if token.end <= found.end(1)}:
        return 0
    line = found[1]
    if (len(line.split()) > TITLE and _TOLD.search(line.lower())) or re.search(
        r"\d\s*(?:mm|nm|x\s*\d)|\b(?:two|three|four|five|six|\d) (?:\w+ ){0,2}(?:bolts?|nuts?|screws?|clips?)\b",
        line.lower(),
    ):
        return 0
    return found.end(1)
