"""The ledger on PostgreSQL: the same promises as on SQLite, though a server may refuse, break off or be away."""

import shutil
import sqlite3
import time
from contextlib import contextmanager
from pathlib import Path
from threading import Thread

import pytest
from integration.postgres import USER
from ledger_samples import JOB, OTHER, event, opened
from sqlalchemy import create_engine, inspect

from putback.errors import InputError, LedgerError
from putback.job import connect, migrate, tables
from putback.job.ledger import Ledger, open_ledger
from putback.job.rows import EventRow

OLD = Path(__file__).parents[1] / "data" / "ledger" / "form_1.db"
psycopg = pytest.importorskip("psycopg")


@pytest.fixture
def url(server) -> str:
    return server.new_database("ledger")


@pytest.fixture
def ledger(url):
    with open_ledger(url) as opened_ledger:
        opened_ledger.append([opened(1)])
        yield opened_ledger


@contextmanager
def someone(url: str):
    """Another client of the same database, each of its statements at once."""
    with psycopg.connect(url, autocommit=True) as connection:
        yield connection


def do(url: str, sql: str) -> list[tuple]:
    with someone(url) as connection:
        cursor = connection.execute(sql)
        return cursor.fetchall() if cursor.description else []


def nothing_is_lost(ledger: Ledger) -> bool:
    return [one.event for one in ledger.events(JOB)] == [opened(1)] and ledger.verify(JOB) is None


# --- the same promises ----------------------------------------------------------------------------


def test_it_is_the_same_ledger_as_on_sqlite(url, tmp_path):
    """Byte for byte: rows, hashes, list of jobs, files."""
    events = [opened(1), event(2, text="Öl \0 \U0001f527", deep=[{"a": None}], much=10**300), event(3, OTHER, x=5.5)]
    with open_ledger(url) as one, open_ledger(str(tmp_path / "ledger.db")) as other:
        assert one.append(events) == other.append(events)
        assert one.append([event(3, OTHER, x=5.5), event(4)]) == other.append([event(3, OTHER, x=5.5), event(4)])
        assert one.events(JOB, after=1) == other.events(JOB, after=1)
        assert one.jobs() == other.jobs()
        assert one.put_file(b"\0photo") == other.put_file(b"\0photo")
        assert one.file(one.put_file(b"\0photo")) == b"\0photo"
        assert one.verify(JOB) is None


def test_the_same_event_counts_once_and_the_same_id_with_other_content_is_refused(ledger):
    """Nothing of a refused batch is written."""
    assert ledger.append([opened(1), opened(1)])[1].number == 1
    with pytest.raises(InputError, match="with other content"):
        ledger.append([event(2), opened(1, name="other")])
    assert nothing_is_lost(ledger)


@pytest.mark.parametrize(
    ("sql", "number"),
    [
        ("UPDATE ledger_events SET content = replace(content, 'bay 2', 'bay 3') WHERE number = 2", 2),
        ("DELETE FROM ledger_events WHERE number = 3", 3),
        ("DELETE FROM ledger_events WHERE number = 2", 2),
    ],
)
def test_tampering_shows(ledger, url, sql, number):
    """As on SQLite; and what was changed can still be read."""
    ledger.append([event(2), event(3)])
    assert ledger.verify(JOB) is None

    do(url, sql)
    assert ledger.verify(JOB) == number
    assert len(ledger.events(JOB)) >= 2


def test_one_id_logged_for_two_jobs_at_once(url):
    """Whoever comes second is refused, however close; both wait for nobody's lock for ever."""
    refused = []

    def log(job: str) -> None:
        for number in range(40):
            try:
                ledger.append([event(number, job), event(100 + number, job)])
            except InputError:
                refused.append((number, job))

    with open_ledger(url) as ledger:
        ledger.append([event(999, JOB), event(998, OTHER)])
        threads = [Thread(target=log, args=(job,)) for job in (JOB, OTHER)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert sorted(number for number, _ in refused) == list(range(40))
        assert len(ledger.events(JOB)) + len(ledger.events(OTHER)) == 82
        assert [ledger.verify(job) for job in (JOB, OTHER)] == [None, None]


# --- forms ----------------------------------------------------------------------------------------


def old_form(url: str) -> None:
    """The rows of the old file, in tables that the first step makes."""
    with sqlite3.connect(OLD) as old:
        rows = old.execute("SELECT * FROM ledger_events").fetchall()
    to = create_engine(url.replace("postgresql:", "postgresql+psycopg:"))
    with to.begin() as connection:
        migrate.STEPS[0][0](connection)
        connection.execute(tables.format_versions.insert(), {"version": 1, "note": migrate.STEPS[0][1]})
        connection.execute(tables.events.insert(), [EventRow(*row)._asdict() for row in rows])
    to.dispose()


def test_an_old_ledger_is_brought_to_the_present_form(url, tmp_path):
    """With the same outcome as on SQLite."""
    old_form(url)
    with open_ledger(url, create=False) as one, open_ledger(shutil.copy(OLD, tmp_path)) as other:
        assert one.jobs() == other.jobs()
        assert [one.verify(row.id) for row in one.jobs()] == [None, None]
    assert do(url, "SELECT version FROM ledger_format ORDER BY version") == [(1,), (2,)]


def test_a_step_that_breaks_leaves_the_ledger_as_it_was(url, monkeypatch):
    """Tables that were made on the way are gone again."""

    def breaks(connection) -> None:
        raise InputError("the third step breaks")

    old_form(url)
    monkeypatch.setattr(migrate, "STEPS", (*migrate.STEPS, (breaks, "breaks")))
    with pytest.raises(InputError, match="the third step breaks"):
        open_ledger(url)
    assert do(url, "SELECT tablename FROM pg_tables WHERE schemaname = 'public' ORDER BY 1") == [
        ("ledger_events",),
        ("ledger_format",),
    ]


def test_the_steps_lead_to_the_tables_that_the_program_uses(ledger):
    """Names and keys; a file is bytes."""
    with ledger.atomic() as connection:
        made = inspect(connection)
        for name, table in tables.METADATA.tables.items():
            assert [column["name"] for column in made.get_columns(name)] == list(table.columns.keys())
            assert made.get_pk_constraint(name)["constrained_columns"] == [key.name for key in table.primary_key]
        assert str(made.get_columns("ledger_files")[1]["type"]) == "BYTEA"


def test_a_ledger_of_a_newer_program_is_left_alone(ledger, url):
    """As on SQLite."""
    do(url, "INSERT INTO ledger_format VALUES (7, 'of the future')")
    with pytest.raises(InputError, match="this ledger has form 7, and this program knows forms up to 2"):
        open_ledger(url)


def test_another_programs_database_is_left_alone(url):
    """Not a table is added to it."""
    do(url, "CREATE TABLE notes (x int)")
    with pytest.raises(InputError, match=r'postgresql://ledger@/ledger: .* it holds "notes"'):
        open_ledger(url)
    assert do(url, "SELECT count(*) FROM pg_tables WHERE schemaname = 'public'") == [(1,)]


def test_a_database_without_a_ledger_is_refused_where_none_may_be_made(url):
    """As on SQLite."""
    with pytest.raises(InputError, match="there is no ledger in it yet"):
        open_ledger(url, create=False)


# --- trouble --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("user", "database", "words"),
    [
        ("guest:wrong", "ledger", "look at the user and the password"),
        ("guest", "ledger", "look at the user and the password"),
        ("stranger:x", "ledger", "look at the user and the password"),
        (USER, "missing", "there is no such user or database"),
        ("guest:right", "ledger", "this user may not read or write the ledger's tables"),
    ],
)
def test_who_is_not_let_in(server, ledger, user, database, words):
    """Wrong, missing or unknown; no password is ever repeated."""
    do(server.url(), "DROP ROLE IF EXISTS guest; CREATE ROLE guest LOGIN PASSWORD 'right'")
    with pytest.raises(LedgerError) as caught:
        open_ledger(server.url(database, user))

    assert words in str(caught.value)
    assert "wrong" not in str(caught.value) and "\n" not in str(caught.value)


def test_a_server_that_takes_no_writing(server, ledger, url):
    """Reading goes on; afterwards writing does."""
    with someone(server.url()) as admin:
        admin.execute("ALTER DATABASE ledger SET default_transaction_read_only = on")
        with open_ledger(url) as read_only:
            with pytest.raises(LedgerError, match="read-only now, so nothing was written"):
                read_only.append([event(2)])
            assert nothing_is_lost(read_only)
        admin.execute("ALTER DATABASE ledger RESET default_transaction_read_only")
    with open_ledger(url) as again:
        assert again.append([event(2)])[0].number == 2


def test_a_job_that_is_locked_too_long(url, monkeypatch):
    """Another program holds its line; other jobs go on."""
    monkeypatch.setattr(connect, "PATIENCE", 1)
    with open_ledger(url) as ledger, open_ledger(url) as other, other.atomic() as held:
        ledger.append([opened(1)])
        held.execute(tables.jobs.select().with_for_update())
        with pytest.raises(LedgerError, match="keeps the ledger locked, so nothing was written"):
            ledger.append([event(2)])
        assert ledger.append([event(3, OTHER)])[0].number == 1
        assert nothing_is_lost(ledger)


def test_no_commit_is_left_to_chance(server, url):
    """Where the server is set to acknowledge before the disk has it, our connections are not."""
    with someone(server.url()) as admin:
        admin.execute("ALTER DATABASE ledger SET synchronous_commit = off")
    with open_ledger(url) as ledger, ledger.atomic() as connection:
        assert connection.exec_driver_sql("SHOW synchronous_commit").scalar() == "on"
        assert connection.exec_driver_sql("SHOW transaction_isolation").scalar() == "read committed"


def test_settings_in_the_address_are_kept(url):
    """A schema of its own, for instance."""
    do(url, "CREATE SCHEMA shop; CREATE TABLE public.notes (x int)")
    with open_ledger(url + "&options=-csearch_path%3Dshop") as ledger:
        ledger.append([opened(1)])
        assert nothing_is_lost(ledger)
    assert do(url, "SELECT count(*) FROM shop.ledger_events") == [(1,)]


# --- connections that break -----------------------------------------------------------------------

OTHERS = "FROM pg_stat_activity WHERE datname = 'ledger' AND pid <> pg_backend_pid()"


def break_all(url: str) -> None:
    """Ends all connections of others, and waits until they are gone."""
    with someone(url) as connection:
        connection.execute(f"SELECT pg_terminate_backend(pid) {OTHERS}")
        while connection.execute(f"SELECT count(*) {OTHERS}").fetchone() != (0,):
            time.sleep(0.01)


def test_a_connection_that_broke_meanwhile_is_made_anew(ledger, url):
    """Reading and writing go on as if nothing had happened."""
    break_all(url)
    assert nothing_is_lost(ledger)
    break_all(url)
    assert ledger.append([event(2)])[0].number == 2
    break_all(url)
    assert ledger.file(ledger.put_file(b"photo")) == b"photo"


def test_a_connection_that_breaks_in_the_middle(ledger, url):
    """While events wait for their turn: they are logged on a new connection, once."""
    done = []
    with someone(url) as other, other.transaction():
        other.execute("LOCK TABLE ledger_events IN EXCLUSIVE MODE")
        thread = Thread(target=lambda: done.extend(ledger.append([event(2), event(3)])))
        thread.start()
        waiting = f"SELECT pg_terminate_backend(pid) {OTHERS} AND wait_event_type = 'Lock'"
        with someone(url) as admin:
            while not admin.execute(waiting).fetchall():
                time.sleep(0.01)
    thread.join(30)

    assert [one.number for one in done] == [2, 3]
    assert ledger.events(JOB)[1:] == done


def test_a_server_that_stops_and_starts_again(server, ledger):
    """Away: one sentence, nothing lost. Back, and be it after a crash: all goes on, without a new start of ours."""
    ledger.append([event(2)])
    server.stop("immediate")  # as after a power cut: it must recover by itself
    try:
        for _ in range(2):
            with pytest.raises(LedgerError, match="no server answers"):
                ledger.append([event(3)])
    finally:
        server.start()
    assert ledger.append([event(2), event(3)])[1].number == 3
    assert ledger.verify(JOB) is None
