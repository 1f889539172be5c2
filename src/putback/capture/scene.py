"""What is at hand while a note is heard: the events so far, the things, and the sentence that is being read."""

from collections.abc import Iterable, Sequence

from putback.capture.book import Book, Draft
from putback.capture.events import OFF, ON, Event, Source, Told
from putback.capture.memory import Memory, Thing
from putback.capture.places import Places
from putback.capture.said import Clause
from putback.capture.tokens import Token


class Scene:
    """What is at hand while one text is heard.

    Parameters
    ----------
    text : str
    before : iterable of Event
        What was heard before it
    """

    def __init__(self, text: str, before: Iterable[Event] = ()):
        self.text, self.places, self.memory = text, Places(text), Memory()
        self.book = Book(self.memory, self.places)
        self.part: Sequence[Token] = ()  # the sentence
        self.heading = self.side = ""
        self.last_things: list[Thing] = []  # of the last clause that did something
        self.parts_told: list[Thing] = []  # named, and nothing done to them
        self.car: Thing | None = None
        self.owed: list[Told] = []
        self.doubts: list[Told] = []
        self.remarks: list[Told] = []
        self._recall(before)

    def _recall(self, before: Iterable[Event]) -> None:
        """Remember what was heard before this text."""
        things: dict[int, Thing] = {}
        for event in before:
            words = tuple(event.item.split())
            thing = things.get(event.thing) or self.memory.new(words, event.kind, bool(event.count and event.count > 1))
            things[event.thing] = thing
            thing.words, thing.state, thing.count = words, event.action, event.count or thing.count
            self.memory.touch(thing)
            self.book.direction = "off" if event.action in OFF else "on" if event.action in ON else self.book.direction
            self.last_things = [thing]

    @property
    def sentence(self) -> int:
        return self.memory.sentence

    @property
    def direction(self) -> str:
        return self.book.direction

    def the_car(self) -> Thing:
        """The vehicle by the noun it was called last, else the car."""
        called = next((thing for thing in reversed(self.memory.things[-300:]) if thing.kind == "car"), None)
        self.car = self.car or called or self.memory.new(("car",), "car", False)
        return self.car

    def turn(self, direction: str) -> None:
        """A heading says which way the work goes."""
        self.heading = self.book.direction = direction

    # -- words and places ------------------------------------------------------------------------

    def words(self, first: int = 0, after: int | None = None) -> str:
        """Some tokens of the sentence in small letters."""
        return low(self.part[max(0, first) : after])

    def word_at(self, at: int) -> str:
        return self.part[at].low if 0 <= at < len(self.part) else ""

    def begin(self, first: int) -> int:
        """The sign where a token of the sentence begins."""
        return self.part[min(first, len(self.part) - 1)].start

    def end(self, after: int) -> int:
        """The sign behind the token ahead of one."""
        return self.part[max(0, min(after, len(self.part)) - 1)].end

    def source(self, clause: Clause) -> Source:
        start = self.begin(clause.first)
        return self.places.source(start, max(self.end(clause.after), start + 1))

    def stretch(self, first: int, after: int) -> Source:
        """The words of some tokens as a source."""
        return self.places.source(self.begin(first), self.end(after))

    # -- what was told last ----------------------------------------------------------------------

    def last_draft(self, back: int) -> Draft | None:
        """The last event, if it was told in this sentence or at most so many sentences ago."""
        last = self.book.drafts[-1] if self.book.drafts else None
        return last if last is not None and self.sentence - last.sentence <= back else None

    def just_told(self) -> list[Thing]:
        """The things of the last clause that did something, while they are still what is spoken of."""
        return [thing for thing in self.last_things if self.sentence - thing.told_at <= 2 and thing.kind != "car"]


    def just_tightened(self) -> list[Thing]:
        """What a torque that is told alone belongs to: on the way back the fasteners that were told last."""
        told = self.just_told()
        if told and self.last_things:
            return told
        near = [thing for thing in self.memory.recent[-4:] if self.sentence - thing.told_at <= 2]
        return [thing for thing in near if thing.kind in ("fastener", "clamp")][-1:] or told


def low(part: Sequence[Token]) -> str:
    """The words of some tokens in small letters, one blank apart.

    Parameters
    ----------
    part : sequence of Token
    """
    words = " ".join([token.low for token in part])
    return words.replace(" 's ", "'s ").removesuffix(" 's") + ("'s" if words.endswith(" 's") else "")
