"""Ledgers of an earlier form are brought to the present one whole or not at all; newer ones are left alone.

`tests/data/ledger/form_1.db` was written by the first form, events alone: two made-up jobs, the second with its opening
logged late. A later form adds its own file and leaves this one as it is.
"""

import os
import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from ledger_samples import event, opened
from sqlalchemy import MetaData, inspect

from putback.errors import InputError
from putback.job import migrate, tables
from putback.job.ledger import open_ledger

OLD = Path(__file__).parents[1] / "data" / "ledger" / "form_1.db"
FIRST, SECOND = "A" * 26, "b" * 32


@pytest.fixture
def old(tmp_path) -> Path:
    """A copy of the old ledger."""
    return Path(shutil.copy(OLD, tmp_path / "ledger.db"))


def held(path: Path) -> dict[str, list]:
    """All tables with their rows, read without our program."""
    connection = sqlite3.connect(path)
    names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name").fetchall()
    rows = {name: connection.execute(f"SELECT * FROM {name}").fetchall() for (name,) in names}
    connection.close()
    return rows


def test_an_old_ledger_is_brought_to_the_present_form(old):
    """Its events stay as they were to the byte; the list of jobs is worked out from them; its chains hold."""
    before = held(old)
    assert before.keys() == {"ledger_events", "ledger_format"}
    with open_ledger(str(old), create=False) as ledger:
        second, first = ledger.jobs()
        assert first[:5] == (FIRST, "alternator, first", "2025-03-01T08:00:00.000Z", 3, "2025-03-01T08:20:00.000Z")
        assert second[:5] == (SECOND, "starter", "2025-03-02T07:00:00.000Z", 2, "2025-03-02T07:30:00.000Z")
        assert [ledger.verify(job) for job in (FIRST, SECOND)] == [None, None]
        assert [len(ledger.events(job)) for job in (FIRST, SECOND)] == [3, 2]
        assert ledger.append([event(99, FIRST)])[0].number == 4
        assert ledger.file(ledger.put_file(b"photo")) == b"photo"

    after = held(old)
    assert set(before["ledger_events"]) <= set(after["ledger_events"])
    assert after["ledger_format"] == [(n, note) for n, (_, note) in enumerate(migrate.STEPS, 1)]


def test_a_present_ledger_takes_no_step(tmp_path):
    """Opening it again writes nothing."""
    path = tmp_path / "ledger.db"
    with open_ledger(str(path)) as ledger:
        ledger.append([opened(1)])
    before = path.read_bytes()
    with open_ledger(str(path)):
        pass

    assert path.read_bytes() == before


def breaks(connection) -> None:
    raise InputError("the third step breaks")


DIES_BETWEEN_STEPS = """
import os, sys
from putback.job import ledger, migrate
migrate.STEPS = (*migrate.STEPS, (lambda connection: os._exit(7), "dies"))
ledger.open_ledger(sys.argv[1])
"""


def test_a_step_that_breaks_leaves_the_ledger_as_it_was(old, monkeypatch):
    """Also what the steps before it did is undone; the next start takes all of them."""
    before = held(old)
    with monkeypatch.context() as patched:
        patched.setattr(migrate, "STEPS", (*migrate.STEPS, (breaks, "breaks")))
        with pytest.raises(InputError, match=r"ledger\.db: the third step breaks"):
            open_ledger(str(old))

    assert held(old) == before
    open_ledger(str(old)).close()
    assert len(held(old)["ledger_jobs"]) == 2


@pytest.mark.parametrize("new", [True, False])
def test_a_program_that_dies_between_steps_leaves_the_ledger_as_it_was(old, new):
    """A new one as well as an old one: the next start finds nothing half made."""
    path = old.with_name("new.db") if new else old
    before = {} if new else held(old)
    command = [sys.executable, "-c", DIES_BETWEEN_STEPS, str(path)]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    assert subprocess.run(command, env=environment).returncode == 7

    assert held(path) == before
    with open_ledger(str(path)) as ledger:
        assert len(ledger.jobs()) == (0 if new else 2)


def test_a_ledger_of_a_newer_program_is_left_alone(tmp_path):
    """The sentence has both forms and what to do."""
    path = tmp_path / "ledger.db"
    open_ledger(str(path)).close()
    with sqlite3.connect(path) as connection:
        connection.execute("INSERT INTO ledger_format VALUES (7, 'of the future')")
    connection.close()
    before = held(path)

    with pytest.raises(InputError, match=r"ledger\.db: this ledger has form 7, and this program knows forms up to 2"):
        open_ledger(str(path))
    assert held(path) == before


def test_a_damaged_row_stops_the_steps(old):
    """It is named, and nothing is changed."""
    with sqlite3.connect(old) as connection:
        connection.execute("UPDATE ledger_events SET content = '{' WHERE number = 2")
    connection.close()
    before = held(old)

    with pytest.raises(Exception, match="job A+: event 2 cannot be read"):
        open_ledger(str(old))
    assert held(old) == before


def test_the_steps_lead_to_the_tables_that_the_program_uses(tmp_path):
    """Names, types, keys and what may be empty."""
    with open_ledger(str(tmp_path / "ledger.db")) as ledger, ledger.atomic() as connection:
        made = MetaData()
        made.reflect(connection)
        unique = inspect(connection).get_unique_constraints("ledger_events")

    assert {name: columns(table) for name, table in made.tables.items()} == {
        name: columns(table) for name, table in tables.METADATA.tables.items()
    }
    assert [one["column_names"] for one in unique] == [["id"]]


def columns(table) -> list[tuple]:
    kinds = {"LargeBinary": "BLOB"}
    return [
        (column.name, kinds.get(type(column.type).__name__, str(column.type)), column.primary_key, column.nullable)
        for column in table.columns
    ]
