"""Clauses with a predicate: which of their things it is about, and what stands beside, behind and along with them."""

import re
from dataclasses import replace

from putback.capture import lexicon
from putback.capture.actions import CARRIED, put_in_for_the_work
from putback.capture.book import Draft
from putback.capture.deeds import CARRIED_ON, VERBLESS, Deeds
from putback.capture.events import ON
from putback.capture.figures import Figures, give_torque, shared
from putback.capture.filling import tool_name
from putback.capture.memory import Thing
from putback.capture.other_words import MEASURE
from putback.capture.phrases import Phrase
from putback.capture.said import Clause, Item
from putback.capture.sayings import LIKE_THE_LAST, Sayings
from putback.capture.scene import Scene
from putback.capture.things import FASTENERS, Things, is_named

_HANDLED = ("off", "out", "on", "in", "undo", "tighten", "loosen", "unplug", "plug in", "replace")
_FLUIDS = ("drain", "fill", "bleed")
_THEM = ("them", "they", "those", "these", "em", "'em", "both")
_MOVED = ("lower", "raise", "support", "unsupport")
_WITH_IT = re.compile(r"(?:with|w/) (?:it|them)\b")


class Steps:
    """Hears clauses that say what was done.

    Parameters
    ----------
    scene : Scene
    things : Things
    figures : Figures
    deeds : Deeds
    sayings : Sayings
    """

    def __init__(self, scene: Scene, things: Things, figures: Figures, deeds: Deeds, sayings: Sayings):
        self.scene, self.things, self.figures, self.deeds, self.sayings = scene, things, figures, deeds, sayings

    def hear(self, clause: Clause) -> None:
        """Enter the events of a clause.

        Parameters
        ----------
        clause : Clause
        """
        if clause.sense == "cover" or self._is_stopped(clause):
            self._covered(clause)
        elif clause.sense == "aside" and self.sayings.belt_tensioner(clause):
            return
        elif self._is_laid_down(clause):
            self.things.mention(clause)
        elif self._is_tool_put_on(clause):
            self.sayings.tools(clause)
        else:
            self._predicate(clause)

    def _is_tool_put_on(self, clause: Clause) -> bool:
        """Put a 14 on the tensioner."""
        tools = clause.items and all(one.phrase.is_size or one.phrase.kind == "tool" for one in clause.items)
        return bool(tools) and clause.lemma in ("put", "get", "stick", "slip", "have", "use") and bool(clause.places)

    def _is_laid_down(self, clause: Clause) -> bool:
        """Put in the tray: no step, but for a rag or a plug that is put in."""
        if not clause.in_container or clause.sense not in ("in", "on", "start"):
            return False
        return not any(item.phrase.words and self._stops(clause, item.phrase) for item in clause.items)

    def _stops(self, clause: Clause, phrase: Phrase) -> bool:
        return put_in_for_the_work(phrase, clause.places, self.scene.direction, "")

    def _is_stopped(self, clause: Clause) -> bool:
        """Plugged the hose with a bung."""
        bare = clause.lemma == "plug" and not clause.particle
        return bare and any(item.phrase.kind == "put in" for item in clause.along)

    def _covered(self, clause: Clause) -> None:
        """Blanked with two bungs: they are put in for the work."""
        ends = [one.phrase for one in clause.items if one.phrase.words]
        for item in clause.along:
            if put_in_for_the_work(item.phrase, ends, self.scene.direction, ""):
                self.deeds.do(clause, item, "in")

    def _predicate(self, clause: Clause) -> None:
        self._describe_beside(clause)
        self.figures.one_unit(clause)
        items = self._items(clause)
        if not items:
            if not (clause.sense == "in" and self._poured_in(clause)) and not self._sizes_alone(clause):
                self._carried_on(clause)
            return
        drafts = self._each(clause, self._the_part_they_hold(clause, self._by_its_name(clause, items)))
        if drafts:
            self.scene.last_things = [draft.thing for draft in drafts]
        elif items[0].phrase.words:
            self.scene.last_things = self.scene.memory.recent[-1:]
        self.deeds.with_it(clause, drafts)

    def _each(self, clause: Clause, items: list[Item]) -> list[Draft]:
        """What is done to each thing; those behind the predicate go the way of the first."""
        drafts: list[Draft] = []
        tail = False
        if len(items) == 1 and (groups := self._groups(items[0])):
            told = [self.deeds.do(clause, one, clause.sense, thing) for one, thing in groups]
            return [draft for draft in told if draft is not None]
        for item in items:
            behind = item.first >= clause.head_end and (item is not items[0] or not clause.active)
            poured = clause.sense in _FLUIDS and item.phrase.kind == "fluid"
            tail = behind and (tail or not item.joined) and not poured
            if tail and item.phrase.kind == "tool" and drafts and drafts[-1].tool is None:
                self.figures.amend_draft(drafts[-1], item.after, tool_name(item.phrase))
            if self._is_a_count(clause, item):
                self.sayings.verbless(item, clause)
            elif not tail or self._tail_counts(item):
                sense = self._sense_behind(clause, drafts, item) if tail else clause.sense
                draft = self.deeds.do(clause, item, sense)
                drafts += [draft] if draft else []
        return drafts

    def _sizes_alone(self, clause: Clause) -> bool:
        """Undid the two 13s: they wait for the part that comes off."""
        sized = [item for item in clause.items if item.phrase.is_size]
        if clause.sense not in ("undo", "off", "out", "loosen") or not sized or self.scene.just_told():
            return False
        for item in sized:
            self.figures.size_alone(item, item.phrase.tool, item.count or item.phrase.count)
        return True

    # -- the things of a clause ------------------------------------------------------------------

    def _items(self, clause: Clause) -> list[Item]:
        """The things that a predicate is about; sizes that stand alone go to the clause."""
        items: list[Item] = []
        ahead: Item | None = None  # a size that stands ahead of its thing: 19 x5 wheel off
        for item in clause.items:
            phrase = item.phrase
            if ahead is not None and phrase.words and ahead.after == item.first:
                item.tool, item.count = item.tool or ahead.phrase.tool, item.count or ahead.phrase.count
                item.first = ahead.first
            ahead = item if phrase.is_size else None
            if phrase.kind == "tool" and phrase.words and items and item.first < clause.head:
                items[-1].tool = items[-1].tool or phrase.tool or tool_name(phrase)  # spring clip, pliers, slid back
            elif phrase.words or phrase.pronoun or self._counts_things(clause, item):
                items.append(item)
            else:
                self._figure(clause, item, items)
        items = shared(items)
        if not items and clause.along and not clause.along[0].phrase.words and clause.along[0].phrase.pronoun:
            items = clause.along[:1]  # back in with it
        return self._fluid(clause, items) if clause.sense in _FLUIDS else items

    def _counts_things(self, clause: Clause, item: Item) -> bool:
        """Whether a number stands for things: three out; not a torque: tighten 30."""
        phrase = item.phrase
        bare = "bare" in phrase.flags and item.first >= clause.head_end and clause.sense in ("tighten", "start")
        return bool(phrase.count and not phrase.tool and not bare)

    def _figure(self, clause: Clause, item: Item, items: list[Item]) -> None:
        phrase = item.phrase
        if phrase.tool:
            of_next = any(other.first == item.after and other.phrase.words for other in clause.items)
            clause.tool = clause.tool or (None if of_next else phrase.tool)
            if phrase.count and items:
                items[-1].count = items[-1].count or phrase.count
        elif phrase.count:
            clause.numbers.append((item.first, item.after, float(phrase.count)))

    def _by_its_name(self, clause: Clause, items: list[Item]) -> list[Item]:
        """The small one pulls off, the spade: what is named behind is the same thing."""
        if len(items) != 2 or "side only" not in items[0].phrase.flags or items[1].first < clause.head_end:
            return items
        first, named = items
        figures = named.tool or named.count or named.phrase.tool or named.phrase.count or named.torque
        if figures or named.joined or not is_named(named.phrase) or "definite" not in named.phrase.flags:
            return items
        named.first = first.first
        return [named]

    def _the_part_they_hold(self, clause: Clause, items: list[Item]) -> list[Item]:
        """Caliper, two bolts, up on a hook: what goes up is the caliper, and the bolts are out."""
        moves = clause.sense in ("raise", "aside", "lower", "up")
        if not moves or any(one.phrase.kind not in FASTENERS for one in items):
            return items
        told = self.scene.parts_told
        part = next((one for one in reversed(told) if one.told_at == self.scene.sentence), None)
        last = self._part_just_off()
        part = part or (last.thing if last else None)
        if part is None:
            return items
        for item in items:
            self.sayings.verbless(item, clause)
        phrase = Phrase(items[0].first, items[0].after, part.words, part.kind)
        return [Item(phrase, items[0].first, items[0].after)]

    def _part_just_off(self) -> Draft | None:
        """Caliper off, two bolts, hung up: the caliper of this sentence."""
        here = (one for one in reversed(self.scene.book.drafts[-3:]) if one.sentence == self.scene.sentence)
        return next((one for one in here if one.kind not in FASTENERS and one.action == "remove"), None)

    def _groups(self, item: Item) -> list[tuple[Item, Thing]]:
        """Three bolts and two nuts ... all five off: the groups that were described, each with its own number."""
        phrase = item.phrase
        if phrase.words or phrase.tool or not (phrase.count or phrase.pronoun in _THEM):
            return []
        if phrase.pronoun in _THEM and not phrase.count and (parts := self._parts_just_told()):
            return [(replace(item, phrase=replace(phrase, pronoun="it")), one) for one in parts]
        near = [one for one in self.scene.memory.recent[-5:] if self.scene.sentence - one.told_at <= 2]
        told = [one for one in near if one.kind in FASTENERS and one.start >= 0 and one.last_event < 0]
        counted = sum(one.count or 1 for one in told)
        if len(told) < 2 or (phrase.count or counted) != counted or counted < 3:
            return []
        return [(replace(item, phrase=replace(phrase, count=one.count), count=one.count), one) for one in told]

    def _parts_just_told(self) -> list[Thing]:
        """Caliper and carrier off together and hang them: both."""
        told = self.scene.just_told()
        return told if len(told) > 1 and not any(one.kind in FASTENERS or one.plural for one in told) else []

    def _is_a_count(self, clause: Clause, item: Item) -> bool:
        """Push pins, 4 off, on the way back: four pieces, and nothing taken off."""
        pieces = clause.lemma == "off" and self.scene.word_at(clause.head - 1).isdigit()
        return pieces and self.scene.direction == "on" and self.things.is_off(item.phrase)

    def _fluid(self, clause: Clause, items: list[Item]) -> list[Item]:
        """What is drained or filled is the fluid, wherever it stands."""
        told = (*(item.phrase for item in items), *clause.places, *(item.phrase for item in clause.along))
        fluid = next((one for one in told if one.kind == "fluid"), None)
        if fluid is None and clause.sense == "fill":
            fluid = next((item.phrase for item in clause.along if item.phrase.kind == "unknown"), None)
        if fluid is not None:
            return [Item(fluid, fluid.first, fluid.after)]
        named = any(item.phrase.words and item.phrase.kind not in ("unknown", "car") for item in items)
        if clause.sense == "bleed" or named:
            return items
        known = next((thing for thing in reversed(self.scene.memory.recent) if thing.kind == "fluid"), None)
        if known is not None:
            return [Item(Phrase(clause.first, clause.after, known.words, "fluid"), clause.head, clause.head_end)]
        unknown = next((item for item in clause.along if item.phrase.words), None)
        return [unknown] if unknown and clause.sense == "fill" else items

    # -- beside, behind and along ----------------------------------------------------------------

    def _describe_beside(self, clause: Clause) -> None:
        """Things that stand beside what is done are talked about as well."""
        for item in clause.described:
            if item.torque is not None and item.phrase.words and self.scene.heading != "off":
                said = Clause(item.first, item.after, "tighten", "", "", items=[item])
                self.deeds.do(said, item, "tighten", None, VERBLESS)
            elif item.phrase.words and item.phrase.kind not in ("tool", "shop", "unknown"):
                thing = self.things.meant(item.phrase)
                if thing is not None:
                    self.things.describe(thing, item)

    def _tail_counts(self, item: Item) -> bool:
        """Whether a thing behind a predicate, without a verb of its own, went the same way."""
        phrase = item.phrase
        figures = item.tool or item.count or phrase.tool or phrase.count or item.torque or item.angle
        if not is_named(phrase):
            return bool(figures)
        if phrase.kind in ("put in", "prop", "fluid"):
            return False
        behind = self.scene.words(item.after, item.after + 2)
        if self.scene.word_at(item.first - 1) == "(" and phrase.kind not in FASTENERS:
            return False  # cover off (4 rubber balls)
        told = figures or "new" in phrase.flags or phrase.kind not in ("part", "unknown", "line")
        if behind.startswith(("first", "last")) and not figures:
            return False  # negative first
        if told or self.things.is_off(phrase) or LIKE_THE_LAST.search(behind) or _WITH_IT.match(behind):
            return True
        self.things.meant(phrase)
        return False

    def _sense_behind(self, clause: Clause, drafts: list[Draft], item: Item) -> str:
        """Things told behind a predicate go the way of the first: cover off, five screws."""
        if item.torque is not None:
            return "tighten"
        if clause.sense in _HANDLED:
            return clause.sense
        told = [draft for draft in drafts if draft.kind != "put in" and draft.action not in _MOVED]
        direction = ("on" if told[0].action in ON else "off") if told else ""
        return direction or self.scene.direction or "off"

    def _poured_in(self, clause: Clause) -> bool:
        """Five and a half litres of oil in."""
        fluid = next((one for one in clause.places if one.kind == "fluid"), None)
        if fluid is None or not MEASURE.search(self.scene.words(0, clause.head_end)):
            return False
        return self.deeds.do(clause, Item(fluid, fluid.first, fluid.after), "fill") is not None

    # -- without a thing of its own --------------------------------------------------------------

    def _carried_on(self, clause: Clause) -> None:
        """A predicate without a thing of its own goes on about the last one: "... and hung up"."""
        if clause.lemma == clause.particle and clause.sense and self._is_about_something_else(clause):
            return
        for thing in self._subjects(clause):
            if clause.lemma in ("up", "down") and thing.kind not in ("car", "lid") and not thing.state:
                continue  # up, down, up: a window is tried
            item = Item(Phrase(clause.head, clause.head_end, pronoun="it"), clause.head, clause.head_end)
            if clause.torques:
                give_torque(item, clause.torques)
            item.angle = clause.angle
            self.deeds.do(clause, item, clause.sense, thing, CARRIED_ON)

    def _is_about_something_else(self, clause: Clause) -> bool:
        """Whether words that were not understood stand ahead of a particle."""
        part = self.scene.part
        sign = max((n for n in range(clause.head) if part[n].kind == "sign"), default=-1)
        ahead = part[max(sign + 1, self._told_up_to(clause)) : clause.head]
        return any(token.kind == "word" and token.low not in lexicon.small_words() for token in ahead)

    def _told_up_to(self, clause: Clause) -> int:
        """The token behind the last event of this sentence."""
        ends = [one.end for one in self.scene.book.drafts[-8:] if one.sentence == self.scene.sentence]
        last = max(ends, default=0)
        return next((n for n, token in enumerate(self.scene.part) if token.start >= last), clause.first)

    def _is_carried(self) -> bool:
        return any(thing.head in CARRIED for thing in self.scene.just_told())

    def _subjects(self, clause: Clause) -> list[Thing]:
        alone = self.scene.word_at(clause.head - 1) in ("", ",", ".", "and", "then", ";", "-")
        if clause.lemma == clause.particle == "down" and alone and self.scene.book.car_is_up() and self.scene.car:
            return [self.scene.car]
        if clause.sense == "raise" and clause.lemma in ("jack", "hoist") and not self._is_carried():
            return [self.scene.the_car()]
        moves_the_car = clause.on_car or clause.lemma in ("jack", "up", "down", "raise")
        if clause.sense in ("raise", "down", "lower") and moves_the_car and self.scene.car is not None:
            if clause.on_car or not self.scene.just_told():
                return [self.scene.car]
        if clause.sense in _FLUIDS:
            fluid = next((thing for thing in reversed(self.scene.memory.recent) if thing.kind == "fluid"), None)
            if fluid is not None:
                return [fluid]
        return self._described_here() or self.scene.just_told()

    def _described_here(self) -> list[Thing]:
        """Three bolts hold the motor, tens, out: what was described in this sentence, and nothing done to it."""
        near = [one for one in self.scene.memory.recent[-4:] if one.told_at == self.scene.sentence]
        return [one for one in near if one.kind in FASTENERS and one.start >= 0 and one.last_event < 0]

