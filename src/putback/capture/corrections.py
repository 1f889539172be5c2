"""Corrections: "no, the other bolt", "sorry, seventeen", "scratch that"."""

from collections.abc import Iterator, Sequence

from putback.capture.actions import action_of
from putback.capture.book import Book, Draft
from putback.capture.memory import Memory
from putback.capture.moods import mood_of_clause
from putback.capture.names import likeness
from putback.capture.phrases import Phrase
from putback.capture.quantities import Quantity, is_usual_size, metric, unit_in
from putback.capture.said import Clause
from putback.capture.tokens import Token

REACH = 3  # sentences back; nobody corrects what was said before
_BEFORE_NO = frozenset(
    (",", "-", "–", "—", "...", "er", "erm", "uh", "wait", "sorry", "on", ".", "(", "oh", "hang", "well")
)
_AFTER_NO = frozenset(
    (",", "wait", "hang", "sorry", "hold", "actually", "i", "the", "not", "it", "that", ".", "make", "those", "they")
)
_BEGIN = (("scratch", "that"), ("strike", "that"), ("i", "mean"), ("make", "that"), ("tell", "a"), ("make", "it"))


def parts(sentence: Sequence[Token]) -> Iterator[tuple[Sequence[Token], bool]]:
    """A sentence cut where its author corrects himself, each piece with whether it puts right what was said.

    Parameters
    ----------
    sentence : sequence of Token
    """
    start = 0
    for at in range(1, len(sentence)):
        if _corrects_at(sentence, at):
            yield sentence[start:at], _corrects_at(sentence, start)
            start = at
    if sentence:
        yield sentence[start:], _corrects_at(sentence, start)


def _corrects_at(sentence: Sequence[Token], at: int) -> bool:
    low = [token.low for token in sentence[at : at + 3]] + ["", "", ""]
    before = sentence[at - 1].low if at else ","
    if low[0] == "no" and low[1] in ("wait", "hang", "sorry", "hold", "make", "tell", "actually"):
        return True
    if low[0] == "no":
        return low[1] in _AFTER_NO and before in _BEFORE_NO
    if low[0] == "sorry":
        return low[1] != "about"
    return (low[0], low[1]) in _BEGIN or low[0] == "correction"


def _says_something(clause: Clause) -> bool:
    """Whether there is more in a clause than "no, wait"."""
    figures = clause.torques or clause.numbers or clause.tool
    return bool(clause.items or figures) or clause.sense not in ("", "none")


def _figure(told: Quantity) -> float | None:
    """The number of a quantity, whatever it counts."""
    if isinstance(told.value, str):
        figures = "".join(sign for sign in told.value.split()[0] if sign.isdigit() or sign == ".")
        return float(figures) if figures and figures != "." else None
    return told.value


class Corrector:
    """Puts right what a book has.

    Parameters
    ----------
    book : Book
    memory : Memory
    """

    def __init__(self, book: Book, memory: Memory):
        self.book, self.memory = book, memory

    def take_back(self) -> None:
        """Scratch that."""
        if self.book.drafts and self._near(self.book.drafts[-1]):
            self.book.drop(len(self.book.drafts) - 1)

    def said_before(self, quantities: Sequence[Quantity]) -> bool:
        """I said 8, they're 10s: the first figure was wrong, the last is right.

        Parameters
        ----------
        quantities : sequence of Quantity
            The figures of the sentence
        """
        told = [one for one in quantities if one.value is not None]
        if len(told) < 2:
            return False
        wrong, right = _figure(told[0]), _figure(told[-1])
        for draft in reversed(self.book.drafts[-6:]):
            if draft.torque is not None and draft.torque == wrong and right:
                draft.torque, draft.unit = right, told[-1].unit or draft.unit
                draft.torques = [(draft.torque, draft.unit)]
                return True
            if draft.tool and wrong and draft.tool.startswith(f"{wrong:g} mm"):
                draft.tool = f"{right:g}{draft.tool[len(f'{wrong:g}') :]}"
                return True
            if draft.count and draft.count == wrong and right:
                draft.count = draft.thing.count = int(right)
                return True
        return False

    def correct(self, clauses: Sequence[Clause], part: Sequence[Token], words: str) -> int:
        """Put right what was said just before; gives how many of the clauses did.

        Parameters
        ----------
        clauses : sequence of Clause
        part : sequence of Token
            The words of the correction
        words : str
            The same in small letters
        """
        if not self.book.drafts or not clauses or not self._near(self.book.drafts[-1]):
            return 0
        first = next((n for n, one in enumerate(clauses) if _says_something(one)), 0)
        clause, last = clauses[first], self.book.drafts[-1]
        if clause.sense == "leave" or (clause.sense not in ("", "none") and mood_of_clause(words) == "negated"):
            return len(clauses) if self._undo(clause) else 0
        end = part[min(clause.after, len(part)) - 1].end
        if clause.sense in ("", "none"):
            return (first + 1) * self._figures(clause, last, end, words)
        return (first + 1) * self._another(clause, last, end)

    def _near(self, draft: Draft) -> bool:
        return self.memory.sentence - draft.sentence <= REACH

    def _undo(self, clause: Clause) -> bool:
        """No, I left that on."""
        names = [item.phrase.name for item in clause.items if item.phrase.words]
        for at in range(len(self.book.drafts) - 1, max(-1, len(self.book.drafts) - 4), -1):
            if not names or any(likeness(name, self.book.drafts[at].name) >= 0.5 for name in names):
                self.book.drop(at)
                return True
        return False

    def _another(self, clause: Clause, last: Draft, end: int) -> bool:
        """No, I took the other bolt out."""
        named = [item.phrase for item in clause.items if item.phrase.words or item.phrase.pronoun == "other"]
        if len(named) != 1:
            return False
        action = action_of(clause.sense, last.kind, last.thing.head, clause.lemma, clause.particle, "")
        if action != last.action or (named[0].words and likeness(named[0].name, last.name) >= 0.9):
            return False
        return self._rename(named[0], last, end)

    def _unit(self, words: str, end: int) -> bool:
        """No, foot-pounds: another unit for the figure just told."""
        unit = unit_in(words)
        found = next((one for one in reversed(self.book.drafts[-4:]) if one.torque is not None), None)
        if unit is None or found is None or any(sign.isdigit() for sign in words):
            return False
        return self._torque(found.torque, unit, end)

    def _figures(self, clause: Clause, last: Draft, end: int, words: str) -> bool:
        done = self._unit(words, end)
        for told in (*(torque for item in clause.items for torque in item.torques), *clause.torques):
            done = self._torque(told.value, told.unit, end) or done
        for item in clause.items:
            phrase, tool, count = item.phrase, item.tool or item.phrase.tool, item.count or item.phrase.count
            if (phrase.words or phrase.pronoun in ("one", "ones", "other")) and not item.torques:
                done = self._rename(phrase, last, end) or done
            if tool:
                last.tool, done = tool, True
            if count:
                done = self._number(float(count), last, end, bool(phrase.words)) or done
        for _, _, value in clause.numbers:
            done = self._number(value, last, end, False) or done
        if clause.tool:
            last.tool, done = clause.tool, True
        if done:
            last.end = max(last.end, end)
        return done

    def _torque(self, value: float, unit: str | None, end: int) -> bool:
        found = next((one for one in reversed(self.book.drafts[-4:]) if one.torque is not None), None)
        if found is None:
            return False
        found.torque, found.unit, found.end = value, unit or found.unit, max(found.end, end)
        found.torques = [(found.torque, found.unit)]
        return True

    def _number(self, value: float, last: Draft, end: int, with_noun: bool) -> bool:
        """A bare number puts right the figure that it is likest to."""
        if last.torque is not None and not with_noun and value > 4:
            return self._torque(value, last.unit, end)
        if not with_noun and self._size_of_described(value):
            return True
        if not with_noun and last.tool is None and value >= 7 and is_usual_size(value) and last.kind == "fastener":
            last.tool = metric(value)
            return True
        if with_noun or last.tool is None or (last.count and value < 7):
            last.count = last.thing.count = int(value)
        elif last.tool.endswith(" mm"):
            last.tool = f"{value:g} mm"
        elif last.tool[:1] in "TE" and last.tool[1:].isdigit():
            last.tool = f"{last.tool[0]}{value:g}"
        else:
            return False
        return True

    def _size_of_described(self, value: float) -> bool:
        """Two nuts, those are thirteen, no, fifteen: nothing was done to them yet."""
        near = (one for one in reversed(self.memory.recent[-2:]) if one.told_at >= self.memory.sentence - 1)
        thing = next((one for one in near if one.start >= 0 and one.tool and one.tool.endswith(" mm")), None)
        if thing is None or not is_usual_size(value):
            return False
        thing.tool = metric(value)
        return True

    def _rename(self, phrase: Phrase, last: Draft, end: int) -> bool:
        """No, the other bolt; sorry, the lower bolts."""
        if not phrase.words and phrase.pronoun not in ("other", "one", "ones"):
            return False
        if phrase.words and "side only" not in phrase.flags:
            if likeness(phrase.name, last.name) == 0 and phrase.kind != last.kind:
                return False
            thing = self.memory.new(
                phrase.words, last.kind if phrase.kind == "unknown" else phrase.kind, "plural" in phrase.flags
            )
        else:
            thing = self.memory.meant(phrase)
        if thing is None:
            return False
        if last.thing is not thing:
            last.thing.state, last.thing.last_event = "", -1
        last.words, last.thing, last.end = thing.words, thing, max(last.end, end)
        thing.state, thing.last_event = last.action, self.book.drafts.index(last)
        return True
