"""From a note to what was heard: sentence by sentence, clause by clause, with all that was said before at hand."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from putback.capture import lexicon, remarks
from putback.capture.actions import CARRIED, HANGERS, SWITCHED, THREADED, action_of, put_in_for_the_work
from putback.capture.book import FITTING, Book, Draft, is_size, on_thing
from putback.capture.chunks import NP, SUBJECT, Chunk, Chunker
from putback.capture.clauses import Clause, Clauses, Item, tool_name
from putback.capture.corrections import Corrector, parts
from putback.capture.events import OFF, ON, Event, Heard, Source, Told
from putback.capture.joined import parted
from putback.capture.lines import sentences, title
from putback.capture.memory import OFF_NOW, Memory, Thing
from putback.capture.moods import STEP, mood_of_clause, mood_of_sentence
from putback.capture.names import OPPOSITE, likeness, other_side
from putback.capture.numbers import read_number
from putback.capture.phrases import Phrase
from putback.capture.places import Places
from putback.capture.quantities import Quantity
from putback.capture.tokens import Token, tokens

# How sure a reading is; own estimate, and only their order counts.
SURE, PRONOUN, VERBLESS, CARRIED_ON, UNKNOWN = 0.95, 0.85, 0.8, 0.75, 0.7
_FOR_THE_WHOLE_CAR = ("car", "battery", "fluid")
_FASTENERS = ("fastener", "clamp")
_DEPENDENT = frozenset(
    "before until till without if unless whether when while because cos cause since where who whose "
    "so though although need want".split()
) | {"so that"}
_WANTED = frozenset("want need say call think reckon expect ask order".split())
_MEASURE = re.compile(r"\b(?:litres?|liters?|gallons?|quarts?|pints?|qts?|l|ml)\b")
_TURNED_OUT = frozenset("wind screw run spin zip buzz turn".split())
_NOTHING = frozenset("bit bits piece pieces rest lot thing things stuff mess dirt crud half".split())
_LIKE_THE_LAST = re.compile(r"\b(?:the same|same|ditto|likewise|too|as well|also)\b")
_TURNED = frozenset("rotate turn swing lever pull push wind".split())


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
        self.text, self.places, self.memory = text, Places(text), Memory()
        self.book = Book(self.memory, self.places)
        self.corrector = Corrector(self.book, self.memory)
        self.owed: list[Told] = []
        self.doubts: list[Told] = []
        self.remarks: list[Told] = []
        self.closings: list[tuple[int, tuple[str, ...], Source]] = []
        self.heading = self.side = self.lemma = ""
        self.in_title = False
        self.owed_in = 0  # the sentence that told last what is owed
        self.side_from = self.sentence_from = 0  # events since a side was named, and of the sentence before
        self.car: Thing | None = None
        self.pending: tuple[int | None, str, int, int] | None = None  # a size that waits for its fasteners
        self.last_things: list[Thing] = []
        self.parts_told: list[Thing] = []  # named, and nothing done to them
        self.part: Sequence[Token] = ()
        self._recall(before)

    def _recall(self, before: Iterable[Event]) -> None:
        """Remember what was heard before this text."""
        things: dict[int, Thing] = {}
        for event in before:
            words = tuple(event.item.split())
            thing = things.get(event.thing) or self.memory.new(words, event.kind, bool(event.count and event.count > 1))
            things[event.thing] = thing
            thing.words, thing.state, thing.count = words, event.action, event.count or thing.count
            self.memory.touch(thing)
            self.book.direction = "off" if event.action in OFF else "on" if event.action in ON else self.book.direction
            self.last_things = [thing]

    def hear(self) -> Heard:
        """All that is understood."""
        told = tokens(self.text)
        heading_ends = title(self.text, told)
        for sentence in sentences(self.text, told):
            for part, corrects in parts(sentence):
                self.memory.sentence += 1
                self._sentence(part, corrects, sentence[-1].end <= heading_ends)
        book = self.book
        return Heard(
            self._with_new_ones(book.events()),
            book.torques(),
            book.new_parts(),
            tuple(self.owed),
            tuple(self.closings),
            tuple(self.doubts),
            tuple(self.remarks),
        )

    def _with_new_ones(self, events: tuple[Event, ...]) -> tuple[Event, ...]:
        """New pump, new gasket: what is told to be new and of which nothing else is told is fitted."""
        missing = []
        off = [one.source.start for one in events if one.action in OFF]
        first_off = min(off, default=0)
        for told in self.book.new:
            after = (one for one in events if one.action in FITTING and one.source.end > told.source.start)
            if not any(likeness(one.item, told.item) >= 0.5 for one in after) and told.source.start >= first_off:
                thing = self.memory.new(tuple(told.item.split()), "part", False)
                missing.append(
                    Event(
                        told.item,
                        "fit",
                        told.source,
                        told.count,
                        confidence=VERBLESS,
                        thing=thing.number,
                        flags=("new",),
                    )
                )
        return tuple(sorted((*events, *missing), key=lambda one: one.source.start)) if missing else events

    # -- sentences -------------------------------------------------------------------------------

    def _sentence(self, part: Sequence[Token], corrects: bool, is_title: bool) -> None:
        started = len(self.book.drafts)
        part = self._after_heading(part)
        words = low(part)
        self.part = part
        if not part or self._whole(part, words):
            return
        mood = "title" if is_title else mood_of_sentence(words)
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
        for clause in clauses[done:]:
            self._clause(clause, chunks, mood)
        if found := re.search(r"\b(?:that|which) makes (.+)", words):
            self._sum(found.group(1))
        if "same size" in words:
            self._same_size()
        self.sentence_from = started

    def _sum(self, words: str) -> None:
        """Four screws each, and that makes sixteen."""
        number = read_number(tokens(words), 0)
        last = next((one for one in reversed(self.book.drafts) if one.kind in _FASTENERS), None)
        if number is not None and last is not None and self.memory.sentence - last.sentence <= 1 and number.value > 1:
            last.count = last.thing.count = int(number.value)

    def _same_size(self) -> None:
        """Same size: that of the fasteners told before."""
        last = self._last_draft(0)
        before = next(
            (one.tool for one in reversed(self.book.drafts[:-1]) if one.kind in _FASTENERS and one.tool), None
        )
        if last is not None and last.kind in _FASTENERS and last.tool is None:
            last.tool = before

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
        self.heading = self.book.direction = direction
        self.side_from = len(self.book.drafts)

    def _whole(self, part: Sequence[Token], words: str) -> bool:
        """A remark that is understood as a whole; True where nothing else is in it."""
        if remarks.says("take back", words):
            self.corrector.take_back()
            return True
        if remarks.says("same again", words) and self.book.drafts:
            if mood_of_clause(words) != "later":
                return self._same_again(part)
            self.owed.append(
                Told("", " ".join(words.split()).strip(" .,"), self.places.source(part[0].start, part[-1].end))
            )
            return True
        if (
            remarks.says("closing", words)
            and mood_of_sentence(words) == STEP
            and mood_of_clause(words) in (STEP, "negated")
        ):
            self._closing(part, words)
        return False

    def _closing(self, part: Sequence[Token], words: str) -> None:
        """Everything back, with what is excepted."""
        exceptions: tuple[str, ...] = ()
        if found := remarks.says("exception", words):
            rest = re.sub(r"\b(?:is|are|was|were) (?:not|still)\b.*", "", words[found.end() :])
            exceptions = tuple(
                one.strip(" .!") for one in re.split(r",| and ", re.sub(r"\bthe\b", "", rest)) if one.strip(" .!")
            )
        self.closings.append((len(self.book.drafts), exceptions, self.places.source(part[0].start, part[-1].end)))
        self.book.direction = "on"

    def _mark_side(self, chunks: Sequence[Chunk], started: int, words: str) -> None:
        """Remember where a side was named, for "the same on the other side"."""
        if found := remarks.says("side", words):
            self.side_from, self.side = started, found.group()
        for chunk in chunks:
            if chunk.kind == NP and any(word.lower() in OPPOSITE for word in chunk.value.words):
                self.side_from = started
                return

    def _same_again(self, part: Sequence[Token]) -> bool:
        """Repeat what was done since a side was named, or in the sentence before."""
        start = self.side_from if self.side_from < len(self.book.drafts) else self.sentence_from
        again = [draft for draft in self.book.drafts[start:] if draft.kind not in _FOR_THE_WHOLE_CAR]
        twins: dict[int, Thing] = {}
        for draft in again:
            words = other_side(draft.words)
            if draft.thing.number not in twins:
                twins[draft.thing.number] = self.memory.new(words, draft.kind, draft.thing.plural)
            copy = on_thing(draft, twins[draft.thing.number], words)
            copy.start, copy.end, copy.sentence, copy.confidence = (
                part[0].start,
                part[-1].end,
                self.memory.sentence,
                VERBLESS,
            )
            self.book.drafts.append(copy)
            copy.thing.state, copy.thing.last_event, copy.thing.count = (
                copy.action,
                len(self.book.drafts) - 1,
                copy.count,
            )
        return bool(again)

    # -- clauses ---------------------------------------------------------------------------------

    def _clause(self, clause: Clause, chunks: Sequence[Chunk], sentence_mood: str) -> None:
        words = low(self.part[clause.first : clause.after])
        if remarks.says("closing", words) and not clause.torques:
            return
        mood = self._mood(clause, words, sentence_mood)
        if mood in ("later", "need") or (
            mood in ("advice", STEP)
            and clause.sense in ("none", "")
            and remarks.says("owed", words)
            and not (mood == "advice" and re.search(r"\byou\b", words))
        ):
            self._owe(clause)
        if mood in ("later", "need"):
            self._torques_only(clause)
        elif mood != STEP:
            self._not_a_step(clause, mood)
        elif clause.sense == "leave":
            self._left(clause)
        elif clause.sense in ("", "none") or self._says_no_more(clause):
            self._said_of(clause, chunks, words)
        else:
            self._predicate(clause)

    def _left(self, clause: Clause) -> None:
        """Left alone, and so no step; but left loose on the way back is in, and not tight."""
        self._mention(clause)
        if clause.particle == "loose" and self.book.direction == "on":
            clause.sense, clause.lemma = "start", "start"
            clause.also.append("by hand")
            self._predicate(clause)

    def _mood(self, clause: Clause, words: str, sentence_mood: str) -> str:
        if sentence_mood != STEP:
            return sentence_mood
        ahead = low(self.part[clause.first : clause.head_end or clause.after])
        told = low(self.part[clause.first : clause.told_till]) if clause.told_till > clause.head_end else words
        mood = mood_of_clause(told, ahead)
        if mood == STEP and clause.lead == "or" and clause.sense not in ("", "none"):
            return "alternative"
        if mood == STEP and clause.subordinate in ("need", "want"):
            return "need"
        return "subordinate" if mood == STEP and clause.subordinate in _DEPENDENT else mood

    def _says_no_more(self, clause: Clause) -> bool:
        """Whether words of a state only describe: tight, by feel, before anything goes back; a light that is on."""
        if clause.lemma == clause.particle and clause.sense == "tighten" and self.book.direction != "on":
            return True
        heads = [item.phrase.words[-1].lower() for item in clause.items if item.phrase.words]
        return (
            clause.lemma == clause.particle
            and bool(heads)
            and heads[-1] in SWITCHED
            and clause.sense in ("on", "off", "out")
        )

    def _not_a_step(self, clause: Clause, mood: str) -> None:
        if mood not in ("story", "question"):
            self._mention(clause, describe=mood not in ("title", "absent"))
            if mood != "title":
                self._torques_only(clause)
        if mood in ("alternative", "absent"):
            item = next((one.phrase.name for one in clause.items if one.phrase.words), "")
            self.remarks.append(Told(item, mood, self._source(clause)))

    def _owe(self, clause: Clause) -> None:
        source = self._source(clause)
        if (self.owed and self.owed_in == self.memory.sentence) or self.in_title or _DENIED.search(source.text.lower()):
            return
        self.owed_in = self.memory.sentence
        item = next((one.phrase.name for one in clause.items if one.phrase.words), "")
        self.owed.append(Told(item, " ".join(source.text.split()).strip(" ,.;"), source))

    def _source(self, clause: Clause) -> Source:
        first, last = self.part[min(clause.first, len(self.part) - 1)], self.part[min(clause.after, len(self.part)) - 1]
        return self.places.source(first.start, max(last.end, first.end))

    def _end(self, after: int) -> int:
        return self.part[max(0, min(after, len(self.part)) - 1)].end

    # -- predicates ------------------------------------------------------------------------------

    def _predicate(self, clause: Clause) -> None:
        self.lemma = clause.lemma
        if clause.sense == "aside" and self._belt_tensioner(clause):
            return
        if clause.sense == "cover":
            self._covered(clause)
            return
        stoppers = [
            item
            for item in clause.items
            if item.phrase.words and put_in_for_the_work(item.phrase, clause.places, self.book.direction, "")
        ]
        if clause.in_container and clause.sense in ("in", "on", "start") and not stoppers:
            self._mention(clause)
            return
        self._describe_beside(clause)
        self._unit_told_once(clause)
        items = self._its_items(clause)
        if not items and clause.sense == "in" and self._poured_in(clause):
            return
        if not items:
            self._carried_on(clause)
            return
        drafts: list[Draft] = []
        items = self._the_part_they_hold(clause, self._by_its_name(clause, items))
        tail = False
        for item in items:
            behind = item.first >= clause.head_end and (item is not items[0] or not clause.active)
            tail = behind and (tail or not item.joined)
            if self._is_a_count(clause, item):
                self._verbless(item, clause)
                continue
            if tail and item.phrase.kind == "tool" and drafts and drafts[-1].tool is None:
                self._amend_draft(drafts[-1], item.after, tool_name(item.phrase))
            if tail and not self._tail_counts(clause, item):
                continue
            if draft := self._do(clause, item, self._sense_behind(clause, drafts, item) if tail else clause.sense):
                drafts.append(draft)
        if drafts:
            self.last_things = [draft.thing for draft in drafts]
        elif items and items[0].phrase.words:
            self.last_things = [self.memory.recent[-1]] if self.memory.recent else []
        self._with_it(clause, drafts)

    def _the_part_they_hold(self, clause: Clause, items: list[Item]) -> list[Item]:
        """Caliper, two bolts, up on a hook: what goes up is the caliper, and the bolts are out."""
        if clause.sense not in ("raise", "aside", "lower", "up") or any(
            one.phrase.kind not in _FASTENERS for one in items
        ):
            return items
        part = next((one for one in reversed(self.parts_told) if one.told_at == self.memory.sentence), None)
        if part is None:
            return items
        for item in items:
            self._verbless(item, clause)
        phrase = Phrase(items[0].first, items[0].after, part.words, part.kind)
        return [Item(phrase, items[0].first, items[0].after)]

    def _is_a_count(self, clause: Clause, item: Item) -> bool:
        """Push pins, 4 off, on the way back: four pieces, and nothing taken off."""
        pieces = clause.lemma == "off" and self._low_at(clause.head - 1).isdigit()
        return pieces and self.book.direction == "on" and self._is_off(item.phrase)

    def _tail_counts(self, clause: Clause, item: Item) -> bool:
        """Whether a thing behind a predicate, without a verb of its own, went the same way."""
        phrase = item.phrase
        figures = item.tool or item.count or phrase.tool or phrase.count or item.torque or item.angle
        if not phrase.words or "side only" in phrase.flags:
            return bool(figures)
        if phrase.kind in ("put in", "prop", "fluid"):
            return False
        told = (
            figures or "new" in phrase.flags or phrase.kind not in ("part", "unknown", "line") or self._is_off(phrase)
        )
        behind = low(self.part[item.after : item.after + 2])
        if not told and not _LIKE_THE_LAST.search(behind) and not re.match(r"(?:with|w/) (?:it|them)\b", behind):
            self._thing(phrase)
            return False
        return True

    def _by_its_name(self, clause: Clause, items: list[Item]) -> list[Item]:
        """The small one pulls off, the spade: what is named behind is the same thing."""
        if len(items) != 2 or "side only" not in items[0].phrase.flags or items[1].first < clause.head_end:
            return items
        first, named = items
        figures = named.tool or named.count or named.phrase.tool or named.phrase.count or named.torque
        if (
            figures
            or named.joined
            or "side only" in named.phrase.flags
            or "definite" not in named.phrase.flags
            or not named.phrase.words
        ):
            return items
        named.first = first.first
        return [named]

    def _is_off(self, phrase: Phrase) -> bool:
        """Whether a thing that is named on the way back is one that came off."""
        if self.book.direction != "on" or not phrase.words:
            return False
        thing = self.memory.known(phrase.words, phrase.kind, phrase.count, "plural" in phrase.flags)
        return thing is not None and thing.state in ("remove", "set aside", "unplug", "open")

    def _covered(self, clause: Clause) -> None:
        """Blanked with two bungs: they are put in for the work."""
        for item in clause.along:
            if (
                put_in_for_the_work(
                    item.phrase, [one.phrase for one in clause.items if one.phrase.words], self.book.direction, ""
                )
                or item.phrase.kind == "put in"
            ):
                self._do(clause, item, "in")

    def _poured_in(self, clause: Clause) -> bool:
        """Five and a half litres of oil in."""
        before = low(self.part[: clause.head_end])
        fluid = next((one for one in clause.places if one.kind == "fluid"), None)
        if fluid is None or not _MEASURE.search(before):
            return False
        return self._do(clause, Item(fluid, fluid.first, fluid.after), "fill") is not None

    def _describe_beside(self, clause: Clause) -> None:
        """Things that stand beside what is done are talked about as well."""
        for item in clause.described:
            if item.torque is not None and item.phrase.words and self.heading != "off":
                said = Clause(item.first, item.after, "tighten", "", "", items=[item])
                self._do(said, item, "tighten", None, VERBLESS)
            elif item.phrase.words and item.phrase.kind not in ("tool", "shop", "unknown"):
                thing = self._thing(item.phrase)
                if thing is not None:
                    self._describe(thing, item)

    def _its_items(self, clause: Clause) -> list[Item]:
        """The things that a predicate is about; sizes that stand alone go to the clause."""
        items: list[Item] = []
        ahead: Item | None = None  # a size that stands ahead of its thing: 19 x5 wheel off
        for item in clause.items:
            phrase = item.phrase
            if ahead is not None and phrase.words and ahead.after == item.first:
                item.tool, item.count = item.tool or ahead.phrase.tool, item.count or ahead.phrase.count
                item.first = ahead.first
            ahead = item if phrase.is_size else None
            if (
                phrase.words
                or phrase.pronoun
                or (phrase.count and not phrase.tool and not self._is_bare_figure(clause, item))
            ):
                items.append(item)
            elif phrase.tool:
                clause.tool = clause.tool or (phrase.tool if not self._size_of_next(clause, item) else None)
                if phrase.count and items:
                    items[-1].count = items[-1].count or phrase.count
            elif phrase.count:
                clause.numbers.append((item.first, item.after, float(phrase.count)))
        items = self._shared(items)
        if not items and clause.along and not clause.along[0].phrase.words and clause.along[0].phrase.pronoun:
            items = clause.along[:1]  # back in with it
        if clause.sense in ("drain", "fill", "bleed"):
            return self._fluid(clause, items)
        return items

    def _size_of_next(self, clause: Clause, item: Item) -> bool:
        return any(other.first == item.after and other.phrase.words for other in clause.items)

    def _is_bare_figure(self, clause: Clause, item: Item) -> bool:
        return "bare" in item.phrase.flags and item.first >= clause.head_end and clause.sense in ("tighten", "start")

    def _shared(self, items: list[Item]) -> list[Item]:
        """What stands behind the last of several things holds for all that are joined."""
        for before, item in zip(reversed(items[:-1]), reversed(items[1:]), strict=True):
            if item.joined and item.torque is not None and before.torque is None:
                before.torque, before.unit, before.angle, before.torques = (
                    item.torque,
                    item.unit,
                    item.angle,
                    list(item.torques),
                )
        return items

    def _fluid(self, clause: Clause, items: list[Item]) -> list[Item]:
        """What is drained or filled is the fluid, wherever it stands."""
        told = (*(item.phrase for item in items), *clause.places, *(item.phrase for item in clause.along))
        fluid = next((one for one in told if one.kind == "fluid"), None)
        unknown = next((item.phrase for item in clause.along if item.phrase.kind == "unknown"), None)
        if fluid is None and unknown is not None and clause.sense == "fill":
            fluid = unknown
        if fluid is not None:
            return [Item(fluid, fluid.first, fluid.after)]
        if clause.sense == "bleed" or any(
            item.phrase.words and item.phrase.kind not in ("unknown", "car") for item in items
        ):
            return items if not all(item.phrase.pronoun for item in items) or clause.sense != "bleed" else items
        known = next((thing for thing in reversed(self.memory.recent) if thing.kind == "fluid"), None)
        if known is None:
            unknown = next((item for item in clause.along if item.phrase.words), None)
            return [unknown] if unknown and clause.sense == "fill" else items
        return [Item(Phrase(clause.first, clause.after, known.words, "fluid"), clause.head, clause.head_end)]

    def _sense_behind(self, clause: Clause, drafts: list[Draft], item: Item) -> str:
        """Things told behind a predicate go the way of the first: cover off, five screws."""
        if item.torque is not None:
            return "tighten"
        if clause.sense in ("off", "out", "on", "in", "undo", "tighten", "loosen", "unplug", "plug in", "replace"):
            return clause.sense
        told = [draft for draft in drafts if draft.kind != "put in"]
        told = [draft for draft in told if draft.action not in ("lower", "raise", "support", "unsupport")]
        direction = ("on" if told[0].action in ON else "off") if told else ""
        return direction or self.book.direction or "off"

    def _with_it(self, clause: Clause, drafts: list[Draft]) -> None:
        """Fitted with three screws, with new bushes: what came off, is new or is counted goes along."""
        if not drafts or drafts[0].action not in ("fit", "tighten", "remove"):
            return
        for item in clause.along:
            phrase = item.phrase
            thing = self._thing(phrase, clause.sense)
            if thing is None:
                continue
            counted = phrase.kind in _FASTENERS and phrase.count is not None and drafts[0].action != "remove"
            if (
                counted
                or ("new" in phrase.flags and drafts[0].action != "remove")
                or (thing.state == "remove" and drafts[0].action != "remove" and thing not in self.last_things)
            ):
                self._do(clause, item, "on")

    def _carried_on(self, clause: Clause) -> None:
        """A predicate without a thing of its own goes on about the last one: "... and hung up"."""
        if clause.lemma == clause.particle and clause.sense and self._is_about_something_else(clause):
            return
        for thing in self._subjects(clause):
            item = Item(Phrase(clause.head, clause.head_end, pronoun="it"), clause.head, clause.head_end)
            if clause.torques:
                self._torque_of(item, clause)
            item.angle = clause.angle
            self._do(clause, item, clause.sense, thing, CARRIED_ON)

    def _is_about_something_else(self, clause: Clause) -> bool:
        """Whether words that were not understood stand ahead of a particle."""
        sign = max((n for n in range(clause.head) if self.part[n].kind == "sign"), default=-1)
        ahead = self.part[max(sign + 1, self._told_up_to(clause)) : clause.head]
        return any(token.kind == "word" and token.low not in lexicon.small_words() for token in ahead)

    def _told_up_to(self, clause: Clause) -> int:
        """The token behind the last event of this sentence that stands ahead of a clause."""
        ends = [one.end for one in self.book.drafts if one.sentence == self.memory.sentence]
        return next((n for n, token in enumerate(self.part) if token.start >= max(ends, default=0)), clause.first)

    def _subjects(self, clause: Clause) -> list[Thing]:
        if (
            clause.sense in ("raise", "down", "lower")
            and (clause.on_car or clause.lemma in ("jack", "up", "down", "raise"))
            and self.car is not None
        ):
            if clause.on_car or not self._just_told():
                return [self.car]
        if clause.sense in ("drain", "fill", "bleed"):
            found = next((thing for thing in reversed(self.memory.recent) if thing.kind == "fluid"), None)
            if found:
                return [found]
        return self._just_told()

    def _just_told(self) -> list[Thing]:
        return [
            thing for thing in self.last_things if self.memory.sentence - thing.told_at <= 2 and thing.kind != "car"
        ]

    def _torque_of(self, item: Item, clause: Clause) -> None:
        item.torque, item.unit, item.torques = clause.torques[-1].value, clause.torques[-1].unit, list(clause.torques)

    # -- one event -------------------------------------------------------------------------------

    def _do(
        self, clause: Clause, item: Item, sense: str, thing: Thing | None = None, confidence: float = SURE
    ) -> Draft | None:
        phrase = item.phrase
        named = bool(phrase.words) and "side only" not in phrase.flags
        if named and len(phrase.words) == 1 and phrase.words[0].lower() in _NOTHING:
            return None
        if (phrase.kind in ("tool", "shop") and named) or (
            phrase.kind == "unknown" and item.first >= clause.head_end and clause.lemma == clause.particle and named
        ):
            return None
        thing = thing or self._supported(clause, item) or self._thing(phrase, sense, clause.on_car)
        if thing is None:
            self._ask(clause, phrase)
            return None
        kind = self._kind(clause, item, thing, named, sense)
        head = lexicon.singular(phrase.words[-1].lower()) if named else thing.head
        if sense == "pullback" and clause.active:
            sense = "aside"
        state = thing.state or ("remove" if "new" in phrase.flags else "")
        action = self._as_said_with(
            action_of(sense, kind, head, clause.lemma, clause.particle, state, self.book.direction),
            clause,
            item,
            head,
        )
        if (
            action in ("fit", "raise")
            and self.book.direction != "on"
            and clause.places
            and clause.places[0].words
            and clause.places[0].words[-1].lower() in HANGERS
        ):
            action = "set aside"
        if (
            action in ("fit", "close", "plug in")
            and self.book.direction == "off"
            and clause.copula
            and clause.lemma != clause.particle
        ):
            action = ""  # the tube is pushed on the spindle: that is how it was
        if sense == "support" and phrase.kind == "prop" and clause.places:
            action = "support"
        if clause.places and any(one.words and one.words[-1].lower() in SWITCHED for one in clause.places):
            action = ""
        if (
            clause.on_car
            and sense == "down"
            and kind not in ("car", "prop")
            and head not in CARRIED
            and not thing.state
        ):
            action = ""  # pedal on the floor
        if action == "set aside" and self.book.direction == "on" and clause.lemma == "move":
            action = ""  # rubber feet moved over to the new one
        if (
            sense in ("crack", "loosen")
            and clause.copula
            and clause.lemma in ("crack", "break")
            and kind not in ("fastener", "line")
        ):
            action = ""
        if not action or (
            sense == "drop"
            and thing.kind in _FASTENERS
            and clause.lemma == "drop"
            and not clause.particle
            and item.first > clause.head
            and item is clause.items[0]
        ):
            self.memory.touch(thing)
            return None
        if phrase.kind == "unknown":
            confidence = min(confidence, UNKNOWN)
        draft = self._draft(clause, item, thing, action, kind, confidence if named or confidence != SURE else PRONOUN)
        thing.plural = thing.plural or "plural" in phrase.flags
        return self._enter(draft, clause)

    def _enter(self, draft: Draft, clause: Clause) -> Draft:
        """Enter an event; one started by hand and then torqued in the same breath is two."""
        self._use_description(draft)
        if draft.action == "start by hand" and draft.torque is not None:
            torque, unit, torques = draft.torque, draft.unit, draft.torques
            draft.torque = draft.unit = None
            draft.torques = []
            first = self.book.enter(draft)
            second = on_thing(draft, draft.thing, draft.words)
            second.action, second.torque, second.unit, second.torques, second.tool = (
                "tighten",
                torque,
                unit,
                torques,
                None,
            )
            self.book.enter(second)
            return first
        return self.book.enter(draft)

    def _supported(self, clause: Clause, item: Item) -> Thing | None:
        """A jack put under the gearbox: what it holds is the thing, and it is the tool."""
        if (
            item.phrase.kind != "prop"
            or not clause.places
            or clause.relation not in ("under", "underneath", "beneath", "round", "around")
            or clause.lemma
            not in ("", "jack", "put", "slide", "get", "place", "under", "run", "stick", "shove", "have", "support")
        ):
            return None
        clause.sense = "support"
        clause.tool = tool_name(item.phrase)
        return self._named(clause.places[0])

    def _kind(self, clause: Clause, item: Item, thing: Thing, named: bool, sense: str) -> str:
        phrase = item.phrase
        if not named or phrase.kind in ("", "unknown"):
            return thing.kind
        if len(phrase.words) == 1 and thing.kind != phrase.kind and (thing.state or len(thing.words) > 1):
            return thing.kind
        if sense in ("on", "in", "cover") and put_in_for_the_work(
            phrase, clause.places, self.book.direction, thing.state
        ):
            thing.kind = "put in"
            return "put in"
        return phrase.kind

    def _as_said_with(self, action: str, clause: Clause, item: Item, head: str) -> str:
        """What a torque, an angle or "by hand" makes of an action."""
        torque, turned = item.torque is not None, bool(item.angle)
        by_hand = "by hand" in clause.also or clause.lemma == "by hand"
        if by_hand and action in ("fit", "start by hand") and torque and (head in THREADED or action != "fit"):
            return "start by hand"
        if action in ("fit", "plug in", "close") and (torque or turned):
            return "tighten"
        if action in ("fit", "close") and any(word in ("feel", "snug", "tight") for word in clause.also):
            return "tighten"
        threaded = (
            head in THREADED
            or bool(item.tool or item.phrase.tool)
            or clause.lemma in ("screw", "run", "spin", "thread", "start", "wind")
        )
        if by_hand and action in ("fit", "close", "tighten", "start by hand"):
            return "tighten" if turned else "start by hand" if threaded or action == "start by hand" else "fit"
        return "loosen" if action == "remove" and turned else action

    def _draft(self, clause: Clause, item: Item, thing: Thing, action: str, kind: str, confidence: float) -> Draft:
        phrase = item.phrase
        first, last = min(item.first, clause.head) if clause.head_end else item.first, max(item.after, clause.head_end)
        if item.first < clause.head or not clause.head_end:
            first = item.first
        words = phrase.words if phrase.words and "side only" not in phrase.flags else thing.words
        draft = Draft(
            words,
            action,
            self.part[min(first, len(self.part) - 1)].start,
            self._end(last),
            thing,
            kind,
            confidence=confidence,
            sentence=self.memory.sentence,
        )
        draft.by_pronoun, draft.side = not phrase.words, self.side
        draft.count = item.count or phrase.count or (self._count_of(thing) if not phrase.words else None)
        if item.each_side:
            draft.count = 2 * (draft.count or 1)
        elif item.each:
            draft.count = self._of_each(draft.count or 1, thing)
        if "all" in phrase.flags:
            draft.flags.add("all")
        draft.tool = self._tool(clause, item, action)
        draft.flags |= {flag for flag in ("new", "reused", "old") if flag in phrase.flags} | (
            {"cut"} if clause.sense == "cut" or clause.lemma == "cut" else set()
        )
        if action not in OFF:
            self._tightened(draft, clause, item)
        return draft

    def _count_of(self, thing: Thing) -> int | None:
        """How many a pronoun means: as many as the last event was about, or the description."""
        last = self.book.last_of(thing)
        return last.count if last is not None else thing.count

    def _of_each(self, count: int, thing: Thing) -> int:
        """Two bolts each: times the brackets that they hold."""
        held = next(
            (
                one
                for one in reversed(self.memory.recent[-4:])
                if one is not thing and one.count and one.count > 1 and one.kind not in _FASTENERS
            ),
            None,
        )
        plural = next(
            (
                one
                for one in reversed(self.memory.recent[-4:])
                if one is not thing and one.plural and one.kind not in _FASTENERS
            ),
            None,
        )
        return count * (held.count if held else 2 if plural else 1)

    def _tool(self, clause: Clause, item: Item, action: str) -> str | None:
        tool = item.tool or item.phrase.tool or clause.tool
        return None if tool and action in ("lower", "raise", "set aside") and tool.endswith("mm") else tool

    def _tightened(self, draft: Draft, clause: Clause, item: Item) -> None:
        alone = len(clause.items) <= 1
        draft.torque, draft.unit, draft.angle = item.torque, item.unit, item.angle
        draft.torques = [(one.value, one.unit) for one in item.torques]
        if "bare size" in item.phrase.flags and draft.torque is None and not item.phrase.count and draft.tool:
            if self.book.direction == "on" and draft.action in ("fit", "tighten") and not clause.torques:
                draft.torque, draft.tool = float(draft.tool.split()[0]), None  # bolts 15
                draft.torques = [(draft.torque, None)]
        if (
            draft.torque is None
            and clause.torques
            and draft.action in ("tighten", "fit", "start by hand", "plug in", "close")
            and (alone or item.first > clause.torques[0].first)
        ):
            draft.torque, draft.unit = clause.torques[-1].value, clause.torques[-1].unit
            draft.torques = [(one.value, one.unit) for one in clause.torques]
        elif draft.torque is None and draft.action == "tighten" and clause.numbers:
            self._bare_torque(draft, clause)
        if draft.torque is not None and draft.action in ("fit", "plug in", "close"):
            draft.action = "tighten"
        if draft.torque is not None and draft.unit is None:
            self._doubt_unit(draft)
        if draft.angle is None and draft.action == "tighten" and alone:
            draft.angle = clause.angle

    def _bare_torque(self, draft: Draft, clause: Clause) -> None:
        """A number without a unit where a torque must be meant."""
        first, after, value = clause.numbers[-1]
        if 3 <= value <= 900:
            draft.torque, draft.unit = value, None
            draft.torques = [(value, None)]
            draft.end = max(draft.end, self._end(after))

    def _doubt_unit(self, draft: Draft) -> None:
        source = self.places.source(draft.start, draft.end)
        figure = f"{draft.torque:g}"
        self.doubts.append(
            Told(
                draft.name,
                f"{draft.name}: {figure} of which unit, newton metres, foot-pounds or inch-pounds?",
                source,
                draft.torque,
            )
        )

    def _use_description(self, draft: Draft) -> None:
        """What was told of a thing before anything was done to it belongs to the first event."""
        thing = draft.thing
        if thing.start >= 0 and 0 <= draft.start - thing.after < 400:
            if draft.tool is None or (is_size(thing.tool) and not is_size(draft.tool)):
                draft.tool = thing.tool
            if thing.plural:
                draft.count = draft.count or thing.count
            draft.start = min(draft.start, thing.start)
        thing.start, thing.tool = -1, None
        just_off = draft.action == "remove" and self.pending and self.memory.sentence - self.pending[3] <= 1
        if self.pending and (draft.kind in _FASTENERS or just_off):
            count, tool, start, sentence = self.pending
            if (
                self.memory.sentence - sentence <= 3
                and (not draft.count or not count or draft.count == count)
                and draft.tool in (None, tool)
            ):
                draft.count, draft.tool, draft.start = draft.count or count, tool, min(start, draft.start)
            self.pending = None

    def _ask(self, clause: Clause, phrase: Phrase) -> None:
        source = self._source(clause)
        self.doubts.append(
            Told("", f'What is "{phrase.pronoun or phrase.name or "it"}" in "{_short(source.text)}"?', source)
        )

    # -- what a thing is -------------------------------------------------------------------------

    def _thing(self, phrase: Phrase, sense: str = "", on_car: bool = False) -> Thing | None:
        if phrase.words and "side only" not in phrase.flags:
            return self._named(phrase)
        if on_car and self.car is not None and not phrase.words:
            return self.car
        if sense in ("lower", "down") and phrase.pronoun == "it" and (up := self.book.car_is_up()) is not None:
            last = self.memory.meant(phrase)
            if last is None or last.head not in CARRIED:
                return up.thing
        if sense in ("raise", "lower", "down") and phrase.words and set(phrase.words) & {"front", "rear", "back"}:
            return self.memory.new(phrase.words, "car", False)
        preferred = ("fastener", "clamp") if self.lemma in _TURNED_OUT and sense == "out" else _PREFERRED.get(sense, ())
        thing = self.memory.meant(phrase, preferred)
        if thing is not None:
            self.memory.touch(thing)
        return thing

    def _named(self, phrase: Phrase) -> Thing:
        kind = phrase.kind if phrase.kind not in ("", "unknown") else "part"
        found = (
            self.memory.known(phrase.words, kind, phrase.count, "plural" in phrase.flags)
            if "other" not in phrase.flags
            else None
        )
        if found is not None and found.kind != kind and {found.kind, kind} & {"fastener", "electric", "line", "fluid"}:
            found = (
                found if len(phrase.words) == 1 and found.head == lexicon.singular(phrase.words[-1].lower()) else None
            )
        if found is None:
            found = self.memory.new(phrase.words, kind, "plural" in phrase.flags)
        self.memory.touch(found)
        if found.kind == "car":
            self.car = found
        if phrase.count and not found.count:
            found.count = phrase.count
        return found

    def _mention(self, clause: Clause, describe: bool = True) -> None:
        """Things that were talked about and nothing done to."""
        told = [*(Item(phrase, phrase.first, phrase.after) for phrase in clause.places), *clause.described]
        for item in (*told, *clause.along, *clause.items):
            phrase = item.phrase
            if phrase.kind in ("tool", "shop", "unknown") or not (phrase.words or phrase.pronoun):
                continue
            thing = self._thing(phrase)
            if thing is not None and describe and phrase.words and "side only" not in phrase.flags:
                self._describe(thing, item)

    def _describe(self, thing: Thing, item: Item) -> None:
        if thing.kind not in (*_FASTENERS, "tool", "shop", "car"):
            self.parts_told.append(thing)
        tool, count = item.tool or item.phrase.tool, item.count or item.phrase.count
        thing.count, thing.plural = count or thing.count, thing.plural or "plural" in item.phrase.flags
        if tool or count:
            thing.tool = tool or thing.tool
            thing.start, thing.after = self.part[item.first].start, self._end(item.after)

    def _torques_only(self, clause: Clause) -> None:
        """A torque told of a thing that nothing was done to."""
        for item in clause.items:
            thing = self._thing(item.phrase) if item.torques else None
            name = (
                item.phrase.name
                if item.phrase.words and "side only" not in item.phrase.flags
                else thing.name
                if thing
                else ""
            )
            if name:
                source = self.places.source(self.part[item.first].start, self._end(item.after))
                self.book.only_torques += [Told(name, "torque", source, one.value, one.unit) for one in item.torques]

    # -- what is said without a predicate --------------------------------------------------------

    def _said_of(self, clause: Clause, chunks: Sequence[Chunk], words: str) -> None:
        inside = [chunk for chunk in chunks if clause.first <= chunk.first < clause.after]
        if clause.lemma in _WANTED:
            self._mention(clause)
            self._torques_only(clause)
        elif self._stopper(clause) or self._filled(clause):
            return
        elif self._bare_line(clause) or clause.torques or any(item.torque is not None for item in clause.items):
            self._unit_told_once(clause)
            self._note_new_ones(clause)
            self._torque_line(clause)
        elif self._belt_tensioner(clause) or self._jack_under(clause) or self._put_there(clause, inside, words):
            return
        else:
            self._note_new_ones(clause)
            if self._put_into(clause):
                return
            self._places_named(clause)
            description = self._is_description(clause, inside, words)
            self._held(clause)
            self._describe_beside(clause)
            for item in (*clause.items, *clause.along):
                self._said_item(clause, item, description, inside)
            self._tool_alone(clause)

    def _unit_told_once(self, clause: Clause) -> None:
        """Nut's 9 as well, lugs 80: a unit holds for the figures of its sentence."""
        unit = next((item.unit for item in clause.items if item.unit), None)
        unit = unit or (clause.torques[0].unit if clause.torques else None)
        kept: list[Item] = []
        for item in clause.items:
            value = item.phrase.count if not item.phrase.words and "bare" in item.phrase.flags else None
            meant = unit or (self.book.direction == "on" and bool(kept) and kept[-1].phrase.kind in _FASTENERS)
            if meant and value and value >= 3 and kept and kept[-1].torque is None and kept[-1].phrase.words:
                kept[-1].torque, kept[-1].unit, kept[-1].after = float(value), unit, item.after
                kept[-1].torques = [Quantity("torque", item.first, item.after, float(value), unit)]
            else:
                kept.append(item)
        clause.items = kept
        for first, after, value in clause.numbers:  # ... newton metres, the long ones at forty
            if unit and kept and kept[-1].torque is None and kept[-1].after <= first and len(kept) > 1:
                kept[-1].torque, kept[-1].unit, kept[-1].after = value, unit, after
                kept[-1].torques = [Quantity("torque", first, after, value, unit)]

    def _places_named(self, clause: Clause) -> None:
        for phrase in clause.places:
            if phrase.words and "side only" not in phrase.flags and phrase.kind not in ("tool", "shop", "unknown"):
                self._thing(phrase)

    def _belt_tensioner(self, clause: Clause) -> bool:
        """A tensioner that is turned gives the belt slack."""
        if clause.lemma not in _TURNED:
            return False
        told = next(
            (
                one
                for one in (*(item.phrase for item in clause.items), *clause.places)
                if one.words and one.words[-1].lower() == "tensioner"
            ),
            None,
        )
        recent = next(
            (
                thing
                for thing in reversed(self.memory.recent[-2:])
                if thing.head == "tensioner" and thing.told_at == self.memory.sentence
            ),
            None,
        )
        if told is None and recent is None:
            return False
        phrase = told or Phrase(clause.head, clause.head_end, recent.words, "part")
        self._do(clause, Item(phrase, phrase.first, phrase.after), "loosen", None if told else recent)
        return True

    def _jack_under(self, clause: Clause) -> bool:
        """A jack put under the gearbox supports it."""
        item = next((one for one in clause.items if one.phrase.kind == "prop"), None)
        if item is None or clause.subordinate or self._supported(clause, item) is None:
            return False
        return self._do(clause, item, "support") is not None

    def _stopper(self, clause: Clause) -> bool:
        """Stuffed a rag in, wrapped a bag round it: put in for the work, whatever the verb."""
        if clause.lemma not in ("stick", "stuff", "push", "place", "shove", "slip") or not clause.items:
            return False
        item = clause.items[0]
        if not item.phrase.words or not put_in_for_the_work(item.phrase, clause.places, self.book.direction, ""):
            return False
        return self._do(clause, item, "in") is not None

    def _filled(self, clause: Clause) -> bool:
        """Four gallons of fresh oil, on the way back: filled."""
        told = (*clause.places, *(item.phrase for item in clause.items))
        fluid = next((one for one in told if one.kind == "fluid"), None)
        measured = _MEASURE.search(low(self.part[clause.first : clause.after]))
        if clause.sense or clause.copula or self.book.direction != "on" or fluid is None or not measured:
            return False
        said = Clause(clause.first, clause.after, "fill", "", "", head=clause.first, head_end=clause.after)
        return self._do(said, Item(fluid, fluid.first, fluid.after), "fill", None, VERBLESS) is not None

    def _bare_line(self, clause: Clause) -> bool:
        """Wheel 110: on the way back a bare number behind a thing is a torque whose unit nobody told."""
        if clause.sense or not self.heading == "on" or len(clause.items) != 1 or len(clause.numbers) != 1:
            return False
        item, (first, after, value) = clause.items[0], clause.numbers[0]
        if not item.phrase.words or item.tool or first != item.after or not 4 <= value <= 600:
            return False
        item.torque, item.unit, item.after = value, None, after
        item.torques = [Quantity("torque", first, after, value, None)]
        return True

    def _put_into(self, clause: Clause) -> bool:
        """Sensor out of the old one, into the new one."""
        if clause.items or clause.relation != "into" or clause.sense or not self.last_things:
            return False
        thing = self.last_things[-1]
        if thing.state != "remove":
            return False
        item = Item(Phrase(clause.first, clause.after, pronoun="it"), clause.first, clause.after)
        said = Clause(clause.first, clause.after, "in", "in", "in", head=clause.first, head_end=clause.after)
        return self._do(said, item, "in", thing, CARRIED_ON) is not None

    def _put_there(self, clause: Clause, inside: Sequence[Chunk], words: str) -> bool:
        """New gasket on the pan, red caps on the ports: put there, where something new, or the way back, is told."""
        if (
            clause.sense
            or not clause.items
            or any("side only" not in item.phrase.flags for item in clause.items[1:])
            or clause.relation not in ("on", "in", "into", "over", "onto", "through", "behind", "under")
            or clause.copula
        ):
            return False
        item = clause.items[0]
        if (
            not item.phrase.words
            or item.phrase.kind in ("tool", "car", "shop", "unknown")
            or self._is_description(clause, inside, words)
        ):
            return False
        put_in = put_in_for_the_work(item.phrase, clause.places, self.book.direction, "")
        thing = self.memory.known(item.phrase.words, item.phrase.kind, item.phrase.count, "plural" in item.phrase.flags)
        was_off = thing is not None and thing.state in ("remove", "set aside", "lower")
        was_off = was_off and self.book.direction == "on" and clause.relation in ("on", "in", "into", "behind", "under")
        if not (put_in or "new" in item.phrase.flags or was_off):
            return False
        said = Clause(
            clause.first,
            clause.after,
            "in",
            "in",
            "in",
            head=item.first,
            head_end=item.after,
            items=[item],
            places=clause.places,
            relation=clause.relation,
        )
        return self._do(said, item, "in", None, VERBLESS) is not None

    def _held(self, clause: Clause) -> None:
        """Three screws hold the motor, T20: the size is that of the screws."""
        fasteners = [item for item in (*clause.described, *clause.items) if item.phrase.kind in _FASTENERS]
        if clause.lemma != "hold" or not fasteners:
            return
        for item in clause.items:
            tool = item.tool or item.phrase.tool
            if tool and item.phrase.kind not in _FASTENERS:
                fasteners[0].tool = fasteners[0].tool or tool
                item.tool, item.phrase = None, replace(item.phrase, tool=None)

    def _said_item(self, clause: Clause, item: Item, description: bool, inside: Sequence[Chunk]) -> None:
        phrase = item.phrase
        tool, count = item.tool or phrase.tool, item.count or phrase.count
        if phrase.kind in ("tool", "shop"):
            return
        if not phrase.words and not phrase.pronoun:
            self._size_alone(item, tool, count)
        elif not phrase.words or "side only" in phrase.flags:
            last = self._last_draft(1)
            if (
                tool
                and last is not None
                and last.tool is None
                and phrase.pronoun in ("that", "it")
                and (last.kind in _FASTENERS or last.thing.head in THREADED)
            ):
                self._amend_draft(last, item.after, tool)
                return
            thing = self._thing(phrase)
            if thing is not None and (tool or count) and "new" not in phrase.flags:
                self._amend(thing, item, tool, count)
        elif (item not in clause.along and self._is_like_the_last(clause, item)) or (
            item not in clause.along and self._counts_as_step(clause, item, description, inside)
        ):
            self._verbless(item, clause)
        else:
            thing = self._thing(phrase) if phrase.kind != "unknown" or tool or count else None
            if thing is not None:
                self._describe(thing, item)

    def _is_like_the_last(self, clause: Clause, item: Item) -> bool:
        """Purge valve too; track rod the same."""
        words = low(self.part[item.after : clause.after])
        return bool(not clause.sense and not clause.copula and self.book.direction and _LIKE_THE_LAST.search(words))

    def _is_description(self, clause: Clause, inside: Sequence[Chunk], words: str) -> bool:
        begins = re.match(
            r"^(?:and |so |but |then |now |right |okay |ok |, )*(?:there|theres|there's|it's|its|you've|"
            r"it has|has|you|we've|with) ",
            words,
        )
        follows = any(
            self._low_at(clause.after + n) in ("you", "they") for n in range(3)
        )  # three bolts, two you get from below
        return clause.sense == "none" or bool(begins) or follows or any(chunk.kind == SUBJECT for chunk in inside)

    def _counts_as_step(self, clause: Clause, item: Item, description: bool, inside: Sequence[Chunk]) -> bool:
        """Whether a thing told without a verb is a step: counted or sized fasteners, or anything under a heading."""
        phrase = item.phrase
        told_before = bool(self.book.drafts) and self.book.drafts[-1].sentence == self.memory.sentence
        figures = bool(item.tool or phrase.tool or item.count or phrase.count)
        if (
            description
            or clause.subordinate
            or ("new" in phrase.flags and not figures)
            or self._before_colon(clause)
            or phrase.kind in ("tool", "prop", "car", "fluid", "put in", "unknown", "shop")
        ):
            return False
        if clause.copula and not (told_before and figures):
            return False
        if figures and phrase.kind in _FASTENERS:
            return bool(self.book.direction)
        if clause.sense == "" and not clause.copula and self._is_off(phrase):
            return True
        if self.heading:
            return figures or told_before or len(inside) <= 4
        return told_before and phrase.kind in _FASTENERS and bool(self.book.direction) and not clause.relation

    def _before_colon(self, clause: Clause) -> bool:
        return clause.after <= len(self.part) and (
            self._low_at(clause.after - 1) == ":" or self._low_at(clause.after) == ":"
        )

    def _low_at(self, at: int) -> str:
        return self.part[at].low if 0 <= at < len(self.part) else ""

    def _verbless(self, item: Item, clause: Clause) -> None:
        """A thing without a verb goes the way of the last heading, or of the last verb."""
        sense = "on" if (self.heading or self.book.direction) == "on" else "off"
        said = Clause(
            item.first,
            item.after,
            sense,
            "",
            "",
            items=[item],
            tool=clause.tool if len(clause.items) == 1 else None,
            also=clause.also,
        )
        draft = self._do(said, item, sense, None, VERBLESS)
        if draft is not None:
            draft.verbless = draft.start >= self.part[item.first].start and draft.confidence == VERBLESS
            self.last_things = [draft.thing]

    def _torque_line(self, clause: Clause) -> None:
        """What has a torque and no verb is tightened, but for the way in."""
        if self.heading == "off" or clause.lemma in ("think", "guess"):
            self._mention(clause)
            self._torques_only(clause)
            return
        said = Clause(
            clause.first,
            clause.after,
            "tighten",
            "",
            "",
            items=clause.items,
            tool=clause.tool,
            torques=clause.torques,
            angle=clause.angle,
        )
        told = [
            item for item in self._shared(clause.items) if item.phrase.words or item.phrase.pronoun or item.phrase.count
        ]
        told = [item for item in told if item.phrase.kind not in ("tool", "shop", "unknown") or item.torque is not None]
        if not told:
            said.head, said.head_end = clause.first, clause.torques[-1].after if clause.torques else clause.after
            self._carried_on(said)
            return
        if clause.torques and told[0].torque is None:
            self._torque_of(told[0], clause)
            told[0].first = min(told[0].first, clause.torques[0].first)
        for item in told:
            if item.torque is not None:
                if draft := self._do(said, item, "tighten", None, VERBLESS):
                    self.last_things = [draft.thing]
            elif self._counts_as_step(clause, item, False, ()):
                self._verbless(item, clause)
            elif "new" in item.phrase.flags and clause.relation in ("on", "in", "into", "onto"):
                self._do(said, item, "in", None, VERBLESS)
            else:
                self._thing(item.phrase)

    def _tool_alone(self, clause: Clause) -> None:
        """A tool named after a comma: coolant drained, flat screwdriver."""
        named = next((item.phrase for item in clause.items if item.phrase.kind == "tool"), None)
        tool = clause.tool or (tool_name(named) if named else None)
        last = self._last_draft(1)
        if (
            tool
            and last is not None
            and last.tool is None
            and (clause.tool or last.sentence == self.memory.sentence)
            and not clause.places
            and len(clause.items) <= 1
        ):
            self._amend_draft(last, clause.after, tool)

    def _size_alone(self, item: Item, tool: str | None, count: int | None) -> None:
        """Three 13s: of the part whose taking off was just told, or of fasteners still to come."""
        last = self._last_draft(0)
        if last is not None and (tool is None or last.tool is None) and (count is None or last.count is None):
            self._amend_draft(last, item.after, tool, count)
            return
        if tool is None:
            return
        described = next(
            (
                thing
                for thing in reversed(self.memory.recent[-3:])
                if thing.told_at >= self.memory.sentence - 1 and thing.kind == "fastener" and thing.start >= 0
            ),
            None,
        )
        before = self._last_draft(1)
        if described is not None and (count is None or count == described.count):
            described.tool, described.after = tool, self._end(item.after)
        elif before is not None and before.tool is None and before.kind == "fastener":
            self._amend_draft(before, item.after, tool, count)
        else:
            self.pending = (count, tool, self.part[item.first].start, self.memory.sentence)

    def _last_draft(self, back: int) -> Draft | None:
        """The last event, if it was told in this sentence or at most so many sentences ago."""
        last = self.book.drafts[-1] if self.book.drafts else None
        return last if last is not None and self.memory.sentence - last.sentence <= back else None

    def _amend(self, thing: Thing, item: Item, tool: str | None, count: int | None) -> None:
        """They're 13s: told of things that were named before."""
        draft = self.book.last_of(thing)
        if draft is not None and self.memory.sentence - draft.sentence <= 1 and draft.tool is None:
            self._amend_draft(draft, item.after, tool, count if draft.count is None else None)
            return
        thing.tool, thing.count = tool or thing.tool, count or thing.count
        if thing.start < 0:
            thing.start = self.part[item.first].start
        thing.after = self._end(item.after)

    def _amend_draft(self, draft: Draft, after: int, tool: str | None = None, count: int | None = None) -> None:
        draft.tool, draft.count = draft.tool or tool, draft.count or count
        draft.end = max(draft.end, self._end(after))

    def _note_new_ones(self, clause: Clause) -> None:
        """New pump, new gasket: what is new, told without a verb."""
        for item in clause.items:
            phrase = item.phrase
            if "new" not in phrase.flags or phrase.kind in ("fluid", "tool"):
                continue
            name = phrase.name
            if not name and phrase.pronoun in ("one", "ones"):
                off = next(
                    (
                        draft
                        for draft in reversed(self.book.drafts)
                        if draft.action == "remove" and draft.kind not in _FASTENERS
                    ),
                    None,
                )
                name = off.name if off else ""
            if name:
                self._thing(phrase if phrase.words else Phrase(phrase.first, phrase.after, tuple(name.split()), "part"))
                source = self.places.source(self.part[item.first].start, self._end(item.after))
                self.book.new.append(Told(name, "new", source, count=item.count or phrase.count))


# What a pronoun most likely is, by what is done to it.
_PREFERRED = {
    "unplug": ("electric", "battery"),
    "plug in": ("electric", "battery"),
    "drain": ("fluid",),
    "fill": ("fluid",),
    "bleed": ("fluid",),
    "tighten": ("fastener", "clamp"),
    "start": ("fastener",),
    "undo": ("fastener", "clamp"),
    "crack": ("fastener", "line"),
    "in": OFF_NOW,
    "on": OFF_NOW,
}


_DENIED = re.compile(r"\b(?:doesn't|don't|didn't|not|never|won't) (?:have|need|want)|\bcome (?:out|off)\b")


def low(part: Sequence[Token]) -> str:
    """The words of some tokens in small letters, one blank apart.

    Parameters
    ----------
    part : sequence of Token
    """
    return re.sub(r" ('s\b)", r"\1", " ".join(token.low for token in part))


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


def _short(text: str) -> str:
    flat = " ".join(text.split())
    return flat if len(flat) <= 60 else f"{flat[:57]}..."
