"""Reads noun phrases: "the two rusty 14 mm slider bolts" is `slider bolts`, 2, 14 mm."""

from collections.abc import Sequence
from dataclasses import replace

from putback.capture import lexicon
from putback.capture.naming import small_words
from putback.capture.naming_figures import NamingFigures
from putback.capture.phrases import Phrase, as_named, driver, is_plural, kind_of
from putback.capture.quantities import Reader
from putback.capture.tokens import WORD, Token
from putback.capture.word_classes import is_verb_at

_PRONOUNS = frozenset("'em em it they them those these that this both everything one ones lot".split())
_PLURAL_PRONOUNS = frozenset("'em em they them those these both ones lot".split())
_ENDS_OF_A_CAR = frozenset("front rear back left right nose tail side".split())
_LIFTED = frozenset("jack lift raise lower jacked lifted raised lowered".split())
_TOOLS = frozenset(
    "screwdriver hammer mallet spanner wrench ratchet socket puller crowbar chisel hacksaw grinder splitter extractor "
    "knife stubby prybar pry-bar breaker-bar torch heat-gun syringe multimeter".split()
)
_THEM = ("them", "those", "em", "'em", "these")
_NOT_TURNED = frozenset(("part", "lid", "battery", "belt", "fluid", "car", "prop", "put in"))


class PhraseReader:
    """Reads noun phrases off the tokens of one text.

    Parameters
    ----------
    tokens : sequence of Token
    quantities : Reader
    """

    def __init__(self, tokens: Sequence[Token], quantities: Reader):
        self.tokens, self.quantities, self.words = tokens, quantities, small_words()
        self.verbs, self.nouns = lexicon.verbs(), lexicon.nouns()

    def read(self, at: int) -> Phrase | None:
        """The noun phrase that begins at a token, or None.

        Parameters
        ----------
        at : int
        """
        low = [token.low for token in self.tokens[at : at + 3]]
        if low[:1] in (["both"], ["all"], ["each"]) and low[1:2] == ["of"] and low[2:] and low[2] in _THEM:
            count = 2 if low[0] == "both" else None
            return Phrase(at, at + 3, count=count, pronoun="them", flags=frozenset({"plural", "all"}))
        return _Scan(self, at).phrase()

    def is_noun(self, at: int) -> bool:
        """Whether a token is a noun of the trade."""
        return at < len(self.tokens) and self.noun(self.tokens[at].low)

    def noun(self, low: str) -> bool:
        if low in self.nouns:
            return True
        tail = low.rpartition("-")[2]
        return tail != low and tail in self.nouns and low.partition("-")[0] not in ("re", "de", "un")


class _Scan(NamingFigures):
    """Reads one noun phrase."""

    def phrase(self) -> Phrase | None:
        while self.at < len(self.tokens) and self._step():
            pass
        return self._done()

    def _step(self) -> bool:
        token = self.tokens[self.at]
        if token.low == "×" and (told := self.reader.quantities.read(self.at)):
            return self._quantity(told)
        if token.kind == "sign":
            return self._bracketed_count() if token.low == "(" else False
        if quantities := self.reader.quantities.read(self.at):
            return self._quantity(quantities)
        if token.kind != WORD:
            return False
        return self._word(token)

    def _word(self, token: Token) -> bool:
        low, w = token.low, self.w
        if low in ("hand", "finger") and self._low(self.at + 1) in ("tight", "tightened"):
            return False
        if low == "'s":
            return self._possessive()
        if low in ("open", "loose", "closed") and self._introduced() and not self.found and self._noun_follows():
            self.at += 1
            return True
        if low in ("other", "another") or low in w.determiner:
            return self._determiner(low)
        if low in w.condition and not (low in self.reader.nouns and not self._noun_follows()):
            return self._condition(low)
        if (
            low in ("back", "inside", "outside", "left")
            and not self.found
            and "definite" in self.flags
            and not self._noun_may_follow()
        ):
            return self._take(token, "side")
        if self._is_verb_here(low):
            return False
        if self.found and self.found[-1][1] == "noun" and low in w.side and self._begins_another():
            return False
        if low in w.side and self._side_here(low):
            return self._take(token, "side")
        if self.reader.noun(low):
            return self._noun(token)
        if low in w.kind and self.found and self.found[-1][1] == "unknown" and not self._introduced():
            return False
        if low in w.kind:
            behind = self.found and self.found[-1][1] in ("noun", "unknown")
            return self._take(token, "kind") if not behind or (self._noun_follows() and not self._ended()) else False
        if low in w.closed or low in w.pronoun:
            return False
        return self._unknown(token)

    def _noun(self, token: Token) -> bool:
        """A noun; a plural ends a phrase, so that two things side by side stay two."""
        if self.found and (self._ended() or self._tool_ended(token.low)):
            return False
        return self._take(token, "noun")

    def _tool_ended(self, low: str) -> bool:
        """With the screwdriver, circlip out: the name of a tool ends before a part."""
        last = self.found[-1][0].lower()
        return last in _TOOLS and (last, low) not in lexicon.pairs() and self.reader.nouns.get(low) != "tool"

    def _unknown(self, token: Token) -> bool:
        low = token.low
        verb = self.reader.verbs.get(low)
        if (verb and not (self.article and verb.forms == {lexicon.BASE} and not self.found)) or len(low) < 2:
            return False
        if (self.found and self._ended()) or (
            low.endswith(("ed", "ing")) and not self._introduced() and not self.found
        ):
            return False
        if low.endswith("ly") or (
            not self.found
            and not self._introduced()
            and not self._noun_follows()
            and not self._predicate_follows()
            and self._low(self.first - 1 if self.first else len(self.tokens)) not in ("with", "of")
        ):
            return False
        return self._take(token, "unknown")

    def _predicate_follows(self) -> bool:
        """Whether something is said of a word that nobody knows, so that it must be a thing: "bridge on"."""
        low = self._low(self.at + 1)
        if low in ("'s", "is", "are", "was", "were"):
            return self._low(self.at + 2) in self.w.particle or self._low(self.at + 2) in self.reader.verbs
        if low in self.w.particle:
            return low not in ("under", "behind", "free", "over")
        verb = self.reader.verbs.get(low)
        return verb is not None and bool(verb.forms & {lexicon.PARTICIPLE}) and not self.reader.noun(low)

    def _determiner(self, low: str) -> bool:
        if self.found or (
            low in ("that", "this", "these", "those", "both", "all", "some", "any", "each", "which", "what", "no")
            and not self._noun_may_follow()
        ):
            return False
        if low in ("which", "what", "no"):
            return False
        self.flags.add("other" if low == "other" else "determined")
        self.article = low
        if low in ("a", "an"):
            self.flags.add("indefinite")
        elif low == "each":
            self.flags.add("each")
        elif low in ("all", "both"):
            self.flags.add("all")
        if low in ("the", "that", "this", "these", "those", "other", "both"):
            self.flags.add("definite")
        if low == "both":
            self.count = 2
        self.at += 1
        return True

    def _condition(self, low: str) -> bool:
        if self.found and self.found[-1][1] == "noun":
            return False
        if not self._introduced() and not self._noun_may_follow():
            return False
        self.flags |= {"new"} if low in self.w.new else {"reused"} if low in self.w.reused else set()
        self.flags.add("old") if low == "old" else None
        self.at += 1
        return True

    def _possessive(self) -> bool:
        """The caliper's bolts; not: the caliper's off."""
        follows = self._low(self.at + 1)
        if self.found and (self.reader.is_noun(self.at + 1) or follows in ("side",)) and follows not in ("back",):
            self.at += 1
            return True
        return False

    def _begins_another(self) -> bool:
        """At the back of the tank, front tank bolt out: behind a preposition a name ends before a side."""
        before = self._low(self.first - 1) if self.first else ""
        return before in self.w.preposition and self._noun_follows()

    def _side_here(self, low: str) -> bool:
        """Sides that are also a verb or a particle count only ahead of a thing."""
        if (
            low == "right"
            and self._low(self.at + 1) in self.w.particle | self.w.closed | {""}
            and not self._introduced()
            and not self.found
            and not self._after_preposition()
        ):
            return False
        if low in ("back", "inside", "outside", "left", "end", "forward", "far", "side"):
            return bool(
                self._noun_may_follow()
                and not (
                    self.found and self.found[-1][1] == "noun" and low in ("back", "left", "inside", "outside", "end")
                )
            ) or (low in ("side", "end") and bool(self.found))
        if (
            self.found
            and self.found[-1][1] == "noun"
            and low
            not in (
                "rear",
                "front",
                "upper",
                "lower",
                "top",
                "bottom",
                "n/s",
                "o/s",
                "lh",
                "rh",
                "ns",
                "os",
                "nsf",
                "osf",
                "nsr",
                "osr",
                "right",
                "inner",
                "outer",
            )
        ):
            return False
        return not (self.found and self.found[-1][1] == "noun" and self._noun_may_follow())

    def _is_verb_here(self, low: str) -> bool:
        """Whether a word that may be a verb is one: not where it stands among the words of a name."""
        verb = self.reader.verbs.get(low)
        if verb is None:
            return False
        noun = self.reader.noun(low) or low in self.w.kind or low in self.w.side or low in self.w.condition
        if not noun and self.article in ("a", "an", "the") and verb.forms == {lexicon.BASE} and not self.found:
            return False
        if not noun:
            ahead_of_noun = (
                bool(verb.forms & {lexicon.PARTICIPLE, lexicon.ING})
                and self._introduced()
                and self.reader.is_noun(self.at + 1)
            )
            return not ahead_of_noun
        if self.found and verb.forms == {lexicon.BASE} and self._introduced() and self.reader.is_noun(self.at + 1):
            return False  # the cold start valve
        if self.found:
            participle = not self.reader.noun(low) and bool(verb.forms & {lexicon.PAST, lexicon.PARTICIPLE})
            return (
                (verb.forms == {lexicon.THIRD} or participle)
                and self.found[-1][1] in ("noun", "unknown")
                and is_verb_at(self.reader, self.at)
            )
        return not self._introduced() and is_verb_at(self.reader, self.at)

    # -- the end ---------------------------------------------------------------------------------

    def _done(self) -> Phrase | None:
        while (
            self.found
            and self.found[-1][1] == "side"
            and len(self.found) > 1
            and self.found[-1][0].lower() in ("back", "end", "left", "inside", "outside")
            and self.found[-2][1] == "noun"
        ):
            self.found.pop()
            self.at -= 1
        low = self._low(self.at)
        if low in ("one", "ones") and self.found and not (self._ended() or self._counts_on()):
            self.at += 1
            words = tuple(as_named(word) for word, _ in self.found)
            return replace(self._named(words, kind=""), pronoun=low, flags=self._flags() | {"side only"})
        if any(what in ("noun", "unknown") for _, what in self.found):
            if self.size_ends and (self.cut or kind_of([word for word, _ in self.found]) in _NOT_TURNED):
                self.at, self.found = self.size_ends, []
                return self._named((), kind="")
            return self._named(tuple(as_named(word) for word, _ in self.found))
        if low in ("one", "ones") and (self.flags or self.count):
            self.at += 1
            return replace(self._named((), kind=""), pronoun=low, flags=self._flags() | {"side only"})
        if (
            self.found
            and [word.lower() for word, _ in self.found] != ["side"]
            and (self._introduced() or self._after_preposition() or self._behind_lifting())
        ):
            return replace(
                self._named(tuple(word.lower() for word, _ in self.found), kind=""),
                pronoun="one",
                flags=self._flags() | {"side only"},
            )
        if low in _PRONOUNS and not self.found:
            self.at += 1
            if low in ("lot", "em", "'em"):
                low = "them"
            return replace(
                self._named((), kind=""),
                pronoun=low,
                flags=self._flags() | ({"plural"} if low in _PLURAL_PRONOUNS else set()),
            )
        if "other" in self.flags:
            return replace(self._named((), kind=""), pronoun="other")
        if self.tool or self.count is not None or "thread" in self.flags:
            return self._named((), kind="") if self.at > self.first else None
        return None

    def _counts_on(self) -> bool:
        """Nuts, one ten: the word begins a number."""
        number = self.reader.quantities.read(self.at)
        if number and number[0].kind == "torque" and self.found[-1][1] == "side" and self.at + 1 < len(self.tokens):
            rest = self.reader.quantities.read(self.at + 1)
            return not (rest and rest[0].kind == "torque")  # rear one, fifteen foot-pounds
        return bool(number) and (number[0].kind == "torque" or number[0].after - self.at > 1)

    def _behind_lifting(self) -> bool:
        """Jack rear."""
        ends = {word.lower() for word, _ in self.found} <= _ENDS_OF_A_CAR
        return self.first > 0 and self._low(self.first - 1) in _LIFTED and ends

    def _flags(self) -> frozenset[str]:
        plural = bool(self.found) and is_plural(self.found[-1][0].lower())
        return frozenset(self.flags | ({"plural"} if plural or (self.count or 1) > 1 else set()))

    def _named(self, words: tuple[str, ...], kind: str | None = None) -> Phrase:
        told = kind_of(words) if kind is None else kind
        if told == "electric" and words[-1].lower() in ("plug", "plugs") and (self.tool or "thread" in self.flags):
            told = "fastener"  # a 17 mm plug
        if words == ("key",) and not self.tool:
            told = "shop"  # that of the ignition
        tool = self.tool or (driver(words) if told == "fastener" else None)
        if tool and words and words[-1].lower() == "allens" and tool.endswith(" mm"):
            tool = f"{tool} hex"
        return Phrase(self.first, self.at, words, told, self.count, tool, "", self._flags())
