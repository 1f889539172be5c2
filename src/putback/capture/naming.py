"""One noun phrase on its way: what was read of it, and what follows."""

from functools import cache

from putback.capture import lexicon
from putback.capture.phrases import is_plural
from putback.capture.tokens import WORD, Token
from putback.capture.word_classes import is_verb_at

_CLOSED = (
    "subject", "preposition", "copula", "conjunction", "subordinator", "modal", "negation", "filler", "particle",
)  # fmt: skip
_PAIRED = frozenset("pliers grips snips cutters tweezers".split())
_PLURAL_BEFORE = frozenset(
    "wipers brakes driver's drivers trims brakes gears mass glass cross chassis lens bus".split()
)


class SmallWords:
    """Sets of small words, looked up once."""

    def __init__(self):
        told = lexicon.words()
        self.determiner, self.pronoun, self.side = told["determiner"], told["pronoun"], told["side"]
        self.kind, self.condition, self.new, self.reused = told["kind"], told["condition"], told["new"], told["reused"]
        self.particle, self.preposition = told["particle"], told["preposition"]
        self.closed = frozenset().union(*(told[name] for name in _CLOSED))


@cache
def small_words() -> SmallWords:
    return SmallWords()


class Naming:
    """What was read of a noun phrase.

    Parameters
    ----------
    reader : PhraseReader
    at : int
        The token where it begins
    """

    def __init__(self, reader, at: int):
        self.reader, self.w, self.tokens = reader, reader.words, reader.tokens
        self.first = self.at = at
        self.found: list[tuple[str, str]] = []  # words with what they are: noun, side, kind, unknown
        self.count: int | None = None
        self.tool: str | None = None
        self.flags: set[str] = set()
        self.article = ""
        self.size_ends = 0  # where a size ahead of the nouns ends
        self.cut = False  # whether that size belongs to what was said before

    def _low(self, at: int) -> str:
        return self.tokens[at].low if at < len(self.tokens) else ""

    def _noun_follows(self, at: int | None = None) -> bool:
        at = self.at + 1 if at is None else at
        return self.reader.is_noun(at) and not (self._low(at) in self.w.particle or is_verb_at(self.reader, at))

    def _plural_follows(self) -> bool:
        after = self.reader.quantities.read(self.at)[-1].after
        for at in range(after, min(after + 4, len(self.tokens))):
            if self.reader.is_noun(at):
                return is_plural(self._low(at)) or self._plural_at(at + 1)
            if self._low(at) in self.w.closed:
                return False
        return False

    def _plural_at(self, at: int) -> bool:
        return self.reader.is_noun(at) and is_plural(self._low(at))

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

    def _introduced(self) -> bool:
        return "definite" in self.flags or "determined" in self.flags or self.count is not None or self.tool is not None

    def _take(self, token: Token, what: str) -> bool:
        self.found.append((token.text, what))
        self.at += 1
        return True

    def _ended(self) -> bool:
        word, what = self.found[-1]
        low = word.lower()
        return what == "noun" and (low in _PAIRED or (is_plural(low) and low not in _PLURAL_BEFORE))

    def _after_preposition(self) -> bool:
        return self.first > 0 and self._low(self.first - 1) in ("on", "at", "in", "to", "from")

    def _skip_s(self, at: int) -> int:
        return int(self._low(at) in ("s", "'s") and at > 0 and self.tokens[at].start == self.tokens[at - 1].end)

    def _counts(self, value: float) -> bool:
        """The four bolts: a number behind a determiner that counts what follows, unless it can only be a size."""
        return self.count is None and "determined" in self.flags and self._plural_follows()
