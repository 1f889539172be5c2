"""Whatever goes wrong with the ledger's database ends in one sentence, and nothing is lost."""

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from ledger_samples import JOB, event, opened

from putback.errors import InputError, LedgerError
from putback.job import connect
from putback.job.ledger import open_ledger
from putback.job.trouble import trouble

NOBODY = 65534


@contextmanager
def as_nobody() -> Iterator[None]:
    """As somebody to whom permissions apply: root is held up by none."""
    before = os.geteuid()
    if before == 0:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(before)


@pytest.fixture
def folder() -> Iterator[Path]:
    """A folder in which anybody may do anything, with a ledger of one event in it."""
    folder = Path(tempfile.mkdtemp())  # pytest's own folders are closed to others
    folder.chmod(0o777)
    with open_ledger(str(folder / "ledger.db")) as ledger:
        ledger.append([opened(1)])
    (folder / "ledger.db").chmod(0o666)
    yield folder
    folder.chmod(0o777)
    shutil.rmtree(folder)


def nothing_is_lost(path: Path) -> bool:
    """Only the event that was acknowledged is there, and its chain holds."""
    with open_ledger(str(path), create=False) as ledger:
        return [logged.event for logged in ledger.events(JOB)] == [opened(1)] and ledger.verify(JOB) is None


# --- places ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("where", "words"),
    [
        ("", "the name of the ledger is empty"),
        ("a\0b", "the name of the ledger is empty or no name"),
        ("sqlite://", "the name of the ledger is empty"),
        ("{tmp}", "{tmp}: this is a folder; name a file in it"),
        ("{tmp}/no/ledger.db", "{tmp}/no/ledger.db: there is no such folder"),
        ("/dev/null", "/dev/null: this is a pipe or a device"),
        ("{tmp}/none.db", "{tmp}/none.db: there is no such ledger"),
        ("{tmp}/nothing yet", "{tmp}/nothing yet: there is no ledger in it yet"),
        ("mysql://host/name", 'not "mysql://"'),
        ("http://host/name", 'not "http://"'),
        ("postgresql://host:port/name", "cannot be read; write"),
        ("://", "cannot be read; write"),
    ],
)
def test_a_place_that_is_none_is_refused(tmp_path, where, words):
    """The sentence begins with the place, as far as there is one."""
    (tmp_path / "nothing yet").touch()
    with pytest.raises(InputError) as caught:
        open_ledger(where.format(tmp=tmp_path), create=False)
    assert words.format(tmp=tmp_path) in str(caught.value)


def test_another_programs_database_is_left_alone(tmp_path):
    """Not a table is added to it."""
    path = tmp_path / "other.db"
    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE notes (x)")
    with pytest.raises(InputError, match='is no ledger, it holds "notes"'):
        open_ledger(str(path))

    assert other.execute("SELECT name FROM sqlite_master").fetchall() == [("notes",)]


def test_a_file_that_is_no_database_is_left_alone(tmp_path):
    """Not a byte of it is changed."""
    path = tmp_path / "letter.txt"
    path.write_text("Dear customer, " * 99)
    with pytest.raises(LedgerError, match=r"letter\.txt: this file is no database"):
        open_ledger(str(path))

    assert path.read_text() == "Dear customer, " * 99


def test_a_file_as_an_address(tmp_path):
    """`sqlite:///` before the path, as other programs write it."""
    with open_ledger(f"sqlite:///{tmp_path}/ledger.db") as ledger:
        ledger.append([opened(1)])
    assert nothing_is_lost(tmp_path / "ledger.db")


def test_a_server_that_is_not_there():
    """Nobody listens at that socket; the sentence has the user and the database, and no password."""
    pytest.importorskip("psycopg")
    with pytest.raises(LedgerError, match="no server answers") as caught:
        open_ledger("postgresql://somebody:secret@/ledger?host=/nowhere&password=secret")

    assert str(caught.value).startswith("postgresql://somebody:***@/ledger: ")
    assert "secret" not in str(caught.value)


def test_a_missing_driver_says_what_to_install(monkeypatch):
    """The command is for the very Python that runs."""
    monkeypatch.setattr(connect, "find_spec", lambda name: None)
    with pytest.raises(InputError) as caught:
        open_ledger("postgresql://host/name")

    assert f'python3 -m pip --python {sys.executable} install "psycopg[binary]"' in str(caught.value)


# --- no writing -----------------------------------------------------------------------------------


def test_a_read_only_file_can_be_read(folder):
    """It cannot be written, and that is said."""
    (folder / "ledger.db").chmod(0o444)
    with as_nobody(), open_ledger(str(folder / "ledger.db")) as ledger:
        assert [logged.event for logged in ledger.events(JOB)] == [opened(1)]
        for write in (lambda: ledger.append([event(2)]), lambda: ledger.put_file(b"photo")):
            with pytest.raises(LedgerError, match=r"ledger\.db: the file or its folder is read-only, so nothing was"):
                write()
    assert nothing_is_lost(folder / "ledger.db")


@pytest.mark.parametrize("mode", [0o666, 0o444])
def test_a_read_only_folder(folder, mode):
    """SQLite needs to lay files of its own beside the ledger."""
    (folder / "ledger.db").chmod(mode)
    folder.chmod(0o555)
    with as_nobody(), pytest.raises(LedgerError, match="read-only, so nothing was written; allow writing to both"):
        open_ledger(str(folder / "ledger.db"))
    assert nothing_is_lost(folder / "ledger.db")


def test_a_new_ledger_in_a_read_only_folder(folder):
    """Nothing is made."""
    folder.chmod(0o555)
    with as_nobody(), pytest.raises(LedgerError, match=r"new\.db: the file cannot be opened"):
        open_ledger(str(folder / "new.db"))
    assert not (folder / "new.db").exists()


def test_a_ledger_that_may_not_be_read(folder):
    """The sentence says which rights it takes."""
    (folder / "ledger.db").chmod(0)
    with as_nobody(), pytest.raises(LedgerError, match="allow reading and writing"):
        open_ledger(str(folder / "ledger.db"))


def test_a_full_disk(folder):
    """As SQLite tells it when no page more can be had; once there is room the same events are taken."""
    batch = [event(n, text="x" * 3000) for n in range(2, 40)]
    with open_ledger(str(folder / "ledger.db")) as ledger:
        with ledger.atomic() as connection:  # the pool gives the same connection again
            pages = connection.exec_driver_sql("PRAGMA page_count").scalar()
            connection.exec_driver_sql(f"PRAGMA max_page_count = {pages}")
        for _ in range(2):
            with pytest.raises(LedgerError, match="the disk is full, so nothing was written; make room"):
                ledger.append(batch)
        with pytest.raises(LedgerError, match="the disk is full"):
            ledger.put_file(bytes(100_000))
        assert nothing_is_lost(folder / "ledger.db")

    with open_ledger(str(folder / "ledger.db")) as ledger:
        ledger.append(batch)
        assert len(ledger.events(JOB)) == 39


WRITES_UNTIL_FULL = """
import resource, sys
from ledger_samples import event
from putback.errors import LedgerError
from putback.job.ledger import open_ledger
resource.setrlimit(resource.RLIMIT_FSIZE, (300_000, 300_000))
number = 2
with open_ledger(sys.argv[1]) as ledger:
    try:
        while True:
            ledger.append([event(number, text="x" * 3000), event(number + 1)])
            number += 2
    except LedgerError as error:
        print(number, len(ledger.events("J" * 26)), error)
"""


def test_a_file_that_may_not_grow(folder):
    """The system itself refuses to write, in the middle of a page: what was acknowledged is there, and no more."""
    command = [sys.executable, "-c", WRITES_UNTIL_FULL, str(folder / "ledger.db")]
    path = os.pathsep.join(sys.path)
    ended = subprocess.run(command, capture_output=True, text=True, env={**os.environ, "PYTHONPATH": path}, check=True)
    number, seen, sentence = ended.stdout.split(maxsplit=2)

    assert ended.stderr == ""
    assert "ledger.db: the disk refuses, so nothing was written" in sentence
    assert int(seen) == int(number) - 1 > 10
    with open_ledger(str(folder / "ledger.db")) as ledger:
        assert [int(logged.event.id) for logged in ledger.events(JOB)] == list(range(1, int(number)))
        assert ledger.verify(JOB) is None


def test_a_ledger_that_is_locked_too_long(folder, monkeypatch):
    """Another program holds it: no writing, but reading; afterwards all goes on."""
    monkeypatch.setattr(connect, "PATIENCE", 0.2)
    other = sqlite3.connect(folder / "ledger.db", isolation_level=None)
    with open_ledger(str(folder / "ledger.db")) as ledger:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(LedgerError, match="another program keeps the ledger locked, so nothing was written"):
            ledger.append([event(2)])
        assert len(ledger.events(JOB)) == 1
        other.execute("ROLLBACK")
        assert ledger.append([event(2)])[0].number == 2
    other.close()


def test_a_ledger_that_our_own_thread_keeps_too_long(folder, monkeypatch):
    """The same sentence; what waits for itself is not waited for without end."""
    monkeypatch.setattr(connect, "PATIENCE", 0.2)
    with open_ledger(str(folder / "ledger.db")) as ledger:
        with ledger.atomic(), pytest.raises(LedgerError, match="keeps the ledger locked, so nothing was written"):
            ledger.append([event(2)])
        assert ledger.append([event(2)])[0].number == 2


def test_a_damaged_file(folder):
    """Pages of it are overwritten: a sentence, at whatever comes upon them first."""
    path = folder / "ledger.db"
    with path.open("r+b") as file:
        file.seek(4096)
        file.write(b"\xa5" * (path.stat().st_size - 4096))
    with pytest.raises(LedgerError, match=r"ledger\.db: the file is damaged"), open_ledger(str(path)) as ledger:
        ledger.append([event(2)])


# --- what drivers say -----------------------------------------------------------------------------


class Refused(Exception):
    """What a driver raises; SQLSTATE as PostgreSQL's appendix A has it."""

    def __init__(self, words: str, sqlstate: str | None = None):
        super().__init__(words)
        self.sqlstate = sqlstate


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (Refused("x", "53100"), "the server's disk is full, so nothing was written"),
        (Refused("x", "53300"), "too many connections"),
        (Refused("x", "25006"), "read-only now"),
        (Refused("x", "55P03"), "keeps the ledger locked"),
        (Refused("x", "42501"), "ask whoever runs the server for the rights"),
        (Refused("x", "57P01"), "it is not sure that this was logged; send it again, it counts once"),
        (Refused("x", "08006"), "it is not sure that this was logged; send it again, it counts once"),
        (Refused("odd\nmore", "XX000"), "the database refuses (odd); see that it is sound"),
        (Refused(""), "the database refuses (Refused)"),
    ],
)
def test_each_complaint_has_its_sentence(error, words):
    """One line with the place first, whatever the driver adds to its own."""
    sentence = str(trouble("postgresql://host/name", error))

    assert sentence.startswith("postgresql://host/name: ")
    assert words in sentence
    assert "\n" not in sentence
