"""A sentence as a row of chunks: noun phrases, verbs, particles, quantities and the small words between them."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from putback.capture import lexicon
from putback.capture.phrase_reader import PhraseReader
from putback.capture.phrases import Phrase, kind_of
from putback.capture.quantities import Reader, is_usual_size, metric
from putback.capture.tokens import WORD, Token
from putback.capture.word_classes import is_verb_at

NP, VERB, PARTICLE, PREP, COPULA, NOT, MODAL, SUBJECT, CONJ, SUB, COMMA, STOP, QUANTITY, FILLER, OTHER = (
    "np", "verb", "particle", "prep", "copula", "not", "modal", "subject", "conj", "sub", "comma", "stop", "quantity",
    "filler", "other",
)  # fmt: skip


class Chunk(NamedTuple):
    """A piece of a sentence: what kind, the tokens it takes, and what it says."""

    kind: str
    first: int
    after: int
    value: Any = None


_PARTICLES = frozenset(
    "off out on in back up down loose aside apart over away through home together undone free tight "
    "open closed shut slack snug".split()
)
_KINDS = (
    ("copula", COPULA), ("negation", NOT), ("modal", MODAL), ("subject", SUBJECT), ("conjunction", CONJ),
    ("subordinator", SUB), ("preposition", PREP), ("filler", FILLER),
)  # fmt: skip
_STATES = frozenset("loose undone tight open closed shut slack snug".split())
# Pronoun and verb written as one word.
_RUN_TOGETHER = {"they're": "they", "theyre": "they", "thats": "that", "its": "it", "those're": "those"}


class Chunker:
    """Turns the tokens of one sentence into chunks.

    Parameters
    ----------
    text : str
    tokens : sequence of Token
        Those of the sentence
    """

    def __init__(self, text: str, tokens: Sequence[Token]):
        self.tokens = tokens
        self.quantities = Reader(text, tokens)
        self.phrases = PhraseReader(tokens, self.quantities)
        self.words = lexicon.words()
        self.verbs = lexicon.verbs()

    def chunks(self) -> list[Chunk]:
        """The chunks in their order; every token belongs to one."""
        found: list[Chunk] = []
        at = 0
        while at < len(self.tokens):
            found += self._next(at)
            at = found[-1].after
        return _with_places(found, self.tokens)

    def _next(self, at: int) -> list[Chunk]:
        token = self.tokens[at]
        if token.low in ("&", "+"):
            return [Chunk(CONJ, at, at + 1, token.low)]
        if token.kind == "sign":
            return [
                Chunk(
                    STOP
                    if token.low[0] in ".;!?" and token.low != ".."
                    else COMMA
                    if token.low[0] in ',:()-–—/[]"…+=' or token.low.startswith("..")
                    else OTHER,
                    at,
                    at + 1,
                    token.low,
                )
            ]
        if meant := self._on_top_of(at) or self._meant(at):
            return [meant]
        if token.low in _RUN_TOGETHER:
            pronoun = _RUN_TOGETHER[token.low]
            if token.low != "its" or not self.phrases.read(at) or not self.phrases.read(at).kind:
                flags = frozenset({"plural"}) if pronoun in ("they", "those") else frozenset()
                return [
                    Chunk(NP, at, at + 1, Phrase(at, at + 1, pronoun=pronoun, flags=flags)),
                    Chunk(COPULA, at, at + 1, "is"),
                ]
        quantities = self.quantities.read(at)
        in_groups = (
            bool(quantities)
            and quantities[0].kind == "number"
            and token.low in ("one", "two", "a")
            and quantities[0].after - at > 1
            and quantities[0].value >= 100
        )
        if quantities and (quantities[0].kind in ("torque", "angle", "other") or in_groups):
            return [Chunk(QUANTITY, one.first, one.after, one) for one in quantities]
        phrase = self._phrase(at)
        if phrase:
            return [Chunk(NP, at, phrase.after, phrase)]
        if quantities:
            return [Chunk(QUANTITY, one.first, one.after, one) for one in quantities]
        return [self._small(at)]

    def _meant(self, at: int) -> Chunk | None:
        """Set phrases such as "out of the way"."""
        for words, meaning in lexicon.set_phrases().get(self.tokens[at].low, ()):
            if meaning and tuple(token.low for token in self.tokens[at : at + len(words)]) == words:
                if meaning == "wait" and not self._ends_at(at + len(words)):
                    continue
                return Chunk(FILLER if meaning == "wait" else PARTICLE, at, at + len(words), meaning)
        return None

    def _on_top_of(self, at: int) -> Chunk | None:
        """On top of the manifold: where it is."""
        words = tuple(token.low for token in self.tokens[at : at + 3])
        return Chunk(PREP, at, at + 3, "above") if words == ("on", "top", "of") else None

    def _ends_at(self, at: int) -> bool:
        return at >= len(self.tokens) or self.tokens[at].kind == "sign"

    def _phrase(self, at: int) -> Phrase | None:
        token = self.tokens[at]
        low = token.low
        if token.kind == WORD and low in _PARTICLES and not self._side_ahead(at):
            return None
        if token.kind == WORD and low in self.verbs and is_verb_at(self.phrases, at):
            return None
        if low in self.words["negation"] | self.words["copula"] | self.words["modal"] | self.words["conjunction"]:
            return None
        phrase = self.phrases.read(at)
        return phrase if phrase and phrase.after > at else None

    def _side_ahead(self, at: int) -> bool:
        """The back bolt."""
        return (
            self.tokens[at].low == "back"
            and at > 0
            and self.tokens[at - 1].low in self.words["determiner"]
            and self.phrases.is_noun(at + 1)
        )

    def _small(self, at: int) -> Chunk:
        token = self.tokens[at]
        low = token.low
        if low in _PARTICLES and not (low in self.verbs and low not in _STATES and is_verb_at(self.phrases, at)):
            if low in ("open", "shut", "closed") and self._takes_an_object(at):
                return Chunk(VERB, at, at + 1, self.verbs.get(low))
            return Chunk(PARTICLE, at, at + 1, low)
        if low == "'s":
            return Chunk(COPULA, at, at + 1, low)
        if low == "to" and self._verb_at(at + 1):
            return Chunk(FILLER, at, at + 1, low)
        if self._verb_at(at):
            return Chunk(VERB, at, at + 1, self.verbs[low])
        for name, kind in _KINDS:
            if low in self.words[name]:
                return Chunk(kind, at, at + 1, low)
        return Chunk(OTHER, at, at + 1, low)

    def _takes_an_object(self, at: int) -> bool:
        following = self.tokens[at + 1].low if at + 1 < len(self.tokens) else ""
        return following in ("the", "it", "them", "that", "my", "both", "all") or (
            self.tokens[at].low == "open"
            and (at == 0 or self.tokens[at - 1].kind == "sign")
            and self.phrases.is_noun(at + 1)
        )

    def _verb_at(self, at: int) -> bool:
        if at >= len(self.tokens) or self.tokens[at].low not in self.verbs:
            return False
        before = self.verbs.get(self.tokens[at - 1].low) if at else None
        if (
            before
            and before.forms & {lexicon.PAST, lexicon.ING}
            and self.verbs[self.tokens[at].low].forms == {lexicon.BASE}
            and before.lemma not in ("help", "let", "make", "get")
        ):
            return False  # tested fold and heat
        return is_verb_at(self.phrases, at)


def _with_places(chunks: list[Chunk], tokens: Sequence[Token]) -> list[Chunk]:
    """Of and for are turned round, and one word of place behind a noun goes to its front."""
    found: list[Chunk] = []
    at = 0
    while at < len(chunks):
        chunk = chunks[at]
        if found and found[-1].kind == NP and found[-1].value.words and (joined := _joined(found[-1], chunks, at)):
            found[-1], at = joined
            continue
        found.append(chunk)
        at += 1
    return found


def _joined(before: Chunk, chunks: list[Chunk], at: int) -> tuple[Chunk, int] | None:
    """A noun phrase with the one behind a preposition, and where it goes on; None where they stay two."""
    if chunks[at].kind == OTHER and chunks[at].value in lexicon.words()["new"]:
        phrase = before.value
        renewed = replace(phrase, after=chunks[at].after, flags=phrase.flags | {"new"})
        return before._replace(after=chunks[at].after, value=renewed), at + 1  # idler new
    if at + 1 >= len(chunks) or chunks[at].kind not in (PREP, PARTICLE) or chunks[at + 1].kind != NP:
        return None
    word, phrase, other = chunks[at].value, before.value, chunks[at + 1].value
    if (
        word == "of"
        and phrase.words[-1].lower() in ("bit", "piece", "lot", "half", "length", "set", "pair", "load", "bits", "end")
        and other.words
        and phrase.words[-1] != "end"
    ):
        return _grown(before, chunks[at + 1], other.words, other.kind), at + 2
    if word == "of" and (sized := _of_a_size(before, chunks[at + 1])):
        return sized, at + 2
    if word == "of" and phrase.words[-1].lower() in _BLOWS and other.kind == "tool":
        return chunks[at + 1]._replace(first=before.first), at + 2  # two taps of the mallet
    if word in ("of", "for") and other.words and "side only" not in other.flags and other.kind not in ("", "tool"):
        words = other.words + phrase.words
        return _grown(before, chunks[at + 1], words, kind_of(words) if kind_of(words[-2:]) else phrase.kind), at + 2
    if (
        word in ("on", "at", "in", "to")
        and other.pronoun == "one"
        and "side only" in other.flags
        and len(other.words) == 1
        and _is_place(other)
        and not (at + 2 < len(chunks) and chunks[at + 2].value == "of")
    ):
        return _grown(before, chunks[at + 1], other.words + phrase.words, phrase.kind), at + 2
    return None


def _of_a_size(before: Chunk, last: Chunk) -> Chunk | None:
    """Two bolts of 8, an Allen of six: how a size is told in other languages."""
    phrase, other = before.value, last.value
    bare = not other.words and not other.pronoun and other.count is not None and "bare" in other.flags
    if not bare or not is_usual_size(other.count) or phrase.kind not in ("fastener", "tool", "clamp"):
        return None
    if phrase.tool:
        return None
    sized = f"{metric(other.count)} hex" if phrase.words[-1].lower() == "allen" else metric(other.count)
    return before._replace(after=last.after, value=replace(phrase, after=last.after, tool=sized))


_BLOWS = frozenset(
    "tap taps blow blows thump thumps clout clouts whack whacks tug tugs knock knocks hit hits twist help bit touch "
    "bang bangs end rap raps".split()
)


def _is_place(phrase: Phrase) -> bool:
    return phrase.words[0] in lexicon.words()["place"]


def _grown(before: Chunk, last: Chunk, words: tuple[str, ...], kind: str) -> Chunk:
    phrase = before.value
    tool = phrase.tool or (last.value.tool if "behind" in last.value.flags else None)
    grown = Phrase(phrase.first, last.after, words, kind, phrase.count, tool, "", phrase.flags)
    return Chunk(NP, before.first, last.after, grown)
