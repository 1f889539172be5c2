"""An event: one fact about a job, in the past tense. It is never changed; a correction is another event."""

import hashlib
import json
import re
from dataclasses import dataclass
from datetime import datetime

from putback.errors import InputError
from putback.job.kinds import check

START = "0" * 64  # what the first event of a job is chained to
_read = json.JSONDecoder().raw_decode  # twice as fast as `json.loads` on a text that has no blanks
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
        What it says besides, as JSON has it; kept as a copy with whole numbers written without a point, for a browser
        sends 1 where Python has 1.0. Not to be changed.

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
        check_id("id", self.id)
        check_id("job", self.job)
        _check_time(self.at)
        if not isinstance(self.data, dict):
            raise InputError('event: "data" must be an object; write {} where there is nothing to say')
        object.__setattr__(self, "data", _as_json(self.data))
        check(self.kind, self.data)


def is_id(value: str) -> bool:
    """Whether a text is an id: 26 or 32 letters and digits.

    Parameters
    ----------
    value : str
    """
    return re.fullmatch(r"[0-9A-Za-z]{26}|[0-9A-Za-z]{32}", value) is not None


def check_id(name: str, value: str) -> None:
    """Refuses what is no id.

    Parameters
    ----------
    name : str
        What the id is of, for the sentence.
    value : str

    Raises
    ------
    InputError
        It is not 26 or 32 letters and digits.
    """
    if not is_id(value):
        raise InputError(f'event: "{name}" must be 26 or 32 letters and digits, not {json.dumps(value)}')


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


def _as_json(data: dict) -> dict:
    """A copy as it comes back from JSON, refused where JSON would lose or change any of it."""
    try:
        plain = _plain(data)
        text = json.dumps(plain, ensure_ascii=False, allow_nan=False)
        text.encode("utf-8")
        if (back := json.loads(text)) != plain:
            raise ValueError
        return back
    except (TypeError, ValueError, OverflowError, RecursionError):
        raise InputError('event: "data" holds something that JSON cannot say; use texts, numbers and lists') from None


def _plain(value):
    """The same with whole numbers as integers; one beyond what a float can hold ends in an OverflowError."""
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_plain(inner) for inner in value]
    return int(value) if isinstance(value, int | float) and _is_whole(value) else value


def _is_whole(value: int | float) -> bool:
    return not isinstance(value, bool) and float(value).is_integer()


def canonical(event: Event) -> bytes:
    """The one way to write an event: JSON in UTF-8, keys sorted, no blanks, whole numbers without a point.

    Parameters
    ----------
    event : Event
    """
    row = vars(event)  # without the deep copy of `asdict`, which costs more than all the rest
    return json.dumps(row, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode("utf-8")


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
    if not isinstance(row, dict) or row.keys() != {*HEAD, "data"}:
        raise InputError(f"event: an event is an object with exactly: {', '.join((*HEAD, 'data'))}")
    return Event(**row)


def kept(text: str) -> Event:
    """The event of a canonical text that was checked when it was logged, without checking it again.

    Parameters
    ----------
    text : str
        As `to_json` wrote it; what else it may be is nobody's guess.
    """
    event = object.__new__(Event)
    vars(event).update(_read(text)[0])
    return event


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
    return chained_text(before, to_json(event))


def chained_text(before: str, text: str) -> str:
    """The same hash, of an event that is written already.

    Parameters
    ----------
    before : str
        The hash of the event before, `START` for the first.
    text : str
        The event as `to_json` writes it.
    """
    return hashlib.sha256((before + text).encode("utf-8")).hexdigest()
