"""The hand-over: refused while anything bars it, then signed; and the record of what was signed."""

from dataclasses import dataclass
from typing import Any

from putback.desk.planning import Thinking
from putback.desk.reach import Reach, reaches
from putback.desk.stamp import Stamp
from putback.desk.view import View, look
from putback.errors import InputError
from putback.job.audit import audit, bars
from putback.job.fold import fold
from putback.job.ledger import Ledger
from putback.job.points import Point
from putback.job.record import record


@dataclass(frozen=True)
class Barred:
    """A point that bars the hand-over, and what it costs to reach it again where somebody has to."""

    point: Point
    reach: Reach | None


@dataclass(frozen=True)
class HandOver:
    """What came of a hand-over.

    Attributes
    ----------
    view : View
        The job afterwards.
    barred : tuple of Barred
        Why it was refused; none where it was signed.
    record : dict or None
        The signed record.
    """

    view: View
    barred: tuple[Barred, ...]
    record: dict[str, Any] | None


def hand_over(
    ledger: Ledger, job: str, stamp: Stamp, thinking: Thinking, by: str, customer: str | None = None
) -> HandOver:
    """Hand a car over: log the refusal with its reasons, or the signature.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    thinking : Thinking
        For what it costs to reach the points that bar it.
    by : str
        Who signs.
    customer : str, optional
        Who takes the car.

    Raises
    ------
    InputError
        It was handed over already, and nothing was logged since.
    """
    view = look(ledger, job)
    if (changed := ledger.verify(job)) is not None:
        raise InputError(
            f"{view.state.name}: event {changed} is not what was logged, or what stood before it is not; nobody can sign for "
            "that. `putback job log` shows it; go on from the last backup, or open a new job and look at the whole car again"
        )
    if view.state.signed and not view.state.after_signing:
        words = f"handed over already, signed by {view.state.signed['by']} on {view.state.signed['at'][:10]}"
        raise InputError(f"{view.state.name}: {words}")
    if barring(view):
        return _refused(ledger, view, stamp, thinking)
    signed = stamp.event(job, "hand-over signed", by=by, customer=customer)
    ledger.append([signed])
    view = look(ledger, job)
    # Another device may have logged something between the look and the signature.
    if barring(view):
        reason = "something came in before the signature"
        ledger.append([stamp.event(job, "event undone", event=signed.id, reason=reason)])
        return _refused(ledger, look(ledger, job), stamp, thinking)
    return HandOver(view, (), record_of(view))


def barring(view: View) -> list[Point]:
    """The points that bar the hand-over, the worst first.

    Parameters
    ----------
    view : View
    """
    return [point for point in view.points if bars(point)]


def barred(view: View, now: str, thinking: Thinking) -> tuple[Barred, ...]:
    """The points that bar the hand-over, each with what it costs to reach it again.

    Parameters
    ----------
    view : View
    now : str
        The time in UTC.
    thinking : Thinking
        For all of them together.
    """
    points = barring(view)
    found = reaches(view, now, thinking, points)
    return tuple(Barred(point, found.get(point.key)) for point in points)


def _refused(ledger: Ledger, view: View, stamp: Stamp, thinking: Thinking) -> HandOver:
    reasons = barred(view, stamp.now(), thinking)
    ledger.append([stamp.event(view.id, "hand-over refused", reasons=[one.point.text for one in reasons])])
    return HandOver(look(ledger, view.id), reasons, None)


def record_of(view: View) -> dict[str, Any]:
    """The record of a job as it was signed; a draft of it before that.

    Parameters
    ----------
    view : View

    Returns
    -------
    record : dict
        What came after the signature is not in it.
    """
    last = view.state.signed["number"] if view.state.signed else len(view.logged)
    rows = [row for row in view.logged if row.number <= last]
    state = fold(rows, view.area)
    points = audit(state, view.area, view.shop)
    hash = rows[-1].hash if view.state.signed else None
    return record(state, view.car, points, hash)
