"""Whether a word that may be verb or noun is a verb where it stands, by what stands on either side of it."""

from collections.abc import Sequence

from putback.capture import lexicon
from putback.capture.tokens import NUMBER, WORD, Token

_ACTORS = frozenset(
    "i we you they i'll we'll you'll i'm ill im to don't dont didn't didnt gonna let's lets i've we've will please can "
    "could would must should and-i".split()
)
_OBJECTS = frozenset(
    "the it them that those these this my everything each both all em 'em 'er her his its your our".split()
)
_ARTICLES = ("a", "an", "the", "my")
_STATES = ("is", "are", "was", "were", "be", "been", "'s", "got", "getting")
# Said as an order without an article more often than the others: drain coolant, lift bonnet.
_ORDERS = frozenset("drain lift raise fill bleed jack support press tap loosen hang pull push fit lower".split())
_STAY = frozenset(
    "on in alone loose attached connected hanging it them the that everything both all where as plugged joined open "
    "off out there".split()
)
_CARRIED = frozenset("engine subframe car van gearbox cradle vehicle truck transmission jack trailer axle".split())


def is_verb_at(reader, at: int) -> bool:
    """Whether a word is a verb where it stands.

    Parameters
    ----------
    reader : PhraseReader
    at : int
        The word's token
    """
    return _Reading(reader, at).is_verb()


class _Reading:
    """A word with its neighbours."""

    def __init__(self, reader, at: int):
        self.tokens, self.w, self.reader, self.at = reader.tokens, reader.words, reader, at
        self.low = self.tokens[at].low
        self.verb = reader.verbs.get(self.low)
        self.before, self.after = _word(self.tokens, at - 1), _word(self.tokens, at + 1)
        self.next = _word(self.tokens, at + 2)

    def is_verb(self) -> bool:
        if self.verb is None:
            return False
        if self._is_pair() and self.before not in _ACTORS:
            return False
        if special := _SPECIAL.get(self.low):
            return special(self)
        if self.low in self.w.condition:
            return self._condition()
        if not (self.reader.is_noun(self.at) or self.low in self.w.kind or self.low in self.w.side):
            return not (self.verb.forms == {lexicon.BASE} and self.before in _ARTICLES)
        if self.verb.forms == {lexicon.THIRD}:
            return self._third()
        return self._score() > 0

    def _score(self) -> float:
        return self._by_what_is_ahead() + self._by_what_follows()

    def _by_what_is_ahead(self) -> float:
        before, forms = self.before, self.verb.forms
        if before in _ACTORS:
            return 3.0
        if before in ("then", "and", "now", "just", "or", "so") or not before:
            return 0.5
        if before in ("tight", "snug", "loose", "home", "off", "out", "on", "undone"):
            return 0.5  # another clause ends
        if before in _STATES:
            return 2.0 if forms & {lexicon.PARTICIPLE} else -2.0
        if before in self.w.determiner or before in self.w.condition or before in self.w.side or before in self.w.kind:
            return -4.0
        if self.tokens[self.at - 1].kind == NUMBER or before in _NUMBERS:
            return -4.0
        if before in self.w.preposition and before not in self.w.particle:
            return -3.0
        if self.reader.noun(before):
            return 0.5 if forms & {lexicon.PARTICIPLE} and not self.reader.noun(self.after) else -2.5
        return 0.0

    def _by_what_follows(self) -> float:
        after = self.after
        if after in _OBJECTS or after in self.w.determiner:
            return 3.0
        if self._is_pair():
            return -5.0
        if after in self.w.particle:
            return self._by_particle()
        if self.reader.noun(after) or after in self.w.kind or after in self.w.side or after in self.w.condition:
            return 1.0 if self.low in _ORDERS else -1.0
        return -1.0

    def _is_pair(self) -> bool:
        return (self.low, self.after) in lexicon.pairs() or (self.low, lexicon.singular(self.after)) in lexicon.pairs()

    def _by_particle(self) -> float:
        """Plug in the sensor; but: plug in, clip on."""
        frame = lexicon.frames()[self.verb.lemma].get(self.after)
        if frame is None or frame.sense == "none":
            return -2.0
        if self.next in _OBJECTS:
            side = _word(self.tokens, self.at + 4) in self.w.side | {"end"}
            return -1.0 if side and self.after == "in" else 2.5
        if self.low in _ORDERS and self.low not in ("tap", "press", "support"):
            return 0.5
        return -1.5

    def _third(self) -> bool:
        """Wheel drops out; but: two screws in."""
        before = self.before
        if self.reader.nouns.get(self.low) in ("fastener", "clamp", "electric", "line", "catch"):
            return False
        ahead = bool(before) and (before not in self.w.closed or before == "just") and before not in self.w.determiner
        plural = before.endswith("s") and lexicon.singular(before) != before
        return ahead and not plural and before not in _NUMBERS and self.after in self.w.particle

    def _condition(self) -> bool:
        """Cracked it loose; one clip broken; but: the broken clip."""
        if self.low == "cracked" and self.before not in (*_STATES, *_ARTICLES) and not self.reader.noun(self.after):
            return True
        if self.reader.noun(self.before) and self.after in ("", "and", "but", "so", "order"):
            return bool(self.verb.forms & {lexicon.PARTICIPLE})
        loose = self.after in ("off", "loose", "free", "open")
        return loose or (self.after in ("the", "it", "them", "that", "those") and self.before != "the")

    # -- words of many meanings ------------------------------------------------------------------

    def left(self) -> bool:
        """Left on, I left it."""
        return self.after in _STAY or self.before in ("i", "we", "i've", "is", "are", "was", "were")

    def back(self) -> bool:
        """Back it off."""
        soon = any(token.low in ("off", "out") for token in self.tokens[self.at + 1 : self.at + 6])
        if self.after in ("it", "them", "the", "that", "those", "each"):
            return soon
        return self.after == "off" and self.next in self.w.determiner

    def ground(self) -> bool:
        """Ground it off."""
        return self.after in ("it", "them", "off", "out")

    def lower(self) -> bool:
        """Lower it; lower engine; but: lower bolt."""
        if self.after in ("the", "it", "them", "that", "her", "my", "down"):
            return self.before not in self.w.determiner
        begins = self.before in ("", "then", "and", "to", "i", "we")
        return begins and lexicon.singular(self.after) in _CARRIED


_SPECIAL = {"left": _Reading.left, "back": _Reading.back, "ground": _Reading.ground, "lower": _Reading.lower}
_NUMBERS = frozenset("one two three four five six seven eight nine ten eleven twelve".split())


def _word(tokens: Sequence[Token], at: int) -> str:
    """The word at a token; "" where none stands there."""
    return tokens[at].low if 0 <= at < len(tokens) and tokens[at].kind == WORD else ""
