"""The ledger on SQLite: what it keeps, what it refuses, and how tampering shows."""

import hashlib
import sqlite3
from dataclasses import replace

import pytest
from ledger_samples import JOB, OTHER, event, opened

from putback.errors import InputError, LedgerError
from putback.job.events import START, chained
from putback.job.ledger import LARGEST_FILE, open_ledger


@pytest.fixture
def ledger(tmp_path):
    with open_ledger(str(tmp_path / "ledger.db")) as opened_ledger:
        yield opened_ledger


def change(ledger, sql: str, *values) -> None:
    """What somebody does to the file behind the ledger's back."""
    with sqlite3.connect(ledger.place) as connection:
        connection.execute(sql, values)
    connection.close()


# --- what is kept ---------------------------------------------------------------------------------


def test_events_are_numbered_and_chained_as_they_come(ledger):
    """Each job counts from 1; the hash is the one that anybody can work out (FIPS 180-4)."""
    first, second, other = ledger.append([event(1), event(2, x=1), event(3, OTHER)])

    assert [first.number, second.number, other.number] == [1, 2, 1]
    assert second.hash == chained(chained(START, event(1)), event(2, x=1))
    assert other.hash == chained(START, event(3, OTHER))
    assert ledger.events(JOB) == [first, second]
    assert ledger.events(OTHER) == [other]


def test_the_same_event_twice_counts_once(ledger):
    """In one batch, in two, beside new ones, and with 1.0 in place of 1: it has the number that it had."""
    (first,) = ledger.append([event(1, x=1)])
    again, new, twice = ledger.append([event(1, x=1.0), event(2), event(2)])

    assert (again.number, again.hash) == (first.number, first.hash)
    assert new == twice
    assert [logged.number for logged in ledger.events(JOB)] == [1, 2]


@pytest.mark.parametrize(
    "other", [event(1, x=2), event(1, OTHER, x=1), event(1, x=True), replace(event(1, x=1), person="technician 2")]
)
def test_the_same_id_with_other_content_is_refused(ledger, other):
    """Nothing of its batch is written; `true` is not 1."""
    ledger.append([event(1, x=1)])
    with pytest.raises(InputError, match="number 1 of job J+, with other content"):
        ledger.append([event(2), other, event(3)])

    assert [logged.event for logged in ledger.events(JOB)] == [event(1, x=1)]
    assert [row.id for row in ledger.jobs()] == [JOB]


def test_one_id_with_two_contents_in_one_batch_is_refused(ledger):
    """As it would be in two."""
    with pytest.raises(InputError, match="with other content"):
        ledger.append([event(1, x=1), event(1, x=2)])
    assert ledger.jobs() == []


def test_nothing_to_log_is_no_mistake(ledger):
    """A device that has nothing new says so."""
    assert ledger.append([]) == []


def test_events_after_a_number(ledger):
    """Below, at and beyond the last; a job that nobody knows has none."""
    logged = ledger.append(event(n) for n in range(1, 6))

    assert ledger.events(JOB, after=4) == logged[4:]
    assert ledger.events(JOB, after=5) == ledger.events(JOB, after=9) == ledger.events(OTHER) == []
    assert ledger.events(JOB, after=-1) == logged


def test_a_batch_larger_than_one_query_is_kept_whole(ledger):
    """Ids are asked for in portions; at their borders nothing is lost or doubled."""
    events = [event(n) for n in range(1201)]
    ledger.append(events[499:501])
    ledger.append(events)

    assert sorted(logged.event.id for logged in ledger.events(JOB)) == [one.id for one in events]


def test_what_was_kept_is_there_when_the_ledger_is_opened_again(ledger):
    """And a second program sees it at once."""
    logged = ledger.append([opened(1), event(2, text="Öl, 5,5 l \0 \U0001f527", deep=[{"a": None}], much=10**300)])
    with open_ledger(ledger.place, create=False) as other:
        assert other.events(JOB) == ledger.events(JOB) == logged


@pytest.mark.parametrize("copy", ["backup", "VACUUM INTO"])
def test_a_backup_is_a_ledger(ledger, tmp_path, copy):
    """As the page on the ledger has it, while somebody is writing: what was acknowledged by then is in it."""
    logged = ledger.append([opened(1), event(2)])
    photo = ledger.put_file(b"photo")
    with ledger.atomic() as connection:
        connection.exec_driver_sql("UPDATE ledger_jobs SET name = 'half done'")
        with sqlite3.connect(ledger.place) as source, sqlite3.connect(tmp_path / "copy.db") as to:
            source.backup(to) if copy == "backup" else source.execute("VACUUM INTO ?", [str(tmp_path / "copied.db")])
    with open_ledger(str(tmp_path / ("copy.db" if copy == "backup" else "copied.db")), create=False) as copied:
        assert copied.events(JOB) == logged
        assert copied.jobs()[0].name == "alternator"
        assert copied.file(photo) == b"photo"
        assert copied.verify(JOB) is None


def test_a_ledger_stays_where_it_was_opened(tmp_path, monkeypatch):
    """Also when the program goes to another folder afterwards; in sentences it is called as it was named."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "other").mkdir()
    with open_ledger("ledger.db") as ledger:
        assert ledger.place == "ledger.db"
        monkeypatch.chdir(tmp_path / "other")
        with ledger.atomic():  # so that reading takes a new connection
            assert ledger.jobs() == []
    assert list((tmp_path / "other").iterdir()) == []


# --- the list of jobs -----------------------------------------------------------------------------


def test_the_list_of_jobs_has_the_one_opened_last_first(ledger):
    """With its name, when it was opened, and how far its log goes."""
    ledger.append([opened(1, at=10), event(2, at=30), event(3, at=20)])
    (other,) = ledger.append([opened(4, OTHER, "starter", at=11)])

    second, first = ledger.jobs()
    assert second == (OTHER, "starter", other.event.at, 1, other.event.at, other.hash)
    assert first[:5] == (JOB, "alternator", "2026-01-31T09:00:10.000Z", 3, "2026-01-31T09:00:30.000Z")


def test_a_job_whose_opening_comes_late_is_listed_all_the_same(ledger):
    """Two devices may send out of order; a second opening changes nothing."""
    ledger.append([event(1, at=5)])
    assert ledger.jobs()[0][:3] == (JOB, "", "2026-01-31T09:00:05.000Z")

    ledger.append([opened(2, at=1), opened(3, name="other", at=9)])
    assert ledger.jobs()[0][:3] == (JOB, "alternator", "2026-01-31T09:00:01.000Z")


# --- tampering ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sql", "number"),
    [
        ("UPDATE ledger_events SET content = replace(content, 'technician 1', 'technician 2') WHERE number = 3", 3),
        ("UPDATE ledger_events SET hash = upper(hash) WHERE number = 2", 2),
        ("UPDATE ledger_events SET number = 99 WHERE number = 4", 4),
        ("UPDATE ledger_events SET id = 'Z' WHERE number = 1", 1),
        ("UPDATE ledger_events SET number = number + 10", 1),
        ("DELETE FROM ledger_events WHERE number = 3", 3),
        ("DELETE FROM ledger_events WHERE number = 5", 5),
        ("DELETE FROM ledger_events", 1),
        ("UPDATE ledger_jobs SET last_number = 4", 6),
        ("UPDATE ledger_jobs SET last_hash = ''", 5),
        ("UPDATE ledger_jobs SET last_number = 'x'", 6),
        ("DELETE FROM ledger_jobs", 5),
        ("UPDATE ledger_events SET content = x'ff00' WHERE number = 2", 2),
        ("UPDATE ledger_events SET hash = 7 WHERE number = 2", 2),
    ],
)
def test_tampering_shows(ledger, sql, number):
    """Changed, renumbered, taken out of the middle, cut off the end: the first number that does not hold is told."""
    ledger.append(event(n) for n in range(1, 6))
    assert ledger.verify(JOB) is None

    change(ledger, sql)
    assert ledger.verify(JOB) == number


def test_two_events_changed_for_each_other_show(ledger):
    """Their content is sound, and their order is not."""
    ledger.append(event(n) for n in range(1, 4))
    change(ledger, "UPDATE ledger_events SET number = -number WHERE number > 1")
    change(ledger, "UPDATE ledger_events SET number = 5 + number WHERE number < 0")

    assert ledger.verify(JOB) == 2


def test_a_job_that_nobody_knows_holds(ledger):
    """There is nothing in it that could be wrong."""
    assert ledger.verify(OTHER) is None


def test_a_changed_event_can_still_be_read(ledger):
    """Who is at the car needs the rest; that it was changed is told by `verify`."""
    ledger.append([event(1), event(2)])
    change(ledger, "UPDATE ledger_events SET content = replace(content, 'bay 2', 'bay 3') WHERE number = 1")

    assert [logged.event.device for logged in ledger.events(JOB)] == ["bay 3", "bay 2"]


@pytest.mark.parametrize("content", ["{", "[]", "7", '{"id": 1}', "", b"\xff\x00", "[" * 100_000])
def test_a_damaged_row_is_named(ledger, content):
    """One sentence with job and number, whatever stands in it."""
    ledger.append([event(1), event(2)])
    change(ledger, "UPDATE ledger_events SET content = ? WHERE number = 2", content)

    with pytest.raises(LedgerError, match="job J+: event 2 cannot be read"):
        ledger.events(JOB)
    assert ledger.verify(JOB) == 2


def test_text_that_is_no_text_is_named(ledger):
    """SQLite's own complaint becomes a sentence."""
    ledger.append([event(1)])
    change(ledger, "UPDATE ledger_events SET content = CAST(x'ff' AS TEXT)")

    with pytest.raises(LedgerError, match=r"ledger\.db: the database refuses"):
        ledger.events(JOB)


def test_events_that_the_list_of_jobs_does_not_know_stop_the_log(ledger):
    """Nothing is numbered twice, and the sentence says what to do."""
    ledger.append([event(1)])
    change(ledger, "DELETE FROM ledger_jobs")

    with pytest.raises(LedgerError, match="do not agree"):
        ledger.append([event(2)])
    assert ledger.append([event(1)])[0].number == 1  # nothing new: nothing to number


@pytest.mark.parametrize("sql", ["last_number = 'x'", "last_hash = x'07'", "last_at = x'00'"])
def test_a_damaged_line_in_the_list_of_jobs_stops_its_log_alone(ledger, sql):
    """Nothing is built on it; the list and other jobs go on."""
    ledger.append([event(1), event(2, OTHER)])
    change(ledger, f"UPDATE ledger_jobs SET {sql} WHERE id = ?", JOB)

    with pytest.raises(LedgerError, match="job J+: its line in the list of jobs is damaged"):
        ledger.append([event(3)])
    assert len(ledger.append([event(4, OTHER)])) == 1
    assert len(ledger.jobs()) == 2


# --- files ----------------------------------------------------------------------------------------


def test_a_file_is_found_by_its_hash(ledger):
    """SHA-256; the same twice is kept once, an empty one as well."""
    assert [ledger.put_file(data) for data in (b"photo", b"photo")] == [hashlib.sha256(b"photo").hexdigest()] * 2
    assert ledger.file(ledger.put_file(b"photo")) == b"photo"
    assert ledger.file(ledger.put_file(b"")) == b""


def test_the_largest_file(ledger):
    """20 MB are kept, one byte more is refused."""
    data = bytes(LARGEST_FILE)
    assert len(ledger.file(ledger.put_file(data))) == LARGEST_FILE
    with pytest.raises(InputError, match=r"20\.0 MB; the ledger takes at most 20 MB"):
        ledger.put_file(data + b"x")


@pytest.mark.parametrize("asked", ["", "0" * 64, "\0", "../etc"])
def test_a_file_that_is_not_kept(ledger, asked):
    """Refused, whatever is asked for."""
    with pytest.raises(InputError, match="is asked for by its SHA-256|no file 0+ is kept"):
        ledger.file(asked)


def test_a_changed_file_shows(ledger):
    """It is never given out as what it was."""
    own = ledger.put_file(b"photo")
    change(ledger, "UPDATE ledger_files SET data = x'00'")

    with pytest.raises(LedgerError, match="damaged or changed"):
        ledger.file(own)


@pytest.mark.parametrize("job", ["", "J" * 25, "\0" * 26, "\ud800" * 26])
def test_an_id_that_is_none_is_refused(ledger, job):
    """Before any database sees it."""
    for ask in (ledger.events, ledger.verify):
        with pytest.raises(InputError, match='"job" must be 26 or 32'):
            ask(job)


def test_a_ledger_knows_which_jobs_it_has(ledger):
    """Without reading them all; what is no id is no job."""
    ledger.append([event(1)])
    assert ledger.has(event(1).job)
    assert not ledger.has("Z" * 26) and not ledger.has("no\0id")
