"""From a note to what was heard: sentence by sentence, clause by clause, with all that was said before at hand."""

import re
from collections.abc import Iterable, Sequence

from putback.capture import remarks
from putback.capture.actions import SWITCHED
from putback.capture.book import FITTING, on_thing
from putback.capture.chunks import NP, Chunk, Chunker
from putback.capture.clauses import Clauses
from putback.capture.corrections import Corrector, parts
from putback.capture.deeds import VERBLESS, Deeds
from putback.capture.events import OFF, Event, Heard, Source, Told
from putback.capture.figures import Figures
from putback.capture.joined import parted
from putback.capture.lines import LONG, sentences, title
from putback.capture.memory import Thing
from putback.capture.moods import STEP, mood_of_clause, mood_of_sentence
from putback.capture.names import OPPOSITE, likeness, other_side
from putback.capture.numbers import read_number
from putback.capture.quantities import Quantity
from putback.capture.said import Clause
from putback.capture.sayings import Sayings
from putback.capture.scene import Scene, low
from putback.capture.steps import Steps
from putback.capture.things import FASTENERS, Things
from putback.capture.tokens import Token, tokens

AHEAD = 4  # tokens that tell the mood of what follows
_FOR_THE_WHOLE_CAR = ("car", "battery", "fluid")
_DEPENDENT = frozenset(
    "before until till without if unless whether when while because cos cause since where who whose "
    "so though although need want".split()
) | {"so that"}
_DENIED = re.compile(r"\b(?:doesn't|don't|didn't|not|never|won't) (?:have|need|want)|\bcome (?:out|off)\b")
_SUM = re.compile(r"\b(?:that|which) makes (.+)")
_STILL = re.compile(r"\b(?:is|are|was|were) (?:not|still)\b.*")


def understand(text: str, before: Iterable[Event] = ()) -> Heard:
    """What a text says was done.

    Parameters
    ----------
    text : str
        A whole note, or the next sentence of one
    before : iterable of Event
        What was heard before it; pronouns and names may mean something from there

    Returns
    -------
    heard : Heard
        Of this text alone

    Examples
    --------
    >>> [(event.item, event.action, event.count, event.tool) for event in understand("Two 13 mm bolts out.").events]
    [('bolts', 'remove', 2, '13 mm')]
    """
    return Listener(text, before).hear()


class Listener:
    """Hears one text.

    Parameters
    ----------
    text : str
    before : iterable of Event
    """

    def __init__(self, text: str, before: Iterable[Event] = ()):
        self.text, self.scene = text, Scene(text, before)
        self.book, self.memory = self.scene.book, self.scene.memory
        self.things, self.figures = Things(self.scene), Figures(self.scene)
        self.deeds = Deeds(self.scene, self.things, self.figures)
        self.sayings = Sayings(self.scene, self.things, self.figures, self.deeds)
        self.steps = Steps(self.scene, self.things, self.figures, self.deeds, self.sayings)
        self.corrector = Corrector(self.book, self.memory)
        self.closings: list[tuple[int, tuple[str, ...], Source]] = []
        self.in_title = False
        self.owed_in = 0  # the sentence that told last what is owed
        self.side_from = self.sentence_from = 0  # events since a side was named, and of the sentence before

    def hear(self) -> Heard:
        """All that is understood."""
        told = tokens(self.text)
        heading_ends = title(self.text, told)
        for sentence in sentences(self.text, told):
            for part, corrects in parts(sentence):
                self.memory.sentence += 1
                self._sentence(part, corrects, sentence[-1].end <= heading_ends)
        return Heard(
            self._with_new_ones(self.book.events()),
            self.book.torques(),
            self.book.new_parts(),
            tuple(self.scene.owed),
            tuple(self.closings),
            tuple(self.scene.doubts),
            tuple(self.scene.remarks),
        )

    def _with_new_ones(self, events: tuple[Event, ...]) -> tuple[Event, ...]:
        """New pump, new gasket: what is told to be new and of which nothing else is told is fitted."""
        first_off = min((one.source.start for one in events if one.action in OFF), default=0)
        missing = [
            self._fitted_new(told)
            for told in self.book.new
            if told.source.start >= first_off and not _is_fitted_later(told, events)
        ]
        return tuple(sorted((*events, *missing), key=lambda one: one.source.start)) if missing else events

    def _fitted_new(self, told: Told) -> Event:
        thing = self.memory.new(tuple(told.item.split()), "part", False)
        return Event(
            told.item, "fit", told.source, told.count, confidence=VERBLESS, thing=thing.number, flags=("new",)
        )  # fmt: skip

    # -- sentences -------------------------------------------------------------------------------

    def _sentence(self, part: Sequence[Token], corrects: bool, is_title: bool) -> None:
        started = len(self.book.drafts)
        self.scene.part = part = self._after_heading(part)
        words = low(part)
        if not part or self._whole(part, words):
            return
        self.in_title = is_title
        chunker = Chunker(self.text, part)
        if remarks.says("said before", words) and self.corrector.said_before(_figures(chunker, part)):
            return
        chunks = parted(chunker.chunks(), part, self.memory)
        self._mark_side(chunks, started, words)
        clauses = Clauses(chunks).clauses()
        done = self.corrector.correct(clauses, part, words) if corrects else 0
        if corrects or words.startswith("no "):
            self.memory.corrected = self.memory.sentence
        turns = [n for n in range(1, len(part)) if self._turns(n)]
        for clause in clauses[done:]:
            self._clause(clause, chunks, "title" if is_title else self._mood_around(clause, words, turns))
        self._sum(words)
        self.sentence_from = started

    def _mood_around(self, clause: Clause, words: str, turns: Sequence[int]) -> str:
        """The mood of the part of a sentence that a clause is in; "but I took ..." begins another part."""
        part = self.scene.part
        begin = max((n for n in turns if n <= clause.first + 1), default=0)
        end = next((n for n in turns if n > clause.first + 1), len(part))
        if end - begin > LONG:
            begin, end = max(begin, clause.first - AHEAD), clause.after
        whole = words if end - begin == len(part) else self.scene.words(begin, end) if begin in (0, *turns) else ""
        return mood_of_sentence(whole, self.scene.words(begin, clause.after))

    def _turns(self, n: int) -> bool:
        """Whether the author comes back to what he did: "the book says off, but I ..."."""
        word, following = self.scene.word_at(n), self.scene.word_at(n + 1)
        return word in ("but", "anyway", ";") or (word == "so" and following in ("i", "we", "i've", "we've", "the"))

    def _sum(self, words: str) -> None:
        """Four screws each, and that makes sixteen; same size."""
        last = next((one for one in reversed(self.book.drafts) if one.kind in FASTENERS), None)
        if last is None or self.memory.sentence - last.sentence > 1:
            return
        if found := _SUM.search(words):
            number = read_number(tokens(found.group(1)), 0)
            if number is not None and number.value > 1:
                last.count = last.thing.count = int(number.value)
        if "same size" in words and last.tool is None and last.sentence == self.memory.sentence:
            sized = (one.tool for one in reversed(self.book.drafts[:-1]) if one.kind in FASTENERS and one.tool)
            last.tool = next(sized, None)

    def _after_heading(self, part: Sequence[Token]) -> Sequence[Token]:
        """A heading says which way the work goes and is taken away: "Off: wheel, caliper"."""
        if direction := remarks.heading(_bare(part)):
            self._turn(direction)
            return ()
        colon = next((n for n, token in enumerate(part[:5]) if n and token.low in (":", "-", "–")), None)
        if colon is not None and (direction := remarks.heading(_bare(part[:colon]))):
            self._turn(direction)
            return part[colon + 1 :]
        return part

    def _turn(self, direction: str) -> None:
        self.scene.turn(direction)
        self.side_from = len(self.book.drafts)

    def _whole(self, part: Sequence[Token], words: str) -> bool:
        """A remark that is understood as a whole; True where nothing else is in it."""
        if found := remarks.says("take back", words):
            better = len(words[found.end() :].strip(" ,.!-").split()) > 1 and "left" not in words
            if not better:
                self.corrector.take_back()
            return not better
        if remarks.says("same again", words) and self.book.drafts:
            if mood_of_clause(words) != "later":
                return self._same_again(part)
            what = " ".join(words.split()).strip(" .,")
            self.scene.owed.append(Told("", what, self.scene.stretch(0, len(part))))
            return True
        closes = remarks.says("closing", words) and mood_of_sentence(words) == STEP
        if closes and mood_of_clause(words) in (STEP, "negated"):
            self._closing(part, words)
        return False

    def _closing(self, part: Sequence[Token], words: str) -> None:
        """Everything back, with what is excepted."""
        exceptions: tuple[str, ...] = ()
        if found := remarks.says("exception", words):
            rest = re.sub(r"\bthe\b", "", _STILL.sub("", words[found.end() :]))
            exceptions = tuple(one.strip(" .!") for one in re.split(r",| and ", rest) if one.strip(" .!"))
        self.closings.append((len(self.book.drafts), exceptions, self.scene.stretch(0, len(part))))
        self.book.direction = "on"

    # -- sides -----------------------------------------------------------------------------------

    def _mark_side(self, chunks: Sequence[Chunk], started: int, words: str) -> None:
        """Remember where a side was named, for "the same on the other side"."""
        if found := remarks.says("side", words):
            self.side_from, self.scene.side = started, found.group()
        for chunk in chunks:
            if chunk.kind == NP and chunk.value.kind != "tool" and {*map(str.lower, chunk.value.words)} & {*OPPOSITE}:
                self.side_from = started
                return

    def _same_again(self, part: Sequence[Token]) -> bool:
        """Repeat what was done since a side was named, or in the sentence before."""
        start = self.side_from if self.side_from < len(self.book.drafts) else self.sentence_from
        again = [draft for draft in self.book.drafts[start:] if draft.kind not in _FOR_THE_WHOLE_CAR]
        twins: dict[int, Thing] = {}
        for draft in again:
            words, number = other_side(draft.words), draft.thing.number
            twin = twins.get(number) or self.memory.new(words, draft.kind, draft.thing.plural)
            twins[number] = twin
            copy = on_thing(draft, twin, words)
            copy.start, copy.end, copy.sentence = part[0].start, part[-1].end, self.memory.sentence
            copy.confidence = VERBLESS
            self.book.drafts.append(copy)
            twin.state, twin.last_event, twin.count = copy.action, len(self.book.drafts) - 1, copy.count
        return bool(again)

    # -- clauses ---------------------------------------------------------------------------------

    def _clause(self, clause: Clause, chunks: Sequence[Chunk], sentence_mood: str) -> None:
        words = self.scene.words(clause.first, clause.after)
        if remarks.says("closing", words) and not clause.torques:
            return
        mood = self._mood(clause, words, sentence_mood)
        if mood == "negated" and clause.sense == "tighten" and clause.lemma == clause.particle:
            clause.sense = clause.lemma = clause.particle = ""  # three screws, not tight
            mood = STEP
        if mood in ("later", "need") or self._is_owed(clause, mood, words):
            self._owe(clause)
        if mood in ("later", "need"):
            self.figures.torques_only(clause)
        elif mood != STEP:
            self._not_a_step(clause, mood)
        elif clause.sense == "leave":
            self._left(clause)
        elif clause.sense in ("", "none") or self._says_no_more(clause):
            self.sayings.hear(clause, chunks)
        else:
            self.steps.hear(clause)

    def _is_owed(self, clause: Clause, mood: str, words: str) -> bool:
        """Check the level tomorrow; but not what you, the reader, should do."""
        if mood not in ("advice", STEP) or clause.sense not in ("none", "") or not remarks.says("owed", words):
            return False
        return not (mood == "advice" and re.search(r"\byou\b", words))

    def _left(self, clause: Clause) -> None:
        """Left alone, and so no step; but left loose on the way back is in, and not tight."""
        self.things.mention(clause)
        if clause.particle == "loose" and self.scene.direction == "on":
            clause.sense, clause.lemma = "start", "start"
            clause.also.append("by hand")
            self.steps.hear(clause)

    def _mood(self, clause: Clause, words: str, sentence_mood: str) -> str:
        if sentence_mood != STEP:
            return sentence_mood
        ahead = self.scene.words(clause.first, clause.head_end or clause.after)
        told = self.scene.words(clause.first, clause.told_till) if clause.told_till > clause.head_end else words
        mood = mood_of_clause(told, ahead)
        if mood == STEP and clause.lead == "or" and clause.sense not in ("", "none"):
            return "alternative"
        if mood == STEP and clause.subordinate in ("need", "want"):
            return "need"
        return "subordinate" if mood == STEP and clause.subordinate in _DEPENDENT else mood

    def _says_no_more(self, clause: Clause) -> bool:
        """Whether words of a state only describe: tight, by feel, before anything goes back; a light that is on."""
        if clause.lemma != clause.particle:
            return False
        if clause.sense == "tighten" and self.scene.direction != "on":
            return True
        heads = [item.phrase.words[-1].lower() for item in clause.items if item.phrase.words]
        return bool(heads) and heads[-1] in SWITCHED and clause.sense in ("on", "off", "out")

    def _not_a_step(self, clause: Clause, mood: str) -> None:
        if mood not in ("story", "question"):
            self.things.mention(clause, describe=mood not in ("title", "absent"))
            if mood != "title":
                self.figures.torques_only(clause)
        if mood in ("alternative", "absent"):
            self.scene.remarks.append(Told(_first_name(clause), mood, self.scene.source(clause)))

    def _owe(self, clause: Clause) -> None:
        source = self.scene.source(clause)
        told_already = bool(self.scene.owed) and self.owed_in == self.memory.sentence
        if told_already or self.in_title or _DENIED.search(source.text.lower()):
            return
        self.owed_in = self.memory.sentence
        self.scene.owed.append(Told(_first_name(clause), " ".join(source.text.split()).strip(" ,.;"), source))


def _is_fitted_later(told: Told, events: Iterable[Event]) -> bool:
    after = (one for one in events if one.action in FITTING and one.source.end > told.source.start)
    return any(likeness(one.item, told.item) >= 0.5 for one in after)


def _first_name(clause: Clause) -> str:
    return next((one.phrase.name for one in clause.items if one.phrase.words), "")


def _figures(chunker: Chunker, part: Sequence[Token]) -> list[Quantity]:
    """The figures of a sentence."""
    found: list[Quantity] = []
    at = 0
    while at < len(part):
        told = chunker.quantities.read(at)
        found += told
        at = max(told[-1].after if told else 0, at + 1)
    return found


def _bare(part: Sequence[Token]) -> str:
    return re.sub(r"[^\w\s/'-]", "", low(part)).strip()
