"""Noun phrases: "the two rusty 14 mm slider bolts" is `slider bolts`, 2, 14 mm."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cache

from putback.capture import lexicon
from putback.capture.quantities import Quantity, Reader, is_usual_size, metric
from putback.capture.tokens import NUMBER, WORD, Token
from putback.capture.word_classes import is_verb_at


@dataclass(frozen=True)
class Phrase:
    """A thing as it was named.

    Parameters
    ----------
    first, after : int
        The tokens it takes
    words : tuple of str
        The author's nouns with what belongs to them; empty of a pronoun and of a size that stands for a thing
    kind : str
        The class of the last noun, as in nouns.txt; "unknown" of a word that is not in it, "" where there is none
    count : int, optional
    tool : str, optional
        A size named with it
    pronoun : str
        The pronoun that stands in its place
    flags : frozenset of str
        new, reused, other, definite, plural, side only
    """

    first: int
    after: int
    words: tuple[str, ...] = ()
    kind: str = ""
    count: int | None = None
    tool: str | None = None
    pronoun: str = ""
    flags: frozenset[str] = field(default_factory=frozenset)

    @property
    def name(self) -> str:
        return " ".join(self.words)

    @property
    def is_size(self) -> bool:
        """Whether a size stands for the thing: "three 13s"."""
        return not self.words and not self.pronoun and self.tool is not None


def kind_of(words: Sequence[str]) -> str:
    """The class of a thing by its nouns.

    Parameters
    ----------
    words : sequence of str
    """
    if not words:
        return ""
    last = words[-1].lower()
    before = words[-2].lower() if len(words) > 1 else ""
    for one in (before, lexicon.singular(before), before.rpartition("-")[2]):
        if (kind := lexicon.pairs().get((one, last))) is not None:
            return kind
    known = lexicon.nouns()
    for form in (last, last.replace("-", ""), lexicon.singular(last)):
        if form in known:
            return known[form]
    tail = last.rpartition("-")[2]
    if tail != last and tail in known:
        return kind_of(last.split("-"))
    return "unknown"


_CONTAINERS = frozenset(
    "tray trays box bag bags bucket tub tin pot bin pocket dish bowl bench drawer vice vise jar skip container rack "
    "bath solvent thinners hand hands mouth floor cardboard pan basin crate tote bottle lid magnet towel "
    "newspaper".split()
)


def is_container(phrase: "Phrase") -> bool:
    """Whether things are only laid down there.

    Parameters
    ----------
    phrase : Phrase
    """
    return bool(phrase.words) and phrase.words[-1].lower() in _CONTAINERS


class _Words:
    """Sets of small words, looked up once."""

    def __init__(self):
        told = lexicon.words()
        self.determiner, self.pronoun, self.side = told["determiner"], told["pronoun"], told["side"]
        self.kind, self.condition, self.new, self.reused = told["kind"], told["condition"], told["new"], told["reused"]
        self.particle, self.preposition = told["particle"], told["preposition"]
        self.closed = frozenset().union(*(told[name] for name in _CLOSED))


@cache
def _small_words() -> _Words:
    return _Words()


_CLOSED = (
    "subject", "preposition", "copula", "conjunction", "subordinator", "modal", "negation", "filler", "particle",
)  # fmt: skip
_PRONOUNS = frozenset("'em em it they them those these that this both everything one ones lot".split())
_PLURAL_PRONOUNS = frozenset("'em em they them those these both ones lot".split())


class PhraseReader:
    """Reads noun phrases off the tokens of one text.

    Parameters
    ----------
    tokens : sequence of Token
    quantities : Reader
    """

    def __init__(self, tokens: Sequence[Token], quantities: Reader):
        self.tokens, self.quantities, self.words = tokens, quantities, _small_words()
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


class _Scan:
    """One noun phrase on its way."""

    def __init__(self, reader: PhraseReader, at: int):
        self.reader, self.w, self.tokens = reader, reader.words, reader.tokens
        self.first = self.at = at
        self.found: list[tuple[str, str]] = []  # words with what they are: noun, side, kind, unknown
        self.count: int | None = None
        self.tool: str | None = None
        self.flags: set[str] = set()
        self.article = ""
        self.size_ends = 0  # where a size ahead of the nouns ends
        self.cut = False  # whether that size belongs to what was said before

    def phrase(self) -> Phrase | None:
        while self.at < len(self.tokens) and self._step():
            pass
        return self._done()

    # -- one word further ------------------------------------------------------------------------

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

    def _ended(self) -> bool:
        word, what = self.found[-1]
        low = word.lower()
        return what == "noun" and (low in _PAIRED or (_is_plural(low) and low not in _PLURAL_BEFORE))

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

    def _introduced(self) -> bool:
        return "definite" in self.flags or "determined" in self.flags or self.count is not None or self.tool is not None

    def _take(self, token: Token, what: str) -> bool:
        self.found.append((token.text, what))
        self.at += 1
        return True

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

    def _behind_lifting(self) -> bool:
        """Jack rear."""
        ends = {word.lower() for word, _ in self.found} <= _ENDS_OF_A_CAR
        return self.first > 0 and self._low(self.first - 1) in _LIFTED and ends

    def _after_preposition(self) -> bool:
        return self.first > 0 and self._low(self.first - 1) in ("on", "at", "in", "to", "from")

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

    # -- figures ---------------------------------------------------------------------------------

    def _quantity(self, told: list[Quantity]) -> bool:
        if (
            self.found
            and all(what == "side" for _, what in self.found)
            and told[0].kind in ("number", "count")
        ):
            return self._sided_number(told[0])
        if self.found and self.found[-1][1] == "noun" and told[0].kind == "number" and self._size_behind(told[0]):
            return True
        if self.found and told[0].kind not in ("thread",) and not self._behind(told):
            return False
        if self.found and told[0].kind != "thread":
            self.flags.add("behind")
        taken = [self._take_quantity(one, told[n + 1 :]) for n, one in enumerate(told)]
        return all(taken) and bool(taken)

    def _sided_number(self, one: Quantity) -> bool:
        """The rear two, top two."""
        counts = one.value == int(one.value) and 1 < one.value < 13
        if self.count is None and counts and not self._noun_follows(one.after):
            self.count, self.at = int(one.value), one.after
            self.flags |= {"plural", "determined"}
        return False

    def _size_behind(self, one: Quantity) -> bool:
        """Top nut 15, nuts tens: a bare size behind a fastener."""
        if self.tool and self.size_ends and is_usual_size(one.value) and one.value >= 7:
            self.cut = kind_of([self.found[-1][0]]) == "fastener" and self._low(one.after) in self.w.particle
            return False
        if self.tool or kind_of([self.found[-1][0]]) != "fastener" or not is_usual_size(one.value) or one.value < 7:
            return False
        if self._noun_follows(one.after) or (
            self._low(one.after) in ("of", "and", "off", "x")
            and not (one.plural or self._low(one.after) in ("and", "off"))
        ):
            return False
        if (
            not one.plural
            and self._low(one.after) not in _ENDS
            and one.after < len(self.tokens)
            and self.tokens[one.after].kind == WORD
            and self._low(one.after) not in self.w.particle | self.w.closed | {"removed", "undone"}
            and self._low(one.after) not in self.reader.verbs
        ):
            return False
        self.tool = metric(one.value)
        if not one.plural:
            self.flags.add("bare size")
        self.at = one.after + self._skip_s(one.after)
        return True

    def _behind(self, told: list[Quantity]) -> bool:
        """A count or a size behind the noun: "slider bolts x2", "carrier 2x17", "bolts, 13 mm" without the comma."""
        if told[0].kind not in ("count", "tool") or self.found[-1][1] == "side":
            return False
        after = told[-1].after
        if (
            after < len(self.tokens)
            and told[0].kind == "count"
            and (more := self.reader.quantities.read(after))
            and more[0].kind in ("thread", "tool")
        ):
            after = more[-1].after
        return not self._noun_follows(after)

    def _take_quantity(self, one: Quantity, rest: list[Quantity]) -> bool:
        if one.kind == "count":
            self.count = int(one.value)
        elif one.kind == "tool" and self.tool is None:
            self.tool = one.value
            self.size_ends = one.after + self._skip_s(one.after) if not self.found else 0
        elif one.kind == "thread":
            self.flags.add("thread")
        elif one.kind == "number":
            return self._bare_number(one)
        elif one.kind != "tool":
            return False
        self.at = one.after + self._skip_s(one.after)
        if self._low(self.at) == "of" and one.kind == "count":
            self.at += 1
        return True

    def _bare_number(self, one: Quantity) -> bool:
        """A bare number is a count, or behind a count or an article a size: "two 13 bolts", "a 17"."""
        value, after = one.value, one.after
        if self._low(one.first) == "one" and (self.article or self.flags) and one.after - one.first == 1:
            return False  # the third one
        if (
            self.count is None
            and self.tool is None
            and value >= 7
            and is_usual_size(value)
            and self._one_fastener_follows(after)
        ):
            self.tool, self.at = metric(value), after  # a single 13 nut
            return True
        if one.plural or (
            self._introduced()
            and self.article not in ("all", "both", "these", "those")
            and is_usual_size(value)
            and (self.count or value >= 5)
            and not self._counts(value)
        ):
            if self.tool or not is_usual_size(value):
                return False
            self.tool = metric(value)
            self.at = after + self._skip_s(after)
            self.at += self._low(self.at) in ("mil", "mm")
            return True
        if self.count is None and value == int(value) and 0 < value < 100 and self.tool is None:
            self.count = int(value)
            self.at = after
            if self._low(self.at) == "of":
                self._of_a_number()
            else:
                self.flags.add("bare")
            return True
        return False

    def _one_fastener_follows(self, at: int) -> bool:
        low = self._low(at)
        return self.reader.nouns.get(low) == "fastener" and not _is_plural(low) and not self.reader.is_noun(at + 1)

    def _counts(self, value: float) -> bool:
        """The four bolts: a number behind a determiner that counts what follows, unless it can only be a size."""
        return self.count is None and "determined" in self.flags and self._plural_follows()

    def _of_a_number(self) -> None:
        """Three of the four bolts, two of them."""
        self.at += 1
        if self._low(self.at) in ("the", "those", "these", "my"):
            self.at += 1
            number = self.reader.quantities.read(self.at) if self.at < len(self.tokens) else []
            if number and number[0].kind == "number":
                self.at = number[0].after

    def _skip_s(self, at: int) -> int:
        return int(self._low(at) in ("s", "'s") and at > 0 and self.tokens[at].start == self.tokens[at - 1].end)

    def _bracketed_count(self) -> bool:
        """Bolts (4), bolts (x4); bolts (13 mm); and of counted bolts (13)."""
        inside = self.tokens[self.at + 1 : self.at + 4]
        closing = next((n for n, token in enumerate(inside) if token.low == ")"), None)
        told = self.reader.quantities.read(self.at + 1) if self.found and closing else []
        if not told or told[-1].after != self.at + 1 + closing:
            return False
        figure = told[0]
        if figure.kind == "number" and (self.count or figure.value > 12) and is_usual_size(figure.value):
            figure = figure._replace(kind="tool", value=metric(figure.value))
        if figure.kind == "tool" and self.tool is None:
            self.tool = figure.value
        elif figure.kind in ("number", "count") and self.count is None:
            self.count = int(figure.value)
        else:
            return False
        self.flags.add("behind")
        self.at += closing + 2
        return True

    # -- what follows ----------------------------------------------------------------------------

    def _low(self, at: int) -> str:
        return self.tokens[at].low if at < len(self.tokens) else ""

    def _noun_follows(self, at: int | None = None) -> bool:
        at = self.at + 1 if at is None else at
        return self.reader.is_noun(at) and not (self._low(at) in self.w.particle or is_verb_at(self.reader, at))

    def _plural_follows(self) -> bool:
        after = self.reader.quantities.read(self.at)[-1].after
        for at in range(after, min(after + 4, len(self.tokens))):
            if self.reader.is_noun(at):
                return _is_plural(self._low(at)) or self._plural_at(at + 1)
            if self._low(at) in self.w.closed:
                return False
        return False

    def _plural_at(self, at: int) -> bool:
        return self.reader.is_noun(at) and _is_plural(self._low(at))

    def _noun_may_follow(self) -> bool:
        """Whether what follows can go on with a name: a noun, a side, a number, a word of kind, or a word unknown."""
        at = self.at + 1
        if at >= len(self.tokens) or self.tokens[at].kind == "sign":
            return False
        low = self._low(at)
        if self.tokens[at].kind != WORD:
            return True
        if low in ("one", "ones") or self.reader.noun(low) or low in self.w.condition:
            return low not in ("back",) or True
        if low in self.w.side or low in self.w.kind or low in ("other", "two", "three", "four", "five", "six"):
            return low not in ("back", "left")
        return (
            low not in self.w.closed
            and low not in self.w.pronoun
            and low not in self.reader.verbs
            and low not in self.w.determiner
        ) or low in ("the", "my")

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
            words = tuple(_as_named(word) for word, _ in self.found)
            return replace(self._named(words, kind=""), pronoun=low, flags=self._flags() | {"side only"})
        if any(what in ("noun", "unknown") for _, what in self.found):
            if self.size_ends and (self.cut or kind_of([word for word, _ in self.found]) in _NOT_TURNED):
                self.at, self.found = self.size_ends, []
                return self._named((), kind="")
            return self._named(tuple(_as_named(word) for word, _ in self.found))
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

    def _flags(self) -> frozenset[str]:
        plural = bool(self.found) and _is_plural(self.found[-1][0].lower())
        return frozenset(self.flags | ({"plural"} if plural or (self.count or 1) > 1 else set()))

    def _named(self, words: tuple[str, ...], kind: str | None = None) -> Phrase:
        told = kind_of(words) if kind is None else kind
        if told == "electric" and words[-1].lower() in ("plug", "plugs") and (self.tool or "thread" in self.flags):
            told = "fastener"  # a 17 mm plug
        if words == ("key",) and not self.tool:
            told = "shop"  # that of the ignition
        tool = self.tool or (_driver(words) if told == "fastener" else None)
        if tool and words and words[-1].lower() == "allens" and tool.endswith(" mm"):
            tool = f"{tool} hex"
        return Phrase(self.first, self.at, words, told, self.count, tool, "", self._flags())


_ENDS_OF_A_CAR = frozenset("front rear back left right nose tail side".split())
_LIFTED = frozenset("jack lift raise lower jacked lifted raised lowered".split())
_TOOLS = frozenset(
    "screwdriver hammer mallet spanner wrench ratchet socket puller crowbar chisel hacksaw grinder splitter extractor "
    "knife stubby prybar pry-bar breaker-bar torch heat-gun syringe multimeter".split()
)
_THEM = ("them", "those", "em", "'em", "these")
_PAIRED = frozenset("pliers grips snips cutters tweezers".split())
_NOT_TURNED = frozenset(("part", "lid", "battery", "belt", "fluid", "car", "prop", "put in"))
_ENDS = frozenset((",", ".", ";", ")", ":", ""))
_PLURAL_BEFORE = frozenset(
    "wipers brakes driver's drivers trims brakes gears mass glass cross chassis lens bus".split()
)
_NEVER_PLURAL = frozenset(
    "chassis lens glass mass cross boss bus gas abs ths pas axles-free harness press trans this "
    "across pas brass".split()
)


_DRIVERS = {
    **dict.fromkeys(
        "cross-heads crossheads pozis phillipses cross-head crosshead cross-headed phillips philips pozi pozidriv "
        "pozidrive".split(),
        "cross-head",
    ),
    "allens": "hex key",
    "torxes": "Torx",
    **dict.fromkeys(("slotted", "flat-head", "flathead", "slot-head"), "flat screwdriver"),
}


def _driver(words: Sequence[str]) -> str | None:
    """What a screw's own head says of its driver."""
    return next((_DRIVERS[word.lower()] for word in words if word.lower() in _DRIVERS), None)


def _is_plural(low: str) -> bool:
    return (
        low.endswith("s")
        and low not in _NEVER_PLURAL
        and not low.endswith(("ss", "us", "is"))
        and lexicon.singular(low) != low
    )


def _as_named(word: str) -> str:
    """A word as it stands in a name: small letters, but for abbreviations and codes."""
    return word if word.isupper() and len(word) <= 5 else word.lower()
