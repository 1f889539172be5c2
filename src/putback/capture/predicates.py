"""The predicates of a sentence: verbs with their particles, and particles that say alone what became of a thing."""

from dataclasses import dataclass, field

from putback.capture import lexicon
from putback.capture.chunks import (
    COMMA,
    CONJ,
    COPULA,
    FILLER,
    MODAL,
    NOT,
    NP,
    OTHER,
    PARTICLE,
    PREP,
    QUANTITY,
    STOP,
    SUBJECT,
    VERB,
    Chunk,
)
from putback.capture.particles import KEPT, MANNER, Particles

LEFT, RIGHT = "left", "right"  # on which side a predicate takes its things
# What a particle says by itself: "wheel off", "hose back on".
_STATIVE = {
    "off": "off", "out": "out", "apart": "off", "undone": "undo", "on": "on", "in": "in", "home": "in",
    "together": "on", "over": "on", "through": "in", "loose": "loosen", "slack": "loosen", "aside": "aside",
    "away": "off", "up": "raise", "down": "down", "tight": "tighten", "snug": "tighten", "feel": "tighten",
    "by hand": "start", "open": "open", "closed": "close", "shut": "close", "back": "on", "free": "off",
}  # fmt: skip
_WHERE = ("under", "behind", "inside", "beside", "near", "beneath", "below", "underneath", "between", "along")
# Verbs that only help another one: needed to undo, tried undoing.
_HELPERS = frozenset(
    "need want try manage keep start stop finish avoid help forget remember have get like begin go come".split()
)
_I_WORDS = frozenset("i'm i've we've we're you've i'll we'll i'd we'd let's lets you'll ill im ive".split())
_PASSIVE = frozenset((lexicon.PAST, lexicon.PARTICIPLE))


@dataclass
class Predicate:
    """A verb or a particle that says what was done; the places are those of chunks.

    `start` is the first chunk of what belongs to it (subject, helpers), `end` stands behind the verb and the particles
    beside it, `sides` scores the sides it may take its things from, `needs` is the side chosen.
    """

    start: int
    at: int
    end: int
    sense: str
    lemma: str
    particle: str
    sides: dict[str, float] = field(default_factory=dict)
    needs: str = ""
    particle_at: int | None = None
    particle_end: int | None = None
    helper: str = ""
    manner: list[str] = field(default_factory=list)

    @property
    def reach(self) -> int:
        """The chunk behind its verb and its particle."""
        return max(self.end, self.at + 1)


class Predicates(Particles):
    """Finds the predicates of one sentence.

    Parameters
    ----------
    chunks : sequence of Chunk
    """

    def find(self) -> list[Predicate]:
        """The predicates in their order."""
        found: list[Predicate] = []
        for at, chunk in enumerate(self.chunks):
            if at in self.owned | self.swallowed:
                continue
            if chunk.kind == VERB and self._gets_a_torque(at):
                self.owned.add(at)
            elif chunk.kind == VERB and self._lets_go(at):
                found.append(self._let_go(at))
            elif chunk.kind == VERB and self._sums_up(at):
                self.owned.add(at)
            elif chunk.kind == VERB and not self.only_helps(at):
                found.append(self._verb(at, found[-1] if found else None))
            elif chunk.kind == PARTICLE and not self._turned_round(at) and (one := self._particle(at)):
                found.append(one)
        return found

    def _gets_a_torque(self, at: int) -> bool:
        """The anchor bolt gets 30 foot-pounds."""
        following = self.chunks[at + 1] if at + 1 < len(self.chunks) else None
        if self.chunks[at].value.lemma not in ("get", "take") or following is None or following.kind != QUANTITY:
            return False
        return following.value.kind == "torque" and not self.has_subject(at)

    def _sums_up(self, at: int) -> bool:
        """Four screws each, and that makes sixteen."""
        if self.chunks[at].value.lemma != "make" or not 0 < at < len(self.chunks) - 1:
            return False
        before, following = self.chunks[at - 1], self.chunks[at + 1]
        sums = before.value in ("that", "which") or (before.kind == NP and before.value.pronoun == "that")
        return sums and following.kind == NP and following.value.count is not None

    # -- verbs -----------------------------------------------------------------------------------

    def _lets_go(self, at: int) -> bool:
        following = self.chunks[at + 1] if at + 1 < len(self.chunks) else None
        if self.chunks[at].value.lemma != "let" or following is None or following.kind != VERB:
            return False
        return following.value.lemma in ("go", "burp")

    def _let_go(self, at: int) -> Predicate:
        """Clips let go; and let it burp."""
        self.owned.add(at + 1)
        one = Predicate(self._start(at), at, at + 2, "release", "release", "")
        ahead = at > 0 and self.chunks[at - 1].kind == NP
        one.sides = {LEFT: 0.0} if ahead else {RIGHT: 0.0}
        return one

    def only_helps(self, at: int) -> bool:
        """Whether a verb leads to another one: "need to undo", "tried undoing"."""
        lemma = self.chunks[at].value.lemma
        if lemma not in _HELPERS:
            return False
        n = at + 1
        while n < len(self.chunks) and self.chunks[n].kind in (FILLER, NOT, OTHER):
            n += 1
        if n >= len(self.chunks) or self.chunks[n].kind != VERB:
            return False
        to = any(chunk.value == "to" for chunk in self.chunks[at + 1 : n])
        forms = self.chunks[n].value.forms
        done = lemma in ("have", "get") and bool(forms & _PASSIVE)
        return to or lexicon.ING in forms or done or lemma == "help"

    def _verb(self, at: int, before: Predicate | None) -> Predicate:
        verb = self.chunks[at].value
        frames = self.frames[verb.lemma]
        particle, particle_at, particle_end = self._its_particle(at, verb.lemma, frames)
        if verb.lemma in KEPT:
            self._kept(at)
        if verb.lemma == "drop" and particle == "in" and verb.forms == {lexicon.THIRD} and self._leads(particle_at):
            particle = ""  # it drops in your lap
        frame = frames.get(particle or ".") or frames.get(".")
        sense = "leave" if verb.lemma in KEPT else frame.sense if frame else "none"
        beside = particle_at is not None and particle_at > at and self._only_small(at + 1, particle_at)
        end = particle_end if beside else at + 1
        one = Predicate(self._start(at), at, end, sense, verb.lemma, particle)
        one.particle_at, one.particle_end = particle_at, particle_end
        one.sides = self._sides(verb, at, bool(frame and frame.from_before), beside)
        one.helper = self._helper(one.start, at, before)
        one.manner = self.manner(max(end, particle_end or 0))
        return one

    def _kept(self, at: int) -> None:
        """Stays connected, left plugged in: the second verb belongs to the first."""
        for n in range(at + 1, min(at + 4, len(self.chunks))):
            if self.chunks[n].kind in (VERB, PARTICLE):
                self.owned.add(n)
            elif self.chunks[n].kind not in (NP, FILLER, OTHER):
                return

    def _helper(self, start: int, at: int, before: Predicate | None) -> str:
        """What the mood of a verb hangs on: needed to undo it, wants the filter doing."""
        inside = next((c.value.lemma for c in self.chunks[start:at] if c.kind == VERB), "")
        if inside or before is None or before.lemma not in ("need", "want"):
            return inside
        done = self.chunks[at].value.forms & {lexicon.PARTICIPLE, lexicon.ING}
        apart = any(chunk.kind in (COMMA, CONJ, STOP, SUBJECT) for chunk in self.chunks[before.end : at])
        return before.lemma if done and not apart else ""

    # -- sides -----------------------------------------------------------------------------------

    def _sides(self, verb: lexicon.Verb, at: int, from_before: bool, beside: bool) -> dict[str, float]:
        """The sides that a verb may take its things from, each with a score."""
        passive = bool(verb.forms & _PASSIVE)
        if passive and at > 2 and self.chunks[at - 1].kind == CONJ and self._was_passive(at - 2):
            return {LEFT: 0.0}
        if self.has_copula(at):
            return {LEFT: 0.0} if passive else {RIGHT: 0.0, LEFT: -0.5}
        if self._is_let(at):
            return {LEFT: 0.0}
        if self.has_subject(at):
            return {RIGHT: 0.0, LEFT: -1.0}
        if from_before:
            return {LEFT: 0.0, RIGHT: -1.0}
        if verb.forms == {lexicon.THIRD}:
            return {LEFT: 0.0, RIGHT: -0.7}
        return self._sides_of_form(verb, at)

    def _is_let(self, at: int) -> bool:
        """Let it drain."""
        if at < 2 or self.chunks[at - 1].kind != NP or self.chunks[at - 2].kind != VERB:
            return False
        return self.chunks[at - 2].value.lemma == "let" and lexicon.BASE in self.chunks[at].value.forms

    def _sides_of_form(self, verb: lexicon.Verb, at: int) -> dict[str, float]:
        if verb.forms == {lexicon.BASE} and self._several_ahead(at):
            return {RIGHT: 0.0, LEFT: -0.3}  # trims pop off
        past, participle = lexicon.PAST in verb.forms, lexicon.PARTICIPLE in verb.forms
        if past and participle:
            return {LEFT: 0.0, RIGHT: 0.5 if self._object_follows(at) else 0.0}
        if participle:
            return {LEFT: 0.0, RIGHT: -1.5}
        if past:
            return {RIGHT: 0.0, LEFT: -2.5}
        return {RIGHT: 0.0, LEFT: -1.0 if lexicon.ING in verb.forms else -2.0}

    def _several_ahead(self, at: int) -> bool:
        before = self.chunks[at - 1] if at else None
        return before is not None and before.kind == NP and bool(before.value.words) and "plural" in before.value.flags

    def _object_follows(self, at: int) -> bool:
        """Whether a thing with a determiner, or a pronoun, stands right behind a verb."""
        following = self.chunks[at + 1] if at + 1 < len(self.chunks) else None
        if following is None or following.kind != NP:
            return False
        phrase = following.value
        return bool(phrase.pronoun and not phrase.words) or bool(phrase.flags & {"determined", "definite"})

    def _was_passive(self, at: int) -> bool:
        """Is pressed and pulled off: what is said of one verb holds for the next."""
        while at > 0 and self.chunks[at].kind in (PARTICLE, FILLER):
            at -= 1
        return self.chunks[at].kind == VERB and self.has_copula(at)

    def _start(self, at: int) -> int:
        """The first chunk of a verb with its subject and helpers."""
        while at and self._belongs_ahead(at - 1):
            at -= 1
        return at

    def _belongs_ahead(self, at: int) -> bool:
        kind = self.chunks[at].kind
        if kind in (COPULA, NOT, MODAL, SUBJECT, FILLER, OTHER):
            return True
        return kind == VERB and at not in self.owned and self.only_helps(at)

    def has_copula(self, at: int) -> bool:
        """Whether "is" stands ahead of a verb."""
        for chunk in reversed(self.chunks[max(0, at - 4) : at]):
            if chunk.kind == COPULA:
                return True
            if chunk.kind not in (FILLER, NOT, OTHER):
                return False
        return False

    def has_subject(self, at: int) -> bool:
        """Whether "I" stands ahead of a verb."""
        for chunk in reversed(self.chunks[max(0, at - 5) : at]):
            if chunk.kind == SUBJECT or (chunk.kind == FILLER and chunk.value in _I_WORDS):
                return True
            if chunk.kind not in (FILLER, MODAL, NOT, COPULA, OTHER, VERB):
                return False
        return False

    # -- particles alone -------------------------------------------------------------------------

    def _particle(self, at: int) -> Predicate | None:
        """A particle that says by itself what became of a thing: "wheel off"."""
        value, end = self._particles_from(at, None)
        if end - at > 1 and self._leads(end - 1):  # up on the stand
            value, end = self._particles_from(at, {chunk.value: 1 for chunk in self.chunks[at : end - 1]})[0], end - 1
            if self._behind_object(at):
                self.owned |= set(range(at, end))
                return None
        if value not in _STATIVE or self._says_nothing(at, end, value):
            return None
        manner = self.manner(end, objects=0) if value not in MANNER else []
        values = [chunk.value for chunk in self.chunks[at:end]]
        if value in ("loose", "slack") and ("in" in values or "on" in values):
            value, manner = "in", [*manner, "by hand"]  # all in loose
        self.owned |= set(range(at, end))
        one = Predicate(self._stative_start(at), at, end, _STATIVE[value], value, value)
        one.particle_at, one.particle_end, one.manner = at, end, manner
        one.sides = {LEFT: 0.0}
        return one

    def _stative_start(self, at: int) -> int:
        while at and self.chunks[at - 1].kind in (COPULA, FILLER, NOT, OTHER, MODAL):
            at -= 1
        return at

    def _says_nothing(self, at: int, end: int, value: str) -> bool:
        """Whether a particle only leads to a place, or tells an old state."""
        following = self.chunks[end] if end < len(self.chunks) else None
        if following is not None and following.value in ("there", "here"):
            return True
        if value in ("up", "back", "over", "in") and following is not None and following.value in _WHERE:
            return True  # up under the lip
        if value in ("slack", "loose") and following is not None and following.kind == NP and following.value.is_size:
            return True  # chain slack 35 mm
        return (end - at == 1 and self._leads(at)) or self._in_a_place(at) or self._state_of_old(at)

    def _behind_object(self, at: int) -> bool:
        """Whether a verb and its object stand right ahead: unplugged the sensor up on the rail."""
        if at < 2 or self.chunks[at - 1].kind != NP or self.chunks[at - 2].kind != VERB:
            return False
        return RIGHT in self._sides(self.chunks[at - 2].value, at - 2, False, False)

    def _in_a_place(self, at: int) -> bool:
        """Whether a particle goes with a place and with no thing: from the middle out."""
        if at and self.chunks[at - 1].kind == PREP:
            return True
        if at < 2 or self.chunks[at - 1].kind != NP or self.chunks[at - 2].kind != PREP:
            return False
        leads = self.chunks[at - 2].value in ("from", "with") and not self.chunks[at - 1].value.is_size
        return leads and not (at > 2 and self.chunks[at - 3].kind == NP)

    def _state_of_old(self, at: int) -> bool:
        """Was corroded in: a state, and no step."""
        before = self.chunks[at - 1] if at > 1 else None
        if before is None or before.kind != OTHER or not str(before.value).endswith("ed"):
            return False
        return self.chunks[at - 2].kind == COPULA
