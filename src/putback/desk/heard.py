"""What free words mean for a job: events that they tell, and questions where they cannot be known.

Nothing is logged here, and nothing is guessed: what is doubtful becomes a question, whose answers are whole events.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from putback.capture import understand
from putback.capture.events import Heard
from putback.desk import heard_fasteners, heard_parts, heard_trouble
from putback.desk.heard_names import FASTENING, Names, Telling
from putback.desk.view import View


@dataclass(frozen=True)
class Meant:
    """An event that words tell: its kind, what it says, and the words."""

    kind: str
    data: dict
    words: str
    owner: str = ""  # the part that fasteners hold


@dataclass(frozen=True)
class Question:
    """What words leave open.

    Attributes
    ----------
    text : str
    words : str
        Those that leave it open.
    choices : tuple of (str, str, dict)
        Answers: what to call each, and the event that it is.
    missing : str
        The field of the event that a figure fills in, such as count, torque or litres; empty where none does.
    kind, data
        The event without that field.
    """

    text: str
    words: str
    choices: tuple[tuple[str, str, dict], ...] = ()
    missing: str = ""
    kind: str = ""
    data: dict = field(default_factory=dict)


@dataclass(frozen=True)
class Understood:
    """What words mean, in the order in which they were said.

    Attributes
    ----------
    meant : tuple of Meant
    questions : tuple of Question
    """

    meant: tuple[Meant, ...] = ()
    questions: tuple[Question, ...] = ()


SENTENCES = re.compile(r"[^.!?;\n]+(?:\.(?=\d)[^.!?;\n]*)*")
HEARERS = {
    **dict.fromkeys(FASTENING, heard_fasteners.hear),
    "fluid": heard_parts.fluid,
    "car": heard_parts.car,
    "put in": heard_parts.put_in,
    "prop": heard_parts.prop,
}


def hear(view: View, words: str, tray: str = "") -> Understood:
    """What words mean for a job as it stands.

    Parameters
    ----------
    view : View
    words : str
        A sentence or several, dictated or typed.
    tray : str
        Where fasteners go that are said to be off, unless the words tell.
    """
    names = Names(view)
    heard = understand(words, names.before())
    return _sorted(_all(heard, words, names, tray))


def _all(heard: Heard, words: str, names: Names, tray: str) -> Iterator[Meant | Question]:
    for at, told in enumerate(heard.events):
        for said in _one(Telling(told, names, names.owner_of(heard.events, at), words, tray)):
            if isinstance(said, Meant):
                names.take(said.kind, said.data, told)
                said = replace(said, owner=names.part_of(said.data.get("item", "")))
            yield said
    yield from _not_read(heard, words)
    for said in heard_trouble.besides(heard, words, names):
        yield Question(**said) if isinstance(said, dict) else Meant(*said)


def _one(one: Telling) -> Iterator[Meant | Question]:
    """One thing that was told, as the hearer of its class takes it: tuples of an event, mappings of a question."""
    hearer = HEARERS.get(one.told.kind, heard_parts.hear)
    if one.told.action in ("support", "unsupport"):
        hearer = heard_parts.prop
    source = " ".join(one.told.source.text.split())
    for said in hearer(one):
        yield Question(words=source, **said) if isinstance(said, dict) else Meant(*said, source)


def _not_read(heard: Heard, words: str) -> Iterator[Question]:
    """Sentences that tell of nothing that was understood: they are kept as a note, and that is said."""
    places = [one.source for one in (*heard.events, *heard.owed, *heard.remarks)]
    places += [closing[2] for closing in heard.closings]
    for found in SENTENCES.finditer(words):
        told = found[0].strip()
        if not any(found.start() < one.end and one.start < found.end() for one in places) and not heard_trouble.tells(
            told
        ):
            if len(told.split()) > 1:
                yield Question("no step was understood here; the words are kept as a note", told)


def _sorted(said: Iterator[Meant | Question]) -> Understood:
    """Fasteners before the part that they held, for with the part whatever holds it is off."""
    said, meant = list(said), []
    for one in said:
        if isinstance(one, Question):
            continue
        at = _before_part(meant, one)
        meant.insert(len(meant) if at is None else at, one)
    return Understood(tuple(meant), tuple(one for one in said if isinstance(one, Question)))


def _before_part(meant: list[Meant], one: Meant) -> int | None:
    """Where in a list the part left that fasteners were said with afterwards."""
    if one.kind not in (heard_fasteners.OFF, heard_fasteners.LOOSENED):
        return None
    parts = [n for n, other in enumerate(meant) if other.kind == heard_parts.MOVED and other.data["item"] == one.owner]
    return parts[-1] if parts else None
