"""Steps told without a verb that says so: a jack put under, a rag stuffed in, oil poured, "so did the spring"."""

import re
from collections.abc import Sequence

from putback.capture.actions import put_in_for_the_work
from putback.capture.chunks import SUBJECT, Chunk
from putback.capture.deeds import CARRIED_ON, VERBLESS, Deeds
from putback.capture.events import ON
from putback.capture.figures import Figures
from putback.capture.phrases import Phrase
from putback.capture.said import Clause, Item
from putback.capture.scene import Scene
from putback.capture.things import Things, is_named

MEASURE = re.compile(r"\b(?:litres?|liters?|gallons?|quarts?|pints?|qts?|l|ml)\b")
_SO_DID = re.compile(r"^(?:and |, |\. )*so(?:'s| is| are| did| was| were| does| goes) ")
_TURNED = frozenset("rotate turn swing lever pull push wind".split())
_STUFFED = ("stick", "stuff", "push", "place", "shove", "slip")
_INTO = ("on", "in", "into", "over", "onto", "through", "behind", "under")
_BACK_INTO = ("on", "in", "into", "behind", "under")
_BEGINS_A_DESCRIPTION = re.compile(
    r"^(?:and |so |but |then |now |right |okay |ok |, )*"
    r"(?:there|theres|there's|it's|its|you've|it has|has|you|we've|with) "
)


class OtherWords:
    """Hears steps told in other words.

    Parameters
    ----------
    scene : Scene
    things : Things
    figures : Figures
    deeds : Deeds
    """

    def __init__(self, scene: Scene, things: Things, figures: Figures, deeds: Deeds):
        self.scene, self.things, self.figures, self.deeds = scene, things, figures, deeds

    def _so_did(self, clause: Clause) -> bool:
        """Pads came out, and so did the spring."""
        last = self.scene.last_draft(1)
        named = [item for item in (*clause.items, *clause.described) if is_named(item.phrase)]
        if last is None or not named or not _SO_DID.match(self.scene.words(clause.first - 1, clause.after)):
            return False
        sense = "on" if last.action in ON else "off"
        for item in named:
            said = Clause(item.first, item.after, sense, sense, sense, items=[item])
            self.deeds.do(said, item, sense, None, VERBLESS)
        return True

    def belt_tensioner(self, clause: Clause) -> bool:
        """A tensioner that is turned gives the belt slack.

        Parameters
        ----------
        clause : Clause
        """
        if clause.lemma not in _TURNED:
            return False
        phrases = (*(item.phrase for item in clause.items), *clause.places)
        told = next((one for one in phrases if one.words and one.words[-1].lower() == "tensioner"), None)
        near = (one for one in reversed(self.scene.memory.recent[-2:]) if one.told_at == self.scene.sentence)
        recent = next((one for one in near if one.head == "tensioner"), None)
        if told is None and recent is None:
            return False
        phrase = told or Phrase(clause.head, clause.head_end, recent.words, "part")
        self.deeds.do(clause, Item(phrase, phrase.first, phrase.after), "loosen", None if told else recent)
        return True

    def _jack_under(self, clause: Clause) -> bool:
        """A jack put under the gearbox supports it."""
        item = next((one for one in clause.items if one.phrase.kind == "prop"), None)
        if item is None or clause.subordinate or not self.deeds.holds(clause, item):
            return False
        return self.deeds.do(clause, item, "support") is not None

    def _stopper(self, clause: Clause) -> bool:
        """Stuffed a rag in, wrapped a bag round it: put in for the work, whatever the verb."""
        if clause.lemma not in _STUFFED or not clause.items or not self._stops(clause, clause.items[0]):
            return False
        return self.deeds.do(clause, clause.items[0], "in") is not None

    def _stops(self, clause: Clause, item: Item) -> bool:
        return bool(item.phrase.words) and put_in_for_the_work(item.phrase, clause.places, self.scene.direction, "")

    def _filled(self, clause: Clause) -> bool:
        """Four gallons of fresh oil, on the way back: filled."""
        told = (*clause.places, *(item.phrase for item in clause.items))
        fluid = next((one for one in told if one.kind == "fluid"), None)
        if clause.sense or clause.copula or self.scene.direction != "on" or fluid is None:
            return False
        if not MEASURE.search(self.scene.words(clause.first, clause.after)):
            return False
        said = _like("fill", clause, clause.first, clause.after)
        return self.deeds.do(said, Item(fluid, fluid.first, fluid.after), "fill", None, VERBLESS) is not None

    def _drawn(self, clause: Clause) -> bool:
        """Fluid was drawn from the reservoir."""
        fluid = next((item for item in clause.items if item.phrase.kind == "fluid"), None)
        if fluid is None or clause.lemma not in ("draw", "pump", "run") or clause.relation not in ("from", "out", "of"):
            return False
        return self.deeds.do(clause, fluid, "drain") is not None

    def _put_into(self, clause: Clause) -> bool:
        """Sensor out of the old one, into the new one."""
        if clause.items or clause.relation != "into" or clause.sense or not self.scene.last_things:
            return False
        thing = self.scene.last_things[-1]
        if thing.state != "remove":
            return False
        item = Item(Phrase(clause.first, clause.after, pronoun="it"), clause.first, clause.after)
        said = _like("in", clause, clause.first, clause.after)
        return self.deeds.do(said, item, "in", thing, CARRIED_ON) is not None

    def _put_there(self, clause: Clause, inside: Sequence[Chunk]) -> bool:
        """New gasket on the pan, red caps on the ports: put there, where something new, or the way back, is told."""
        if clause.sense or not clause.items or clause.relation not in _INTO or clause.copula:
            return False
        item, others = clause.items[0], clause.items[1:]
        if not item.phrase.words or item.phrase.kind in ("tool", "car", "shop", "unknown"):
            return False
        if any("side only" not in one.phrase.flags for one in others) or self._is_description(clause, inside):
            return False
        if not (self._stops(clause, item) or "new" in item.phrase.flags or self._was_off(clause, item)):
            return False
        said = _like("in", clause, item.first, max(item.after, clause.places[0].after if clause.places else 0))
        said.items, said.places, said.relation = [item], clause.places, clause.relation
        return self.deeds.do(said, item, "in", None, VERBLESS) is not None

    def _was_off(self, clause: Clause, item: Item) -> bool:
        return clause.relation in _BACK_INTO and self.things.is_off(item.phrase)

    def _is_description(self, clause: Clause, inside: Sequence[Chunk]) -> bool:
        """There are three bolts; three bolts, two you get from below."""
        begins = _BEGINS_A_DESCRIPTION.match(self.scene.words(clause.first, clause.after))
        follows = any(self.scene.word_at(clause.after + n) in ("you", "they") for n in range(3))
        return clause.sense == "none" or bool(begins) or follows or any(chunk.kind == SUBJECT for chunk in inside)


def _like(sense: str, clause: Clause, head: int, head_end: int) -> Clause:
    """A clause that says in one word what another says without."""
    word = sense if sense == "in" else ""
    return Clause(clause.first, clause.after, sense, word, word, head=head, head_end=head_end)
