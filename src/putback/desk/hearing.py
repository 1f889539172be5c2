"""Free words said in a job: kept as they are, understood, and logged as the events that they tell."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from hashlib import sha256

from putback.desk.heard import Meant, Question, Understood, hear
from putback.desk.stamp import Stamp
from putback.desk.view import View, look, supposed
from putback.errors import InputError
from putback.job.events import Event
from putback.job.fold import taken_back
from putback.job.guards import Stop, stops
from putback.job.ledger import Ledger
from putback.job.rows import Logged


@dataclass(frozen=True)
class Answer:
    """What became of words.

    Attributes
    ----------
    view : View
        The job with them.
    logged : tuple of (Logged, str)
        The events that were understood, each with its words.
    questions : tuple of Question
        What they leave open.
    held : tuple of (Meant, Stop)
        What was understood and is not logged, for it must not be: somebody under a car that comes down.
    warnings : tuple of str
        What speaks against things that were done all the same.
    """

    view: View
    logged: tuple[tuple[Logged, str], ...]
    questions: tuple[Question, ...]
    held: tuple[tuple[Meant, Stop], ...]
    warnings: tuple[str, ...]


def say_words(ledger: Ledger, job: str, stamp: Stamp, words: str, tray: str = "") -> Answer:
    """Keep words as a note, and log what they tell.

    What was done is a fact, so it is logged though something speaks against it, and that is told. Only what cannot be
    passed, such as lowering a car onto somebody, is held back.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    words : str
    tray : str
        Where fasteners go that are said to be off.

    Raises
    ------
    InputError
        The words are too long for a note.
    """
    view = look(ledger, job)
    understood = hear(view, words, tray)
    about = _about(understood)
    tells = True if understood.meant else None  # what tells of no step is a note like any other
    note = stamp.event(job, "note added", note=words, item=about or None, to_hear=tells)
    return _log(ledger, view, stamp, understood, note.id, [note])


def hear_note(ledger: Ledger, job: str, stamp: Stamp, note: str, tray: str = "") -> Answer:
    """Log what a note tells that was kept without a connection; once it was heard it tells nothing more.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    note : str
        The id of its event.
    tray : str
        Where fasteners go that are said to be off.

    Raises
    ------
    InputError
        There is no such note.
    """
    view = look(ledger, job)
    if note not in view.state.unheard:
        return _heard_before(view, note)
    try:
        return _log(ledger, view, stamp, hear(view, view.state.unheard[note], tray), note, [])
    except InputError:
        seen = look(ledger, job)
        if note in seen.state.unheard:
            raise
        return _heard_before(seen, note)  # another device asked at the same moment, and came first


def _heard_before(view: View, note: str) -> Answer:
    """What a note told when it was heard."""
    if not any(row.event.id == note and row.event.kind == "note added" for row in view.logged):
        raise InputError(f'{view.state.name}: there is no note "{note}"')
    heard = (row.event.data for row in view.logged if row.event.kind == "note heard")
    ids = {id for data in heard if data["note"] == note for id in data["events"]} - taken_back(view.logged)
    return Answer(view, tuple((row, "") for row in view.logged if row.event.id in ids), (), (), ())


def _about(understood: Understood) -> str:
    """The one thing that all of it is about, so that the words are shown when it goes back."""
    moved = {one.data["item"] for one in understood.meant if one.kind == "item moved"}
    items = moved or {one.data["item"] for one in understood.meant if "item" in one.data}
    return items.pop() if len(items) == 1 else ""


def _log(ledger: Ledger, view: View, stamp: Stamp, understood: Understood, note: str, before: list[Event]) -> Answer:
    kept, held, warnings = [], [], []
    seen = view
    for meant in understood.meant:
        against = stops(seen.state, seen.car, [(meant.kind, meant.data)], stamp.now(), seen.plan, stamp.person)
        if against and against[0].hard:
            held.append((meant, against[0]))
            continue
        warnings += [stop.text for stop in against]
        event = _following(note, len(kept), stamp.event(view.id, meant.kind, **meant.data))
        kept.append((event, meant.words))
        seen = supposed(ledger, seen, event)
    told = [event for event, _ in kept]
    if understood.meant or not before:
        heard = stamp.event(view.id, "note heard", note=note, events=[event.id for event in told])
        told.append(_following(note, len(told), heard))
    rows = {row.event.id: row for row in ledger.append([*before, *told])}
    logged = tuple((rows[event.id], words) for event, words in kept)
    return Answer(look(ledger, view.id), logged, understood.questions, tuple(held), tuple(dict.fromkeys(warnings)))


def _following(note: str, number: int, event: Event) -> Event:
    """An event with an id that follows from its note's, so that what is heard twice at one time counts once."""
    return replace(event, id=sha256(f"{note} {number}".encode()).hexdigest()[:32])


def later(answer: Answer) -> Iterator[str]:
    """What somebody has to look at: what was held back, what speaks against it, what is open; in sentences.

    Parameters
    ----------
    answer : Answer
    """
    yield from (f"STOP, not logged: {stop.text}" for _, stop in answer.held)
    yield from answer.warnings
    yield from (question_words(one) for one in answer.questions)


def question_words(one: Question) -> str:
    """A question with what can be answered, in one sentence.

    Parameters
    ----------
    one : Question
    """
    named = [name for name, *_ in one.choices if not name.isdigit()]
    return f"{one.text}: {', '.join(named)}?" if named and not one.missing else one.text
