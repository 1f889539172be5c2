"""A draft of an area file from one note, or from several of the same area.

What was off when a thing came off is taken for what it hides behind, as long as the way back does not say
otherwise; several notes that differ in their order leave only what all of them keep. All that is guessed is
marked in the file: nobody knows the minutes, and an order that was seen once may be chance.
"""

import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from putback.area import tools
from putback.capture.events import Event, Heard
from putback.capture.follow_ups import follow_ups
from putback.capture.left_over import BACK, pairs
from putback.capture.lexicon import singular
from putback.capture.names import likeness, plain_words

ALIKE = 0.5
OUT_ACTIONS = ("remove", "set aside", "lower", "unplug", "open")
_SECTIONS = {"electric": "cables", "battery": "cables", "line": "lines", "belt": "belts"}
_MINUTES = {"parts": (5, 6), "cables": (1, 1), "lines": (2, 3), "belts": (3, 4), "held": (2, 3)}
_GOES = {"set aside": "aside", "lower": "lowered", "open": "open"}
_UNITS = {"N·m": "N·m", "lbf·ft": "ft-lb", "lbf·in": "in-lb"}
_NO_PART = ("fastener", "catch", "clamp", "fluid", "car", "prop", "put in", "shop", "tool")


@dataclass
class Held:
    """A group of fasteners of a thing."""

    name: str
    noun: str
    count: int = 1
    tool: str | None = None
    torque: str | None = None
    new: bool = False
    source: str = ""


@dataclass
class Thing:
    """A thing of the area: its section of the file, where it goes instead of off, whether it was worked on from below.

    `off_at` and `back_at` have, for each note, its place on the way in and on the way back; None in a note that does
    not tell of it. `source` are the words that told of it first.
    """

    name: str
    section: str
    goes: str = ""
    under: bool = False
    off_at: list[float | None] = field(default_factory=list)
    back_at: list[float | None] = field(default_factory=list)
    held: list[Held] = field(default_factory=list)
    source: str = ""
    replaced: bool = False


@dataclass(frozen=True)
class Origin:
    """Where the figures of a draft come from.

    Attributes
    ----------
    word : str
        The source of its torques: dictated, or logged
    minutes : dict of str to (float, float)
        How long things took off and on with all that holds them, where that is known
    """

    word: str = "dictated"
    minutes: dict[str, tuple[float, float]] = field(default_factory=dict)


def draft_area(notes: Sequence[Heard], name: str, origin: Origin | None = None) -> str:
    """An area file, as far as notes tell it.

    Parameters
    ----------
    notes : sequence of Heard
        Of the same area, each a whole note
    name : str
        What the area is called
    origin : Origin, optional
        Dictated, and nobody knows the minutes, when left out

    Returns
    -------
    text : str
        YAML that `putback check` finds nothing wrong with; empty where no note takes anything off
    """
    things: list[Thing] = []
    for n, heard in enumerate(notes):
        _Reading(things, n, heard).run()
    if not things:
        return ""
    return "\n".join(_Writer(things, notes, name, origin or Origin()).lines()) + "\n"


def order_of(heard: Heard, area_things: Sequence[str] | None = None) -> tuple[list[str], list[str]]:
    """The names of what came off and of what went back, in the note's own order.

    Parameters
    ----------
    heard : Heard
        Of a whole note
    area_things : sequence of str, optional
        Names to keep to; all when left out
    """
    things: list[Thing] = []
    _Reading(things, 0, heard).run()
    known = [one for one in things if area_things is None or one.name in area_things]
    out = sorted(known, key=lambda one: one.off_at[0])
    back = sorted(known, key=lambda one: one.back_at[0])
    return [one.name for one in out], [one.name for one in back]


class _Reading:
    """Reads one note into the things of the area."""

    def __init__(self, things: list[Thing], n: int, heard: Heard):
        self.things, self.n, self.heard = things, n, heard
        self.by_thing: dict[int, Thing] = {}
        self.up = False

    def run(self) -> None:
        for thing in self.things:
            thing.off_at.append(None)
            thing.back_at.append(None)
        for at, event in enumerate(self.heard.events):
            if event.kind == "car" and event.action in ("raise", "lower"):
                self.up = event.action == "raise"
            if _is_thing(event) and event.action in OUT_ACTIONS:
                self._off(at, event)
            elif event.action in BACK or event.action == "raise":
                self._back(at, event)
        self._not_told()
        self._fasteners()

    def _not_told(self) -> None:
        """What is not told to be back goes back ahead of all that came off before it."""
        here = [one for one in self.things if one.off_at[self.n] is not None]
        told = [one for one in here if one.back_at[self.n] is not None]
        for one in here:
            if one not in told:
                outer = [other.back_at[self.n] for other in told if other.off_at[self.n] < one.off_at[self.n]]
                end = len(self.heard.events) + 1
                one.back_at[self.n] = min(outer, default=end) - 0.5 - one.off_at[self.n] / 1e6

    def _off(self, at: int, event: Event) -> None:
        thing = self.by_thing.get(event.thing) or self._known(event) or self._new(event)
        self.by_thing[event.thing] = thing
        if thing.off_at[self.n] is None:
            thing.off_at[self.n] = at
        thing.under = thing.under or self.up
        if event.action == "remove":
            thing.goes = ""

    def _known(self, event: Event) -> Thing | None:
        """The same thing from an earlier note."""
        free = [one for one in self.things if one.off_at[self.n] is None and one.section == _section(event)]
        scored = [(likeness(one.name, event.item), -n, one) for n, one in enumerate(free)]
        best = max(scored, default=None, key=lambda one: one[:2])
        return best[2] if best and best[0] >= ALIKE and self.n else None

    def _new(self, event: Event) -> Thing:
        blanks: list[float | None] = [None] * (self.n + 1)
        name = _unique(_clean(event.item), [one.name for one in self.things])
        thing = Thing(
            name,
            _section(event),
            _GOES.get(event.action, "") if _section(event) == "parts" else "",
            off_at=list(blanks),
            back_at=list(blanks),
            source=_words(event),
        )
        self.things.append(thing)
        return thing

    def _back(self, at: int, event: Event) -> None:
        thing = self.by_thing.get(event.thing) or self._alike(event)
        if thing is None:
            return
        if event.action != "start by hand":
            thing.back_at[self.n] = at  # the last telling counts: only then is it done with
        if "new" in event.flags or event.action == "replace":
            thing.replaced = True

    def _alike(self, event: Event) -> Thing | None:
        if not _is_thing(event):
            return None
        here = [one for one in self.things if one.off_at[self.n] is not None]
        scored = [(likeness(one.name, event.item), n, one) for n, one in enumerate(here)]
        best = max(scored, default=None, key=lambda one: one[:2])
        return best[2] if best and best[0] >= ALIKE else None

    # -- fasteners -------------------------------------------------------------------------------

    def _fasteners(self) -> None:
        seen: set[int] = set()
        for off, back in pairs(self.heard):
            if off.kind not in ("fastener", "clamp") or off.action not in ("remove", "loosen") or off.thing in seen:
                continue
            seen.add(off.thing)
            owner = self._owner(off)
            known = self.n and owner is not None and any(likeness(one.name, off.item) > 0 for one in owner.held)
            if owner is not None and not known:
                self._hold(owner, off, back)

    def _owner(self, off: Event) -> Thing | None:
        """The part whose name they bear, or the next that comes off, or else the last that did."""
        here = [one for one in self.things if one.off_at[self.n] is not None]
        if known := [one for one in here if off.owner and one.name == _clean(off.owner)]:
            return known[0]
        words = {*plain_words(off.item)[:-1]}
        bearing = [one for one in here if plain_words(one.name)[-1] in words]
        here = [one for one in here if one.section == "parts"] or here
        at = self.heard.events.index(off)
        near = [
            (one.off_at[self.n] < at, abs(one.off_at[self.n] - at), one.name, one)
            for one in here
            if abs(self.heard.events[one.off_at[self.n]].sentence - off.sentence) <= 1
        ]
        later = [(False, one.off_at[self.n] - at, one.name, one) for one in here if one.off_at[self.n] > at]
        chosen = (
            bearing[:1]
            or [min(group, key=lambda one: (one[1], one[0], one[2]))[3] for group in (near, later) if group][:1]
            or here[-1:]
        )
        return chosen[0] if chosen else None

    def _hold(self, owner: Thing, off: Event, back: Sequence[Event]) -> None:
        name = _clean(off.item)
        if len(name.split()) == 1:
            name = f"{plain_words(owner.name)[-1]} {name}"
        taken = [one.name for one in self.things] + [held.name for one in self.things for held in one.held]
        told = (off, *back)
        count = off.count or max((event.count for event in back if event.count), default=1)
        tool = next((event.tool for event in told if event.tool), None)
        held = Held(_unique(name, taken), _noun(off), count, tool, source=_words(off))
        tight = [event for event in back if event.torque is not None and event.unit is not None]
        held.torque = _torque(tight[-1]) if tight else None
        held.new = any("new" in event.flags for event in back)
        owner.held.append(held)


def _is_thing(event: Event) -> bool:
    if event.action == "open" and event.kind != "line" and event.kind != "lid":
        return False
    return event.kind not in _NO_PART and bool(_clean(event.item))


def _section(event: Event) -> str:
    return _SECTIONS.get(event.kind, "parts")


def _torque(event: Event) -> str:
    turned = f" + {event.angle:g}°" if event.angle else ""
    return f"{event.torque:g} {_UNITS[event.unit]}{turned}"


def _noun(event: Event) -> str:
    word = singular(plain_words(event.item)[-1])
    return re.sub(r"[^a-z -]", "", word) or "fastener"


def _clean(name: str) -> str:
    """A name as an area file can have it."""
    words = re.sub(r"[^\w/'-]+", " ", name).strip(" -'/")
    return re.sub(r"^\d+\s*", "", words)[:60].strip()


def _unique(name: str, taken: Sequence[str]) -> str:
    low = {one.lower() for one in taken}
    if name.lower() not in low:
        return name
    return next(f"{name} {n}" for n in range(2, len(taken) + 3) if f"{name} {n}".lower() not in low)


def _words(event: Event) -> str:
    words = " ".join(event.source.text.split())
    return words if len(words) <= 50 else f"{words[:47]}..."


# -- writing ---------------------------------------------------------------------------------------


class _Writer:
    """Writes the things of an area as a file."""

    def __init__(self, things: Sequence[Thing], notes: Sequence[Heard], name: str, origin: Origin):
        self.things, self.notes, self.name, self.origin = list(things), notes, name, origin
        self.target = self._target()
        self.behind = needs(self.things)

    def _target(self) -> Thing:
        """What was renewed; else what came off last, for that was reached for."""
        parts = (
            [one for one in self.things if not one.goes and one.section == "parts"]
            or [one for one in self.things if not one.goes]
            or self.things
        )
        new = [told.item for heard in self.notes for told in heard.new_parts]
        renewed = [one for one in parts if one.replaced or any(likeness(one.name, item) >= ALIKE for item in new)]
        chosen = max(
            renewed or parts, key=lambda one: (max((at for at in one.off_at if at is not None), default=-1), one.name)
        )
        chosen.goes = ""
        return chosen

    def lines(self) -> Iterator[str]:
        seen = "in this order only" if len(self.notes) == 1 else f"in all {len(self.notes)} teardowns"
        yield "# A draft from notes: look at every line."
        yield f"# What stands behind something was seen {seen}, until a person or another teardown relaxes it."
        yield "# Minutes are a first guess where it does not say that they were taken."
        yield from ("area: 1", f"name: {_quoted(self.name)}", f"figures from: {self.origin.word}, not checked", "")
        yield from ("work from:", "  standing: any posture")
        if any(one.under for one in self.things):
            yield "  under: raised"
        yield from ("", "targets:", f"  {_quoted(self.target.name)}: {{new: 0.00}}   # nobody told the price", "")
        yield from self._owed()
        for section in ("parts", "cables", "lines", "belts"):
            yield from self._section(section)
        yield from self._remarks()

    def _section(self, section: str) -> Iterator[str]:
        things = [one for one in self.things if one.section == section]
        if not things and section != "parts":
            return
        yield f"{section}:" if things else f"{section}: {{}}"
        for one in things:
            yield ""
            yield from self._thing(one)
        yield ""

    def _thing(self, one: Thing) -> Iterator[str]:
        yield f"  {_quoted(one.name)}:   # {_comment(one.source)}"
        if one.goes:
            yield f"    goes: {one.goes}"
        yield f"    from: {'under' if one.under else 'standing'}"
        if self.behind[one.name]:
            yield f"    behind: [{', '.join(_quoted(name) for name in self.behind[one.name])}]"
        yield self._minutes(one)
        if one is self.target and self._promises():
            yield f"    follow-ups: [{', '.join(_quoted(name) for name in self._promises())}]"
        if one.held:
            yield "    held by:"
        for held in one.held:
            yield f"      {_quoted(held.name)}: {_quoted(_line(held, self.origin.word))}   # {_comment(held.source)}"

    def _minutes(self, one: Thing) -> str:
        if one.name in self.origin.minutes:
            off, on = self.origin.minutes[one.name]
            return f"    minutes: {off:g} off, {on:g} on   # taken"
        (off, on), more = _MINUTES[one.section], len(one.held)
        return f"    minutes: {off + more * _MINUTES['held'][0]} off, {on + more * _MINUTES['held'][1]} on"

    def _promises(self) -> list[str]:
        told = [_clean(one.what) for heard in self.notes for one in follow_ups(heard)]
        return list(dict.fromkeys(name for name in told if name))[:20]

    def _owed(self) -> Iterator[str]:
        if self._promises():
            yield "follow-ups:"
            yield from (f"  {_quoted(name)}: at hand-over" for name in self._promises())
            yield ""

    def _remarks(self) -> Iterator[str]:
        told = [one for heard in self.notes for one in heard.remarks]
        if told:
            yield "# Said besides:"
        for one in told:
            kind = "another way" if one.what == "alternative" else "not on this car"
            yield f"# {kind}: {_comment(one.source.text)}"


def needs(things: Sequence[Thing]) -> dict[str, list[str]]:
    """What each thing hides behind: what was off when it came off and went back only after it, in every note.

    Parameters
    ----------
    things : sequence of Thing
    """
    full = {
        one.name: [other.name for other in things if other is not one and _always_first(other, one)] for one in things
    }
    return {
        name: [other for other in behind if not any(other in full[between] for between in behind if between != other)]
        for name, behind in full.items()
    }


def _always_first(outer: Thing, inner: Thing) -> bool:
    """Whether one thing was out of the way ahead of another in every note that tells of both."""
    both = [
        n
        for n, (one, other) in enumerate(zip(outer.off_at, inner.off_at, strict=True))
        if one is not None and other is not None
    ]
    return bool(both) and all(
        outer.off_at[n] < inner.off_at[n] and _back_after(outer.back_at[n], inner.back_at[n]) for n in both
    )


def _back_after(outer: float | None, inner: float | None) -> bool:
    """Whether the way back allows that the one thing covers the other."""
    return outer is None or inner is None or inner < outer


def _line(held: Held, source: str) -> str:
    tool = held.tool and tools.tool(held.tool)
    phrases = [f"{held.count} x {held.noun}"]
    phrases += [held.tool] if tool else []
    phrases += [held.torque, f"source {source}"] if held.torque else []
    phrases += ["one-time"] if held.new and held.torque and "°" in held.torque else []
    return ", ".join(phrases)


def _quoted(text: str) -> str:
    plain = re.fullmatch(r"[A-Za-z][\w /'-]*(?:, [\w .·°+/-]+)*|\d+ x [\w -]+(?:, [\w .·°+/-]+)*", text)
    return (
        text
        if plain
        and ": " not in text
        and " #" not in text
        and text.lower() not in ("on", "off", "yes", "no", "null", "true", "false")
        and not text.endswith((" ", ":"))
        else json.dumps(text, ensure_ascii=False)
    )


def _comment(text: str) -> str:
    flat = " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
    return flat if len(flat) <= 60 else f"{flat[:57]}..."


def order_text(heard: Heard, name: str) -> str:
    """An order file with the note's own order.

    Parameters
    ----------
    heard : Heard
        Of a whole note
    name : str
        What the order is called
    """
    out, back = order_of(heard)
    way_in = ", ".join(_quoted(one) for one in out)
    way_back = ", ".join(_quoted(one) for one in back)
    return f"order: 1\nname: {_quoted(name)}\nway in: [{way_in}]\nway back: [{way_back}]\n"
