"""Sizes, counts and torques that belong to an event, wherever they were told: with it, before it or behind it."""

from putback.capture.book import Draft, is_size
from putback.capture.events import Told
from putback.capture.memory import Thing
from putback.capture.quantities import Quantity
from putback.capture.said import Clause, Item
from putback.capture.scene import Scene
from putback.capture.things import FASTENERS, is_named

_JOINING = ("fit", "plug in", "close")
_TAKES_A_TORQUE = ("tighten", "start by hand", *_JOINING)
_FAR = 400  # signs within which a description belongs to an event
LEAST, MOST = 3, 900  # a bare number outside is no torque


class Figures:
    """Gives events their figures.

    Parameters
    ----------
    scene : Scene
    """

    def __init__(self, scene: Scene):
        self.scene, self.memory = scene, scene.memory
        self.pending: tuple[int | None, str, int, int] | None = None  # a size that waits for its fasteners

    # -- tool and count --------------------------------------------------------------------------

    def tool(self, clause: Clause, item: Item, action: str, kind: str) -> str | None:
        """What turns a thing; nothing is moved aside with a size."""
        tool = item.tool or item.phrase.tool or clause.tool
        if kind == "put in" and not clause.tool:
            return None  # a 12 mm pin
        return None if action in ("lower", "raise", "set aside") and is_size(tool) else tool

    def count(self, item: Item, thing: Thing, clause: Clause) -> int | None:
        """How many, multiplied where they are so many each."""
        if item.count is None and item.phrase.count is None and any("each" in one.flags for one in clause.places):
            return self._on_each()
        both = 2 if item.phrase.pronoun == "both" else None
        told = item.count or item.phrase.count or both or (None if item.phrase.words else self._of_a_pronoun(thing))
        if item.each_side:
            return 2 * (told or 1)
        return self._of_each(told or 1, thing) if item.each else told

    def _on_each(self) -> int:
        """A cap on each pipe: as many as there are pipes, where that was told; else two."""
        near = [one for one in reversed(self.memory.recent[-4:]) if self.scene.sentence - one.told_at <= 2]
        return next((one.count for one in near if one.count and one.count > 1), 2)

    def _of_a_pronoun(self, thing: Thing) -> int | None:
        """How many a pronoun means: as many as were described, or told in the same sentence."""
        last = self.scene.book.last_of(thing)
        if thing.start >= 0 or last is None:
            return thing.count
        return last.count if last.sentence == self.scene.sentence else None

    def _of_each(self, count: int, thing: Thing) -> int:
        """Two bolts each: times the brackets that they hold."""
        near = [one for one in reversed(self.memory.recent[-4:]) if one is not thing and one.kind not in FASTENERS]
        held = next((one.count for one in near if one.count and one.count > 1), None)
        return count * (held or (2 if any(one.plural for one in near) else 1))

    # -- torque ----------------------------------------------------------------------------------

    def tightened(self, draft: Draft, clause: Clause, item: Item) -> None:
        """Give an event the torque and the angle that were told with it."""
        alone = len(clause.items) <= 1
        draft.torque, draft.unit, draft.angle = item.torque, item.unit, item.angle
        draft.torques = [(one.value, one.unit) for one in item.torques]
        self._size_that_is_a_torque(draft, clause, item)
        ahead = alone or (clause.torques and item.first > clause.torques[0].first)
        if draft.torque is None and clause.torques and draft.action in _TAKES_A_TORQUE and ahead:
            draft.torque, draft.unit = clause.torques[-1].value, clause.torques[-1].unit
            draft.torques = [(one.value, one.unit) for one in clause.torques]
        elif draft.torque is None and draft.action == "tighten" and clause.numbers:
            self._bare_torque(draft, clause)
        if draft.torque is not None and draft.action in _JOINING:
            draft.action = "tighten"
        if draft.torque is not None and draft.unit is None:
            self._doubt_unit(draft)
        if draft.angle is None and draft.action == "tighten" and alone:
            draft.angle = clause.angle

    def _size_that_is_a_torque(self, draft: Draft, clause: Clause, item: Item) -> None:
        """Bolts 15, on the way back: what looks like a size is a torque."""
        bare = "bare size" in item.phrase.flags and not item.phrase.count and draft.tool and draft.torque is None
        if bare and self.scene.direction == "on" and draft.action in ("fit", "tighten") and not clause.torques:
            draft.torque, draft.tool = float(draft.tool.split()[0]), None
            draft.torques = [(draft.torque, None)]

    def _bare_torque(self, draft: Draft, clause: Clause) -> None:
        """A number without a unit where a torque must be meant."""
        _, after, value = clause.numbers[-1]
        if LEAST <= value <= MOST:
            draft.torque, draft.unit = value, None
            draft.torques = [(value, None)]
            draft.end = max(draft.end, self.scene.end(after))

    def _doubt_unit(self, draft: Draft) -> None:
        source = self.scene.places.source(draft.start, draft.end)
        question = f"{draft.name}: {draft.torque:g} of which unit, newton metres, foot-pounds or inch-pounds?"
        self.scene.doubts.append(Told(draft.name, question, source, draft.torque))

    def one_unit(self, clause: Clause) -> None:
        """Nut's 9 as well, lugs 80: a unit holds for the figures of its sentence."""
        unit = next((item.unit for item in clause.items if item.unit), None)
        unit = unit or (clause.torques[0].unit if clause.torques else None)
        kept: list[Item] = []
        for item in clause.items:
            bare = "bare" in item.phrase.flags and "all" not in item.phrase.flags
            value = item.phrase.count if not item.phrase.words and bare else None
            meant = unit or (self.scene.direction == "on" and bool(kept) and kept[-1].phrase.kind in FASTENERS)
            if meant and value and value >= LEAST and kept and kept[-1].torque is None and kept[-1].phrase.words:
                give_torque(kept[-1], [Quantity("torque", item.first, item.after, float(value), unit)])
            else:
                kept.append(item)
        clause.items = kept
        for first, after, value in clause.numbers:  # ... newton metres, the long ones at forty
            if unit and len(kept) > 1 and kept[-1].torque is None and kept[-1].after <= first:
                give_torque(kept[-1], [Quantity("torque", first, after, value, unit)])

    def torques_only(self, clause: Clause) -> None:
        """A torque told of a thing that nothing was done to."""
        for item in clause.items:
            if not item.torques:
                continue
            thing = None if is_named(item.phrase) else self.memory.meant(item.phrase)
            name = item.phrase.name if is_named(item.phrase) else thing.name if thing else ""
            if name:
                source = self.scene.stretch(item.first, item.after)
                told = [Told(name, "torque", source, one.value, one.unit) for one in item.torques]
                self.scene.book.only_torques += told

    # -- told before or behind -------------------------------------------------------------------

    def use_description(self, draft: Draft) -> None:
        """What was told of a thing before anything was done to it belongs to the first event."""
        thing = draft.thing
        if thing.start >= 0 and 0 <= draft.start - thing.after < _FAR:
            if draft.tool is None or (is_size(thing.tool) and not is_size(draft.tool)):
                draft.tool = thing.tool
            if thing.plural:
                draft.count = draft.count or thing.count
            draft.start = min(draft.start, thing.start)
        thing.start, thing.tool = -1, None
        if draft.kind == "fastener" and draft.tool is None:
            self._use_like_description(draft)
        self._use_pending(draft)

    def _use_like_description(self, draft: Draft) -> None:
        """One nut each, 10 mm ... four nuts off: described by the same noun a little before."""
        for thing in reversed(self.memory.recent[-6:]):
            near = thing.start >= 0 and thing.tool and self.scene.sentence - thing.told_at <= 3
            if near and thing is not draft.thing and thing.head == draft.thing.head and thing.last_event < 0:
                draft.tool, draft.start = thing.tool, min(draft.start, thing.start)
                draft.count = draft.count or (thing.count if thing.plural else None)
                thing.start, thing.tool = -1, None
                return

    def _use_pending(self, draft: Draft) -> None:
        if self.pending is None:
            return
        count, tool, start, sentence = self.pending
        just_off = draft.action == "remove" and self.scene.sentence - sentence <= 1
        if draft.kind not in FASTENERS and not just_off:
            return
        agrees = (not draft.count or not count or draft.count == count) and draft.tool in (None, tool)
        if self.scene.sentence - sentence <= 3 and agrees:
            draft.count, draft.tool, draft.start = draft.count or count, tool, min(start, draft.start)
        self.pending = None

    def size_alone(self, item: Item, tool: str | None, count: int | None) -> None:
        """Three 13s: of the part whose taking off was just told, or of fasteners still to come."""
        last = self.scene.last_draft(0)
        if last is not None and (tool is None or last.tool is None) and (count is None or last.count is None):
            self.amend_draft(last, item.after, tool, count)
            return
        if tool is None:
            return
        described, before = self._described(), self.scene.last_draft(1)
        if described is not None and (count is None or count == described.count):
            described.tool, described.after = tool, self.scene.end(item.after)
        elif before is not None and before.tool is None and before.kind == "fastener":
            self.amend_draft(before, item.after, tool, count)
        else:
            self.pending = (count, tool, self.scene.begin(item.first), self.scene.sentence)

    def _described(self) -> Thing | None:
        """Fasteners just described, and nothing done to them yet."""
        near = (one for one in reversed(self.memory.recent[-3:]) if one.told_at >= self.scene.sentence - 1)
        return next((one for one in near if one.kind == "fastener" and one.start >= 0), None)

    def amend(self, thing: Thing, item: Item, tool: str | None, count: int | None) -> None:
        """They're 13s: told of things that were named before."""
        draft = self.scene.book.last_of(thing)
        if draft is not None and self.scene.sentence - draft.sentence <= 1 and draft.tool is None:
            self.amend_draft(draft, item.after, tool, count if draft.count is None else None)
            return
        thing.tool, thing.count = tool or thing.tool, count or thing.count
        if thing.start < 0:
            thing.start = self.scene.begin(item.first)
        thing.after = self.scene.end(item.after)

    def amend_draft(self, draft: Draft, after: int, tool: str | None = None, count: int | None = None) -> None:
        """Add a figure to an event."""
        draft.tool, draft.count = draft.tool or tool, draft.count or count
        draft.end = max(draft.end, self.scene.end(after))


def give_torque(item: Item, told: list[Quantity]) -> None:
    """Give a thing its torques; the last one is what it is tightened to.

    Parameters
    ----------
    item : Item
    told : list of Quantity
    """
    item.torque, item.unit, item.torques = told[-1].value, told[-1].unit, list(told)
    item.after = max(item.after, told[-1].after)


def shared(items: list[Item]) -> list[Item]:
    """Things with what stands behind the last of them, which holds for all that are joined.

    Parameters
    ----------
    items : list of Item
    """
    for before, item in zip(reversed(items[:-1]), reversed(items[1:]), strict=True):
        if item.joined and item.torque is not None and before.torque is None:
            before.torque, before.unit, before.angle = item.torque, item.unit, item.angle
            before.torques = list(item.torques)
    return items
