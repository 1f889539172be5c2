"""The audit of a note: what does not agree with itself, and what is owed or missing; each finding names its places."""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from putback.capture.events import Event, Heard, Source
from putback.capture.follow_ups import circuit_of, follow_ups
from putback.capture.left_over import BACK, left_over, pairs
from putback.capture.names import likeness, plain_words
from putback.torque.heads import KEY, NEAR, SPANNER, heads_for_tool
from putback.torque.judge import threads_that_bear
from putback.units import TORQUE_UNITS

_UNITS = {"N·m": "N·m", "lbf·ft": "ft-lb", "lbf·in": "in-lb"}
_FASTENERS = ("fastener", "clamp")
_LIVE = frozenset("starter alternator generator airbag squib charge main".split())
OFF = ("remove", "set aside", "unplug", "open", "loosen", "lower")


@dataclass(frozen=True)
class Finding:
    """Something to look at again.

    Parameters
    ----------
    about : str
        count, size, torque, unit, one-time, fluid, battery, owed, order
    words : str
        One sentence
    first : Source
    second : Source, optional
        The other place, where two places do not agree
    """

    about: str
    words: str
    first: Source
    second: Source | None = None


def audit(heard: Heard) -> tuple[Finding, ...]:
    """Everything in a note that should be looked at again, in the order of the text.

    Parameters
    ----------
    heard : Heard
        Of a whole note
    """
    found = [finding for rule in _RULES for finding in rule(heard)]
    return tuple(sorted(found, key=lambda one: (one.first.start, one.about)))


# -- off against on --------------------------------------------------------------------------------


def _counts(heard: Heard) -> Iterator[Finding]:
    for one in left_over(heard).items:
        yield Finding("count", f"{one.item}: {one.what}.", one.source, _last_back(heard, one.item, one.source))


def _last_back(heard: Heard, item: str, off: Source) -> Source | None:
    """Where the same thing is told to be back, if it is told at all."""
    told = [
        event
        for event in heard.events
        if event.action in BACK and event.source.start > off.start and likeness(event.item, item) >= 0.5
    ]
    return told[-1].source if told else None


def _sizes(heard: Heard) -> Iterator[Finding]:
    """A fastener that was undone with one size and is done up with another."""
    for off, back in _fasteners(heard):
        other = (
            on
            for on in back
            if on.tool and off.tool and on.tool != off.tool and _is_size(on.tool) and _is_size(off.tool)
        )
        for on in list(other)[:1]:
            yield Finding(
                "size", f"{off.item}: {off.tool} on the way in, {on.tool} on the way back.", off.source, on.source
            )


def _is_size(tool: str) -> bool:
    return bool(re.match(r"[\dTEMP]", tool))


def _fasteners(heard: Heard) -> Iterator[tuple[Event, tuple[Event, ...]]]:
    """Fasteners that came off, each with the events that brought them back."""
    return ((off, on) for off, on in pairs(heard) if off.kind in _FASTENERS and off.action in ("remove", "loosen"))


# -- torques ---------------------------------------------------------------------------------------


def _without_torque(heard: Heard) -> Iterator[Finding]:
    """Fasteners that are told to be back and nowhere how tight."""
    for off, back in _fasteners(heard):
        if off.kind == "fastener" and back and not any(on.torque is not None or on.angle for on in back):
            tight = any(on.action == "tighten" for on in back)
            how = "tight, but with no figure" if tight else "back, and nothing is said of how tight"
            yield Finding("torque", f"{off.item}: {how}.", back[-1].source, off.source)


def _by_thing(heard: Heard) -> list[tuple[str, list[Event]]]:
    found: dict[int, list[Event]] = {}
    for event in heard.events:
        found.setdefault(event.thing, []).append(event)
    return [(events[0].item, events) for events in found.values()]


def _without_unit(heard: Heard) -> Iterator[Finding]:
    for one in heard.torques:
        if one.unit is None:
            yield Finding("unit", f"{one.item}: {one.value:g} of which unit?", one.source)


def _rarer_unit(heard: Heard) -> Iterator[Finding]:
    """One figure in another unit than all the others may be a slip."""
    units = Counter(one.unit for one in heard.torques if one.unit)
    if len(units) < 2 or sum(units.values()) < 3:
        return
    usual = units.most_common(1)[0][0]
    for one in heard.torques:
        if one.unit and one.unit != usual and units[one.unit] == 1:
            yield Finding(
                "unit", f"{one.item}: {one.value:g} {one.unit}, where the other torques are in {usual}.", one.source
            )


def _implausible(heard: Heard) -> Iterator[Finding]:
    """A torque that suits no usual thread under a head of the size that was named."""
    told = [(on, on.tool or off.tool, off) for off, back in _fasteners(heard) for on in back]
    seen = {id(on) for on, _, _ in told}
    told += [(event, event.tool, event) for event in heard.events if id(event) not in seen]
    for event, tool, sized in told:
        if event.torque is None or event.unit is None or event.angle or event.kind != "fastener":
            continue
        if tool and re.fullmatch(r"[\d.]+ mm(?: hex)?", tool) and not _suits(event, tool):
            words = f"{event.item}: {event.torque:g} {event.unit} suits no usual thread under a head of {tool}."
            yield Finding("torque", words, event.source, None if event.tool == tool else sized.source)


def _suits(event: Event, tool: str) -> bool:
    """Whether some thread under such a head bears the torque; True where no standard has such a head."""
    across, kind = float(tool.split()[0]), KEY if tool.endswith("hex") else SPANNER
    value = event.torque * TORQUE_UNITS[_UNITS[event.unit]].size
    if value <= 0 or not any(head.tool == kind for head in heads_for_tool(across, NEAR)):
        return True
    return any(head.tool == kind for head, _, _ in threads_that_bear(value, across))


# -- parts, fluids, battery ------------------------------------------------------------------------


def _one_time(heard: Heard) -> Iterator[Finding]:
    """Fasteners turned by an angle are mostly meant for one use."""
    for name, events in _by_thing(heard):
        turned = next(
            (event for event in events if event.angle and event.angle > 30 and event.torque is not None), None
        )
        renewed = any("new" in event.flags or event.action == "replace" for event in events) or any(
            likeness(one.item, name) >= 0.5 for one in heard.new_parts
        )
        if turned and turned.kind == "fastener" and not renewed:
            yield Finding(
                "one-time",
                f"{name}: turned by {turned.angle:g}° after the torque; are they new? Such fasteners are mostly "
                "for one use.",
                turned.source,
                events[0].source,
            )
        elif any("reused" in event.flags for event in events) and turned:
            yield Finding("one-time", f"{name}: used again, though turned by an angle.", turned.source)


def _fluids(heard: Heard) -> Iterator[Finding]:
    """Filled while the circuit is still open."""
    for n, event in enumerate(heard.events):
        if event.action != "fill" or (circuit := circuit_of(event)) is None:
            continue
        for off in heard.events[:n]:
            if (
                off.kind == "line"
                and off.action == "open"
                and circuit_of(off) == circuit
                and not _is_closed(heard, off, n)
            ):
                yield Finding(
                    "order", f"{event.item} is filled before the {off.item} is closed.", event.source, off.source
                )


def _is_closed(heard: Heard, off: Event, before: int) -> bool:
    if any(at <= before for at, _, _ in heard.closings):
        return True
    return any(
        on.action in ("close", "fit", "tighten", "replace") and likeness(on.item, off.item) >= 0.5
        for on in heard.events[:before]
    )


def _owed(heard: Heard) -> Iterator[Finding]:
    for one in follow_ups(heard):
        yield Finding("owed", f"{one.what}.", one.source)


def _battery(heard: Heard) -> Iterator[Finding]:
    """A cable that is live is parted and the battery never was; or the battery is on before the plugs are."""
    off = next((event for event in heard.events if event.action in ("unplug", "remove") and _is_battery(event)), None)
    for event in heard.events:
        if (
            off is None
            and event.action == "unplug"
            and _LIVE & {*plain_words(event.item)}
            and event.kind == "electric"
            and "plug" not in plain_words(event.item)
        ):
            yield Finding("battery", f"{event.item} is parted, and nothing is said of the battery.", event.source)
            return
    on = next((n for n, event in enumerate(heard.events) if event.action == "plug in" and _is_battery(event)), None)
    if off is None or on is None:
        return
    for late in heard.events[on + 1 :]:
        if late.action == "plug in" and not _is_battery(late):
            yield Finding(
                "order",
                f"The battery is on before the {late.item} is plugged in.",
                heard.events[on].source,
                late.source,
            )


def _is_battery(event: Event) -> bool:
    words = {*plain_words(event.item)}
    return "battery" in words or (
        event.kind == "electric"
        and bool(words & {"negative", "positive", "earth", "minus"})
        and not words & {"engine", "body"}
    )


def _order(heard: Heard) -> Iterator[Finding]:
    """What came off later sits deeper; it cannot go in once what came off before it is back."""
    parts = [(name, events) for name, events in _by_thing(heard) if events[0].kind == "part"]
    off = {
        events[0].thing: next(
            (
                n
                for n, event in enumerate(heard.events)
                if event.thing == events[0].thing and event.action in ("remove", "set aside")
            ),
            None,
        )
        for _, events in parts
    }
    on = {
        events[0].thing: next(
            (n for n, event in enumerate(heard.events) if event.thing == events[0].thing and event.action == "fit"),
            None,
        )
        for _, events in parts
    }
    for _, events in parts:
        thing = events[0].thing
        if off[thing] is None or on[thing] is None:
            continue
        outer = [
            other
            for other in off
            if other != thing
            and off[other] is not None
            and on[other] is not None
            and off[other] < off[thing]
            and on[other] < on[thing]
        ]
        if outer:
            first = heard.events[on[outer[-1]]]
            inner = heard.events[on[thing]]
            yield Finding(
                "order",
                f"{inner.item} goes in after {first.item}, which came off before it: is it free to go in?",
                first.source,
                inner.source,
            )


_RULES = (
    _counts,
    _sizes,
    _without_torque,
    _without_unit,
    _rarer_unit,
    _implausible,
    _one_time,
    _fluids,
    _owed,
    _battery,
    _order,
)
