"""What the readings of a job come to, as events: weighed before the swap, held against the limits for proof after it.

The guards, the steps and the audit of the job go by these, and it stays on record what the part was condemned by.
"""

from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import replace

from putback.desk.planning import Thinking
from putback.desk.reading_names import in_words, reading_name
from putback.desk.stamp import Stamp
from putback.desk.view import View, look
from putback.desk.weighing import Weighed, form_of, weigh
from putback.errors import PutbackError
from putback.job.events import Event
from putback.job.ledger import Ledger
from putback.job.state import Reading
from putback.models import proved

TELLS = ("reading taken", "intake noted", "event undone")  # events after which suspects are weighed again
EXCLUDED = 0.01  # what is less likely than that is told as excluded (own choice, no source)
MARKS = ("number", "at", "person")  # what a fold adds to what was said


def weigh_and_keep(ledger: Ledger, job: str, stamp: Stamp, thinking: Thinking, model: str | None = None) -> Weighed:
    """Weigh the suspects, and log what was concluded where it is news.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    thinking : Thinking
    model : str, optional
        As for `form_of`.
    """
    view = look(ledger, job)
    found = weigh(view, thinking, model)
    events = [*_weighing(view, found, stamp), *_judging(view, found, stamp)]
    if events and not view.state.signed:
        ledger.append(events)
    return found


def weigh_again(ledger: Ledger, job: str, stamp: Stamp, thinking: Thinking, events: Iterable[Event]) -> None:
    """Weigh the suspects after events that bear on them, in the name of whoever said the last one.

    Nothing happens where no model is known for the job, or nothing can be concluded: what was read is kept all the
    same.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    thinking : Thinking
    events : iterable of Event
        What was just logged.
    """
    telling = [event for event in events if event.kind in TELLS]
    if telling:
        view = look(ledger, job)
        form = form_of(view)
        if form and (view.state.weighed or any(reading_name(form, one.what) for one in view.state.readings)):
            by = replace(stamp, person=telling[-1].person, device=telling[-1].device)
            with suppress(PutbackError):
                weigh_and_keep(ledger, job, by, thinking)


def _weighing(view: View, found: Weighed, stamp: Stamp) -> Iterator[Event]:
    if not view.state.swapped:
        said = conclusion(found)
        last = {name: value for name, value in (view.state.weighed or {}).items() if name not in MARKS}
        if said != last:
            yield stamp.event(view.id, "suspects weighed", **said)


def conclusion(found: Weighed) -> dict:
    """What was concluded, as an event says it.

    Parameters
    ----------
    found : Weighed
    """
    form, said = found.form, found.answer
    limits = {one.reading: one.wanted for one in proved(form, found.before, said.action) if one.reading in found.before}
    told = {
        "model": form.name,
        "verdict": said.verdict,
        "action": said.action,
        "share": round(said.shares[said.action], 4) if said.action in said.shares else None,
        "why": [in_words(form, one) for one in said.why],
        "missing": [form.readings[name].what for name in said.missing],
        "again": [form.readings[name].what for name in said.again],
        "limits": {form.readings[name].what: wanted for name, wanted in limits.items()},
        "behind": {form.readings[name].what: item for name, item in found.behind.items()},
        "open first": list(found.open_first),
        "excluded": [fault for fault, share in said.posterior.items() if share < EXCLUDED],
    }
    return {name: value for name, value in told.items() if value not in (None, [], {})}


def _judging(view: View, found: Weighed, stamp: Stamp) -> Iterator[Event]:
    """Which readings after the repair are good or bad, where that is not known yet."""
    if not view.state.swapped:
        return
    known = {reading_name(found.form, one.what): one for one in view.state.readings if one.when == "after"}
    verdicts = {one.reading: one.passes for one in found.proofs if one.reading in known and one.passes is not None}
    news = [name for name, passes in verdicts.items() if _is_news(known[name], passes)]
    if news:
        good = [known[name].what for name in news if verdicts[name]]
        bad = [known[name].what for name in news if not verdicts[name]]
        yield stamp.event(view.id, "readings judged", model=found.form.name, good=good, bad=bad)


def _is_news(reading: Reading, passes: bool) -> bool:
    """Whether it counts as something else so far; what somebody has called bad stays bad."""
    return reading.good is not (passes and reading.told is not False)
