"""Clauses without a predicate: lines of a pad, descriptions, figures told alone, and things put somewhere."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from putback.capture.actions import THREADED
from putback.capture.book import Draft
from putback.capture.chunks import Chunk
from putback.capture.deeds import CARRIED_ON, VERBLESS, Deeds
from putback.capture.events import ON, Told
from putback.capture.figures import Figures, give_torque, shared
from putback.capture.filling import tool_name
from putback.capture.other_words import OtherWords
from putback.capture.phrases import Phrase
from putback.capture.quantities import Quantity
from putback.capture.said import Clause, Item
from putback.capture.scene import Scene
from putback.capture.things import FASTENERS, Things, is_named

LIKE_THE_LAST = re.compile(r"\b(?:the same|same|ditto|likewise|too|as well|also)\b")
_WANTED = frozenset("want need say call think reckon expect ask order".split())
_NO_STEP = ("tool", "prop", "car", "fluid", "put in", "unknown", "shop")


class Sayings(OtherWords):
    """Hears clauses without a predicate.

    Parameters
    ----------
    scene : Scene
    things : Things
    figures : Figures
    deeds : Deeds
    """

    def hear(self, clause: Clause, chunks: Sequence[Chunk]) -> None:
        """Take what a clause says, be it a step or not.

        Parameters
        ----------
        clause : Clause
        chunks : sequence of Chunk
            Those of the sentence
        """
        if self._so_did(clause):
            return
        if clause.lemma in ("use", "take", "need", "grab") and (tool := next(self._tools(clause), None)):
            self.figures.pending = (None, tool, self.scene.begin(clause.first), self.scene.sentence)
        if clause.lemma in _WANTED:
            self.things.mention(clause)
            self.figures.torques_only(clause)
        elif self._stopper(clause) or self._filled(clause) or self._drawn(clause):
            return
        elif self._bare_line(clause) or clause.torques or any(item.torque is not None for item in clause.items):
            self.figures.one_unit(clause)
            self._note_new_ones(clause)
            self._torque_line(clause)
        else:
            self._described(clause, [chunk for chunk in chunks if clause.first <= chunk.first < clause.after])

    def _described(self, clause: Clause, inside: Sequence[Chunk]) -> None:
        if self.belt_tensioner(clause) or self._jack_under(clause) or self._put_there(clause, inside):
            return
        self._note_new_ones(clause)
        if self._put_into(clause):
            return
        self.things.name_places(clause)
        description = self._is_description(clause, inside)
        self._held(clause)
        self._beside(clause)
        for item in (*clause.items, *clause.along):
            self._item(clause, item, description, inside)
        self._tool_alone(clause)

    def _beside(self, clause: Clause) -> None:
        for item in clause.described:
            if is_named(item.phrase) and item.phrase.kind not in ("tool", "shop", "unknown"):
                self.things.describe(self.things.named(item.phrase), item)

    def _tools(self, clause: Clause) -> Iterator[str]:
        """The tools of a clause."""
        for item in clause.items:
            if item.phrase.kind == "tool" and item.phrase.words:
                yield item.phrase.tool or tool_name(item.phrase)

    # -- descriptions and lines without a verb ---------------------------------------------------

    def _held(self, clause: Clause) -> None:
        """Three screws hold the motor, T20: the size is that of the screws."""
        fasteners = [item for item in (*clause.described, *clause.items) if item.phrase.kind in FASTENERS]
        if clause.lemma != "hold" or not fasteners:
            return
        for item in clause.items:
            tool = item.tool or item.phrase.tool
            if tool and item.phrase.kind not in FASTENERS:
                fasteners[0].tool = fasteners[0].tool or tool
                item.tool, item.phrase = None, replace(item.phrase, tool=None)

    def _item(self, clause: Clause, item: Item, description: bool, inside: Sequence[Chunk]) -> None:
        phrase = item.phrase
        tool, count = item.tool or phrase.tool, item.count or phrase.count
        step = item not in clause.along
        if phrase.kind == "tool":
            self._tool_of_described(clause, item)
        if phrase.kind in ("tool", "shop"):
            return
        if not phrase.words and not phrase.pronoun:
            self.figures.size_alone(item, tool, count)
        elif not is_named(phrase):
            self._pronoun(item, tool, count)
        elif step and (self._like_the_last(clause, item) or self._is_step(clause, item, description, inside)):
            self.verbless(item, clause)
        elif phrase.kind != "unknown" or tool or count:
            self.things.describe(self.things.named(phrase), item)

    def tools(self, clause: Clause) -> None:
        """Tools that are put on something are what it will be turned with.

        Parameters
        ----------
        clause : Clause
        """
        clause.relation = "on"
        for item in clause.items:
            self._tool_of_described(clause, item)
            self.things.name_places(clause)

    def _tool_of_described(self, clause: Clause, item: Item) -> None:
        """Four clamps, a long hex key; a 15 spanner on the tensioner: the tool of what is still to be done."""
        ahead = [one for one in clause.items if one.first < item.first and one.phrase.kind in FASTENERS]
        place = next((one for one in clause.places if is_named(one)), None) if clause.relation == "on" else None
        thing = self.things.named(ahead[-1].phrase) if ahead else self.things.named(place) if place else None
        if thing is None or (ahead and (ahead[-1].tool or ahead[-1].phrase.tool)):
            return
        thing.tool = item.phrase.tool or tool_name(item.phrase)
        if thing.start < 0:
            thing.start = self.scene.begin(item.first)
        thing.after = self.scene.end(item.after)

    def _pronoun(self, item: Item, tool: str | None, count: int | None) -> None:
        """That's a 13; they're tens."""
        last, phrase = self.scene.last_draft(1), item.phrase
        told = last is not None and (last.kind in FASTENERS or last.thing.head in THREADED)
        if tool and told and last.tool is None and phrase.pronoun in ("that", "it"):
            self.figures.amend_draft(last, item.after, tool)
            return
        thing = self.things.meant(phrase)
        if thing is not None and (tool or count) and "new" not in phrase.flags:
            self.figures.amend(thing, item, tool, count)

    def _like_the_last(self, clause: Clause, item: Item) -> bool:
        """Purge valve too; track rod the same."""
        words = self.scene.words(item.after, clause.after)
        plain = not clause.sense and not clause.copula
        return bool(plain and self.scene.direction and LIKE_THE_LAST.search(words))

    def _is_step(self, clause: Clause, item: Item, description: bool, inside: Sequence[Chunk]) -> bool:
        """Whether a thing told without a verb is a step: counted or sized fasteners, or anything under a heading."""
        phrase = item.phrase
        figures = bool(item.tool or phrase.tool or item.count or phrase.count)
        before = self.scene.book.drafts[-1] if self.scene.book.drafts else None
        told_before = before is not None and before.sentence == self.scene.sentence
        if description or clause.subordinate or phrase.kind in _NO_STEP or self._before_colon(clause):
            return False
        if ("new" in phrase.flags and not figures) or (clause.copula and not (told_before and figures)):
            return False
        if figures and phrase.kind in FASTENERS:
            return self._goes_the_same_way(phrase)
        if not clause.sense and not clause.copula and self.things.is_off(phrase):
            return True
        if self.scene.heading:
            return figures or told_before or len(inside) <= 4
        return told_before and phrase.kind in FASTENERS and bool(self.scene.direction) and not clause.relation

    def _goes_the_same_way(self, phrase: Phrase) -> bool:
        """Four bolts: out on the way in; back on the way back, if such came off or a part was just put on."""
        if self.scene.direction != "on" or self.scene.heading == "on" or "new" in phrase.flags:
            return bool(self.scene.direction)
        last = self.scene.last_draft(1)
        return self.things.is_off(phrase) or (last is not None and last.action in ON)

    def _before_colon(self, clause: Clause) -> bool:
        return ":" in (self.scene.word_at(clause.after - 1), self.scene.word_at(clause.after))

    def verbless(self, item: Item, clause: Clause) -> None:
        """A thing without a verb goes the way of the last heading, or of the last verb.

        Parameters
        ----------
        item : Item
        clause : Clause
        """
        sense = "on" if (self.scene.heading or self.scene.direction) == "on" else "off"
        said = Clause(item.first, item.after, sense, items=[item], also=clause.also)
        said.tool = clause.tool if len(clause.items) == 1 else None
        draft = self.deeds.do(said, item, sense, None, VERBLESS)
        if draft is not None:
            draft.verbless = draft.start >= self.scene.begin(item.first) and draft.confidence == VERBLESS
            self.scene.last_things = [draft.thing]

    # -- torques and tools -----------------------------------------------------------------------

    def _bare_line(self, clause: Clause) -> bool:
        """Wheel 110: on the way back a bare number behind a thing is a torque whose unit nobody told."""
        if clause.sense or self.scene.heading != "on" or len(clause.items) != 1 or len(clause.numbers) != 1:
            return False
        item, (first, after, value) = clause.items[0], clause.numbers[0]
        if not item.phrase.words or item.tool or first != item.after or not 4 <= value <= 600:
            return False
        give_torque(item, [Quantity("torque", first, after, value, None)])
        return True

    def _torque_line(self, clause: Clause) -> None:
        """What has a torque and no verb is tightened, but for the way in."""
        if self.scene.heading == "off" or clause.lemma in ("think", "guess"):
            self.things.mention(clause)
            self.figures.torques_only(clause)
            return
        said = Clause(clause.first, clause.after, "tighten", items=clause.items, tool=clause.tool)
        said.torques, said.angle = clause.torques, clause.angle
        told = [item for item in shared(clause.items) if self._is_told(item)]
        if not told:
            self._go_on(said, clause)
            return
        if clause.torques and told[0].torque is None:
            begins = min(told[0].first, clause.torques[0].first)
            give_torque(told[0], clause.torques)
            told[0].first = begins
        said.along = clause.along
        drafts = [self._of_torque_line(clause, said, item) for item in told]
        self.deeds.with_it(said, [draft for draft in drafts if draft is not None])

    def _is_told(self, item: Item) -> bool:
        phrase = item.phrase
        a_thing = phrase.words or phrase.pronoun or phrase.count
        return bool(a_thing) and (phrase.kind not in ("tool", "shop", "unknown") or item.torque is not None)

    def _go_on(self, said: Clause, clause: Clause) -> None:
        """Then 30: of what was told last."""
        said.head, said.head_end = clause.first, clause.torques[-1].after if clause.torques else clause.after
        for thing in self.scene.just_tightened():
            item = Item(Phrase(said.head, said.head_end, pronoun="it"), said.head, said.head_end)
            if clause.torques:
                give_torque(item, clause.torques)
            item.angle = clause.angle
            self.deeds.do(said, item, "tighten", thing, CARRIED_ON)

    def _of_torque_line(self, clause: Clause, said: Clause, item: Item) -> Draft | None:
        if item.torque is not None:
            draft = self.deeds.do(said, item, "tighten", None, VERBLESS)
            if draft is not None:
                self.scene.last_things = [draft.thing]
            return draft
        if self._is_step(clause, item, False, ()):
            self.verbless(item, clause)
        elif "new" in item.phrase.flags and clause.relation in ("on", "in", "into", "onto"):
            self.deeds.do(said, item, "in", None, VERBLESS)
        else:
            self.things.meant(item.phrase)
        return None

    def _tool_alone(self, clause: Clause) -> None:
        """A tool named after a comma: coolant drained, flat screwdriver."""
        named = next((item.phrase for item in clause.items if item.phrase.kind == "tool"), None)
        tool = clause.tool or (tool_name(named) if named else None)
        last = self.scene.last_draft(1)
        if not tool or last is None or last.tool is not None or clause.places or len(clause.items) > 1:
            return
        if clause.tool or last.sentence == self.scene.sentence:
            self.figures.amend_draft(last, clause.after, tool)

    def _note_new_ones(self, clause: Clause) -> None:
        """New pump, new gasket: what is new, told without a verb."""
        for item in clause.items:
            phrase = item.phrase
            if "new" not in phrase.flags or phrase.kind in ("fluid", "tool"):
                continue
            if name := phrase.name or self._of_the_old_one(phrase):
                self.things.meant(
                    phrase if phrase.words else Phrase(phrase.first, phrase.after, tuple(name.split()), "part")
                )
                source = self.scene.stretch(item.first, item.after)
                self.scene.book.new.append(Told(name, "new", source, count=item.count or phrase.count))

    def _of_the_old_one(self, phrase: Phrase) -> str:
        if phrase.pronoun not in ("one", "ones"):
            return ""
        off = (one for one in reversed(self.scene.book.drafts) if one.action == "remove")
        return next((one.name for one in off if one.kind not in FASTENERS), "")
