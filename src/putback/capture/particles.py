"""Particles: which belong to a verb, which lead to a place, and which of several side by side counts."""

from collections.abc import Mapping, Sequence

from putback.capture import lexicon
from putback.capture.chunks import COMMA, CONJ, FILLER, NP, OTHER, PARTICLE, PREP, QUANTITY, VERB, Chunk

TIMES = frozenset(("before", "until", "till", "without", "after"))
KEPT = frozenset(("leave", "stay", "keep", "remain"))
MANNER = frozenset(("by hand", "feel", "snug", "tight"))
# Of particles side by side the first of these counts: "back on" is on.
_ORDER = (
    "aside", "by hand", "feel", "off", "out", "apart", "undone", "loose", "slack", "free", "on", "in", "home",
    "together", "over", "up", "down", "away", "tight", "snug", "open", "closed", "shut", "through", "back",
)  # fmt: skip
_PREPOSITION_TOO = frozenset(("on", "in", "over", "through", "up", "down", "behind", "under", "back", "off", "out"))
_TO_A_PLACE = ("on", "in", "over", "through")
_AND = frozenset(("and", "&", "plus", "+"))
_OBJECTS = frozenset(("it", "them", "that", "this", "one"))
_FAR = 14  # chunks within which the particle of a verb stands


class Particles:
    """The particles of one sentence.

    Parameters
    ----------
    chunks : sequence of Chunk
    """

    def __init__(self, chunks: Sequence[Chunk]):
        self.chunks = chunks
        self.frames = lexicon.frames()
        self.owned: set[int] = set()  # chunks that belong to a verb
        self.swallowed: set[int] = set()  # particles that lead to a place, behind a verb that takes none

    def _its_particle(self, at: int, lemma: str, frames: Mapping) -> tuple[str, int | None, int | None]:
        """The particle of a verb, and where it stands."""
        n = self._owned_particle(at, lemma, frames)
        if n is None:
            self._swallow(at)
            return "", None, None
        particle, end = self._particles_from(n, frames if lemma not in KEPT else None)
        if end - n > 1 and self._leads(end - 1) and self.chunks[end - 1].value in _TO_A_PLACE:
            shorter = [chunk.value for chunk in self.chunks[n : end - 1] if chunk.value in frames]
            if shorter:
                particle, end = shorter[0], end - 1  # hung up on a wire
        self.owned |= set(range(n, end))
        return particle, n, end

    def _only_small(self, first: int, after: int) -> bool:
        return all(chunk.kind in (FILLER, OTHER) for chunk in self.chunks[first:after])

    def _swallow(self, at: int) -> None:
        """A particle right behind a verb that does not take it leads to a place: hung on wire."""
        n = at + 1
        while n < len(self.chunks) and self.chunks[n].kind == FILLER and n < at + 2:
            n += 1
        if n < len(self.chunks) and self.chunks[n].kind == PARTICLE and self.chunks[n].value not in MANNER:
            self.swallowed.add(n)

    def manner(self, at: int, objects: int = 1) -> list[str]:
        """By hand, by feel, snug: behind the verb, or behind its object.

        Parameters
        ----------
        at : int
            The chunk behind the predicate
        objects : int
            How many things may stand between
        """
        found, nps = [], 1 - objects
        for n in range(at, min(at + 8, len(self.chunks))):
            chunk = self.chunks[n]
            if chunk.kind == PARTICLE and chunk.value in MANNER:
                found.append(chunk.value)
                self.owned.add(n)
            elif chunk.kind == NP and nps == 0 and not found:
                nps += 1
            elif chunk.kind == NP and not chunk.value.words and not chunk.value.pronoun and not found:
                continue
            elif chunk.kind not in (FILLER, OTHER) and not (chunk.kind == CONJ and found and chunk.value in _AND):
                break
        return found

    def _owned_particle(self, at: int, lemma: str, frames: Mapping) -> int | None:
        """Where the particle of a verb stands: right behind it, or behind its object."""
        if lemma in ("go", "come") and (n := self._inverted(at, frames)) is not None:
            return n
        light, nps = "." not in frames, 0
        for n in range(at + 1, min(at + _FAR, len(self.chunks))):
            chunk = self.chunks[n]
            if chunk.kind == PARTICLE and chunk.value not in MANNER:
                taken = self._particles_from(n, frames)[0] in frames and not self._only_leads(n, nps, frames)
                if lemma in KEPT or taken:
                    return n
                if nps and not light and frames["."].sense == "none" and chunk.after - chunk.first > 1:
                    return n  # set it on stands
                if nps:
                    return None
            elif chunk.kind == NP:
                nps += 1
            elif not self._goes_over(n, nps, light):
                return None
        return None

    def _turned_round(self, at: int) -> bool:
        """Whether a verb behind a particle takes it: out comes the battery."""
        following = self.chunks[at + 1] if at + 1 < len(self.chunks) else None
        return following is not None and following.kind == VERB and following.value.lemma in ("go", "come")

    def _only_leads(self, n: int, nps: int, frames: Mapping) -> bool:
        """Dropped the subframe on the jack: the verb has all it needs without the particle."""
        leads = self.chunks[n].value in _TO_A_PLACE and self._leads(n)
        return leads and bool(nps) and "." in frames and frames["."].sense != "none"

    def _inverted(self, at: int, frames: Mapping) -> int | None:
        """In it goes; out comes the battery."""
        for n in (at - 1, at - 2):
            if n >= 0 and self.chunks[n].kind == PARTICLE and self.chunks[n].value in frames:
                return n if n == at - 1 or self.chunks[at - 1].kind == NP else None
        return None

    def _goes_over(self, n: int, nps: int, light: bool) -> bool:
        """Whether the particle may stand behind this chunk, which is neither a particle nor a thing."""
        chunk = self.chunks[n]
        if chunk.kind in (FILLER, OTHER, QUANTITY):
            return True
        if not nps or not self._np_follows(n):
            return False
        if chunk.kind == PREP:
            return chunk.value not in TIMES
        if chunk.kind == CONJ:
            return chunk.value in _AND
        return chunk.kind == COMMA and light and self._list_goes_on(n)

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
        while end < len(self.chunks) and self._goes_on(end, at):
            end += 1
        values = [chunk.value for chunk in self.chunks[at:end] if chunk.kind == PARTICLE]
        known = [value for value in _ORDER if value in values and (frames is None or value in frames)]
        if frames is not None and "back" in values and "back" in frames and known[:1] in (["up"], ["down"]):
            return "back", end  # hung back up
        return (known[0] if known else values[0]), end

    def _goes_on(self, n: int, at: int) -> bool:
        """Whether a chunk is one of the particles that begin at another, or stands between two of them."""
        chunk = self.chunks[n]
        if chunk.kind == PARTICLE:
            return n == at or chunk.value not in MANNER | {"aside"}
        between = chunk.kind == FILLER or (chunk.kind == CONJ and chunk.value in ("and", "+", "&"))
        following = self.chunks[n + 1] if n + 1 < len(self.chunks) else None
        return between and following is not None and following.kind == PARTICLE and following.value not in MANNER

    def _leads(self, at: int) -> bool:
        """Whether a particle leads to a place: "on the hub"."""
        chunk = self.chunks[at]
        following = self.chunks[at + 1] if at + 1 < len(self.chunks) else None
        if chunk.value not in _PREPOSITION_TOO or following is None or chunk.after - chunk.first > 1:
            return False
        if following.kind != NP:
            return following.kind == OTHER and following.value in ("the", "my", "a", "its", "each", "every")
        phrase = following.value
        if "all" in phrase.flags and phrase.words and self._said_of(at + 2):
            return False  # panel on, both fasteners turned in
        if chunk.value in ("off", "out") and "definite" in phrase.flags:
            return False
        return bool(phrase.flags & {"determined", "definite"}) or phrase.pronoun in _OBJECTS

    def _said_of(self, at: int) -> bool:
        return at < len(self.chunks) and self.chunks[at].kind in (VERB, PARTICLE, QUANTITY)
