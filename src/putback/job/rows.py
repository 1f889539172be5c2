"""The rows of the ledger, and what becomes of them: values in, values out. `ledger` fetches and keeps them."""

from collections.abc import Iterable, Iterator
from itertools import chain, pairwise
from typing import NamedTuple

from putback.errors import InputError, LedgerError
from putback.job.events import START, Event, chained_text, from_json, kept, to_json


class Logged(NamedTuple):
    """An event as it stands in the ledger.

    Parameters
    ----------
    number : int
        Its place in its job's log, counted from 1, without a gap.
    event : Event
    hash : str
        What ties it to all before it.
    """

    number: int
    event: Event
    hash: str


class JobRow(NamedTuple):
    """A job as one line of a list.

    Parameters
    ----------
    id : str
    name : str
        Empty until the event that opens the job is there; devices may send out of order.
    opened_at : str
        When it was opened; until that is known, the time of the first event that came.
    last_number : int
        How many events its log holds.
    last_at : str
        The latest time that any of them tells.
    last_hash : str
        The hash of the last one. Written down elsewhere, it proves later that nothing was changed up to there.
    """

    id: str
    name: str
    opened_at: str
    last_number: int
    last_at: str
    last_hash: str


class EventRow(NamedTuple):
    """An event as the ledger's table has it.

    Parameters
    ----------
    job : str
    number : int
    id : str
    hash : str
    content : str
        The event as canonical JSON, which the hash was made of.
    """

    job: str
    number: int
    id: str
    hash: str
    content: str


def job_after(row: JobRow | None, logged: Logged) -> JobRow:
    """A job's line once one more event is logged.

    Parameters
    ----------
    row : JobRow, optional
        The line before; None where this is the job's first event.
    logged : Logged
        The event that comes next in the log.
    """
    event = logged.event
    row = row or JobRow(event.job, "", event.at, 0, event.at, START)
    if event.kind == "job opened" and not row.name:
        row = row._replace(name=event.data["name"], opened_at=event.at)
    return row._replace(last_number=logged.number, last_at=max(row.last_at, event.at), last_hash=logged.hash)


def job_row(values: Iterable) -> JobRow:
    """A job's line from what the ledger holds, before anything is built on it.

    Parameters
    ----------
    values : iterable
        In the order of `JobRow`.

    Raises
    ------
    LedgerError
        It is damaged.
    """
    row = JobRow(*values)
    if [type(value) for value in row] != list(JobRow.__annotations__.values()):
        raise LedgerError(f"job {row.id}: its line in the list of jobs is damaged; go on with the last backup")
    return row


def take(
    events: Iterable[Event], jobs: dict[str, JobRow], known: dict[str, EventRow]
) -> tuple[list[Logged], list[EventRow]]:
    """Numbers and chains events, each id once.

    Parameters
    ----------
    events : iterable of Event
    jobs : dict of str to JobRow
        The lines of their jobs, as far as there are any; brought up to date here.
    known : dict of str to EventRow
        What was logged before under the same ids; what comes new is added.

    Returns
    -------
    logged : list of Logged
        As they were given.
    fresh : list of EventRow
        What is to be kept.

    Raises
    ------
    InputError
        An id was logged before with other content.
    """
    logged, fresh = [], []
    for event in events:
        content = to_json(event)
        if event.id not in known:
            known[event.id] = row = _next_row(event, content, jobs)
            fresh.append(row)
        logged.append(_counted_once(event, content, known[event.id]))
    return logged, fresh


def _next_row(event: Event, content: str, jobs: dict[str, JobRow]) -> EventRow:
    before = jobs.get(event.job)
    number, last = (before.last_number, before.last_hash) if before else (0, START)
    row = EventRow(event.job, number + 1, event.id, chained_text(last, content), content)
    jobs[event.job] = job_after(before, Logged(row.number, event, row.hash))
    return row


def _counted_once(event: Event, content: str, row: EventRow) -> Logged:
    if row.content != content:
        raise InputError(
            f"event {event.id}: its id was logged before, as number {row.number} of job {row.job}, with other content; "
            "an event is never changed: give the new one an id of its own"
        )
    return Logged(row.number, event, row.hash)


def read(job: str, rows: Iterable[tuple[int, str, str]], before: str = START) -> Iterator[Logged]:
    """The events of a job from what the ledger holds.

    A row that its hash fits was checked when it was logged, and is not checked again. Any other has been changed
    since: it is checked as if it came from outside, and told as it stands, for who is at the car needs the rest.

    Parameters
    ----------
    job : str
        For the sentence, where a row cannot be read.
    rows : iterable of (number, hash, content)
        In the order of their numbers.
    before : str
        The hash of the event before the first of them.

    Raises
    ------
    LedgerError
        A row holds no event.
    """
    for (_, last, _), (number, own, content) in pairwise(chain([(0, before, "")], rows)):
        yield Logged(number, _event(job, number, str(last), own, content), own)


def _event(job: str, number: int, before: str, own: str, content: str) -> Event:
    try:
        return kept(content) if chained_text(before, content) == own else from_json(content)
    except (InputError, TypeError, ValueError) as error:
        raise LedgerError(
            f"job {job}: event {number} cannot be read, it was damaged or changed ({error}); "
            "keep this ledger as it is, and go on with the last backup"
        ) from None


def first_broken(rows: Iterable[EventRow], told: JobRow | None) -> int | None:
    """The number of the first event of a job whose chain does not hold; None where all of them do.

    Parameters
    ----------
    rows : iterable of EventRow
        All of the job, in the order of their numbers.
    told : JobRow, optional
        The job's line, which tells how far the log went.
    """
    number, last = 0, START
    for number, row in enumerate(rows, 1):
        if row.number != number or not _holds(row, last):
            return number
        last = row.hash
    known, own = (told.last_number, told.last_hash) if told else (0, START)
    if (known, own) == (number, last):
        return None
    return number + 1 if told and known != number else max(number, 1)


def _holds(row: EventRow, before: str) -> bool:
    try:
        event = kept(row.content) if chained_text(before, row.content) == row.hash else None
        return event is not None and (event.id, event.job) == (row.id, row.job)
    except (TypeError, ValueError, AttributeError):
        return False
