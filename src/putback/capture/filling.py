"""Fills a clause with the things and figures of its chunks."""

from collections.abc import Sequence
from dataclasses import replace

from putback.capture import lexicon
from putback.capture.bounds import AND
from putback.capture.chunks import (
    COMMA,
    CONJ,
    COPULA,
    FILLER,
    NP,
    OTHER,
    PARTICLE,
    PREP,
    QUANTITY,
    STOP,
    SUB,
    Chunk,
)
from putback.capture.filling_figures import THOSE, FigureFiller
from putback.capture.particles import MANNER, TIMES
from putback.capture.phrases import Phrase, is_container
from putback.capture.predicates import LEFT, Predicate
from putback.capture.quantities import is_usual_size, metric
from putback.capture.said import Clause, Item

_INSTRUMENTS = frozenset(("with", "using", "by", "on", "via", "w/"))
_MEANS = ("with", "using", "w/")
_NO_TOOL = frozenset(
    "noise thump bit lot helper mate hand help fight struggle bang clunk pop click wiggle grunt tug twist smear dab "
    "squeak knock swear buddy friend".split()
)
_NO_SINGULAR = frozenset("pliers grips snips cutters tweezers compressors scissors pincers".split())
_FLAT = frozenset(("blade", "bladed", "head", "screwdriver", "driver"))


class Filler(FigureFiller):
    """Fills one clause.

    Parameters
    ----------
    chunks : sequence of Chunk
        Those of the sentence
    found : Predicates
    clause : Clause
    one : Predicate or None
    """

    def fill(self, start: int, end: int) -> None:
        """Take in the chunks from one up to before another."""
        for n in range(start, end):
            self._chunk(n, end)

    def _chunk(self, n: int, end: int) -> None:
        chunk = self.chunks[n]
        if chunk.kind == SUB or (chunk.kind == PREP and chunk.value in TIMES):
            self._depends(n, chunk)
        elif chunk.value == "per" and self.last is not None and self._side_follows(n):
            self.last.each_side = True
        elif chunk.kind in (PREP, PARTICLE):
            self._leads(n, end)
        elif chunk.kind == NP:
            self._thing(chunk, n)
        elif chunk.kind == QUANTITY:
            self._figure(chunk.value, n)
        elif chunk.kind == CONJ:
            self._conjunction(n, chunk)
        elif chunk.kind in (COMMA, STOP):
            self.joined, self.prep, self.after_comma = False, None, True
            self.told_of = self.told_of and not self._begins_anew(n, end)
        else:
            self._small(n, chunk)

    def _begins_anew(self, n: int, end: int) -> bool:
        """Whether a thing with a figure stands behind a comma: "... there's weight on it, lugs 80"."""
        if n + 2 >= end or self.chunks[n + 1].kind != NP or not self.chunks[n + 1].value.words:
            return False
        following = self.chunks[n + 2]
        return following.kind == QUANTITY or (following.kind == NP and not following.value.words)

    def _depends(self, n: int, chunk: Chunk) -> None:
        if self.one is None or n < self.one.at:
            self.clause.subordinate = self.clause.subordinate or chunk.value
        elif chunk.kind == PREP:
            self.prep = chunk.value

    def _conjunction(self, n: int, chunk: Chunk) -> None:
        self.joined, self.prep = chunk.value in AND, None
        behind = self.one is not None and n > self.one.at
        self.told_of = self.told_of or (chunk.value in ("so", "but") and behind)

    def _small(self, n: int, chunk: Chunk) -> None:
        if chunk.kind == COPULA and self.one is not None and n >= self.one.end:
            self.told_of = self.told_of or not self._is_thats(n)
        elif self.last is not None and chunk.value in ("each", "either") and self._side_follows(n):
            self.last.each_side = True
        elif self.last is not None and chunk.value == "each":
            self.last.each = True
        elif chunk.kind not in (FILLER, OTHER):
            self.prep = None

    def _side_follows(self, n: int) -> bool:
        """Three per side, one each end."""
        following = self.chunks[n + 1] if n + 1 < len(self.chunks) else None
        return following is not None and str(following.value) in ("side", "end")

    def _is_thats(self, n: int) -> bool:
        """That's five screws: no description, but what was taken out as well."""
        before = self.chunks[n - 1] if n else None
        return before is not None and before.kind == NP and before.value.pronoun in ("that", "those", "these", "they")

    # -- prepositions ----------------------------------------------------------------------------

    def _leads(self, n: int, end: int) -> None:
        """A preposition, or a particle that is one: "back in the guide"."""
        chunk, one = self.chunks[n], self.one
        alone = n not in self.found.owned
        if chunk.kind == PREP or (alone and not self._is_ahead(one)):
            self.prep = chunk.value
        elif not self._is_ahead(one) and n + 1 < end and self.chunks[n + 1].kind == NP and chunk.value not in MANNER:
            if self._to_a_place(n, chunk):
                self.prep = chunk.value

    def _is_ahead(self, one: Predicate | None) -> bool:
        """Whether the particle stands ahead of its verb: out comes the battery."""
        return one is not None and one.particle_at is not None and one.particle_at < one.at

    def _to_a_place(self, n: int, chunk: Chunk) -> bool:
        """Whether a particle that belongs to a verb leads to a place as well: put in the hose."""
        phrase = self.chunks[n + 1].value
        if self.one is None or not (self.last is not None or self.one.needs == LEFT):
            return self.one is not None and is_container(phrase)
        if phrase.flags & {"determined", "definite"} or phrase.pronoun or is_container(phrase):
            return True
        figures = phrase.count is not None or phrase.tool is not None or "new" in phrase.flags
        another = figures or self._torque_follows(n + 2) or self._predicate_follows(n + 2)
        return chunk.value in ("in", "on", "over", "through", "off") and not another

    def _predicate_follows(self, at: int) -> bool:
        """Whether something is said of the thing behind a particle; then it is another thing: caliper on bolts in."""
        return at < len(self.chunks) and self.chunks[at].kind in (PARTICLE, "verb", COPULA)

    def _torque_follows(self, at: int) -> bool:
        if at >= len(self.chunks) or self.chunks[at].kind != QUANTITY:
            return False
        return self.chunks[at].value.kind in ("torque", "angle")

    # -- things ----------------------------------------------------------------------------------

    def _thing(self, chunk: Chunk, n: int) -> None:
        item = self._item(chunk, n)
        self.last = item if item is not None else self.last
        self.joined = self.after_comma = False
        self.prep = None

    def _item(self, chunk: Chunk, n: int) -> Item | None:
        phrase, clause = chunk.value, self.clause
        if self.told_of and (phrase.words or not phrase.tool):
            return self._beside(chunk, phrase)
        if self.ahead is not None:
            return self._with_torque_ahead(chunk, phrase)
        if self.last is not None and not self.prep and (same := self._said_of_the_last(chunk, phrase)):
            return same
        if self._is_instrument(phrase):
            self._instrument(chunk, phrase)
            return None
        if self.prep in _MEANS and phrase.words and phrase.kind != "tool":
            clause.along.append(Item(phrase, chunk.first, chunk.after))
            return clause.along[-1]
        if self.prep is not None and self.prep != "plus":
            return self._place(chunk, phrase)
        if not phrase.words and (phrase.tool or phrase.count is not None):
            if (found := self._bare(chunk, phrase, n)) is not None:
                return found
        phrase = self._without_the_size_of_fasteners(phrase)
        clause.items.append(Item(phrase, chunk.first, chunk.after, joined=self.joined))
        return clause.items[-1]

    def _without_the_size_of_fasteners(self, phrase: Phrase) -> Phrase:
        """Three screws hold the motor T20: the size is that of the screws."""
        if "behind" not in phrase.flags or phrase.tool is None or phrase.kind in ("fastener", "clamp"):
            return phrase
        ahead = (item for item in reversed(self.clause.items) if item.phrase.kind in ("fastener", "clamp"))
        fastener = next((item for item in ahead if item.tool is None and item.phrase.tool is None), None)
        if fastener is None:
            return phrase
        fastener.tool = phrase.tool
        return replace(phrase, tool=None)

    def _with_torque_ahead(self, chunk: Chunk, phrase: Phrase) -> Item:
        told, self.ahead = self.ahead, None
        item = Item(phrase, told.first, chunk.after, torque=told.value, unit=told.unit, torques=[told])
        self.clause.items.append(item)
        return item

    def _said_of_the_last(self, chunk: Chunk, phrase: Phrase) -> Item | None:
        """Bolts out, both; clips off, four of them; a pump, a new one."""
        last = self.last
        if phrase.pronoun == "both" and "plural" in last.phrase.flags and self._is_last_of_all(chunk):
            last.count, last.after = last.count or 2, chunk.after
            return last
        if phrase.pronoun in THOSE and phrase.count:
            last.count = last.count or (phrase.count if last.phrase.count is None else None)
            return last
        newer = phrase.pronoun in ("one", "ones") and not phrase.words and "new" in phrase.flags
        if newer and not self.joined and not self.after_comma:
            last.phrase = replace(last.phrase, flags=last.phrase.flags | {"new"})
            return last
        return None

    def _is_last_of_all(self, chunk: Chunk) -> bool:
        """Whether "both" sums up what was said, and is not what the next words are about."""
        return self.one is None or chunk.first >= self.chunks[self.one.at].first or self.one.needs == LEFT

    def _beside(self, chunk: Chunk, phrase: Phrase) -> Item | None:
        """A thing that is only spoken of; what stands behind a preposition lends its size to the one before."""
        if not phrase.words:
            return self._figure_beside(chunk, phrase)
        if self.prep is not None and self.last is not None:
            if "behind" in phrase.flags:
                self.last.tool, self.last.after = self.last.tool or phrase.tool, chunk.after
            return None
        self.clause.described.append(Item(phrase, chunk.first, chunk.after))
        return self.clause.described[-1]

    def _figure_beside(self, chunk: Chunk, phrase: Phrase) -> Item | None:
        """Nut's 9 as well, there's eighteen: of a torque where torques are told, else how many."""
        last, clause = self.last, self.clause
        if phrase.count is None or last is None or "bare" not in phrase.flags:
            return None
        if clause.torques or any(item.torque is not None for item in clause.items):
            clause.items.append(Item(phrase, chunk.first, chunk.after))
        elif "plural" in last.phrase.flags and (last.count or last.phrase.count) is None:
            last.count, last.after = phrase.count, chunk.after
        return last

    # -- tools and places ------------------------------------------------------------------------

    def _is_instrument(self, phrase: Phrase) -> bool:
        if self.prep not in _INSTRUMENTS or (self.prep == "on" and phrase.kind == "tool"):
            return False
        if phrase.tool and phrase.pronoun == "one":
            return True  # with a long cross-head
        if phrase.kind == "prop":
            return self.clause.sense == "support" or (self.clause.sense == "raise" and self.prep != "on")
        return phrase.kind == "tool" or self._serves_as_a_tool(phrase)

    def _serves_as_a_tool(self, phrase: Phrase) -> bool:
        """With a tent peg: whatever a thing is taken off with."""
        if self.prep not in ("with", "using") or "indefinite" not in phrase.flags or not phrase.words:
            return False
        takes = self.clause.sense in ("off", "out", "undo", "release", "unclip", "drain", "down", "loosen")
        return takes and phrase.kind in ("part", "unknown") and phrase.words[-1].lower() not in _NO_TOOL

    def _instrument(self, chunk: Chunk, phrase: Phrase) -> None:
        tool, last = phrase.tool or tool_name(phrase), self.last
        if last is not None and last in self.clause.items[1:] and not last.joined:
            last.tool, last.after = last.tool or tool, chunk.after
        else:
            self.clause.tool = self.clause.tool or tool

    def _place(self, chunk: Chunk, phrase: Phrase) -> Item | None:
        clause = self.clause
        clause.relation = clause.relation or self.prep or ""
        if not phrase.words:
            if phrase.pronoun and phrase.tool is None:
                clause.at.append(phrase)
            self._figure_at(chunk, phrase)
            return None
        if "behind" in phrase.flags and self.last is not None:
            self.last.tool, self.last.count = self.last.tool or phrase.tool, self.last.count or phrase.count
            self.last.after = max(self.last.after, chunk.after)
        if self.prep in ("in", "into", "to", "onto", "inside", "on") and is_container(phrase):
            clause.in_container = True
        clause.places.append(phrase)
        return None

    def _figure_at(self, chunk: Chunk, phrase: Phrase) -> None:
        """With a 13; to 30."""
        clause = self.clause
        if phrase.tool and self.prep in _INSTRUMENTS:
            clause.tool = clause.tool or phrase.tool
        elif phrase.count is not None and not phrase.pronoun and self.prep in ("to", "at"):
            self._number(chunk, float(phrase.count))
        elif phrase.count is not None and self.prep in ("with", "using"):
            if is_usual_size(phrase.count) and phrase.count > 4:
                clause.tool = clause.tool or metric(phrase.count)


def _is_plain(words: Sequence[str], n: int) -> bool:
    """Whether a word only says how big or old a tool is; long-nose pliers are a kind of their own."""
    if n + 1 == len(words) or words[n + 1].lower() in ("nose", "reach"):
        return False
    return words[n].lower() in ("big", "small", "long", "short", "tall", "little", "old", "new", "large", "good")


def tool_name(phrase: Phrase) -> str:
    """A tool as its author calls it, in the singular.

    Parameters
    ----------
    phrase : Phrase
    """
    *words, last = (word for n, word in enumerate(phrase.words) if not _is_plain(phrase.words, n))
    if "flat" in (word.lower() for word in words) and last.lower() in _FLAT:
        return "flat screwdriver"
    return " ".join([*words, last if last in _NO_SINGULAR else lexicon.singular(last)])
