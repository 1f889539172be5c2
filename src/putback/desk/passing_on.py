"""Work stops, goes on, and passes from one person to another; nobody goes on with what he has not looked at."""

from collections.abc import Iterable
from dataclasses import dataclass

from putback.desk.stamp import Stamp
from putback.desk.view import View, look
from putback.errors import InputError
from putback.event_text import event_words
from putback.job.fold import minutes_between
from putback.job.hand_on import HandOn, facts, hand_on_sheet
from putback.job.ledger import Ledger
from putback.job.next_step import next_steps

SHOWN = 5  # of the last steps


@dataclass(frozen=True)
class Resumed:
    """A job that goes on.

    Attributes
    ----------
    view : View
    minutes : float
        How long the pause was.
    confirm : tuple of str
        The steps to look at again, in words; none after a short pause.
    loose : tuple of str
        What is in by hand only.
    """

    view: View
    minutes: float
    confirm: tuple[str, ...]
    loose: tuple[str, ...]


def hand_on_of(view: View, now: str) -> HandOn:
    """The sheet for whoever takes the job over.

    Parameters
    ----------
    view : View
    now : str
        The time in UTC.
    """
    steps = next_steps(view.state, view.car, view.plan, now)
    work = next((step.text for step in steps if step.key not in ("take over", "resume")), "")
    return hand_on_sheet(view.state, view.car, view.points, now, last_steps(view), work)


def last_steps(view: View) -> tuple[str, ...]:
    """The last steps of work in words, the latest first.

    Parameters
    ----------
    view : View
    """
    events = {row.event.id: row.event for row in view.logged}
    return tuple(event_words(events[report.id]) for report in view.state.steps[: -SHOWN - 1 : -1])


def hand_on(ledger: Ledger, job: str, stamp: Stamp, to: str) -> HandOn:
    """Hand a job to a colleague; until he has confirmed the facts only make-safe steps are open to anybody.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    to : str
        Who goes on with it.

    Returns
    -------
    sheet : HandOn
        What he has to know.

    Raises
    ------
    InputError
        The job is over, or waits for the same person already.
    """
    view = _going_on(ledger, job)
    if view.state.handed_to == to:
        raise InputError(f"{view.state.name}: {to} has it already, and has to confirm what stands open")
    ledger.append([stamp.event(job, "job handed on", to=to)])
    return hand_on_of(look(ledger, job), stamp.now())


def take_over(ledger: Ledger, job: str, stamp: Stamp, confirmed: Iterable[str]) -> View:
    """Take a job over.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
        Of the one to whom it was handed.
    confirmed : iterable of str
        The keys of the facts that he has looked at.

    Raises
    ------
    InputError
        Nobody has handed it on, it was handed to somebody else, or a fact is not confirmed.
    """
    view = _going_on(ledger, job)
    to, confirmed = view.state.handed_to, set(confirmed)
    if not to:
        raise InputError(f"{view.state.name}: nobody has handed it on, so there is nothing to take over")
    if to.casefold() != stamp.person.casefold():
        raise InputError(f"{view.state.name}: it was handed to {to}, not to {stamp.person}; have it handed on anew")
    asked = facts(view.state, view.car, last_steps(view))
    if missing := [fact.text for fact in asked if fact.key not in confirmed]:
        raise InputError(f"{view.state.name}: look and confirm first: {'; '.join(missing)}")
    ledger.append([stamp.event(job, "job taken over", confirmed=[fact.text for fact in asked])])
    return look(ledger, job)


def pause(ledger: Ledger, job: str, stamp: Stamp, reason: str | None = None) -> View:
    """Stop work for a while.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    reason : str, optional

    Raises
    ------
    InputError
        The job is over, or stands still already.
    """
    view = _going_on(ledger, job)
    if view.state.paused:
        raise InputError(f"{view.state.name}: paused since {view.state.paused[0][11:16]} UTC already")
    ledger.append([stamp.event(job, "job paused", reason=reason)])
    return look(ledger, job)


def resume(ledger: Ledger, job: str, stamp: Stamp) -> Resumed:
    """Go on after a pause; after a long one the last steps are to be looked at again.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp

    Raises
    ------
    InputError
        It is not paused.
    """
    before = _going_on(ledger, job)
    if not before.state.paused:
        raise InputError(f"{before.state.name}: it is not paused")
    event = stamp.event(job, "job resumed")
    ledger.append([event])
    view = look(ledger, job)
    loose = (group for group in view.state.groups.values() if group.hand_tight)
    return Resumed(
        view,
        minutes_between(before.state.paused[0], event.at),
        to_confirm(view),
        tuple(f"{group.name}: {group.hand_tight} of {group.total} in by hand, not tight" for group in loose),
    )


def to_confirm(view: View) -> tuple[str, ...]:
    """The steps to look at again, in words, in the order in which they were done.

    Parameters
    ----------
    view : View
    """
    return tuple(event_words(row.event) for row in view.logged if row.event.id in view.state.unconfirmed)


def confirm(ledger: Ledger, job: str, stamp: Stamp) -> View:
    """Say that the steps before the pause were looked at again.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp

    Raises
    ------
    InputError
        There is nothing to confirm.
    """
    view = _going_on(ledger, job)
    if not view.state.unconfirmed:
        raise InputError(f"{view.state.name}: there is nothing to confirm again")
    ledger.append([stamp.event(job, "steps confirmed", events=list(view.state.unconfirmed))])
    return look(ledger, job)


def _going_on(ledger: Ledger, job: str) -> View:
    """A job that was not handed over yet."""
    view = look(ledger, job)
    if view.state.signed:
        raise InputError(f"{view.state.name}: handed over already")
    return view
