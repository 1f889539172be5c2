"""A row of chunks as clauses: what is said of which things, with what figures."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

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
    SUB,
    SUBJECT,
    VERB,
    Chunk,
)  # fmt: skip
from putback.capture.phrases import Phrase
from putback.capture.quantities import Quantity, is_usual_size, metric

# What a particle says by itself: "wheel off", "hose back on".
_STATIVE = {
    "off": "off",
    "out": "out",
    "apart": "off",
    "undone": "undo",
    "on": "on",
    "in": "in",
    "home": "in",
    "together": "on",
    "over": "on",
    "through": "in",
    "loose": "loosen",
    "slack": "loosen",
    "aside": "aside",
    "away": "off",
    "up": "raise",
    "down": "down",
    "tight": "tighten",
    "snug": "tighten",
    "feel": "tighten",
    "by hand": "start",
    "open": "open",
    "closed": "close",
    "shut": "close",
    "back": "on",
    "free": "off",
}
# Of particles side by side the first of these counts: "back on" is on.
_ORDER = (
    "aside",
    "by hand",
    "feel",
    "off",
    "out",
    "apart",
    "undone",
    "loose",
    "slack",
    "free",
    "on",
    "in",
    "home",
    "together",
    "over",
    "up",
    "down",
    "away",
    "tight",
    "snug",
    "open",
    "closed",
    "shut",
    "through",
    "back",
)
_MANNER = frozenset(("by hand", "feel", "snug", "tight"))
_PREPOSITION_TOO = frozenset(("on", "in", "over", "through", "up", "down", "behind", "under", "back", "off", "out"))
_CONTAINERS = frozenset(
    "tray trays box bag bags bucket tub tin pot bin pocket dish bowl bench drawer vice vise jar "
    "skip container rack way "
    "bath solvent thinners hand hands mouth floor cardboard".split()
)  # fmt: skip
# Verbs that only help another one: needed to undo, tried undoing.
_HELPERS = frozenset(
    "need want try manage keep start stop finish avoid help forget remember have get like begin go come".split()
)
_KEPT = frozenset(("leave", "stay", "keep", "remain"))
_INSTRUMENTS = frozenset(("with", "using", "by", "on", "via", "w/"))
_TIMES = frozenset(("before", "until", "till", "without", "after"))
_AND = frozenset(("and", "&", "plus", "+"))
_I_WORDS = frozenset("i'm i've we've we're you've i'll we'll i'd we'd let's lets you'll ill im ive".split())


@dataclass
class Item:
    """A thing in a clause, with the figures that were said of it; `joined` by "and" with the one before it."""

    phrase: Phrase
    first: int
    after: int
    tool: str | None = None
    count: int | None = None
    torque: float | None = None
    unit: str | None = None
    angle: float | None = None
    joined: bool = False
    each: bool = False
    each_side: bool = False
    torques: list[Quantity] = field(default_factory=list)


@dataclass
class Clause:
    """One thing said: a predicate with its items.

    `first`, `after`, `head` and `head_end` count tokens; `sense` is as in verbs.txt and empty without a predicate;
    `lemma` and `particle` are the verb and its particle, both the particle where that stands alone. `places` stand
    behind a preposition (`relation`), `along` behind "with". `numbers` have no unit, and come with their tokens;
    `torques` stand ahead of any thing. `subordinate` is the word that makes the clause depend on another, `also` the
    manner (by hand, feel, snug, tight). `on_car` tells of the whole car, `in_container` of what is only laid down,
    and `copula` says what something is. `described` are things that stand beside what is done, `active` tells that the
    object stands behind the verb, `lead` is the small word ahead of the clause, `told_till` the token where somebody
    else's part begins: "... out you must be careful".
    """

    first: int
    after: int
    sense: str = ""
    lemma: str = ""
    particle: str = ""
    head: int = 0
    head_end: int = 0
    items: list[Item] = field(default_factory=list)
    places: list[Phrase] = field(default_factory=list)
    along: list[Item] = field(default_factory=list)
    tool: str | None = None
    numbers: list[tuple[int, int, float]] = field(default_factory=list)
    torques: list[Quantity] = field(default_factory=list)
    angle: float | None = None
    subordinate: str = ""
    also: list[str] = field(default_factory=list)
    on_car: bool = False
    described: list[Item] = field(default_factory=list)
    active: bool = False
    lead: str = ""
    told_till: int = 0
    in_container: bool = False
    copula: bool = False
    relation: str = ""


@dataclass
class _Predicate:
    """A verb or a particle that says what was done; the places are those of chunks."""

    start: int
    at: int
    end: int
    sense: str
    lemma: str
    particle: str
    needs: str  # left, right, either, either-left
    particle_at: int | None = None
    particle_end: int | None = None
    helper: str = ""
    manner: list[str] = field(default_factory=list)


class Clauses:
    """Parts the chunks of one sentence into clauses.

    Parameters
    ----------
    chunks : sequence of Chunk
    """

    def __init__(self, chunks: Sequence[Chunk]):
        self.chunks = list(chunks)
        self.frames = lexicon.frames()
        self.owned: set[int] = set()

    def clauses(self) -> list[Clause]:
        """The clauses in their order; what has no predicate is a clause as well."""
        return [self._clause(start, end, one) for start, end, one in self._bounds(self._predicates())]

    # -- predicates ------------------------------------------------------------------------------

    def _predicates(self) -> list[_Predicate]:
        found: list[_Predicate] = []
        for at, chunk in enumerate(self.chunks):
            if at in self.owned:
                continue
            if chunk.kind == VERB and self._lets_go(at):
                self.owned.add(at + 1)
                found.append(
                    _Predicate(
                        self._start(at), at, at + 2, "release", "release", "", "left" if self._np_ahead(at) else "right"
                    )
                )
            elif chunk.kind == VERB and not self._only_helps(at):
                found.append(self._verb(at, found[-1] if found else None))
            elif chunk.kind == PARTICLE and (one := self._particle(at)):
                found.append(one)
        return found

    def _lets_go(self, at: int) -> bool:
        follows = self.chunks[at + 1] if at + 1 < len(self.chunks) else None
        return (
            self.chunks[at].value.lemma == "let"
            and follows is not None
            and follows.kind == VERB
            and follows.value.lemma == "go"
        )

    def _np_ahead(self, at: int) -> bool:
        return at > 0 and self.chunks[at - 1].kind == NP

    def _only_helps(self, at: int) -> bool:
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
        return (
            to
            or lexicon.ING in forms
            or (lemma in ("have", "get") and bool(forms & {lexicon.PAST, lexicon.PARTICIPLE}))
            or lemma == "help"
        )

    def _verb(self, at: int, before: _Predicate | None) -> _Predicate:
        verb = self.chunks[at].value
        frames = self.frames[verb.lemma]
        particle_at = self._owned_particle(at, verb.lemma, frames)
        particle, end, particle_end = "", at + 1, None
        if particle_at is not None:
            particle, particle_end = self._particles_from(particle_at, frames if verb.lemma not in _KEPT else None)
            if particle_at > at and all(c.kind in (FILLER, OTHER) for c in self.chunks[at + 1 : particle_at]):
                end = particle_end
            self.owned |= set(range(particle_at, particle_end))
        else:
            self._swallow(at)
        if verb.lemma in _KEPT:
            self._kept(at)
        if (
            verb.lemma == "drop"
            and particle == "in"
            and verb.forms == {lexicon.THIRD}
            and self._is_preposition(particle_at)
        ):
            particle = ""  # it drops in your lap
        frame = frames.get(particle or ".") or frames.get(".")
        sense = "leave" if verb.lemma in _KEPT else frame.sense if frame else "none"
        one = _Predicate(self._start(at), at, end, sense, verb.lemma, particle, "", particle_at, particle_end)
        one.needs = self._needs(verb, at, bool(frame and frame.from_before))
        one.helper = self._helper(one.start, at, before)
        one.manner = self._manner(max(end, particle_end or 0))
        return one

    def _kept(self, at: int) -> None:
        """Stays connected, left plugged in: the second verb belongs to the first."""
        for n in range(at + 1, min(at + 4, len(self.chunks))):
            if self.chunks[n].kind in (VERB, PARTICLE):
                self.owned.add(n)
            elif self.chunks[n].kind not in (NP, FILLER, OTHER):
                return

    def _swallow(self, at: int) -> None:
        """A particle right behind a verb that does not take it leads to a place: hung on wire."""
        n = at + 1
        while n < len(self.chunks) and self.chunks[n].kind == FILLER and n < at + 2:
            n += 1
        if n < len(self.chunks) and self.chunks[n].kind == PARTICLE and self.chunks[n].value not in _MANNER:
            self.owned.add(n)

    def _helper(self, start: int, at: int, before: _Predicate | None) -> str:
        """What the mood of a verb hangs on: needed to undo it, wants the filter doing."""
        inside = next((c.value.lemma for c in self.chunks[start:at] if c.kind == VERB), "")
        if inside:
            return inside
        if (
            before is not None
            and before.lemma in ("need", "want")
            and self.chunks[at].value.forms & {lexicon.PARTICIPLE, lexicon.ING}
            and not any(chunk.kind in (COMMA, CONJ, STOP, SUBJECT) for chunk in self.chunks[before.end : at])
        ):
            return before.lemma
        return ""

    def _manner(self, at: int) -> list[str]:
        """By hand, by feel, snug: behind the verb, or behind its object."""
        found, nps = [], 0
        for n in range(at, min(at + 8, len(self.chunks))):
            chunk = self.chunks[n]
            if chunk.kind == PARTICLE and chunk.value in _MANNER:
                found.append(chunk.value)
                self.owned.add(n)
            elif chunk.kind == NP and nps == 0 and not found:
                nps += 1
            elif chunk.kind not in (FILLER, OTHER) and not (chunk.kind == CONJ and found and chunk.value in _AND):
                break
        return found

    def _owned_particle(self, at: int, lemma: str, frames: Mapping) -> int | None:
        """Where the particle of a verb stands: right behind it, or behind its object."""
        light, nps = "." not in frames, 0
        if (
            lemma in ("go", "come")
            and at > 1
            and self.chunks[at - 1].kind == NP
            and self.chunks[at - 2].kind == PARTICLE
            and self.chunks[at - 2].value in frames
        ):
            return at - 2  # in it goes
        for n in range(at + 1, min(at + 14, len(self.chunks))):
            chunk = self.chunks[n]
            if chunk.kind == PARTICLE and chunk.value not in _MANNER:
                if lemma in _KEPT:
                    return n
                if self._particles_from(n, frames)[0] in frames:
                    return n
                if nps and not light and frames["."].sense == "none" and chunk.after - chunk.first > 1:
                    return n  # set it on stands
                if nps == 0:
                    continue
                return None
            if chunk.kind == NP:
                nps += 1
            elif chunk.kind == PREP and nps and self._np_follows(n) and chunk.value not in _TIMES:
                continue
            elif chunk.kind == CONJ and nps and chunk.value in _AND and self._np_follows(n):
                if not light and self._another_predicate(n):
                    return None
            elif chunk.kind == COMMA and light and nps and self._np_follows(n) and self._list_goes_on(n):
                continue
            elif chunk.kind not in (FILLER, OTHER, QUANTITY):
                return None
        return None

    def _another_predicate(self, at: int) -> bool:
        """Whether an "and" begins another thing said: "undid the clip and pipe off"."""
        return False

    def _list_goes_on(self, at: int) -> bool:
        """Whether a list behind a comma ends in a particle without another verb."""
        joined = False
        for chunk in self.chunks[at + 1 : at + 9]:
            if chunk.kind == PARTICLE:
                return joined
            if chunk.kind not in (NP, COMMA, CONJ, FILLER, OTHER):
                return False
            joined = joined or chunk.kind == CONJ
        return False

    def _np_follows(self, at: int) -> bool:
        return at + 1 < len(self.chunks) and self.chunks[at + 1].kind == NP

    def _particles_from(self, at: int, frames: Mapping | None) -> tuple[str, int]:
        """The particle that counts among those side by side, and where they end."""
        end = at
        while (
            end < len(self.chunks)
            and self._goes_on(end)
            and not (end > at and self.chunks[end].value in _MANNER | {"aside"})
        ):
            end += 1
        values = [chunk.value for chunk in self.chunks[at:end] if chunk.kind == PARTICLE]
        known = [value for value in _ORDER if value in values and (frames is None or value in frames)]
        if frames is not None and "back" in values and "back" in frames and known[:1] in (["up"], ["down"]):
            return "back", end  # hung back up
        return (known[0] if known else values[0]), end

    def _goes_on(self, at: int) -> bool:
        """Whether a chunk is a particle, or stands between two."""
        if self.chunks[at].kind == PARTICLE:
            return True
        between = self.chunks[at].kind == FILLER or (
            self.chunks[at].kind == CONJ and self.chunks[at].value in ("and", "+", "&")
        )
        return (
            between
            and at + 1 < len(self.chunks)
            and self.chunks[at + 1].kind == PARTICLE
            and self.chunks[at + 1].value not in _MANNER
        )

    def _is_preposition(self, at: int) -> bool:
        """Whether a particle leads to a place: "on the hub"."""
        if (
            self.chunks[at].value not in _PREPOSITION_TOO
            or at + 1 >= len(self.chunks)
            or self.chunks[at].after - self.chunks[at].first > 1
        ):
            return False
        following = self.chunks[at + 1]
        if following.kind != NP:
            return following.kind == OTHER and following.value in ("the", "my", "a", "its")
        if self.chunks[at].value in ("off", "out") and "definite" in following.value.flags:
            return False
        return bool(following.value.flags & {"determined", "definite"}) or following.value.pronoun in (
            "it",
            "them",
            "that",
            "this",
            "one",
        )

    def _needs(self, verb: lexicon.Verb, at: int, from_before: bool) -> str:
        passive = bool(verb.forms & {lexicon.PAST, lexicon.PARTICIPLE})
        if passive and at > 2 and self.chunks[at - 1].kind == CONJ and self._was_passive(at - 2):
            return "left"
        if self._has_copula(at):
            return "left" if passive else "right"
        if self._has_subject(at):
            return "right"
        if from_before or verb.forms == {lexicon.THIRD}:
            return "either-left"
        return "right" if verb.forms <= {lexicon.BASE, lexicon.ING, lexicon.PAST} else "either"

    def _was_passive(self, at: int) -> bool:
        """Is pressed and pulled off: what is said of one verb holds for the next."""
        while at > 0 and self.chunks[at].kind in (PARTICLE, FILLER):
            at -= 1
        return self.chunks[at].kind == VERB and self._has_copula(at)

    def _start(self, at: int) -> int:
        """The first chunk of a verb with its subject and helpers."""
        while at and (
            self.chunks[at - 1].kind in (COPULA, NOT, MODAL, SUBJECT, FILLER, OTHER)
            or (self.chunks[at - 1].kind == VERB and at - 1 not in self.owned and self._only_helps(at - 1))
        ):
            at -= 1
        return at

    def _has_copula(self, at: int) -> bool:
        for chunk in reversed(self.chunks[max(0, at - 4) : at]):
            if chunk.kind == COPULA:
                return True
            if chunk.kind not in (FILLER, NOT, OTHER):
                return False
        return False

    def _has_subject(self, at: int) -> bool:
        for chunk in reversed(self.chunks[max(0, at - 5) : at]):
            if chunk.kind == SUBJECT or (chunk.kind == FILLER and chunk.value in _I_WORDS):
                return True
            if chunk.kind not in (FILLER, MODAL, NOT, COPULA, OTHER, VERB):
                return False
        return False

    def _particle(self, at: int) -> _Predicate | None:
        """A particle that says by itself what became of a thing: "wheel off"."""
        value, end = self._particles_from(at, None)
        if end - at > 1 and self._is_preposition(end - 1):  # up on the stand
            value, end = self._particles_from(at, {chunk.value: 1 for chunk in self.chunks[at : end - 1]})[0], end - 1
            if self._behind_object(at):
                self.owned |= set(range(at, end))
                return None
        following = self.chunks[end] if end < len(self.chunks) else None
        if following is not None and following.value in ("there", "here"):
            return None
        if value in ("slack", "loose") and following is not None and following.kind == NP and following.value.is_size:
            return None  # chain slack 35 mm
        if (end - at == 1 and self._is_preposition(at)) or value not in _STATIVE or self._in_a_place(at):
            return None
        manner = self._manner(end) if value not in _MANNER else []
        values = [chunk.value for chunk in self.chunks[at:end]]
        if value in ("loose", "slack") and ("in" in values or "on" in values):
            value, manner = "in", [*manner, "by hand"]  # all in loose
        self.owned |= set(range(at, end))
        start = at
        while start and self.chunks[start - 1].kind in (COPULA, FILLER, NOT, OTHER, MODAL):
            start -= 1
        one = _Predicate(start, at, end, _STATIVE[value], value, value, "left", at, end)
        one.manner = manner
        return one

    def _behind_object(self, at: int) -> bool:
        """Whether a verb and its object stand right ahead: unplugged the sensor up on the rail."""
        return (
            at > 1
            and self.chunks[at - 1].kind == NP
            and self.chunks[at - 2].kind == VERB
            and self._needs(self.chunks[at - 2].value, at - 2, False) in ("right", "either")
        )

    def _in_a_place(self, at: int) -> bool:
        """Whether a particle goes with a place and with no thing: from the middle out."""
        if at and self.chunks[at - 1].kind == PREP:
            return True
        return (
            at > 1
            and self.chunks[at - 1].kind == NP
            and self.chunks[at - 2].kind == PREP
            and self.chunks[at - 2].value in ("from", "with")
            and not self.chunks[at - 1].value.is_size
            and not (at > 2 and self.chunks[at - 3].kind == NP)
        ) or self._state_of_old(at)

    def _state_of_old(self, at: int) -> bool:
        """Was corroded in: a state, and no step."""
        return (
            at > 1
            and self.chunks[at - 1].kind == OTHER
            and str(self.chunks[at - 1].value).endswith("ed")
            and self.chunks[at - 2].kind == COPULA
        )

    # -- bounds ----------------------------------------------------------------------------------

    def _bounds(self, predicates: list[_Predicate]) -> list[tuple[int, int, _Predicate | None]]:
        """The chunks of each clause; what stands ahead of the first predicate's own things is a clause as well."""
        if not predicates:
            return [(0, len(self.chunks), None)] if self.chunks else []
        found: list[tuple[int, int, _Predicate | None]] = []
        self._settle(predicates[0], 0, predicates[1] if len(predicates) > 1 else None)
        start = self._first_bound(predicates[0])
        if start:
            found.append((0, start, None))
        for n, one in enumerate(predicates):
            following = predicates[n + 1] if n + 1 < len(predicates) else None
            end = len(self.chunks)
            if following:
                self._settle(
                    following, max(one.end, start), predicates[n + 2] if n + 2 < len(predicates) else None, one
                )
                end = min(max(self._bound(one, following), one.at + 1, one.particle_end or 0), following.at)
            found.append((start, end, one))
            start = end
        return found

    def _first_bound(self, one: _Predicate) -> int:
        if one.needs != "left":
            at = self._before_joints(0, one.start)
            return (
                at
                if at < one.start
                and any(chunk.kind in (COMMA, CONJ) for chunk in self.chunks[at : one.start])
                and any(chunk.kind == NP for chunk in self.chunks[:at])
                else 0
            )
        return self._before_group(
            None, 0, min(one.start, one.particle_at if one.particle_at is not None else one.start)
        )

    def _settle(
        self, one: _Predicate, start: int, following: _Predicate | None, before: _Predicate | None = None
    ) -> None:
        """Decide whether the object of a predicate that may go either way stands before or behind it."""
        left = any(self._is_object(n) for n in range(start, one.start))
        right = self._object_behind(one, following)
        taken = (
            before is not None
            and before.needs == "right"
            and sum(self._is_object(n) for n in range(before.at, one.start)) < 2
        )
        if one.needs == "either":
            one.needs = (
                "left"
                if left and not taken and not (right and self._separated(start, one.start))
                else "right"
                if right
                else "left"
            )
        elif one.needs == "either-left":
            one.needs = "left" if left or not right else "right"
        elif one.needs == "right" and not right and left and not taken:
            one.needs = "left"

    def _separated(self, start: int, end: int) -> bool:
        """Whether what stands on the left ends at a comma or an "and"."""
        kinds = [chunk.kind for chunk in self.chunks[start:end]]
        return bool(kinds) and kinds[-1] in (COMMA, STOP, CONJ, SUB)

    def _is_object(self, at: int) -> bool:
        return self.chunks[at].kind == NP and not self.chunks[at].value.is_size and not self._behind_preposition(at)

    def _behind_preposition(self, at: int) -> bool:
        before = self.chunks[at - 1] if at else None
        return before is not None and (before.kind == PREP or (before.kind == PARTICLE and at - 1 not in self.owned))

    def _object_behind(self, one: _Predicate, following: _Predicate | None) -> bool:
        if one.particle_at is not None and one.end - one.particle_at >= 2 and self._is_preposition(one.end - 1):
            return False  # hung up on a wire
        for n in range(one.end, following.start if following else len(self.chunks)):
            chunk = self.chunks[n]
            if chunk.kind == NP and not chunk.value.is_size:
                return True
            if chunk.kind not in (FILLER, OTHER, PARTICLE, NOT):
                return False
        return False

    def _bound(self, one: _Predicate, following: _Predicate) -> int:
        """Where the clause of one predicate ends and that of the next begins."""
        low = one.end
        high = following.start
        if following.particle_at is not None and following.particle_at < following.at:
            return following.particle_at
        if one.particle_end is not None and one.particle_end <= high:
            low = max(low, one.particle_end)
        if following.needs != "left":
            if (
                following.sense == "none"
                and high - 1 > low
                and self._is_subject(high - 1)
                and self._has_enough(one, high - 1)
            ):
                return high - 1  # three screws hold the motor
            return self._before_joints(low, high)
        return self._before_group(one, low, high)

    def _before_joints(self, low: int, high: int) -> int:
        """Back over the conjunctions and commas that stand before a verb."""
        while high > low and (
            self.chunks[high - 1].kind in (CONJ, COMMA, FILLER, SUB, STOP) or self.chunks[high - 1].value in _TIMES
        ):
            high -= 1
        return high

    def _before_group(self, one: _Predicate | None, low: int, high: int) -> int:
        """Before the things that belong to a predicate, which stand right ahead of it."""
        at, seen = high, False
        while at > low:
            chunk = self.chunks[at - 1]
            if chunk.kind == NP and self._behind_preposition(at - 1) and at - 2 >= low and chunk.kind == NP:
                if self.chunks[at - 2].value in _TIMES:
                    return at - 2
                if seen:
                    break
                at -= 2
                continue
            if chunk.kind == NP:
                figure = chunk.value.is_size or self._is_bare_size(at - 1)
                if seen and (self.chunks[at].kind == NP or figure) and not (figure and at - 1 == low and one is None):
                    break
                if figure and at - 1 == low and at < len(self.chunks) and self.chunks[at].kind == NP and one is None:
                    return low  # 19 x5 wheel off
                seen = seen or not figure
            elif chunk.kind == SUB or (chunk.kind == PREP and chunk.value in _TIMES):
                return at - 1
            elif (
                chunk.kind == STOP
                or (
                    chunk.kind == COMMA
                    and (
                        (chunk.value in (":", "-", "–", "—") and seen)
                        or (seen and not self._list_comma(at - 1, low, high))
                    )
                )
                or (chunk.kind == CONJ and seen and not self._list_conj(one, at - 1, low))
                or (
                    (chunk.kind == COPULA and seen)
                    or (chunk.kind == QUANTITY and seen and chunk.value.kind != "thread")
                    or chunk.kind in (SUBJECT, VERB)
                )
                or (
                    chunk.kind == FILLER
                    and seen
                    and chunk.value in ("then", "now", "theres", "next", "okay", "ok", "right", "well")
                )
            ):
                break
            at -= 1
        if not seen:
            return self._before_joints(low, high)
        if (
            one is not None
            and one.needs == "right"
            and not self._np_count(one.end, at)
            and self._np_count(at, high) == 1
            and not self._parted(at, high)
            and self._points_back(at, high)
        ):
            return self._before_joints(low, high)
        if (
            at == low
            and one is not None
            and one.needs == "right"
            and one.particle_at is None
            and self._np_count(low, high) > 1
        ):
            return self._after_first_np(low, high)
        return at

    def _is_bare_size(self, at: int) -> bool:
        """Thirteen, between commas."""
        phrase = self.chunks[at].value
        bare = not phrase.words and not phrase.pronoun and "bare" in phrase.flags and "all" not in phrase.flags
        return bare and phrase.count is not None and phrase.count >= 7 and at > 0 and self.chunks[at - 1].kind == COMMA

    def _list_comma(self, at: int, low: int, high: int) -> bool:
        """A comma between things of a list that ends in "and": the tray, the duct and the lid."""
        inside = self.chunks[at:high]
        if not any(chunk.kind == CONJ and chunk.value in _AND for chunk in inside):
            return False
        before = self.chunks[at - 1] if at > low else None
        return (
            before is not None
            and before.kind == NP
            and not before.value.is_size
            and all(chunk.kind in (NP, COMMA, CONJ) for chunk in inside)
        )

    def _list_conj(self, one: _Predicate | None, at: int, low: int) -> bool:
        """An "and" between two things of a predicate, where the one before it has what it needs."""
        if (
            self.chunks[at].value not in _AND
            or at == low
            or self.chunks[at - 1].kind != NP
            or self.chunks[at - 1].value.is_size
        ):
            return False
        if self._behind_preposition(at - 1):
            return False
        if one is None:
            return True
        if one.needs == "left":
            return True
        return one.particle_at is None and self._np_count(one.end, at) > 1

    def _points_back(self, low: int, high: int) -> bool:
        """Whether a thing is one that was spoken of: them, the nut."""
        phrase = next(self.chunks[n].value for n in range(low, high) if self._is_object(n))
        return bool(phrase.pronoun and not phrase.words) or "definite" in phrase.flags

    def _is_subject(self, at: int) -> bool:
        return self._is_object(at) and bool(self.chunks[at].value.words)

    def _has_enough(self, one: _Predicate, before: int) -> bool:
        """Whether a predicate has an object without the thing that stands next to the following verb."""
        return one.needs == "left" or self._np_count(min(one.end, before), before) > 0

    def _parted(self, low: int, high: int) -> bool:
        """Whether a comma or an "and" stands ahead of the things."""
        return low > 0 and self.chunks[low - 1].kind in (COMMA, CONJ)

    def _np_count(self, low: int, high: int) -> int:
        return sum(self._is_object(n) for n in range(low, high))

    def _after_first_np(self, low: int, high: int) -> int:
        at = low
        while at < high and self.chunks[at].kind != NP:
            at += 1
        return at + 1

    # -- one clause ------------------------------------------------------------------------------

    def _clause(self, start: int, end: int, one: _Predicate | None) -> Clause:
        clause = Clause(self.chunks[start].first, self.chunks[end - 1].after)
        if one:
            last = one.particle_end - 1 if one.particle_end and one.particle_end > one.at else one.at
            clause.sense, clause.lemma, clause.particle = one.sense, one.lemma, one.particle
            clause.head, clause.head_end = self.chunks[one.at].first, self.chunks[max(last, one.at)].after
            clause.also = list(one.manner)
            clause.subordinate = one.helper if one.helper in ("need", "want") else ""
            clause.active = one.needs == "right"
            clause.on_car = self._on_car(one)
            if self._is_purpose(one, start):
                clause.subordinate = clause.subordinate or "so that"
            progressive = self.chunks[one.at].kind == VERB and self.chunks[one.at].value.forms == {lexicon.ING}
            moving = progressive and one.sense not in ("drain", "fill", "bleed")
            if moving and self._has_copula(one.at) and not self._has_subject(one.at):
                clause.sense = "none"  # the belt was hanging
            if one.lemma == "hang" and self._is_third(one) and one.needs == "left":
                clause.sense = "none"
        clause.told_till = self._told_till(one, end) if one else clause.after
        ahead = self.chunks[start - 1] if start else None
        clause.lead = ahead.value if ahead is not None and ahead.kind in (CONJ, SUB) else ""
        clause.copula = self._has_copula(one.at) if one else any(c.kind == COPULA for c in self.chunks[start:end])
        _Filler(self, clause, one).fill(start, end)
        self._keep_one_side(clause, one)
        return clause

    def _told_till(self, one: _Predicate, end: int) -> int:
        for n in range(one.end + 1, end):
            if self.chunks[n].kind == SUBJECT and self.chunks[n - 1].kind not in (SUB, COMMA):
                return self.chunks[n].first
        return self.chunks[end - 1].after

    def _on_car(self, one: _Predicate) -> bool:
        """Up in the air, down on its wheels."""
        first, last = min(one.at, one.particle_at or one.at), max(one.end, one.particle_end or 0)
        return any(
            chunk.kind == PARTICLE and chunk.value in ("up", "down") and chunk.after - chunk.first > 1
            for chunk in self.chunks[first:last]
        )

    def _is_third(self, one: _Predicate) -> bool:
        chunk = self.chunks[one.at]
        return chunk.kind == VERB and chunk.value.forms == {lexicon.THIRD}

    def _is_purpose(self, one: _Predicate, start: int) -> bool:
        """So it goes back as it was."""
        ahead = self.chunks[max(0, start - 1) : one.at]
        so = next((n for n, chunk in enumerate(ahead) if chunk.kind == CONJ and chunk.value == "so"), None)
        if so is None or not self._is_third(one):
            return False
        return any(chunk.kind == NP and chunk.value.pronoun in ("it", "they", "that") for chunk in ahead[so:])

    def _keep_one_side(self, clause: Clause, one: _Predicate | None) -> None:
        """Items on the side that the predicate takes its object from; the others keep nothing but their place."""
        if one is None or one.needs != "right":
            return
        behind = [item for item in clause.items if item.first >= self.chunks[one.at].first]
        if behind or any(chunk.kind == SUBJECT for chunk in self.chunks[one.start : one.at]):
            clause.described += [item for item in clause.items if item not in behind]
            clause.items = behind


class _Filler:
    """Fills a clause with the things and figures of its chunks."""

    def __init__(self, told: Clauses, clause: Clause, one: _Predicate | None):
        self.told, self.clause, self.one = told, clause, one
        self.prep: str | None = None
        self.last: Item | None = None
        self.joined = self.after_comma = self.told_of = False

    def fill(self, start: int, end: int) -> None:
        for n in range(start, end):
            chunk = self.told.chunks[n]
            if chunk.kind == SUB or (chunk.kind == PREP and chunk.value in _TIMES):
                if self.one is None or n < self.one.at:
                    self.clause.subordinate = self.clause.subordinate or chunk.value
            if chunk.kind == PREP and chunk.value in _TIMES and (self.one is None or n < self.one.at):
                continue
            if chunk.value == "per" and self.last is not None and self._side_follows(n):
                self.last.each_side = True
            elif chunk.kind == PREP or chunk.kind == PARTICLE:
                self._leads(n, end)
            elif chunk.kind == NP:
                self._thing(chunk, n)
            elif chunk.kind == QUANTITY:
                self._figure(chunk.value)
            elif chunk.kind == CONJ:
                self.joined, self.prep = chunk.value in _AND, None
                self.told_of = self.told_of or (
                    chunk.value in ("so", "but") and self.one is not None and n > self.one.at
                )
            elif chunk.kind == COPULA and self.one is not None and n >= self.one.end:
                self.told_of = self.told_of or not self._is_thats(n)
            elif chunk.kind in (COMMA, STOP):
                self.joined, self.prep, self.after_comma = False, None, True
            elif self.last is not None and chunk.value in ("each", "per", "either") and self._side_follows(n):
                self.last.each_side = True
            elif chunk.value == "each" and self.last is not None:
                self.last.each = True
            elif chunk.kind not in (FILLER, OTHER):
                self.prep = None

    def _side_follows(self, n: int) -> bool:
        """Three per side, one each end."""
        following = self.told.chunks[n + 1] if n + 1 < len(self.told.chunks) else None
        return following is not None and str(following.value) in ("side", "end")

    def _is_thats(self, n: int) -> bool:
        """That's five screws: no description, but what was taken out as well."""
        before = self.told.chunks[n - 1] if n else None
        return before is not None and before.kind == NP and before.value.pronoun in ("that", "those", "these", "they")

    def _leads(self, n: int, end: int) -> None:
        """A preposition, or a particle that is one: "back in the guide"."""
        chunk, one = self.told.chunks[n], self.one
        if chunk.kind == PREP:
            self.prep = chunk.value
            return
        if one is not None and one.particle_at is not None and one.particle_at < one.at:
            return
        if n not in self.told.owned:
            self.prep = chunk.value
            return
        if one is None or n + 1 >= end or self.told.chunks[n + 1].kind != NP or chunk.value in _MANNER:
            return
        phrase = self.told.chunks[n + 1].value
        figures = (
            phrase.count is not None or phrase.tool is not None or "new" in phrase.flags or self._torque_follows(n + 2)
        )
        swallowed = one.particle_at is None or n >= (one.particle_end or 0)
        if swallowed or (
            self._has_object()
            and (
                phrase.flags & {"determined", "definite"}
                or phrase.pronoun
                or (chunk.value in ("in", "on", "over", "through", "off") and not figures and self._is_no_other(n + 2))
            )
        ):
            self.prep = "to" if not swallowed else chunk.value

    def _is_no_other(self, at: int) -> bool:
        """Whether nothing is said of the thing behind a particle; else it is another thing: caliper on bolts in."""
        chunks = self.told.chunks
        return at >= len(chunks) or chunks[at].kind not in (PARTICLE, VERB, COPULA)

    def _torque_follows(self, at: int) -> bool:
        chunks = self.told.chunks
        return at < len(chunks) and chunks[at].kind == QUANTITY and chunks[at].value.kind in ("torque", "angle")

    def _has_object(self) -> bool:
        return self.last is not None or (self.one is not None and self.one.needs == "left")

    def _thing(self, chunk: Chunk, n: int) -> None:
        item = self._item(chunk, n)
        if item is not None:
            self.last = item
        self.joined = False
        self.prep = None
        self.after_comma = False

    def _item(self, chunk: Chunk, n: int) -> Item | None:
        phrase, clause = chunk.value, self.clause
        if self.told_of and (phrase.words or not phrase.tool):
            return self._beside(chunk, phrase)
        if phrase.pronoun == "both" and self.last is not None and not self.prep and "plural" in self.last.phrase.flags:
            self.last.count, self.last.after = self.last.count or 2, chunk.after
            return self.last
        if phrase.pronoun in ("them", "those", "these") and phrase.count and self.last is not None and not self.prep:
            self.last.count = self.last.count or (phrase.count if self.last.phrase.count is None else None)
            return self.last
        if self._is_instrument(phrase):
            tool = phrase.tool or tool_name(phrase)
            if self.last is not None and self.last in clause.items[1:] and not self.last.joined:
                self.last.tool, self.last.after = self.last.tool or tool, chunk.after
            else:
                clause.tool = clause.tool or tool
            return None
        if self.prep == "with" and phrase.words and not phrase.kind == "tool":
            clause.along.append(Item(phrase, chunk.first, chunk.after))
            self.last = clause.along[-1]
            return self.last
        if self.prep is not None and self.prep != "plus":
            return self._place(chunk, phrase)
        if (
            phrase.pronoun in ("one", "ones")
            and not phrase.words
            and self.last is not None
            and "new" in phrase.flags
            and not self.joined
            and not self.after_comma
        ):
            self.last.phrase = replace(self.last.phrase, flags=self.last.phrase.flags | {"new"})
            return self.last
        if not phrase.words and (phrase.tool or phrase.count is not None):
            if (found := self._bare(chunk, phrase, n)) is not None:
                return found
        item = Item(phrase, chunk.first, chunk.after, joined=self.joined)
        clause.items.append(item)
        return item

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

    def _is_instrument(self, phrase: Phrase) -> bool:
        if self.prep not in _INSTRUMENTS or (self.prep == "on" and phrase.kind == "tool"):
            return False
        if phrase.tool and phrase.pronoun == "one":
            return True  # with a long cross-head
        if (
            self.prep in ("with", "using")
            and "indefinite" in phrase.flags
            and phrase.words
            and phrase.kind in ("part", "unknown")
            and phrase.words[-1].lower() not in _NO_TOOL
            and self.clause.sense in ("off", "out", "undo", "release", "unclip", "drain")
        ):
            return True
        return phrase.kind == "tool" or (
            phrase.kind == "prop" and self.clause.sense in ("support", "raise") and self.prep != "on"
        )

    def _place(self, chunk: Chunk, phrase: Phrase) -> Item | None:
        clause = self.clause
        clause.relation = clause.relation or self.prep or ""
        if not phrase.words:
            if phrase.tool and self.prep in _INSTRUMENTS:
                clause.tool = clause.tool or phrase.tool
            elif phrase.count is not None and not phrase.pronoun and self.prep in ("to", "at"):
                clause.numbers.append((chunk.first, chunk.after, float(phrase.count)))
            elif (
                phrase.count is not None
                and self.prep in ("with", "using")
                and is_usual_size(phrase.count)
                and phrase.count > 4
            ):
                clause.tool = clause.tool or metric(phrase.count)
            return None
        if "behind" in phrase.flags and self.last is not None:
            self.last.tool, self.last.count = self.last.tool or phrase.tool, self.last.count or phrase.count
            self.last.after = max(self.last.after, chunk.after)
        if self.prep in ("in", "into", "to", "onto", "inside", "on") and phrase.words[-1].lower() in _CONTAINERS:
            clause.in_container = True
        clause.places.append(phrase)
        return None

    def _bare(self, chunk: Chunk, phrase: Phrase, n: int) -> Item | None:
        """A size or a count that stands behind its thing: wheel nuts, 19 mm; pads out, 2; bolt, thirteen."""
        last = self.last
        if last in self.clause.along and last.phrase.kind != "fastener" and self.clause.items:
            last = self.clause.items[-1]
        if last is not None and last.phrase.pronoun and not last.phrase.words:
            last = next((item for item in reversed(self.clause.items) if item.phrase.kind == "fastener"), last)
        if last is None:
            return None
        if phrase.tool and (phrase.count or 1) > 1 and last.phrase.kind != "fastener":
            last = next((item for item in reversed(self.clause.items) if item.phrase.kind == "fastener"), last)
        size = phrase.tool or (
            metric(phrase.count)
            if "bare" in phrase.flags and "all" not in phrase.flags and self._must_be_a_size(phrase.count, last)
            else None
        )
        if size and last.tool is None and last.phrase.tool is None and (phrase.tool or not phrase.pronoun):
            last.tool = size
            if phrase.tool and phrase.count and last.phrase.count is None:
                last.count = phrase.count
            last.after = chunk.after
            return last
        if phrase.tool is None and phrase.count is not None and self._counts(phrase, last, n):
            last.count, last.after = phrase.count, chunk.after
            return last
        return None

    def _must_be_a_size(self, value: int, last: Item) -> bool:
        """A bare number behind one fastener, or behind fasteners that were counted already."""
        if not is_usual_size(value) or value < 7 or not self.after_comma:
            return False
        plural = "plural" in last.phrase.flags
        return not plural or (last.count or last.phrase.count) is not None

    def _counts(self, phrase: Phrase, last: Item, n: int) -> bool:
        if (last.count or last.phrase.count) is not None or phrase.count > 40:
            return False
        chunks = self.told.chunks
        if phrase.pronoun in ("them", "those", "these") or ("all" in phrase.flags and "plural" in last.phrase.flags):
            return True
        ends = n + 1 >= len(chunks) or chunks[n + 1].kind in (COMMA, STOP, CONJ, QUANTITY)
        return ends and not (phrase.pronoun) and self.after_comma and phrase.count < 13

    def _figure(self, told: Quantity) -> None:
        clause, last = self.clause, self.last
        if told.kind == "half" and clause.sense in ("tighten", "in", "on", "start", ""):
            told = Quantity("torque", told.first, told.after, told.value, None)
        if (
            told.kind in ("torque", "angle")
            and last is not None
            and (last.phrase.kind in ("shop", "tool") or (not last.phrase.words and last.phrase.pronoun == "one"))
        ):
            last = next(
                (
                    item
                    for item in reversed(clause.items)
                    if item.phrase.kind not in ("shop", "tool") and item is not last
                ),
                None,
            )
        if (
            told.kind == "torque"
            and last is not None
            and self.after_comma
            and "new" in last.phrase.flags
            and (len(clause.items) > 1 or last in clause.along)
            and clause.items
            and self.one is not None
        ):
            last = clause.items[0]  # bolt in, new nut, 86 Nm
        if told.kind == "torque" and self.told_of:
            pass
        elif told.kind == "torque":
            if last is None:
                clause.torques.append(told)
            else:
                last.torques.append(told)
                last.torque, last.unit, last.after = told.value, told.unit, max(last.after, told.after)
        elif told.kind == "angle":
            if last is not None:
                last.angle, last.after = told.value, max(last.after, told.after)
            clause.angle = told.value
        elif told.kind == "tool":
            if (
                last is not None
                and last.tool is None
                and last.phrase.tool is None
                and self.prep not in ("with", "using")
            ):
                last.tool, last.after = told.value, max(last.after, told.after)
            else:
                clause.tool = clause.tool or told.value
        elif told.kind == "number":
            clause.numbers.append((told.first, told.after, told.value))
        elif told.kind == "count" and last is not None and last.count is None and last.phrase.count is None:
            last.count, last.after = int(told.value), max(last.after, told.after)
        self.prep = None


_NO_TOOL = frozenset(
    "noise thump bit lot helper mate hand help fight struggle bang clunk pop click wiggle grunt tug "
    "twist smear dab squeak knock swear".split()
)  # fmt: skip
_NO_SINGULAR = frozenset("pliers grips snips cutters tweezers compressors scissors pincers".split())


_FLAT = frozenset(("blade", "bladed", "head", "screwdriver", "driver"))


def tool_name(phrase: Phrase) -> str:
    """A tool as its author calls it, in the singular.

    Parameters
    ----------
    phrase : Phrase
    """
    *words, last = phrase.words
    if "flat" in (word.lower() for word in words) and last.lower() in _FLAT:
        return "flat screwdriver"
    return " ".join([*words, last if last in _NO_SINGULAR else lexicon.singular(last)])
