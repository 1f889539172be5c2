"""The events of a note while it is heard: entered, added to, put right, taken back."""

from dataclasses import dataclass, field, replace

from putback.capture.events import OFF, ON, Event, Told
from putback.capture.lexicon import singular
from putback.capture.memory import Memory, Thing
from putback.capture.names import SIDES
from putback.capture.places import Places

NEAR = 200  # signs within which a second telling makes the source of the first reach further
FITTING = ("fit", "start by hand", "plug in", "close", "tighten", "replace")


@dataclass
class Draft:
    """An event that may still change; places are signs from the beginning of the text."""

    words: tuple[str, ...]
    action: str
    start: int
    end: int
    thing: Thing
    kind: str = "part"
    count: int | None = None
    tool: str | None = None
    torque: float | None = None
    unit: str | None = None
    angle: float | None = None
    confidence: float = 0.95
    flags: set[str] = field(default_factory=set)
    sentence: int = 0
    torques: list[tuple[float, str | None]] = field(default_factory=list)
    by_pronoun: bool = False
    verbless: bool = False
    side: str = ""

    @property
    def name(self) -> str:
        return " ".join(self.words)


class Book:
    """Events in the order in which they were told, and what hangs on them.

    Parameters
    ----------
    memory : Memory
    places : Places
    """

    def __init__(self, memory: Memory, places: Places):
        self.memory, self.places = memory, places
        self.drafts: list[Draft] = []
        self.only_torques: list[Told] = []  # told of a thing, and no event
        self.new: list[Told] = []  # new parts told without an event
        self.direction = ""

    def enter(self, draft: Draft) -> Draft:
        """Put an event down, or add what it says to the one that said the same; gives the one that stands."""
        same = self._hung_up(draft) or self._told_ahead(draft) or self._said_already(draft)
        if same is not None:
            self._add_to(same, draft)
            self.memory.touch(draft.thing)
            return same
        self.drafts.append(draft)
        thing = draft.thing
        thing.state, thing.last_event = draft.action, len(self.drafts) - 1
        if len(draft.words) >= len(thing.words):
            thing.words = draft.words
        thing.count = draft.count or thing.count
        self.memory.touch(thing)
        if draft.kind != "put in" and (draft.action in OFF[:5] or draft.action in ON):
            self.direction = "off" if draft.action in OFF else "on"
        return draft

    def _hung_up(self, draft: Draft) -> Draft | None:
        """Off and hung up in one breath is set aside."""
        before = self.last_of(draft.thing)
        if (
            draft.action != "set aside"
            or before is None
            or before.action != "remove"
            or before.sentence != draft.sentence
        ):
            return None
        before.action = draft.thing.state = "set aside"
        return before

    def _told_ahead(self, draft: Draft) -> Draft | None:
        """Four bolts, 21 mm. I loosened all four: what was told without a verb gets this one."""
        before = self.last_of(draft.thing)
        if (
            before is None
            or not before.verbless
            or draft.sentence - before.sentence > 2
            or before.action == draft.action
        ):
            return None
        if (
            (before.action in OFF) != (draft.action in OFF)
            or draft.verbless
            or draft.thing.last_event != len(self.drafts) - 1
        ):
            return None
        before.action = draft.thing.state = draft.action
        before.verbless = False
        return before

    def last_of(self, thing: Thing) -> Draft | None:
        """The last event of a thing."""
        return self.drafts[thing.last_event] if 0 <= thing.last_event < len(self.drafts) else None

    def _said_already(self, draft: Draft) -> Draft | None:
        """The event that brought a thing where this one says it is."""
        before = self.last_of(draft.thing)
        if draft.action == "raise" and draft.kind == "car" and (up := self.car_is_up()) is not None:
            return up
        if before is None and (whole := self._of_a_group(draft)) is not None:
            return whole
        if before is None or draft.thing.state != draft.action:
            return None
        if draft.side and before.side and draft.side != before.side:
            return None
        if draft.action == "tighten":
            told = (draft.torque, draft.angle)
            if told == (None, None):
                return before if draft.sentence - before.sentence <= 2 or before.count == draft.count else None
            return before if told == (before.torque, before.angle) else None
        if draft.thing.head == "tensioner":
            return None
        if plural_differs(draft, before) and draft.thing.last_event < len(self.drafts) - 1:
            return None
        if draft.kind not in ("fastener", "clamp"):
            return before
        if draft.count and before.count and draft.count != before.count:
            if draft.by_pronoun and draft.count < before.count and draft.sentence - before.sentence <= 2:
                return before
            if "all" in draft.flags and draft.sentence - before.sentence <= 2 and draft.count > before.count:
                before.count = draft.count
                return before
            return None
        bare = len(draft.words) == 1 and draft.thing.last_event < len(self.drafts) - 1
        return None if bare and not draft.by_pronoun and not (draft.count and draft.count == before.count) else before

    def _of_a_group(self, draft: Draft) -> Draft | None:
        """Four bolts out ... the last one's out too: it is one of them."""
        base = draft.thing.base
        whole = self.last_of(base) if base is not None else None
        if whole is None or not draft.by_pronoun or SIDES & {word.lower() for word in draft.words}:
            return None
        told = whole.action == draft.action and (whole.count or 1) > 1 and draft.sentence - whole.sentence <= 2
        return whole if told else None

    def car_is_up(self) -> Draft | None:
        """The event that raised the car, if it still stands raised."""
        last = next(
            (one for one in reversed(self.drafts) if one.kind == "car" and one.action in ("raise", "lower")), None
        )
        return last if last is not None and last.action == "raise" else None

    def _add_to(self, same: Draft, draft: Draft) -> None:
        grown = False
        for name in ("tool", "torque", "unit", "angle", "count"):
            better = name == "tool" and is_size(draft.tool) and not is_size(same.tool)
            if (getattr(same, name) is None or better) and getattr(draft, name) is not None:
                setattr(same, name, getattr(draft, name))
                grown = True
        same.torques += draft.torques if not same.torques else []
        same.flags |= draft.flags
        same.sentence = draft.sentence
        if 0 <= draft.start - same.end < NEAR and (grown or draft.sentence - same.sentence <= 1):
            same.end = max(same.end, draft.end)

    def drop(self, at: int) -> Draft:
        """Take an event back, as if it had not been told."""
        gone = self.drafts.pop(at)
        for thing in self.memory.things:
            if thing.last_event > at:
                thing.last_event -= 1
        earlier = [n for n, draft in enumerate(self.drafts) if draft.thing is gone.thing]
        gone.thing.last_event = earlier[-1] if earlier else -1
        gone.thing.state = self.drafts[earlier[-1]].action if earlier else ""
        return gone

    # -- what comes of it ------------------------------------------------------------------------

    def events(self) -> tuple[Event, ...]:
        return tuple(self._event(draft) for draft in self.drafts)

    def _event(self, one: Draft) -> Event:
        count = one.count if one.count and one.count > 1 else None
        return Event(
            one.name,
            one.action,
            self.places.source(one.start, one.end),
            count,
            one.tool,
            one.torque,
            one.unit,
            one.angle,
            round(one.confidence, 2),
            one.kind,
            one.thing.number,
            tuple(sorted(one.flags)),
            one.sentence,
        )

    def torques(self) -> tuple[Told, ...]:
        """Every torque told, stages included, in the order of the text."""
        found = list(self.only_torques)
        for draft in self.drafts:
            source = self.places.source(draft.start, draft.end)
            stages = draft.torques or ([(draft.torque, draft.unit)] if draft.torque is not None else [])
            found += [Told(draft.name, "torque", source, value, unit) for value, unit in stages]
        return tuple(sorted(found, key=lambda one: one.source.start))

    def new_parts(self) -> tuple[Told, ...]:
        """What was fitted new."""
        found = list(self.new)
        for draft in self.drafts:
            fitted = "new" in draft.flags and draft.action in FITTING
            if (fitted or draft.action == "replace") and draft.kind != "fluid":
                found.append(Told(draft.name, "new", self.places.source(draft.start, draft.end), count=draft.count))
        return tuple(sorted(found, key=lambda one: one.source.start))


def plural_differs(one: Draft, other: Draft) -> bool:
    """Whether one of two names is of one thing and the other of several: cap and caps.

    Parameters
    ----------
    one, other : Draft
    """
    many = [
        bool(draft.words) and singular(draft.words[-1].lower()) != draft.words[-1].lower() for draft in (one, other)
    ]
    return many[0] != many[1] and not one.by_pronoun


def is_size(tool: str | None) -> bool:
    """Whether a tool is named by its size, which goes before any other word for it.

    Parameters
    ----------
    tool : str or None
    """
    return tool is not None and any(sign.isdigit() for sign in tool)


def on_thing(draft: Draft, thing: Thing, words: tuple[str, ...]) -> Draft:
    """A copy of an event about another thing.

    Parameters
    ----------
    draft : Draft
    thing : Thing
    words : tuple of str
        What that is called
    """
    return replace(draft, thing=thing, words=words, flags=set(draft.flags), torques=list(draft.torques))
