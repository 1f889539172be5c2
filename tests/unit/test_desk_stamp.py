"""What every event begins with."""

from datetime import UTC, datetime, timedelta, timezone

from putback.desk.stamp import Stamp, utc


def stamp(time: datetime) -> Stamp:
    return Stamp("technician 1", "bay 2", lambda: time, lambda: "E" * 26)


def test_an_event_says_who_when_and_on_what():
    """Blanks for underscores, and nothing of what was not said."""
    said = {"item": "belt", "state": "on", "new_parts": ["belt"], "note": None}
    event = stamp(datetime(2026, 3, 2, 8, 5, tzinfo=UTC)).event("J" * 26, "item moved", **said)

    assert event.person == "technician 1" and event.device == "bay 2"
    assert event.at == "2026-03-02T08:05:00.000Z"
    assert event.data == {"item": "belt", "state": "on", "new parts": ["belt"]}


def test_times_are_told_in_utc_whatever_the_clock_shows():
    """Two hours east, and with milliseconds."""
    assert utc(datetime(2026, 7, 1, 10, 0, 0, 4000, tzinfo=timezone(timedelta(hours=2)))) == "2026-07-01T08:00:00.004Z"
