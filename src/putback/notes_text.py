"""What a note gives, for people: a clean procedure, then what is left over, owed and doubtful."""

import textwrap
from collections.abc import Iterable, Iterator

from putback.capture.audit import audit
from putback.capture.events import Event, Source, Told
from putback.capture.report import Report
from putback.units import show_number

WIDTH = 80
_LINE, _ACTION, _TOOL, _NUMBER = 5, 14, 16, 4
_THING = WIDTH - _LINE - _ACTION - _TOOL - _NUMBER
_OFF = ("remove", "set aside", "unplug", "open", "loosen", "drain")
_ON = ("fit", "start by hand", "tighten", "plug in", "close", "fill", "bleed", "replace")


def notes_text(told: Report, name: str) -> str:
    """A report for a terminal of 80 columns.

    Parameters
    ----------
    told : Report
    name : str
        Where the note comes from
    """
    return "\n".join(line.rstrip() for line in _lines(told, name))


def _lines(told: Report, name: str) -> Iterator[str]:
    events = told.heard.events
    yield f"NOTES: {name}"
    yield f"{_count(len(events), 'step')} understood, {_count(len(told.left_over), 'thing')} left over"
    if not events:
        yield "Nothing in this note was understood as a step."
    yield from _steps(told)
    yield from _told(
        "LEFT OVER: OFF, AND NOT TOLD TO BE BACK",
        told.left_over,
        lambda one: f"{_counted(one.item, one.count)}: {one.what}",
    )
    yield from _told("OWED", told.follow_ups, lambda one: one.what)
    yield from _told("NEW PARTS", told.new_parts, lambda one: _counted(one.item, one.count))
    yield from _told("DOUBTFUL", told.doubtful, lambda one: one.what)
    yield from _findings(told)


# -- the procedure ---------------------------------------------------------------------------------


def _steps(told: Report) -> Iterator[str]:
    phase = ""
    for event in told.heard.events:
        now = (
            "THE WAY BACK"
            if event.action in _ON and not _for_the_work(event)
            else "THE WAY IN"
            if event.action in _OFF
            else phase or "THE WAY IN"
        )
        if now and now != phase:
            phase = now
            yield from ("", f"{phase:{WIDTH - 4}}line")
        yield from _step(event)
    for _, exceptions, source in told.heard.closings:
        besides = f", but for the {', '.join(exceptions)}" if exceptions else ""
        yield f"     everything else back{besides}".ljust(WIDTH - 4) + f"{source.line:>4}"


def _for_the_work(event: Event) -> bool:
    return event.kind == "put in"


def _step(event: Event) -> Iterator[str]:
    things = textwrap.wrap(_thing(event), _THING - 2) or [""]
    mark = "?" if event.confidence < 0.8 else " "
    tool = event.tool or ""
    yield f"   {mark} {event.action:{_ACTION}}{things[0]:{_THING - 1}} {tool[:_TOOL]:{_TOOL}}{event.source.line:>4}"
    yield from (" " * (_LINE + _ACTION + 2) + line for line in things[1:])


def _thing(event: Event) -> str:
    return ", ".join([_counted(event.item, event.count), *_tightness(event)])


def _tightness(event: Event) -> Iterator[str]:
    if event.torque is not None:
        yield f"{show_number(event.torque)} {event.unit or '(which unit?)'}" + (
            f" + {show_number(event.angle)}°" if event.angle else ""
        )
    elif event.angle:
        yield f"turned by {show_number(event.angle)}°"
    if "new" in event.flags:
        yield "NEW"


def _counted(item: str, count: int | None) -> str:
    return f"{count} x {item}" if count else item


# -- what is told beside it ------------------------------------------------------------------------


def _told(heading: str, told: Iterable[Told], words) -> Iterator[str]:
    told = tuple(told)
    if told:
        yield from ("", heading)
    for one in told:
        yield from _remark(words(one), one.source)


def _findings(told: Report) -> Iterator[str]:
    asked = {one.source for one in told.doubtful}
    found = [one for one in audit(told.heard) if one.about not in ("count", "owed") and one.first not in asked]
    if found:
        yield from ("", "TO LOOK AT AGAIN")
    for one in found:
        yield from _remark(one.words, one.first, one.second)


def _remark(words: str, *sources: Source | None) -> Iterator[str]:
    yield from textwrap.wrap(words, WIDTH, initial_indent=" " * 5, subsequent_indent=" " * 7)
    for source in dict.fromkeys(one for one in sources if one is not None):
        flat = " ".join(source.text.split())
        short = flat if len(flat) <= 56 else f"{flat[:53]}..."
        yield f'         line {source.line}: "{short}"'


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"
