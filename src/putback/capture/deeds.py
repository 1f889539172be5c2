"""One thing done to one item: from a clause and an item to an event in the book."""

import re
from itertools import pairwise

from putback.capture import lexicon
from putback.capture.actions import CARRIED, HANGERS, SWITCHED, THREADED, action_of, put_in_for_the_work
from putback.capture.book import Draft, on_thing
from putback.capture.events import OFF, Told
from putback.capture.figures import Figures
from putback.capture.filling import tool_name
from putback.capture.memory import Thing
from putback.capture.phrases import Phrase
from putback.capture.quantities import Quantity
from putback.capture.said import Clause, Item
from putback.capture.scene import Scene
from putback.capture.things import FASTENERS, Things, is_named

# How sure a reading is; own estimate, and only their order counts.
SURE, PRONOUN, VERBLESS, CARRIED_ON, UNKNOWN = 0.95, 0.85, 0.8, 0.75, 0.7
_NOTHING = frozenset("bit bits piece pieces rest lot thing things stuff mess dirt crud half".split())
_LETTING_GO = ("off", "out", "down", "aside", "unsupport", "undo", "release", "loosen")
_TIES = ("strap", "straps", "sling", "chain", "bungee")
_UNDER = ("under", "underneath", "beneath", "round", "around")
_PUT_UNDER = ("", "jack", "put", "slide", "get", "place", "under", "run", "stick", "shove", "have", "support", "wrap")
_TURNED_IN = ("screw", "run", "spin", "thread", "start", "wind")
_ONCE_MORE = re.compile(r"\b(?:second|third|again|once more|final) ?(?:time|round|lap|pass|go)?\b")
_WAS = re.compile(r"\b(?:was|were|been)\b")
_FITTING = ("fit", "refit", "install", "reinstall", "mount", "connect", "reconnect")
_WITH_THINGS = ("fit", "tighten", "remove", "close", "plug in")
_HANGS = ("hang", "sling", "strap", "suspend", "tie")
_PUTTING = ("fit", "plug in", "close")
_KEPT_FLAGS = frozenset(("new", "reused", "old", "all"))


class Deeds:
    """Enters events.

    Parameters
    ----------
    scene : Scene
    things : Things
    figures : Figures
    """

    def __init__(self, scene: Scene, things: Things, figures: Figures):
        self.scene, self.things, self.figures = scene, things, figures
        self.held: dict[str, Thing] = {}  # by what holds them

    def do(
        self, clause: Clause, item: Item, sense: str, thing: Thing | None = None, confidence: float = SURE
    ) -> Draft | None:
        """Enter what was done to an item; None where nothing was.

        Parameters
        ----------
        clause : Clause
        item : Item
        sense : str
            As in verbs.txt
        thing : Thing, optional
            What the item means, where that is known
        confidence : float
        """
        phrase, named = item.phrase, is_named(item.phrase)
        if named and self._is_no_thing(clause, item):
            return None
        prop = named and (phrase.kind == "prop" or lexicon.singular(phrase.words[-1].lower()) in self.held)
        if prop and sense in _LETTING_GO and not self.things.is_known(phrase):
            return self._let_go(clause, item)
        held = None if thing else self._held(clause, item)
        if held is not None:
            item, sense = self._support(clause, item, held), "support"
        thing = thing or held or self.things.meant(phrase, sense, clause.lemma, clause.on_car)
        if thing is None:
            self._ask(clause, phrase)
            return None
        kind = self._kind(clause, item, thing, sense)
        head = lexicon.singular(phrase.words[-1].lower()) if named else thing.head
        action = self._action(clause, item, sense, thing, kind, head)
        if not action:
            self.scene.memory.touch(thing)
            return None
        if named and self._is_another(phrase, thing, action):
            thing = self.scene.memory.new(phrase.words, kind, "plural" in phrase.flags)
        if phrase.kind == "unknown":
            confidence = min(confidence, UNKNOWN)
        sure = confidence if named or confidence != SURE else PRONOUN
        draft = self._draft(clause, item, thing, action, kind, sure)
        later = self._later_stages(draft, clause, item)
        if action == "support" and draft.tool:
            self.held[draft.tool.split()[-1]] = thing
        thing.plural, thing.new = thing.plural or "plural" in phrase.flags, thing.new or "new" in phrase.flags
        entered = self._enter(draft)
        for one in later:
            self.scene.book.enter(one)
        return entered

    def _is_another(self, phrase: Phrase, thing: Thing, action: str) -> bool:
        """Cable off, long after the battery cable was: another one."""
        shorter = len(phrase.words) == 1 < len(thing.words) and thing.state == action
        last = self.scene.book.last_of(thing)
        return shorter and last is not None and self.scene.sentence - last.sentence > 2 and thing.kind != "car"

    def _later_stages(self, draft: Draft, clause: Clause, item: Item) -> list[Draft]:
        """By hand, then 20, then 32: each stage is a step, unless one verb tells them all."""
        stages = item.torques
        if draft.torque is None or len(stages) < 2 or not self._is_told_apart(clause, stages):
            return []
        first = stages[0]
        draft.torque, draft.unit, draft.torques = first.value, first.unit, [(first.value, first.unit)]
        draft.end = self.scene.end(first.after)
        return [self._stage(draft, stage) for stage in stages[1:]]

    def _is_told_apart(self, clause: Clause, stages: list[Quantity]) -> bool:
        """By hand, then 20, then 32; 62 inch-pounds, and a second time round to 115."""
        again = [self.scene.words(before.after, stage.first) for before, stage in pairwise(stages)]
        if "by hand" in (*clause.also, clause.lemma):
            return all(words.endswith("then") for words in again)
        first = self.scene.words(stages[0].first - 4, stages[0].first)
        return "first" not in first and all(_ONCE_MORE.search(words) for words in again)

    def _stage(self, draft: Draft, stage: Quantity) -> Draft:
        one = on_thing(draft, draft.thing, draft.words)
        one.action, one.tool, one.count, one.angle = "tighten", None, None, None
        one.torque, one.unit = stage.value, stage.unit or draft.unit
        one.torques = [(one.torque, one.unit)]
        one.start, one.end = self.scene.begin(stage.first - 1), self.scene.end(stage.after)
        return one

    def with_it(self, clause: Clause, drafts: list[Draft]) -> None:
        """Fitted with three screws, with new bushes: what came off, is new or is counted goes along.

        Parameters
        ----------
        clause : Clause
        drafts : list of Draft
            What was entered of the clause
        """
        if not drafts or drafts[0].action not in _WITH_THINGS:
            return
        off = drafts[0].action == "remove"
        for item in clause.along:
            thing = self.things.meant(item.phrase, clause.sense)
            if thing is None or (off and item.phrase.kind != "fastener"):
                continue
            if off:
                self.do(clause, item, "out")
                continue
            counted = item.phrase.kind in FASTENERS and item.phrase.count is not None
            was_off = thing.state == "remove" and thing not in [draft.thing for draft in drafts]
            if counted or "new" in item.phrase.flags or was_off:
                self.do(clause, item, "on")

    def _is_no_thing(self, clause: Clause, item: Item) -> bool:
        phrase = item.phrase
        if len(phrase.words) == 1 and phrase.words[0].lower() in _NOTHING:
            return True
        stands_behind = item.first >= clause.head_end and clause.lemma == clause.particle
        return phrase.kind in ("tool", "shop") or (phrase.kind == "unknown" and stands_behind)

    def _held(self, clause: Clause, item: Item) -> Thing | None:
        """What a jack put under the gearbox, or a strap put round it, holds; None where nothing is held."""
        phrase = item.phrase
        if phrase.kind != "prop" or not phrase.words or clause.lemma not in _PUT_UNDER:
            return None
        tied = phrase.words[-1].lower() in _TIES
        if clause.relation not in (*_UNDER, *(("on", "over", "to") if tied else ())):
            return None
        place = next((one for one in (*clause.places, *clause.at) if one.kind not in ("shop", "tool")), None)
        return self.things.meant(place) if place is not None else None

    def _support(self, clause: Clause, item: Item, held: Thing) -> Item:
        """What is held is the thing, and what holds it is the tool."""
        clause.sense, clause.tool = "support", tool_name(item.phrase)
        first, after = item.first, max([item.after, *(place.after for place in (*clause.places, *clause.at))])
        return Item(Phrase(first, after, held.words, held.kind), first, after)

    def holds(self, clause: Clause, item: Item) -> bool:
        """Whether a prop is put under something.

        Parameters
        ----------
        clause : Clause
        item : Item
        """
        return self._held(clause, item) is not None

    def _let_go(self, clause: Clause, item: Item) -> Draft | None:
        """Jack out: what it held is the thing, and it is the tool."""
        tool = tool_name(item.phrase)
        held = self.held.get(tool.split()[-1]) or next(iter(reversed(self.held.values())), None)
        if held is None or held.kind == "car":
            return None
        thing = held
        draft = self._draft(clause, item, thing, "unsupport", thing.kind, SURE)
        draft.words, draft.tool = thing.words, tool
        return self._enter(draft)

    def _kind(self, clause: Clause, item: Item, thing: Thing, sense: str) -> str:
        phrase = item.phrase
        if not is_named(phrase) or phrase.kind in ("", "unknown"):
            return thing.kind
        if len(phrase.words) == 1 and thing.kind != phrase.kind and (thing.state or len(thing.words) > 1):
            return thing.kind
        put_in = sense in ("on", "in", "cover") and (
            put_in_for_the_work(phrase, clause.places, self.scene.direction, thing.state) or self._stops_a_line(phrase)
        )
        if put_in:
            thing.kind = "put in"
        return "put in" if put_in else phrase.kind

    def _stops_a_line(self, phrase: Phrase) -> bool:
        """Pipe off, two caps on."""
        last = self.scene.last_draft(1)
        if last is None or last.action != "open" or self.scene.direction == "on" or self.things.is_known(phrase):
            return False
        return lexicon.singular(phrase.words[-1].lower()) in ("cap", "bung", "blank")

    # -- the action ------------------------------------------------------------------------------

    def _action(self, clause: Clause, item: Item, sense: str, thing: Thing, kind: str, head: str) -> str:
        if sense == "pullback" and clause.active:
            sense = "aside"
        if sense == "support" and item.phrase.kind == "prop" and clause.places:
            return "support"
        state = thing.state or ("remove" if "new" in item.phrase.flags else "")
        action = action_of(sense, kind, head, clause.lemma, clause.particle, state, self.scene.direction)
        action = self._as_said_with(action, clause, item, head)
        if action == "set aside" and (head in CARRIED or kind == "car") and clause.lemma in _HANGS:
            return self._hold(clause)
        if action in ("fit", "raise") and self.scene.direction != "on" and _hung(clause):
            return "set aside"
        if action in _PUTTING and kind not in ("put in", "prop", "car") and self._was_in_all_along(clause, item, thing):
            return ""
        return "" if self._is_how_it_was(action, clause, item, sense, thing, kind, head) else action

    def _hold(self, clause: Clause) -> str:
        """Hung the frame from the beam with two straps: what is as heavy as that is supported."""
        props = [*(item.phrase for item in clause.along), *clause.places]
        prop = next((one for one in props if one.kind in ("prop", "tool") and one.words), None)
        clause.tool = clause.tool or (tool_name(prop) if prop else None)
        return "support"

    def _was_in_all_along(self, clause: Clause, item: Item, thing: Thing) -> bool:
        """Valve over, handbrake on, it's in: told of what never came off, while things still come off."""
        if "new" in item.phrase.flags or thing.new or clause.torques or item.torque or self.things.came_off(thing):
            return False
        if clause.lemma in ("close", "closed", "shut") and thing.kind in ("lid", "line"):
            return False
        if not is_named(item.phrase) or item.phrase.kind == "unknown":
            return "by hand" not in (*clause.also, clause.lemma)
        stative = clause.lemma == clause.particle and "by hand" not in clause.also
        back = "back" in self.scene.words(clause.head, clause.head_end)
        return stative and self.scene.direction == "off" and not back and bool(clause.lemma)

    def _is_how_it_was(
        self, action: str, clause: Clause, item: Item, sense: str, thing: Thing, kind: str, head: str
    ) -> bool:
        """Whether a predicate tells a state, and nothing done."""
        off = self.scene.direction == "off"
        if action in ("fit", "close", "plug in") and off and clause.copula and clause.lemma != clause.particle:
            told = _WAS.search(self.scene.words(clause.first, clause.head))
            return clause.lemma not in _FITTING and not told  # the tube is pushed on the spindle
        if any(place.words and place.words[-1].lower() in SWITCHED for place in clause.places):
            return True
        if clause.on_car and sense == "down" and not thing.state and head not in CARRIED:
            return kind not in ("car", "prop")  # pedal on the floor
        if clause.copula and clause.lemma == "down" and kind not in ("car", "prop") and head not in CARRIED:
            return thing.state not in ("raise", "remove", "set aside")  # brushes were down to nothing
        if action == "set aside" and self.scene.direction == "on" and clause.lemma == "move":
            return True  # rubber feet moved over to the new one
        if clause.lemma == "start" and "by hand" not in clause.also:
            threaded = kind in ("fastener", "clamp", "line") or head in THREADED
            spoken = item.phrase.pronoun == "it" and item.first > clause.head
            return not threaded or spoken  # start it: the engine
        if clause.copula and clause.lemma in ("strip", "cut", "split") and not clause.particle:
            return kind not in ("line", "belt", "electric")  # the gear is stripped
        broke = clause.lemma in ("crack", "break") and clause.copula and sense in ("crack", "loosen")
        return (broke and kind not in ("fastener", "line")) or self._fell(clause, item, sense, thing)

    def _fell(self, clause: Clause, item: Item, sense: str, thing: Thing) -> bool:
        """Dropped a bolt: let fall, and no step."""
        alone = sense == "drop" and clause.lemma == "drop" and not clause.particle
        behind = item.first > clause.head and bool(clause.items) and item is clause.items[0]
        return alone and behind and thing.kind in FASTENERS

    def _as_said_with(self, action: str, clause: Clause, item: Item, head: str) -> str:
        """What a torque, an angle or "by hand" makes of an action."""
        turned = bool(item.angle)
        by_hand = "by hand" in clause.also or clause.lemma == "by hand"
        if by_hand and action in ("fit", "close", "tighten", "start by hand"):
            return self._by_hand(action, clause, item, head)
        if action in ("fit", "plug in", "close") and (item.torque is not None or turned):
            return "tighten"
        if action in ("fit", "close") and any(word in ("feel", "snug", "tight") for word in clause.also):
            return "tighten"
        return "loosen" if action == "remove" and turned else action

    def _by_hand(self, action: str, clause: Clause, item: Item, head: str) -> str:
        if item.angle and item.torque is None:
            return "tighten"
        tool = bool(item.tool or item.phrase.tool)
        if head in THREADED or tool or clause.lemma in _TURNED_IN or action == "start by hand":
            return "start by hand"
        return "tighten" if item.torque is not None else "fit"

    # -- the draft -------------------------------------------------------------------------------

    def _draft(self, clause: Clause, item: Item, thing: Thing, action: str, kind: str, confidence: float) -> Draft:
        first, last = item.first, max(item.after, clause.head_end)
        if clause.head_end:
            first = min(first, clause.head)
        words = item.phrase.words if is_named(item.phrase) else thing.words
        begin, end = self.scene.begin(first), self.scene.end(last)
        draft = Draft(words, action, begin, end, thing, kind, confidence=confidence, sentence=self.scene.sentence)
        draft.by_pronoun, draft.side = not item.phrase.words, self.scene.side
        draft.count = self.figures.count(item, thing, clause)
        draft.tool = self.figures.tool(clause, item, action, kind)
        draft.flags |= item.phrase.flags & _KEPT_FLAGS
        if "cut" in (clause.sense, clause.lemma):
            draft.flags.add("cut")
        if action not in OFF:
            self.figures.tightened(draft, clause, item)
        return draft

    def _enter(self, draft: Draft) -> Draft:
        """Enter an event; one started by hand and then torqued in the same breath is two."""
        self.figures.use_description(draft)
        if draft.action != "start by hand" or draft.torque is None:
            return self.scene.book.enter(draft)
        second = on_thing(draft, draft.thing, draft.words)
        second.action, second.tool = "tighten", None
        draft.torque = draft.unit = draft.angle = None
        draft.torques = []
        first = self.scene.book.enter(draft)
        self.scene.book.enter(second)
        return first

    def _ask(self, clause: Clause, phrase: Phrase) -> None:
        source = self.scene.source(clause)
        what = phrase.pronoun or phrase.name or "it"
        self.scene.doubts.append(Told("", f'What is "{what}" in "{_short(source.text)}"?', source))


def _hung(clause: Clause) -> bool:
    """Whether a thing goes on a hook or a wire."""
    place = clause.places[0] if clause.places else None
    return place is not None and bool(place.words) and place.words[-1].lower() in HANGERS


def _short(text: str) -> str:
    flat = " ".join(text.split())
    return flat if len(flat) <= 60 else f"{flat[:57]}..."
