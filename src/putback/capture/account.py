"""What is open while a note goes on: off, aside, unplugged, open, loose or down, and what came back of it."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from putback.capture.actions import CARRIED
from putback.capture.events import Event, Heard
from putback.capture.lexicon import singular
from putback.capture.names import likeness, plain_words, without_sides

BACK = ("fit", "start by hand", "tighten", "plug in", "close", "replace")
_NEVER_BACK = frozenset("tie sealant sealer silicone tape rag-joint cotter".split())
_TRIM = frozenset("trim push tree fir spring plastic retaining panel scrivet".split())
_LOOSE = ("fastener", "clamp", "catch", "electric", "line", "belt")
_RAISED_AND_LOWERED = frozenset("engine gearbox transmission motor".split())
_POLES = frozenset("clamp cable live battery negative positive minus plus pole terminal earth lead".split())
ALIKE = 0.5


@dataclass
class Open:
    """Something that is off, aside, unplugged, open, loose or down."""

    event: Event
    owner: str = ""  # the part that these fasteners hold
    back: dict[str, int] = field(default_factory=dict)  # pieces told to be back, by action
    all_back: bool = False
    brought_back: list[Event] = field(default_factory=list)
    closed: bool = False

    @property
    def count(self) -> int:
        return self.event.count or 1


class Account:
    """What is open while the note goes on.

    Parameters
    ----------
    heard : Heard
        Of a whole note
    """

    def __init__(self, heard: Heard):
        self.heard, self.events = heard, heard.events
        self.open: list[Open] = []
        self.fitted: list[Event] = []
        self.unsaid: list[Open] = []

    def has_a_way_back(self) -> bool:
        if not self.events or self.heard.closings:
            return True
        return any(event.action in BACK and event.kind not in ("put in", "prop") for event in self.events)

    def run(self) -> None:
        closings = list(self.heard.closings)
        for n, event in enumerate(self.events):
            while closings and closings[0][0] <= n:
                self._close_all(closings.pop(0)[1])
            self._event(n, event)
        for _, exceptions, _ in closings:
            self._close_all(exceptions)
        self._renewed()

    def _renewed(self) -> None:
        """A part for which a new one was told goes by the new one's name or its own."""
        for one in self.open:
            if one.event.kind not in ("fastener", "clamp", "put in") and one.event.action == "remove":
                after = (new for new in self.heard.new_parts if new.source.start > one.event.source.start)
                one.closed = one.closed or any(likeness(new.item, one.event.item) >= ALIKE for new in after)

    def _close_all(self, exceptions: Sequence[str]) -> None:
        for one in self.open:
            if one.event.action != "fit" and not any(likeness(name, one.event.item) >= ALIKE for name in exceptions):
                one.closed = True

    # -- one event -------------------------------------------------------------------------------

    def _event(self, n: int, event: Event) -> None:
        if event.kind in ("car", "lid", "fluid", "prop") and event.action not in ("fit", "remove"):
            return
        if event.action == "fit" and event.kind == "put in":
            self.open.append(Open(event))
        elif event.action in ("remove", "unplug", "set aside", "open", "loosen", "lower", "raise"):
            self._off(n, event)
        if event.action in BACK and event.kind != "put in":
            self._back(event)
        if event.action == "raise":
            self._close(event, ("lower", "raise"))

    def _off(self, n: int, event: Event) -> None:
        if event.action in ("remove", "unplug") and self._take_out(event):
            return
        if (
            event.action == "raise"
            and plain_words(event.item)[-1:]
            and plain_words(event.item)[-1] not in _RAISED_AND_LOWERED
        ):
            return
        if event.action == "lower" and (self._close(event, ("raise",)) or self._comes_down_again(event)):
            return
        if event.kind in ("lid", "put in") and event.action == "remove":
            return
        if self._never_goes_back(event) or (event.action == "loosen" and event.kind not in _LOOSE):
            return
        for before in self._same_thing(event):
            before.closed = True
        self.open.append(Open(event, self._owner(n, event)))

    def _comes_down_again(self, event: Event) -> bool:
        """On the way back a part that is let down goes to its place; what hangs on a jack does not."""
        return bool(self.fitted) and singular(plain_words(event.item)[-1]) not in CARRIED

    def _take_out(self, event: Event) -> bool:
        """What was put in for the work comes out again; caps are all that were put on."""
        name = plain_words(event.item)
        put_in = [one for one in self.open if not one.closed and one.event.action == "fit"]
        found = [one for one in put_in if likeness(one.event.item, event.item) >= ALIKE]
        found = found or [one for one in put_in if plain_words(one.event.item)[-1] == name[-1] and len(name) == 1]
        several = bool(event.count) or event.item.lower().endswith("s")
        for one in found if several else found[:1]:
            one.closed = True
        return bool(found)

    def _close(self, event: Event, actions: Sequence[str]) -> bool:
        found = [
            one
            for one in self.open
            if one.event.action in actions and not one.closed and likeness(one.event.item, event.item) >= ALIKE
        ]
        for one in found:
            one.closed = True
        return bool(found)

    def _never_goes_back(self, event: Event) -> bool:
        head = singular(event.item.split()[-1].lower()) if event.item else ""
        return event.kind == "prop" or head in _NEVER_BACK

    def _same_thing(self, event: Event) -> list[Open]:
        """What was told of the same thing before: loosened, and now out."""
        if event.action not in ("remove", "set aside", "lower", "unplug"):
            return []
        here = [one for one in self.open if not one.closed and one.event.action != "fit"]
        return [
            one
            for one in here
            if (one.event.thing == event.thing and one.event.action != event.action)
            or (one.event.action == "loosen" and likeness(one.event.item, event.item) > 0.9)
        ]

    def _owner(self, n: int, event: Event) -> str:
        """The part that fasteners belong to: told with its removal, or it bears their name."""
        if not may_go_unsaid(event):
            return ""
        named = (
            other
            for other in self.events
            if other.action in ("remove", "set aside", "lower", "open", "unplug")
            and other.kind not in ("fastener", "clamp")
            and self._bears_its_name(event, other)
        )
        if first := next(named, None):
            return first.item
        near = [
            (abs(other.sentence - event.sentence), abs(n - m), m < n, other)
            for m, other in enumerate(self.events[max(0, n - 6) : n + 7], max(0, n - 6))
            if other.action in ("remove", "set aside", "lower", "open", "unplug")
            and other.kind not in ("fastener", "fluid", "catch", "clamp")
            and abs(other.sentence - event.sentence) <= 1
        ]
        return min(near, key=lambda one: one[:3])[3].item if near else ""

    def _bears_its_name(self, event: Event, part: Event) -> bool:
        words = plain_words(event.item)[:-1]
        return bool(words) and plain_words(part.item)[-1] in words

    # -- back ------------------------------------------------------------------------------------

    def _back(self, event: Event) -> None:
        fasteners = event.kind in ("fastener", "clamp", "catch")
        found = self._fasteners(event) if fasteners else self._parts(event)
        for one in found:
            self._take(one, event)
        if event.action == "tighten" and event.kind == "fastener":
            self._what_they_hold(event)
        if not fasteners:
            self.fitted.append(event)
            if event.kind == "belt":
                self._belt_is_on()
            if event.kind == "battery":
                self._battery_is_in()

    def _what_they_hold(self, event: Event) -> None:
        """Nobody tightens the bolts of a part that is not in."""
        holder = plain_words(event.item)[:-1]
        for one in self.open:
            head = plain_words(one.event.item)[-1]
            named = head in holder and one.event.kind in ("part", "belt") and one.event.action != "fit"
            if named:
                one.closed = True

    def _take(self, one: Open, event: Event) -> None:
        one.brought_back.append(event)
        count = 1 if event.count is None and _is_one_of_several(event, one.event) else event.count
        if count is None:
            one.all_back = True
        else:
            one.back[event.action] = one.back.get(event.action, 0) + count
        whole = count is None or one.back[event.action] >= one.count
        if whole and one.event.kind not in ("fastener", "clamp", "catch"):
            one.closed = True

    def _parts(self, event: Event) -> list[Open]:
        """The part that is back, under this name or another."""
        able = [
            one
            for one in self.open
            if not one.closed and one.event.action != "fit" and one.event.kind not in ("fastener",)
        ]
        if several := self._several(event, able):
            return several
        by_thing = [one for one in able if one.event.thing == event.thing]
        if by_thing:
            return by_thing
        scored = [
            (likeness(one.event.item, event.item), n, one)
            for n, one in enumerate(able)
            if _goes_back_as(one.event, event)
        ]
        best = max(scored, default=None, key=lambda one: one[:2])
        if best is None or best[0] < ALIKE:
            return self._by_part_of_its_name(event, able)
        return [
            one for score, _, one in scored if score == best[0] and one.event.item.lower() == best[2].event.item.lower()
        ][-1:]

    def _several(self, event: Event, able: list[Open]) -> list[Open]:
        """Hoses back on: all that are open; a number says how many."""
        words = plain_words(event.item)
        if not words or singular(event.item.split()[-1].lower()) == event.item.split()[-1].lower():
            return []
        same = [
            one
            for one in able
            if plain_words(one.event.item)[-1] == words[-1] and {*words[:-1]} <= {*plain_words(one.event.item)}
        ]
        same = [one for one in same if _goes_back_as(one.event, event)]
        return same[-event.count :] if event.count else same

    def _by_part_of_its_name(self, event: Event, able: list[Open]) -> list[Open]:
        """The triangle trim is told to be back as "triangle", the negative lead as "negative"."""
        words = {*plain_words(event.item)}
        if "battery" in words and event.action == "plug in":
            return [
                one
                for one in able
                if one.event.kind in ("electric", "battery") and _POLES & {*plain_words(one.event.item)}
            ]
        found = [
            one
            for one in able
            if (words <= {*plain_words(one.event.item)} or words >= {*plain_words(one.event.item)})
            and (one.event.kind == event.kind or {one.event.kind, event.kind} <= {"electric", "battery"})
        ]
        return found if len(found) == 1 else []

    def _fasteners(self, event: Event) -> list[Open]:
        able = [
            one
            for one in self.open
            if not self.is_back(one) and one.event.action != "fit" and one.event.kind in ("fastener", "clamp", "catch")
        ]
        again = [
            one
            for one in self.open
            if self.is_back(one)
            and one.event.kind == event.kind
            and (
                one.event.thing == event.thing
                or ((one.back or one.all_back) and likeness(one.event.item, event.item) > 0.9)
            )
        ]
        scored = [(self._fit_of(one, event), n, one) for n, one in enumerate(able)]
        scored = [one for one in scored if one[0] > 0]
        if again and (not scored or max(scored)[0] < 2) and event.action == "tighten":
            return again[-1:]
        if not scored:
            return again[-1:]
        best = max(scored, key=lambda one: one[:2])
        return self._together(event, [one for _, _, one in scored], best[2])

    def _fit_of(self, one: Open, event: Event) -> float:
        """How well a group of fasteners that is off answers to one that goes back; 0 where it cannot."""
        score = likeness(one.event.item, event.item)
        if score == 0 and not (
            event.item.lower() in ("fixings", "fasteners", "hardware") and one.event.kind == "fastener"
        ):
            return 0
        if one.event.thing == event.thing:
            score += 1
        if one.owner and self.fitted and any(likeness(one.owner, part.item) >= ALIKE for part in self.fitted[-1:]):
            score += 1
        if event.count:
            score += 0.6 if event.count == one.count else -0.4 if event.count > one.count else 0
        return max(score, 0.01)

    def _together(self, event: Event, able: list[Open], best: Open) -> list[Open]:
        """All nine screws may be seven and two."""
        if event.count is None:
            words = without_sides(plain_words(best.event.item))
            return [
                one
                for one in able
                if one is best
                or (
                    without_sides(plain_words(one.event.item)) == words
                    and _no_side(one.owner) == _no_side(best.owner) != ()
                )
            ]
        if event.count <= best.count:
            return [best]
        same = [one for one in able if one.owner == best.owner or likeness(one.event.item, best.event.item) > 0.9]
        if sum(one.count for one in same) == event.count:
            for one in same:
                one.all_back = True
                one.brought_back.append(event)
            return []
        return [best]

    def _belt_is_on(self) -> None:
        for one in self.open:
            if singular(one.event.item.split()[-1].lower()) in ("tensioner", "idler", "adjuster"):
                one.closed = True

    def _battery_is_in(self) -> None:
        """A battery that is in has its leads on, where nothing else is told of them."""
        for one in self.open:
            words = {*plain_words(one.event.item)}
            if one.event.kind == "electric" and words & _POLES and words <= _POLES:
                one.closed = True

    def is_back(self, one: Open) -> bool:
        """Whether all of it came back.

        Parameters
        ----------
        one : Open
        """
        if one.closed:
            return True
        told = max(one.back.values(), default=0)
        return told >= one.count if one.back else one.all_back


def _is_one_of_several(back: Event, off: Event) -> bool:
    """The thick hose, of two hoses that are off."""
    last = back.item.split()[-1].lower()
    return bool(off.count and off.count > 1) and singular(last) == last and off.item.lower() != back.item.lower()


def _no_side(name: str) -> tuple[str, ...]:
    return without_sides(plain_words(name)) if name else ()


def may_go_unsaid(event: Event) -> bool:
    """Whether it is one of a part's own bolts, nuts, screws, studs, push pins or trim clips.

    Parameters
    ----------
    event : Event
    """
    if event.kind == "catch":
        return True
    if event.kind != "fastener":
        return False
    words = plain_words(event.item)
    if words[-1] in ("plug", "cap", "banjo"):
        return False
    return (
        words[-1] != "clip" or bool(_TRIM & {*words}) or event.action == "loosen" or not {"hose", "jubilee"} & {*words}
    )


def _goes_back_as(off: Event, on: Event) -> bool:
    """Whether what went back is of a kind with what came off."""
    if on.action == "plug in":
        return off.kind in ("electric", "battery") or off.action == "unplug"
    if on.action == "close":
        return off.action in ("open", "remove")
    return True
