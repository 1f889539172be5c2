"""Every kind of event has its words."""

import pytest

from putback.event_text import _WORDS, event_words
from putback.job.events import Event
from putback.job.kinds import CHECKS, KINDS

SAMPLES = {
    "text": "T30", "texts": ["one", "two"], "number": 12.5, "amount": 2.0, "count": 3, "yes or no": True,
    "mapping": {"ribs": "7"}, "words": "a note", "hash": "0" * 64,
}  # fmt: skip


def said(kind: str, whole: bool) -> dict:
    """What an event of a kind says at most, or at least."""
    fields = {name.rstrip("?"): must_be for name, must_be in KINDS[kind].items() if whole or not name.endswith("?")}
    return {name: SAMPLES[must_be] if must_be in CHECKS else must_be.split("|")[-1] for name, must_be in fields.items()}


@pytest.mark.parametrize("whole", [True, False])
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_is_told_in_one_line(kind, whole):
    """With all it may say, and with the least."""
    least = {"fasteners off": {"tray position": "2a"}, "reading taken": {"word": "glazed"}}
    data = said(kind, whole) | ({} if whole else least.get(kind, {}))
    text = event_words(Event("A" * 26, "J" * 26, kind, "2026-01-31T09:05:00.000Z", "technician 1", "bay 2", data))
    assert text and "\n" not in text and "{" not in text


def test_no_kind_is_without_its_words():
    """A new kind wants a line here."""
    assert list(_WORDS) == list(KINDS)


def test_a_kind_of_a_newer_program_is_named_as_it_is():
    """Nothing that was said is hidden."""
    one = Event("A" * 26, "J" * 26, "wheel balanced", "2026-01-31T09:05:00.000Z", "technician 1", "bay 2", {"grams": 15})
    assert event_words(one) == "wheel balanced: grams 15"


def test_a_note_of_several_lines_is_told_in_one():
    """Nobody forges a line of the log by a note."""
    said = {"note": "hose in front\r\n  99  technician 2: bolt on"}
    one = Event("A" * 26, "J" * 26, "note added", "2026-01-31T09:05:00.000Z", "technician 1", "bay 2", said)
    assert event_words(one) == "hose in front / 99  technician 2: bolt on"
