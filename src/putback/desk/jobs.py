"""The list of jobs, grouped by what each of them waits for."""

from typing import NamedTuple

from putback.desk.view import View, look
from putback.job.audit_work import not_agreed
from putback.job.ledger import JobRow, Ledger
from putback.job.state import JobState

HANDED_OVER = "handed over"
WORK, PERSON, CONSENT, PARTS, PAUSED = "a pair of hands", "the next person", "consent", "parts", "being taken up again"


class JobLine(NamedTuple):
    """A job as one line of the list.

    Parameters
    ----------
    id, name, vehicle : str
    opened_at, last_at : str
        UTC
    waits_for : str
        What it waits for, in a few words that are the same for all jobs that wait for the same.
    words : str
        Where it stands, in one line.
    """

    id: str
    name: str
    vehicle: str
    opened_at: str
    last_at: str
    waits_for: str
    words: str


# What a job's line says changes with its log only, so it is worked out once for each length of the log.
_KNOWN: dict[tuple[str, str, str], JobLine] = {}
_MOST_KNOWN = 5000


def open_jobs(ledger: Ledger, signed: bool = False) -> list[JobLine]:
    """The jobs of a ledger, those that wait for a pair of hands first, then as they were opened.

    Parameters
    ----------
    ledger : Ledger
    signed : bool
        Those that were handed over as well.
    """
    lines = [_line(ledger, row) for row in ledger.jobs()]
    order = (WORK, PERSON, CONSENT, PARTS, PAUSED, HANDED_OVER)
    lines = [line for line in lines if signed or line.waits_for != HANDED_OVER]
    return sorted(lines, key=lambda line: order.index(line.waits_for))


def _line(ledger: Ledger, row: JobRow) -> JobLine:
    key = (ledger.place, row.id, row.last_hash)
    if key not in _KNOWN:
        if len(_KNOWN) >= _MOST_KNOWN:
            _KNOWN.clear()
        _KNOWN[key] = _of_view(row, look(ledger, row.id))
    return _KNOWN[key]


def _of_view(row: JobRow, view: View) -> JobLine:
    state = view.state
    name = row.name or "a job whose opening has not been sent yet"
    return JobLine(row.id, name, state.vehicle, row.opened_at, row.last_at, waits_for(state), where(state))


def waits_for(state: JobState) -> str:
    """What a job waits for.

    Parameters
    ----------
    state : JobState
    """
    if state.signed and not state.after_signing:
        return HANDED_OVER
    if state.handed_to:
        return PERSON
    if state.paused:
        return PAUSED
    if not_agreed(state):
        return CONSENT
    if state.wrong or any(row.get("ordered", 0) > row.get("arrived", 0) for row in state.parts.values()):
        return PARTS
    return WORK


def where(state: JobState) -> str:
    """Where a job stands, in one line.

    Parameters
    ----------
    state : JobState
    """
    if state.after_signing:
        return "something was logged after the signature: look at it, and sign again"
    away = sum(1 for item in state.items.values() if not item.home)
    fasteners = sum(group.out for group in state.groups.values())
    if not state.steps:
        return "nothing taken apart yet"
    if not away and not fasteners:
        return "nothing is off"
    swap = "new part in, " if state.swapped else ""
    return f"{swap}{away} off or open, {fasteners} fasteners out"
