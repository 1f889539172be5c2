"""Figures of a clause: which thing a size, a count or a torque belongs to."""

from collections.abc import Sequence

from putback.capture import lexicon
from putback.capture.chunks import COMMA, CONJ, COPULA, NP, QUANTITY, STOP, Chunk
from putback.capture.phrases import Phrase
from putback.capture.predicates import Predicate, Predicates
from putback.capture.quantities import Quantity, is_usual_size, metric
from putback.capture.said import Clause, Item

_NEVER_TIGHTENED = frozenset("washer gasket seal o-ring circlip threadlock shim".split())
THOSE = ("them", "those", "these")


class FigureFiller:
    """Takes in the figures of one clause.

    Parameters
    ----------
    chunks : sequence of Chunk
        Those of the sentence
    found : Predicates
    clause : Clause
    one : Predicate or None
    """

    def __init__(self, chunks: Sequence[Chunk], found: Predicates, clause: Clause, one: Predicate | None):
        self.chunks, self.found, self.clause, self.one = chunks, found, clause, one
        self.prep: str | None = None
        self.last: Item | None = None
        self.joined = self.after_comma = self.told_of = False
        self.ahead: Quantity | None = None  # a torque that stands ahead of its thing: 59 N·m for the top one

    def _number(self, chunk: Chunk, value: float) -> None:
        """Carrier to 105 and slider bolts to 28: torques without a unit, each of its own thing."""
        last = self.last
        own = last is not None and last.torque is None and last in self.clause.items
        if own and self.clause.sense not in ("lower", "raise", "drop", "down", "drain") and value > 4:
            last.torques = [Quantity("torque", chunk.first, chunk.after, value, None)]
            last.torque, last.after = value, max(last.after, chunk.after)
        else:
            self.clause.numbers.append((chunk.first, chunk.after, value))

    def _bare(self, chunk: Chunk, phrase: Phrase, n: int) -> Item | None:
        """A size or a count that stands behind its thing: wheel nuts, 19 mm; pads out, 2; bolt, thirteen."""
        last = self._owner(phrase)
        if last is None:
            return None
        if last.torque is not None and self._is_another_stage(phrase, last, chunk):
            return last
        bare = "bare" in phrase.flags and "all" not in phrase.flags
        size = phrase.tool or (
            metric(phrase.count) if bare and self._must_be_a_size(phrase.count, last) else None
        )
        if size and last.tool is None and last.phrase.tool is None and (phrase.tool or not phrase.pronoun):
            last.tool = size
            if "all" in phrase.flags and last.joined:
                return self._of_all(last, size, chunk)
            if phrase.tool and phrase.count and last.phrase.count is None:
                last.count = phrase.count
            last.after = chunk.after
            return last
        if phrase.tool is None and phrase.count is not None and self._counts(phrase, last, n):
            last.count, last.after = phrase.count, chunk.after
            return last
        return None

    def _of_all(self, last: Item, size: str, chunk: Chunk) -> Item:
        """The upper bolt and the lower bolt, both 16 mm."""
        at = self.clause.items.index(last) if last in self.clause.items else 0
        for before, item in zip(reversed(self.clause.items[:at]), reversed(self.clause.items[: at + 1]), strict=False):
            if item.joined and before.tool is None and before.phrase.tool is None:
                before.tool, before.after = size, chunk.after
        last.after = chunk.after
        return last

    def _is_another_stage(self, phrase: Phrase, last: Item, chunk: Chunk) -> bool:
        """12 newton metres the first time and then 24."""
        bare = "bare" in phrase.flags and phrase.tool is None and phrase.count is not None
        if not bare or phrase.count <= last.torque or phrase.count > 4 * last.torque or self.after_comma:
            return False
        last.torques.append(Quantity("torque", chunk.first, chunk.after, float(phrase.count), last.unit))
        last.torque, last.after = float(phrase.count), chunk.after
        return True

    def _owner(self, phrase: Phrase) -> Item | None:
        """The thing that a figure behind it belongs to: fasteners before the parts that they hold."""
        last, items = self.last, self.clause.items
        if last in self.clause.along and last.phrase.kind != "fastener" and items:
            last = items[-1]
        several = bool(phrase.tool) and (phrase.count or 1) > 1
        nameless = last is not None and last.phrase.pronoun and not last.phrase.words
        if last is not None and (nameless or (several and last.phrase.kind != "fastener")):
            last = next((item for item in reversed(items) if item.phrase.kind == "fastener"), last)
        return last

    def _must_be_a_size(self, value: int, last: Item) -> bool:
        """A bare number behind one fastener, or behind fasteners that were counted already."""
        if not is_usual_size(value) or value < 7 or not self.after_comma:
            return False
        return "plural" not in last.phrase.flags or (last.count or last.phrase.count) is not None

    def _counts(self, phrase: Phrase, last: Item, n: int) -> bool:
        if (last.count or last.phrase.count) is not None or phrase.count > 40:
            return False
        if phrase.pronoun in THOSE or ("all" in phrase.flags and "plural" in last.phrase.flags):
            return True
        ends = n + 1 >= len(self.chunks) or self.chunks[n + 1].kind in (COMMA, STOP, CONJ, QUANTITY)
        return ends and not phrase.pronoun and self.after_comma and phrase.count < 13

    def _figure(self, told: Quantity, n: int) -> None:
        if told.kind == "half" and self.clause.sense in ("tighten", "in", "on", "start", ""):
            told = Quantity("torque", told.first, told.after, told.value, None)
        if told.kind == "torque":
            self._torque(told, n)
        elif told.kind == "angle":
            self._angle(told)
        elif told.kind == "tool":
            self._size(told)
        elif told.kind == "number":
            self.clause.numbers.append((told.first, told.after, told.value))
        elif told.kind == "count":
            self._count(told)
        self.prep = None

    def _torque(self, told: Quantity, n: int) -> None:
        last = self._tightened()
        if self.told_of or self._in_other_units(n, last):
            return
        if (last is None or last.torque is not None) and self._for_what_follows(n):
            self.ahead = told
            return
        if last is None:
            self.clause.torques.append(told)
        else:
            last.torques.append(told)
            last.torque, last.unit, last.after = told.value, told.unit, max(last.after, told.after)

    def _in_other_units(self, n: int, last: Item | None) -> bool:
        """18 newton metres, that's about 13 foot-pounds: the first one counts."""
        told = bool(self.clause.torques) or (last is not None and last.torque is not None)
        if told and n and self.chunks[n - 1].value == "(":
            return True
        return told and any(chunk.kind == COPULA for chunk in self.chunks[max(0, n - 3) : n])

    def _for_what_follows(self, n: int) -> bool:
        """59 N·m for the top one."""
        if n + 2 >= len(self.chunks) or self.chunks[n + 2].kind != NP:
            return False
        return self.chunks[n + 1].value in ("for", "on") and bool(self.chunks[n + 2].value.words)

    def _angle(self, told: Quantity) -> None:
        last = self._tightened()
        if last is not None:
            last.angle, last.after = told.value, max(last.after, told.after)
        self.clause.angle = told.value

    def _tightened(self) -> Item | None:
        """The thing that a torque belongs to: no tool, and not the new nut of the bolt that is tightened."""
        last, items = self.last, self.clause.items
        if last is None:
            return None
        nameless = not last.phrase.words and last.phrase.pronoun == "one"
        if last.phrase.kind in ("shop", "tool") or nameless:
            others = (item for item in reversed(items) if item.phrase.kind not in ("shop", "tool"))
            return next((item for item in others if item is not last), None)
        if last in self.clause.along and items:
            several = last.phrase.kind == "fastener" and (last.phrase.count or "plural" in last.phrase.flags)
            return last if several else items[-1]  # drain plug with a new washer, 30 Nm
        if _head(last) in _NEVER_TIGHTENED and len(items) > 1:
            ahead = (item for item in reversed(items) if item is not last and _head(item) not in _NEVER_TIGHTENED)
            return next(ahead, last)  # banjo bolts in, 4 new washers, 30 Nm
        if self.after_comma and "new" in last.phrase.flags and len(items) > 1 and self._is_one_each(items[0], last):
            return items[0]  # bolt in, new nut, 86 Nm
        return last

    def _is_one_each(self, first: Item, last: Item) -> bool:
        singular = "plural" not in last.phrase.flags and not last.phrase.count
        return self.one is not None and first.phrase.kind == last.phrase.kind == "fastener" and singular

    def _size(self, told: Quantity) -> None:
        last = self.last
        own = last is not None and last.tool is None and last.phrase.tool is None
        if own and self.prep not in ("with", "using"):
            last.tool, last.after = told.value, max(last.after, told.after)
        else:
            self.clause.tool = self.clause.tool or told.value

    def _count(self, told: Quantity) -> None:
        last = self.last
        if last is not None and last.count is None and last.phrase.count is None:
            last.count, last.after = int(told.value), max(last.after, told.after)


def _head(item: Item) -> str:
    return lexicon.singular(item.phrase.words[-1].lower()) if item.phrase.words else ""
