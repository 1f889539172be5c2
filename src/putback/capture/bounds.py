"""Where one clause ends and the next begins: the split of the things between predicates that fits all of them best.

Every predicate takes its things from before it ("wheel off") or from behind it ("took the wheel off"), and many verbs
can do both. The things between two predicates are shared out by a score: a predicate wants one thing, things joined by
"and" count as one, what stands behind a preposition and figures stay with the thing before them, and commas,
conjunctions and words such as "then" make good borders. The best way through the whole sentence is found step by step.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from putback.capture.chunks import (
    COMMA,
    CONJ,
    COPULA,
    FILLER,
    NP,
    PARTICLE,
    PREP,
    QUANTITY,
    STOP,
    SUB,
    SUBJECT,
    VERB,
    Chunk,
)
from putback.capture.particles import TIMES
from putback.capture.phrases import Phrase, is_container
from putback.capture.predicates import LEFT, RIGHT, Predicate

AND = frozenset(("and", "&", "plus", "+"))
# Words that begin something new.
_TURNING = frozenset("then now next there theres there's so okay ok right well".split())
_HOLDING = ("hold", "have", "secure", "retain", "hide", "cover")  # two bolts hold the carrier
_FASTENERS = ("fastener", "clamp")
# Scores are own estimates; only their order counts.
_WALL = -4.0  # a clause does not reach over a stop
_NOTHING_BEHIND, _NOTHING_AHEAD = -2.5, -1.7  # a predicate without a thing
_NOTHING_SAID_AGAIN = -1.0  # "... and hung up"
_STANDS_BY = -1.5  # another thing, without a comma or an "and"
_AFTER_COMMA = {RIGHT: -0.3, LEFT: -0.8}
_BEHIND, _BEHIND_COMMA = -1.2, -0.5  # a thing behind a predicate that has its thing ahead
_FASTENER_BEHIND = -0.3  # wheel off, four bolts
_AHEAD = -2.0  # a thing ahead of a predicate that has its thing behind
_MEANS_APART = -0.3  # a tool told ahead: with a 13 I took ...
_LATE = -1.6  # the first thing behind a comma
_NUMBER, _SIZE = -0.4, -1.5  # three out; but: nuts, 13, off
_ORPHAN = -1.0  # a thing that belongs to nothing
_LEADING = frozenset("in on over through up down back off out home".split())
_FIGURE_ALONE = -1.0  # a figure or a place without its thing
_BORDER = {COMMA: 0.6, STOP: 2.0, SUB: 1.5, CONJ: 0.5}
_TURN = 0.8


class Unit(NamedTuple):
    """One or more chunks that stay together: what kind, from `first` to before `after`, and whether it is a thing."""

    kind: str
    first: int
    after: int
    fastener: bool = False


def split(chunks: Sequence[Chunk], predicates: Sequence[Predicate], owned: set[int]) -> list[int]:
    """Where the clause of each predicate begins; sets on which side each takes its things.

    Parameters
    ----------
    chunks : sequence of Chunk
    predicates : sequence of Predicate
        At least one, in their order
    owned : set of int
        Chunks that belong to a verb
    """
    return _Split(chunks, predicates, owned).best()


class _Split:
    def __init__(self, chunks: Sequence[Chunk], predicates: Sequence[Predicate], owned: set[int]):
        self.chunks, self.predicates, self.owned = chunks, predicates, owned

    def best(self) -> list[int]:
        first = self.predicates[0]
        ways = {side: (*self._first_border(side), (side,)) for side in first.sides}
        ways = {side: (score + first.sides[side], (at,), sides) for side, (score, at, sides) in ways.items()}
        for before, one in pairwise(self.predicates):
            ways = self._further(ways, before, one)
        units = self._units(self.predicates[-1].reach, len(self.chunks))
        last = self.predicates[-1]
        ended = [(score + self._behind(side, units, last), at, sides) for side, (score, at, sides) in ways.items()]
        _, starts, sides = max(ended, key=lambda way: way[0])
        for one, side in zip(self.predicates, sides, strict=True):
            one.needs = side
        return list(starts)

    def _further(self, ways: dict, before: Predicate, one: Predicate) -> dict:
        units = self._units(before.reach, one.start)
        found = {}
        for side in one.sides:
            reached = []
            for last, (score, starts, sides) in ways.items():
                gained, at = self._border(last, units, side, before, one)
                reached.append((score + gained + one.sides[side], (*starts, at), (*sides, side)))
            found[side] = max(reached, key=lambda way: way[0])
        return found

    def _first_border(self, side: str) -> tuple[float, int]:
        one = self.predicates[0]
        units = self._units(0, one.start)
        return self._best_cut(units, lambda n: self._ahead(side, units[n:], one) + _orphans(units[:n]), one.start, 0)

    def _border(self, last: str, units: list[Unit], side: str, before: Predicate, one: Predicate) -> tuple[float, int]:
        def score(n: int) -> float:
            return self._behind(last, units[:n], before) + self._ahead(side, units[n:], one)

        return self._best_cut(units, score, one.start, before.reach)

    def _best_cut(self, units: list[Unit], score, end: int, begin: int) -> tuple[float, int]:
        cuts = [(score(n) + self._quality(units, n), -n) for n in range(len(units) + 1)]
        best, n = max(cuts)
        n = -n
        return best, units[n].first if n < len(units) else end

    # -- what stays together ---------------------------------------------------------------------

    def _units(self, first: int, after: int) -> list[Unit]:
        found: list[Unit] = []
        at = first
        while at < after:
            chunk = self.chunks[at]
            leads = chunk.kind == PREP or (chunk.kind == PARTICLE and at not in self.owned)
            if leads and at + 1 < after and self.chunks[at + 1].kind == NP and chunk.value not in TIMES:
                found.append(Unit(self._place_kind(chunk, self.chunks[at + 1].value), at, at + 2))
                at += 2
                continue
            if leads and at + 1 < after and self.chunks[at + 1].kind == QUANTITY:
                found.append(Unit("figure", at, at + 2))  # to 38 foot-pounds
                at += 2
                continue
            found.append(Unit(_unit_kind(chunk), at, at + 1, _is_fastener(chunk)))
            at += 1
        return found

    def _place_kind(self, chunk: Chunk, phrase: Phrase) -> str:
        means = chunk.value in ("with", "using", "w/") and (phrase.kind == "tool" or not phrase.words)
        return "means" if means else "place"

    # -- scores ----------------------------------------------------------------------------------

    def _quality(self, units: list[Unit], n: int) -> float:
        """How good a border between two units is."""
        around = [units[m].kind for m in (n - 1, n) if 0 <= m < len(units)]
        return max((_BORDER.get(kind, _TURN if kind == "turn" else 0.0) for kind in around), default=0.0)

    def _behind(self, side: str, units: list[Unit], one: Predicate) -> float:
        """What a predicate makes of the things behind it."""
        score, things, joint = 0.0, 0, ""
        if units and units[0].kind == "thing" and self._leads(side, units[0], one):
            units = units[1:]  # put in the hose
        for unit in units:
            if unit.kind == STOP and things == 0 and side == RIGHT:
                score -= 1
            if unit.kind in (COMMA, CONJ, STOP, "turn"):
                joint = unit.kind
            elif unit.kind == "thing" or (unit.kind == "again" and side == RIGHT and not things):
                score += self._one_behind(side, unit, things, joint)
                things, joint = things + 1, ""
        return score + (_NOTHING_BEHIND if side == RIGHT and not things else 0.0)

    def _leads(self, side: str, unit: Unit, one: Predicate) -> bool:
        """Whether the particle of a verb leads to the place that stands behind it."""
        if one.particle_end != one.reach or one.particle not in _LEADING:
            return False
        phrase = self.chunks[unit.first].value
        if one.lemma == one.particle:
            return one.particle in ("off", "out") and "definite" in phrase.flags and "all" not in phrase.flags
        return side == LEFT or is_container(phrase)

    def _one_behind(self, side: str, unit: Unit, things: int, joint: str) -> float:
        if side == RIGHT:
            if not things:
                return _LATE if joint in (COMMA, STOP, CONJ) else 0.0
            return {CONJ: 0.0, COMMA: _AFTER_COMMA[RIGHT]}.get(joint, _STANDS_BY)
        if unit.fastener:
            return _FASTENER_BEHIND
        return _BEHIND_COMMA if joint in (COMMA, STOP, CONJ) else _BEHIND

    def _ahead(self, side: str, units: list[Unit], one: Predicate) -> float:
        """What a predicate makes of the things ahead of it."""
        score, things, joint, begins = 0.0, 0, "", True
        for n, unit in enumerate(units):
            if n + 1 == len(units) and things and side == LEFT and self._relates(unit, one):
                return score
            if unit.kind in (STOP, SUB, SUBJECT, VERB, COPULA):
                score += _WALL if n or unit.kind != SUB else 0.0
            elif unit.kind in (COMMA, CONJ, "turn", "colon"):
                if not begins:
                    joint = unit.kind
            elif unit.kind == "thing" or (unit.kind == "again" and not things):
                score += self._one_ahead(side, things, joint, one)
                things, joint, begins = things + 1, "", False
            else:
                score += _FIGURE_ALONE if begins and self._is_alone(side, units, n) else 0.0
                score += _MEANS_APART if begins and unit.kind == "means" and side == LEFT else 0.0
                begins = False
        if side == LEFT and not things:
            score += self._nothing_ahead(units)
        if side == LEFT and things and joint in (COMMA, CONJ, "turn", "colon"):
            score -= 0.2 if joint == COMMA else 0.6
        return score

    def _relates(self, unit: Unit, one: Predicate) -> bool:
        """The clip, which I slackened."""
        if unit.kind != SUB or self.chunks[unit.first].value not in ("which", "that"):
            return False
        return any(chunk.kind == SUBJECT for chunk in self.chunks[one.start : one.at])

    def _is_alone(self, side: str, units: list[Unit], n: int) -> bool:
        """Whether a figure or a place at the beginning belongs to what was said before."""
        if units[n].kind != "number":
            return units[n].kind in ("place", "figure")
        following = units[n + 1].kind if n + 1 < len(units) else ""
        return side == RIGHT or (following in (COMMA, STOP, ")") and any(unit.kind == "thing" for unit in units[n:]))

    def _nothing_ahead(self, units: list[Unit]) -> float:
        if units and units[-1].kind == "idle":
            return 0.0  # ramp up
        if any(unit.kind == "number" for unit in units):
            return _SIZE if units[-1].kind == COMMA else _NUMBER
        return _NOTHING_SAID_AGAIN if units and units[-1].kind in (CONJ, COMMA) else _NOTHING_AHEAD

    def _one_ahead(self, side: str, things: int, joint: str, one: Predicate) -> float:
        if side == RIGHT:
            return 0.1 if one.lemma in _HOLDING and not things else _AHEAD
        if not things:
            return 0.0
        return {CONJ: -0.1, COMMA: _AFTER_COMMA[LEFT], "colon": -1.2, "turn": -1.5}.get(joint, _STANDS_BY)


def _orphans(units: list[Unit]) -> float:
    """What it costs to leave things without a predicate: little where a comma parts them from it."""
    parted = bool(units) and units[-1].kind in (COMMA, STOP, "colon", "turn")
    things = sum(unit.kind in ("thing", "means") for unit in units)
    parted = parted and not (things and units[-1].kind == COMMA and units[-2].kind == "means")
    return 0.01 * len(units) + (0.0 if parted else _ORPHAN * things)


def _unit_kind(chunk: Chunk) -> str:
    if chunk.kind == NP:
        return _np_kind(chunk.value)
    if chunk.kind == QUANTITY:
        return "figure"
    if chunk.kind == COMMA and chunk.value in (":", "-", "–", "—"):
        return "colon"
    if chunk.kind in (FILLER, CONJ) and chunk.value in _TURNING:
        return "turn"
    return chunk.kind


def _np_kind(phrase: Phrase) -> str:
    """A thing; a figure, also where it is a tool; or a number, which can stand for things: "three out", "both off"."""
    if not phrase.words and (phrase.pronoun == "both" or (phrase.count and "all" in phrase.flags)):
        return "again"
    if phrase.words or phrase.pronoun:
        return "figure" if phrase.kind == "tool" else "idle" if phrase.kind == "shop" else "thing"
    return "figure" if phrase.tool or phrase.count is None else "number"


def _is_fastener(chunk: Chunk) -> bool:
    return chunk.kind == NP and chunk.value.kind in _FASTENERS
