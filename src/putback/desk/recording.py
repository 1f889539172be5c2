"""A record of volts that belongs to a job: judged, kept, and logged as a reading."""

from putback.charging.evidence import Evidence, judge
from putback.desk.stamp import Stamp
from putback.desk.view import View
from putback.desk.weighing import form_of
from putback.errors import InputError
from putback.job.events import Event
from putback.job.ledger import LARGEST_FILE, Ledger
from putback.record_file import read_record

RIPPLE = "ripple_record"  # the reading of a model that a record answers
CRANKING = "record of cranking"
TYPE = "text/csv"


def keep_record(ledger: Ledger, view: View, stamp: Stamp, name: str, data: bytes, at: str | None = None) -> list[Event]:
    """Judge a record, keep it with the job, and log what it shows and why.

    Parameters
    ----------
    ledger : Ledger
    view : View
        Of the job.
    stamp : Stamp
    name : str
        What the file is called.
    data : bytes
        What it holds.
    at : str, optional
        Where the leads were: posts or stud.

    Returns
    -------
    events : list of Event
        As they were logged.

    Raises
    ------
    InputError
        It is no record, or too large.
    """
    if len(data) > LARGEST_FILE:
        raise InputError(f"{name}: a record may have {LARGEST_FILE // 1_000_000} MB; pack it with gzip, or cut it")
    found = judge(read_record(data, name), at)
    hash = ledger.put_file(data)
    events = [
        stamp.event(view.id, "file added", hash=hash, name=name, type=TYPE),
        stamp.event(view.id, "note added", note=words_of(name, found)),
        stamp.event(view.id, "reading taken", what=_what(view, found), word=found.said.verdict),
    ]
    ledger.append(events)
    return events


def _what(view: View, found: Evidence) -> str:
    form = form_of(view)
    if found.cranking:
        return CRANKING
    return form.readings[RIPPLE].what if form and RIPPLE in form.readings else "record of the ripple"


def words_of(name: str, found: Evidence) -> str:
    """What a record shows, how sure that is, why, and what it cannot tell apart.

    Parameters
    ----------
    name : str
        What the file is called.
    found : Evidence
    """
    said = found.said
    apart = f"; not told apart: {', '.join(said.cannot_separate)}" if said.cannot_separate else ""
    return f"{name}: {said.verdict} ({said.confidence:.0%} sure): {'; '.join([said.why, *found.record.mended])}{apart}"
