"""What has been talked about: the things of a note, and which of them a pronoun means."""

from collections.abc import Sequence
from dataclasses import dataclass

from putback.capture import lexicon
from putback.capture.names import SIDES, likeness, same_head, without_sides
from putback.capture.phrases import Phrase, kind_of

RECENT = 40  # things that a pronoun may mean
NEAR = 4  # sentences within which fasteners are still the ones that a number means
_NEVER_MEANT = ("car", "tool", "shop", "put in")
_FASTENERS = ("fastener", "clamp")
FEW = 20  # things of one head that a name is held against, the last ones


OFF_NOW = ("off now",)  # preferred is whatever stands off
OFF_STATES = ("remove", "set aside", "unplug", "lower")


@dataclass(eq=False)
class Thing:
    """A thing of the note, as it was last named.

    `state` is the last action; `tool`, `start` and `after` belong to a description that is not yet used, -1 where there
    is none; `told_at` is the number of the sentence that named it last, `last_event` that of its last event, `base` the
    things that it is one of; `new` tells that a new one was spoken of.
    """

    number: int
    words: tuple[str, ...]
    kind: str
    plural: bool = False
    state: str = ""
    count: int | None = None
    tool: str | None = None
    told_at: int = 0
    start: int = -1
    after: int = -1
    last_event: int = -1
    base: "Thing | None" = None
    new: bool = False

    @property
    def name(self) -> str:
        return " ".join(self.words)

    @property
    def head(self) -> str:
        return lexicon.singular(self.words[-1].lower()) if self.words else ""


class Memory:
    """Things in the order in which they were last talked about."""

    def __init__(self):
        self.things: list[Thing] = []
        self.by_head: dict[str, list[Thing]] = {}
        self.alike: dict[str, list[str]] = {}  # heads that may mean the same, for each head
        self.heads_like: dict[str, list[str]] = {}  # by their first and by their last letter
        self.recent: list[Thing] = []  # the last one last
        self.sentence = 0
        self.corrected = -9  # the sentence in which the author last put something right

    def new(self, words: tuple[str, ...], kind: str, plural: bool) -> Thing:
        """A thing that was not talked about before."""
        return self._add(Thing(len(self.things), words, kind, plural, told_at=self.sentence))

    def _add(self, thing: Thing) -> Thing:
        self.things.append(thing)
        if thing.head not in self.by_head:
            self._add_head(thing.head)
        self.by_head[thing.head].append(thing)
        self.touch(thing)
        return thing

    def _add_head(self, head: str) -> None:
        self.by_head[head] = []
        for other in (alike := self._alike(head)):
            self.alike[other].append(head)
        self.alike[head] = [*alike, head]
        for letter in {head[:1], f"-{head[-1:]}"}:
            self.heads_like.setdefault(letter, []).append(head)

    def _alike(self, head: str) -> list[str]:
        """The heads that may mean the same: they begin or end with the same letter."""
        near = dict.fromkeys((*self.heads_like.get(head[:1], ()), *self.heads_like.get(f"-{head[-1:]}", ())))
        return [other for other in near if same_head(other, head)]

    def is_name(self, words: tuple[str, ...]) -> bool:
        """Whether something was called so; words in small letters."""
        things = self.by_head.get(lexicon.singular(words[-1]), ())
        return any(tuple(map(str.lower, thing.words)) == words for thing in things[-FEW:])

    def _candidates(self, head: str) -> list[Thing]:
        """Things whose head may be the same, the last ones first."""
        heads = self.alike.get(head) or self._alike(head)
        found = [thing for one in heads for thing in self.by_head[one][-FEW:]]
        return sorted(found, key=lambda thing: -thing.number)

    def touch(self, thing: Thing) -> None:
        """Talk about a thing."""
        if thing in self.recent[-12:]:
            self.recent.remove(thing)
        self.recent.append(thing)
        del self.recent[:-RECENT]
        thing.told_at = self.sentence

    def known(self, words: tuple[str, ...], kind: str, count: int | None, plural: bool = False) -> Thing | None:
        """The thing that a name means, if it was talked about: the likest, of those alike the last."""
        name = " ".join(words)
        best, best_score = None, 0.0
        for age, thing in enumerate(self._candidates(lexicon.singular(words[-1].lower()) if words else "")):
            score = likeness(name, thing.name)
            if score < 0.5 or (kind == "fastener" and not self._same_fasteners(words, thing, count, score)):
                continue
            if not plural and thing.plural and len(words) > len(thing.words):
                continue  # the heater plug is none of "the plugs"
            if plural and not thing.plural and len(words) < len(thing.words):
                continue
            score += 0.6 * (len(words) == 1 and self._is_spoken_of(thing))
            score += 0.05 * bool(count and thing.count == count) - 0.05 * (plural != thing.plural) - 0.0005 * age
            if score > best_score:
                best, best_score = thing, score
        return best

    def _is_spoken_of(self, thing: Thing) -> bool:
        """Whether a bare noun means a thing that was told by its full name just now."""
        return len(thing.words) > 1 and self.sentence - thing.told_at <= 1 and thing in self.recent[-3:]

    def _same_fasteners(self, words: Sequence[str], thing: Thing, count: int | None, score: float) -> bool:
        """A bare "bolts" means those talked about just now; "carrier bolts" any carrier bolts."""
        put_right = thing.last_event < 0 and 0 < self.sentence - self.corrected <= 1
        if count and thing.count and count > thing.count and not put_right:
            return False
        if put_right and thing in self.recent[-6:]:
            return True
        if len(words) > 1 and score >= 0.9:
            return True
        return (
            thing in self.recent[-5:]
            and self.sentence - thing.told_at <= 2
            and not (count and thing.count and count != thing.count)
        )

    # -- pronouns --------------------------------------------------------------------------------

    def meant(self, phrase: Phrase, preferred: Sequence[str] = ()) -> Thing | None:
        """The thing that a pronoun means, or None.

        Parameters
        ----------
        phrase : Phrase
        preferred : sequence of str
            Classes that what is done to it makes likely
        """
        if preferred == OFF_NOW:
            off = [thing for thing in self.recent[-8:] if thing.state in OFF_STATES and thing.kind not in _FASTENERS]
            if off and phrase.pronoun == "it" and not phrase.words:
                return off[-1]
        elif preferred and not phrase.words and phrase.pronoun in ("it", "this", "that", "them", "those", "they"):
            plural = phrase.pronoun in ("them", "those", "they")
            near = [
                thing
                for thing in self.recent[-4:]
                if thing.kind in preferred and self.sentence - thing.told_at <= 2 and thing.plural == plural
            ]
            if near:
                return near[-1]
        if phrase.words or phrase.pronoun in ("one", "ones", "other"):
            return self._one(phrase)
        if phrase.pronoun in ("it", "this", "that"):
            return self._last(lambda thing: not thing.plural) or self._last(lambda thing: True)
        if phrase.pronoun in ("they", "them", "those", "these", "both") or phrase.count:
            return self._several(phrase, preferred)
        return None

    def _last(self, fits) -> Thing | None:
        return next(
            (thing for thing in reversed(self.recent[-8:]) if thing.kind not in _NEVER_MEANT and fits(thing)),
            None,
        )

    def _several(self, phrase: Phrase, preferred: Sequence[str] = ()) -> Thing | None:
        """They, all four, the two of them: fasteners first, those of that number, those of just now."""
        told = [thing for thing in reversed(self.recent[-10:]) if thing.plural and thing.kind not in _NEVER_MEANT]
        near = [thing for thing in told if self.sentence - thing.told_at <= NEAR]
        if not phrase.count:
            return next(iter(near or told), None) or self._last(lambda thing: True)
        likely = [thing for thing in near if thing.kind in preferred]
        fasteners = [thing for thing in near if thing.kind in _FASTENERS]
        for group in (likely, fasteners, near, told):
            exact = [thing for thing in group if thing.count == phrase.count]
            enough = [thing for thing in group if (thing.count or 99) >= phrase.count or "all" in phrase.flags]
            if exact or enough:
                return (exact or enough)[0]
        return None

    def _one(self, phrase: Phrase) -> Thing | None:
        """The other one, the lower one: a thing of its own, named after the last."""
        if "new" in phrase.flags and not phrase.words and not phrase.count:
            off = [one for one in reversed(self.recent) if one.state == "remove" and one.kind not in _FASTENERS]
            if off and phrase.pronoun == "one":
                return off[0]
        named = next(
            (
                thing
                for word in phrase.words
                for thing in reversed(self.things[-60:])
                if word.lower() in (one.lower() for one in thing.words[:-1])
            ),
            None,
        )
        if named is not None and not SIDES & {word.lower() for word in phrase.words}:
            return named
        base = self._last(lambda thing: bool(thing.words) and thing.kind in ("fastener", "clamp")) or self._last(
            lambda thing: bool(thing.words)
        )
        near = self._last(lambda thing: bool(thing.words))
        several = [one for one in reversed(self.recent[-10:]) if one.plural and self.sentence - one.told_at <= NEAR]
        several = [one for one in several if one.kind in _FASTENERS] or [
            one for one in several if one.kind not in _NEVER_MEANT
        ]
        if several:
            base = several[0]
        elif near is not None and base is not None and near.told_at > base.told_at:
            base = near
        if base is None:
            return None
        sides = tuple(word for word in phrase.words)
        words = sides + without_sides(base.words)
        return (
            self.known(words, base.kind, phrase.count)
            if sides and self._exact(words)
            else self._sibling(words, base, phrase)
        )

    def _exact(self, words: tuple[str, ...]) -> bool:
        head = lexicon.singular(words[-1].lower()) if words else ""
        return any(likeness(" ".join(words), thing.name) > 0.9 for thing in self._candidates(head))

    def _sibling(self, words: tuple[str, ...], base: Thing, phrase: Phrase) -> Thing:
        plural = bool(phrase.count and phrase.count > 1) or phrase.pronoun == "ones" or "plural" in phrase.flags
        if not plural and words:
            words = (*words[:-1], lexicon.singular(words[-1]))
        thing = Thing(len(self.things), words, kind_of(words), plural, count=phrase.count, told_at=self.sentence)
        thing.base = base
        if base.start >= 0:
            thing.tool, thing.start, thing.after = base.tool, base.start, base.after
        return self._add(thing)
