"""Which job is meant, by what people type: a name, an id, or how an id begins."""

from collections.abc import Iterable

from putback.errors import InputError
from putback.job.fold import taken_back
from putback.job.ledger import Ledger
from putback.job.rows import JobRow

SHORTEST = 4  # signs of an id; fewer are told apart from a name by luck only
MOST_SHOWN = 5
TAIL = 20  # events


def find_job(ledger: Ledger, text: str | None = None, over: bool = False) -> str:
    """The id of the job that is meant.

    Parameters
    ----------
    ledger : Ledger
    text : str, optional
        A name, an id, or the first four signs of one or more; the only job not yet handed over when left out.
    over : bool
        With none open the one opened last is meant, though it was handed over.

    Raises
    ------
    InputError
        None is meant, or several may be.
    """
    rows = ledger.jobs()
    if text is None:
        if over and rows and all(_is_signed(ledger, row) for row in rows):
            return rows[0].id
        return _one(ledger, [row for row in rows if not _is_signed(ledger, row)], "none is open", "several are open")
    asked = text.strip()
    for found in _readings(rows, asked):
        if found:
            return _one(ledger, found, "", f'"{asked}" may be several')
    raise InputError(f'{ledger.place}: there is no job "{asked}"{_there_are(rows)}')


def _readings(rows: list[JobRow], asked: str) -> Iterable[list[JobRow]]:
    """What a text may mean, the surest reading first."""
    plain = asked.casefold()
    yield [row for row in rows if row.id == asked]
    yield [row for row in rows if row.name == asked]
    yield [row for row in rows if row.name.casefold() == plain]
    if len(asked) >= SHORTEST:
        yield [row for row in rows if row.id.casefold().startswith(plain)]
        yield [row for row in rows if row.name.casefold().startswith(plain)]


def _one(ledger: Ledger, rows: list[JobRow], none: str, several: str) -> str:
    if len(rows) == 1:
        return rows[0].id
    if not rows:
        raise InputError(f"{ledger.place}: no job is meant, for {none}; name the one you mean")
    raise InputError(f"{ledger.place}: {several}; say which by its id{_there_are(rows)}")


def _there_are(rows: list[JobRow]) -> str:
    shown = ", ".join(f'"{row.name}" ({row.id[:10]}, {row.opened_at[:10]})' for row in rows[:MOST_SHOWN])
    more = f" and {len(rows) - MOST_SHOWN} more" if len(rows) > MOST_SHOWN else ""
    return f"; there are: {shown}{more}" if rows else "; there is none yet"


def _is_signed(ledger: Ledger, row: JobRow) -> bool:
    """A signature mostly stands among the last events, so that the whole log of an old job need not be read."""
    return _has_signature(ledger, row, max(0, row.last_number - TAIL)) or _has_signature(ledger, row, 0)


def _has_signature(ledger: Ledger, row: JobRow, after: int) -> bool:
    rows = ledger.events(row.id, after)
    undone = taken_back(rows)
    return any(one.event.kind == "hand-over signed" and one.event.id not in undone for one in rows)
