"""From any earlier form of the ledger to the present one, all steps in one transaction.

A new ledger takes the same steps from nothing, so that old and new ones are alike. A step, once published, is never
changed: it says in SQL of its own what the tables were at the time, and does not look at `tables`.
"""

from collections.abc import Iterable
from functools import reduce
from itertools import groupby

from sqlalchemy import Connection, Row, func, insert, inspect, select, text

from putback.errors import InputError
from putback.job.rows import JobRow, job_after, read
from putback.job.tables import format_versions


def _events_alone(connection: Connection) -> None:
    connection.execute(text("CREATE TABLE ledger_format (version INTEGER NOT NULL PRIMARY KEY, note TEXT NOT NULL)"))
    connection.execute(
        text(
            "CREATE TABLE ledger_events (job TEXT NOT NULL, number INTEGER NOT NULL, id TEXT NOT NULL UNIQUE, "
            "hash TEXT NOT NULL, content TEXT NOT NULL, PRIMARY KEY (job, number))"
        )
    )


def _jobs_and_files(connection: Connection) -> None:
    binary = "BLOB" if connection.dialect.name == "sqlite" else "BYTEA"
    connection.execute(text(f"CREATE TABLE ledger_files (hash TEXT NOT NULL PRIMARY KEY, data {binary} NOT NULL)"))
    connection.execute(
        text(
            "CREATE TABLE ledger_jobs (id TEXT NOT NULL PRIMARY KEY, name TEXT NOT NULL, opened_at TEXT NOT NULL, "
            "last_number INTEGER NOT NULL, last_at TEXT NOT NULL, last_hash TEXT NOT NULL)"
        )
    )
    held = connection.execute(text("SELECT job, number, hash, content FROM ledger_events ORDER BY job, number"))
    rows = [_job_row(job, group) for job, group in groupby(held, key=lambda row: row.job)]
    if rows:
        connection.execute(
            text("INSERT INTO ledger_jobs VALUES (:id, :name, :opened_at, :last_number, :last_at, :last_hash)"),
            [row._asdict() for row in rows],
        )


def _job_row(job: str, held: Iterable[Row]) -> JobRow:
    return reduce(job_after, read(job, (row[1:] for row in held)), None)


# The step to version n stands at place n - 1, with the note that is kept in the same transaction.
STEPS = (
    (_events_alone, "events, chained"),
    (_jobs_and_files, "a line for each job, and files by their hash"),
)


def version(connection: Connection) -> int:
    """The version of a ledger's form; 0 where the database is still empty.

    Parameters
    ----------
    connection : sqlalchemy.Connection

    Raises
    ------
    InputError
        The database holds something else.
    """
    names = inspect(connection).get_table_names()
    if format_versions.name in names:
        return connection.scalar(select(func.max(format_versions.c.version))) or 0
    if names:
        raise InputError(f'this database is no ledger, it holds "{names[0]}"; name another file or database')
    return 0


def migrate(connection: Connection) -> None:
    """Brings a ledger to the present form.

    Parameters
    ----------
    connection : sqlalchemy.Connection
        In a transaction that no other writer shares; it is all or nothing.

    Raises
    ------
    InputError
        A newer program has written the ledger, or it is none.
    """
    found = version(connection)
    if found > len(STEPS):
        raise InputError(
            f"this ledger has form {found}, and this program knows forms up to {len(STEPS)}; "
            "a newer Putback wrote it: start that one"
        )
    for number, (step, note) in enumerate(STEPS[found:], found + 1):
        step(connection)
        connection.execute(insert(format_versions), {"version": number, "note": note})
