"""An event: one fact about a job, in the past tense. It is never changed; a correction is another event."""

import hashlib
import json
import re
from dataclasses import dataclass
from datetime import datetime

from putback.errors import InputError
from putback.job.kinds import check

START = "0" * 64  # what the first event of a job is chained to
HEAD = ("id", "job", "kind", "at", "person", "device")


@dataclass(frozen=True)
class Event:
    """One fact about a job.

    Parameters
    ----------
    id : str
        Made by the device: 26 or 32 letters and digits. The same id twice is the same event.
    job : str
        The job's own id, of the same form.
    kind : str
        One of `kinds.KINDS`; any other is kept as it is, for it may come from a newer program.
    at : str
        When it happened, in UTC: `2026-01-31T09:05:00.000Z`, always with milliseconds.
    person, device : str
        Who says so, and on what.
    data : dict
        What it says besides, as JSON has it; not to be changed.

    Raises
    ------
    InputError
        Something is not what it must be.
    """

    id: str
    job: str
    kind: str
    at: str
    person: str
    device: str
    data: dict

    def __post_init__(self):
        for name in HEAD:
            _check_line(name, getattr(self, name))
        for name in ("id", "job"):
            if not re.fullmatch(r"[0-9A-Za-z]{26}|[0-9A-Za-z]{32}", getattr(self, name)):
                raise InputError(f'event: "{name}" must be 26 or 32 letters and digits, not "{getattr(self, name)}"')
        _check_time(self.at)
        if not isinstance(self.data, dict):
            raise InputError('event: "data" must be an object; write {} where there is nothing to say')
        canonical(self)
        check(self.kind, self.data)


def _check_line(name: str, value) -> None:
    if not isinstance(value, str) or not value.strip() or len(value) > 200 or not value.isprintable():
        raise InputError(f'event: "{name}" must be one line of text, at most 200 characters, not {value!r}')


def _check_time(text: str) -> None:
    try:
        # One form only, always with three digits of a second, so that the order of the texts is the order in time.
        if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{3}Z", text):
            raise ValueError
        datetime.fromisoformat(text)
    except ValueError:
        raise InputError(f'event: "at" must be a time in UTC such as 2026-01-31T09:05:00.000Z, not "{text}"') from None


def canonical(event: Event) -> bytes:
    """The one way to write an event: JSON in UTF-8, keys sorted, no blanks.

    Parameters
    ----------
    event : Event

    Raises
    ------
    InputError
        It holds what JSON cannot say.
    """
    try:
        row = vars(event)  # without the deep copy of `asdict`, which costs more than all the rest
        text = json.dumps(row, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
        if json.loads(text) != row:
            raise ValueError
        return text.encode("utf-8")
    except (TypeError, ValueError, RecursionError):
        raise InputError('event: "data" holds something that JSON cannot say; use texts, numbers and lists') from None


def to_json(event: Event) -> str:
    """The event as JSON, the same text for the same event.

    Parameters
    ----------
    event : Event
    """
    return canonical(event).decode("utf-8")


def from_json(text: str) -> Event:
    """The event that a JSON text tells.

    Parameters
    ----------
    text : str

    Raises
    ------
    InputError
        It is no JSON, or no event.
    """
    try:
        row = json.loads(text)
    except (ValueError, RecursionError):
        raise InputError("event: this is not JSON; send one object for each event") from None
    names = {*HEAD, "data"}
    if not isinstance(row, dict) or row.keys() != names:
        raise InputError(f"event: an event is an object with exactly: {', '.join((*HEAD, 'data'))}")
    return Event(**row)


def chained(before: str, event: Event) -> str:
    """The hash that ties an event to all before it, so that a later change of any of them shows.

    Parameters
    ----------
    before : str
        The hash of the event before, `START` for the first.
    event : Event

    Returns
    -------
    hash : str
        SHA-256 of the hash before and the event's canonical bytes, 64 digits 0-9 and a-f (FIPS 180-4).
    """
    return hashlib.sha256(before.encode("ascii") + canonical(event)).hexdigest()
