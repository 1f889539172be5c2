"""All that a note gives, put together: events, torques, what is left over, owed, new and doubtful."""

from dataclasses import dataclass

from putback.capture.events import Event, Heard, Source, Told
from putback.capture.follow_ups import follow_ups
from putback.capture.hearing import understand
from putback.capture.left_over import left_over


@dataclass(frozen=True)
class Report:
    """What a whole note gives.

    Parameters
    ----------
    heard : Heard
    left_over, doubtful, follow_ups, new_parts : tuple of Told
    """

    heard: Heard
    left_over: tuple[Told, ...]
    doubtful: tuple[Told, ...]
    follow_ups: tuple[Told, ...]
    new_parts: tuple[Told, ...]


def report(text: str) -> Report:
    """Read a whole note.

    Parameters
    ----------
    text : str
    """
    heard = understand(text)
    account = left_over(heard)
    doubts = sorted((*heard.doubts, *account.doubts), key=lambda one: one.source.start)
    return Report(heard, account.items, tuple(doubts), follow_ups(heard), _once(heard.new_parts))


def _once(told: tuple[Told, ...]) -> tuple[Told, ...]:
    """A new part named twice is one, with the count that was told."""
    found: dict[str, Told] = {}
    for one in told:
        found.setdefault(one.item.lower(), one)
    return tuple(found.values())


def as_json(told: Report) -> dict:
    """A report as plain values, as docs/notes.md lists them.

    Parameters
    ----------
    told : Report
    """
    return {
        "events": [_event(one) for one in told.heard.events],
        "torques": [
            {"item": one.item, "value": one.value, "unit": one.unit, "source": _source(one.source)}
            for one in told.heard.torques
        ],
        "left_over": [{"item": one.item, "why": one.what, "source": _source(one.source)} for one in told.left_over],
        "doubtful": [{"question": one.what, "source": _source(one.source)} for one in told.doubtful],
        "follow_ups": [{"what": one.what, "source": _source(one.source)} for one in told.follow_ups],
        "new_parts": [{"item": one.item, "count": one.count, "source": _source(one.source)} for one in told.new_parts],
    }


def _event(one: Event) -> dict:
    keys = ("item", "action", "count", "tool", "torque", "unit", "angle")
    return {key: getattr(one, key) for key in keys} | {"source": _source(one.source), "confidence": one.confidence}


def _source(one: Source) -> dict:
    return {"line": one.line, "column": one.column, "text": one.text}
