"""A row of chunks as clauses: what is said of which things, with what figures."""

from collections.abc import Iterator, Sequence

from putback.capture import lexicon
from putback.capture.bounds import split
from putback.capture.chunks import COMMA, CONJ, COPULA, FILLER, NP, PARTICLE, PREP, STOP, SUB, SUBJECT, VERB, Chunk
from putback.capture.filling import Filler
from putback.capture.predicates import RIGHT, Predicate, Predicates
from putback.capture.said import Clause

_THERE = ("there", "theres", "there's")  # begins a description
_FASTENERS = ("fastener", "clamp")


class Clauses:
    """Parts the chunks of one sentence into clauses.

    Parameters
    ----------
    chunks : sequence of Chunk
    """

    def __init__(self, chunks: Sequence[Chunk]):
        self.chunks = list(chunks)
        self.found = Predicates(self.chunks)
        self.predicates = self.found.find()

    def clauses(self) -> list[Clause]:
        """The clauses in their order; what has no predicate is a clause as well."""
        return [self._clause(start, end, one) for start, end, one in self._pieces()]

    def _pieces(self) -> Iterator[tuple[int, int, Predicate | None]]:
        if not self.predicates:
            yield from [(0, len(self.chunks), None)] if self.chunks else []
            return
        starts = split(self.chunks, self.predicates, self.found.owned)
        if starts[0]:
            yield 0, starts[0], None
        for start, end, one in zip(starts, [*starts[1:], len(self.chunks)], self.predicates, strict=True):
            cut = self._own_line(one, end)
            yield start, cut, one
            if cut < end:
                yield cut, end, None

    def _own_line(self, one: Predicate, end: int) -> int:
        """Where a part put somewhere without a verb begins: "wheel off, axle on the trolley jack"."""
        for n in range(one.reach, end - 1):
            if self.chunks[n].kind == FILLER and self.chunks[n].value in _THERE:
                return n
            if self.chunks[n].value == "so" and self.chunks[n + 1].kind == COPULA:
                return n  # so's the pump
        if one.sense in ("none", "leave"):
            return self._after_no_step(one, end)
        behind = [n for n in range(one.reach, end) if self.chunks[n].kind == NP and self._is_part(n)]
        first = behind[1:] if one.needs == RIGHT else behind
        for n in first:
            leads = n + 2 < end and self.chunks[n + 1].kind in (PREP, PARTICLE) and self.chunks[n + 2].kind == NP
            if leads and self.chunks[n - 1].kind in (COMMA, STOP) and n + 1 not in self.found.owned:
                return n - 1
        return end

    def _after_no_step(self, one: Predicate, end: int) -> int:
        """Cleaned the face, new gasket, two bolts 9 N·m: what stands behind a comma is another matter."""
        for n in range(one.reach, end - 1):
            if self.chunks[n].kind in (COMMA, STOP) and self.chunks[n].value not in ("(", ")"):
                ahead, rest = self.chunks[one.reach : n], self.chunks[n + 1 : end]
                if one.needs == RIGHT and not any(chunk.kind == NP for chunk in ahead) and one.sense == "leave":
                    continue
                named = any(chunk.kind == NP and chunk.value.words for chunk in rest)
                figures = all(chunk.kind in (NP, COMMA, STOP) for chunk in rest) and not any(
                    self._is_object(m) for m in range(one.reach, n)
                )
                return n if named or figures else end
        return end

    def _is_object(self, n: int) -> bool:
        named = self.chunks[n].kind == NP and bool(self.chunks[n].value.words)
        return named and self.chunks[n - 1].kind not in (PREP, PARTICLE)

    def _is_part(self, n: int) -> bool:
        phrase = self.chunks[n].value
        if not phrase.words or phrase.kind in ("tool", "shop", "unknown", *_FASTENERS):
            return False
        return n == 0 or self.chunks[n - 1].kind not in (PREP, PARTICLE)

    # -- one clause ------------------------------------------------------------------------------

    def _clause(self, start: int, end: int, one: Predicate | None) -> Clause:
        clause = Clause(self.chunks[start].first, self.chunks[end - 1].after)
        if one:
            self._predicate(clause, start, one)
        clause.told_till = self._told_till(one, end) if one else clause.after
        ahead = self.chunks[start - 1] if start else None
        clause.lead = ahead.value if ahead is not None and ahead.kind in (CONJ, SUB) else ""
        clause.copula = self.found.has_copula(one.at) if one else any(c.kind == COPULA for c in self.chunks[start:end])
        Filler(self.chunks, self.found, clause, one).fill(start, end)
        self._keep_one_side(clause, one)
        return clause

    def _predicate(self, clause: Clause, start: int, one: Predicate) -> None:
        last = one.particle_end - 1 if one.particle_end and one.particle_end > one.at else one.at
        clause.sense, clause.lemma, clause.particle = one.sense, one.lemma, one.particle
        clause.head, clause.head_end = self.chunks[one.at].first, self.chunks[max(last, one.at)].after
        clause.also, clause.active, clause.on_car = list(one.manner), one.needs == RIGHT, self._on_car(one)
        clause.subordinate = one.helper if one.helper in ("need", "want") else ""
        if self._is_purpose(one, start):
            clause.subordinate = clause.subordinate or "so that"
        if self._only_lasts(one):
            clause.sense = "none"

    def _only_lasts(self, one: Predicate) -> bool:
        """The belt was hanging; the caliper hangs."""
        chunk = self.chunks[one.at]
        forms = chunk.value.forms if chunk.kind == VERB else frozenset()
        if one.lemma == "hang" and forms == {lexicon.THIRD} and one.needs != RIGHT:
            return not self._is_tail(one)
        lasts = forms == {lexicon.ING} and one.sense not in ("drain", "fill", "bleed")
        return lasts and self.found.has_copula(one.at) and not self.found.has_subject(one.at)

    def _is_tail(self, one: Predicate) -> bool:
        return one.particle in ("up", "aside", "back")

    def _told_till(self, one: Predicate, end: int) -> int:
        """The token where somebody else's part begins: "... out you must be careful"."""
        for n in range(one.end + 1, end):
            if self.chunks[n].kind == SUBJECT and self.chunks[n - 1].kind not in (SUB, COMMA):
                return self.chunks[n].first
        return self.chunks[end - 1].after

    def _on_car(self, one: Predicate) -> bool:
        """Up in the air, down on its wheels."""
        if one.sense not in ("raise", "down", "lower", "upin"):
            return False
        first, last = min(one.at, one.particle_at or one.at), max(one.end, one.particle_end or 0)
        moved = (chunk for chunk in self.chunks[first:last] if chunk.kind == PARTICLE and chunk.value in ("up", "down"))
        return any(chunk.after - chunk.first > 1 for chunk in moved)

    def _is_purpose(self, one: Predicate, start: int) -> bool:
        """So it goes back as it was."""
        chunk = self.chunks[one.at]
        if chunk.kind != VERB or chunk.value.forms != {lexicon.THIRD}:
            return False
        ahead = self.chunks[max(0, start - 1) : one.at]
        so = next((n for n, chunk in enumerate(ahead) if chunk.kind == CONJ and chunk.value == "so"), None)
        told = ahead[so:] if so is not None else ()
        return any(chunk.kind == NP and chunk.value.pronoun in ("it", "they", "that") for chunk in told)

    def _keep_one_side(self, clause: Clause, one: Predicate | None) -> None:
        """Items on the side that the predicate takes its object from; the others keep nothing but their place."""
        if one is None or one.needs != RIGHT:
            return
        behind = [item for item in clause.items if item.first >= self.chunks[one.at].first]
        if behind or any(chunk.kind == SUBJECT for chunk in self.chunks[one.start : one.at]):
            clause.described += [item for item in clause.items if item not in behind]
            clause.items = behind
