"""The tables of the ledger as they are now; `migrate` makes them, step by step."""

from sqlalchemy import Column, Integer, LargeBinary, MetaData, Table, Text

METADATA = MetaData()

# Which steps of `migrate` this database has seen; the greatest version is its own.
format_versions = Table(
    "ledger_format",
    METADATA,
    Column("version", Integer, primary_key=True),
    Column("note", Text, nullable=False),
)

# Never changed, never removed. `content` is the canonical JSON that `hash` was made of.
events = Table(
    "ledger_events",
    METADATA,
    Column("job", Text, primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("id", Text, nullable=False, unique=True),
    Column("hash", Text, nullable=False),
    Column("content", Text, nullable=False),
)

# What the list of jobs shows, kept in the same transaction as the events it is taken from.
jobs = Table(
    "ledger_jobs",
    METADATA,
    Column("id", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("opened_at", Text, nullable=False),
    Column("last_number", Integer, nullable=False),
    Column("last_at", Text, nullable=False),
    Column("last_hash", Text, nullable=False),
)

files = Table(
    "ledger_files",
    METADATA,
    Column("hash", Text, primary_key=True),
    Column("data", LargeBinary, nullable=False),
)
