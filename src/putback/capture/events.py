"""What was heard: events, torques, and what else a note says, as plain values."""

from dataclasses import dataclass, field

OFF = ("remove", "set aside", "unplug", "open", "loosen", "lower", "drain")
ON = ("fit", "start by hand", "tighten", "plug in", "close", "fill", "bleed", "replace")


@dataclass(frozen=True)
class Source:
    """Where in the text something was told.

    Parameters
    ----------
    line, column : int
        Of its first sign, both counted from 1
    text : str
        The words as they stand there
    start : int
        Its first sign counted from the beginning of the text
    """

    line: int
    column: int
    text: str
    start: int = field(default=0, compare=False)

    @property
    def end(self) -> int:
        return self.start + len(self.text)


@dataclass(frozen=True)
class Event:
    """One thing that was done to one item; docs/notes.md says what each field means.

    Parameters
    ----------
    item : str
        The author's nouns
    action : str
    source : Source
    count : int, optional
        None means 1, or not said
    tool : str, optional
    torque : float, optional
        As it was said
    unit : str, optional
        N·m, lbf·ft or lbf·in; None of a torque whose unit is not clear
    angle : float, optional
        Degrees after the torque
    confidence : float
        From 0 to 1
    kind : str
        The class of the item, as in nouns.txt
    thing : int
        Events of the same number are about the same thing
    flags : tuple of str
        new, reused, cut
    sentence : int
        The number of the sentence that told it
    owner : str
        The part that a fastener is known to hold; empty where that follows from the words only
    """

    item: str
    action: str
    source: Source
    count: int | None = None
    tool: str | None = None
    torque: float | None = None
    unit: str | None = None
    angle: float | None = None
    confidence: float = 0.95
    kind: str = "part"
    thing: int = 0
    flags: tuple[str, ...] = ()
    sentence: int = 0
    owner: str = ""


@dataclass(frozen=True)
class Told:
    """A torque told of an item, or any other remark: what it is about, what it says, and where."""

    item: str
    what: str
    source: Source
    value: float | None = None
    unit: str | None = None
    count: int | None = None


@dataclass(frozen=True)
class Heard:
    """All that was understood of a text.

    Parameters
    ----------
    events : tuple of Event
        In the order in which they were told
    torques : tuple of Told
        Every torque told of an item of this job
    new_parts : tuple of Told
    owed : tuple of Told
        What the author says is still to be done
    closings : tuple of (int, tuple of str, Source)
        Where all was said to be back: after how many events, with what exceptions
    doubts : tuple of Told
        What could not be known, as questions
    remarks : tuple of Told
        What bears on the audit or the area: alternatives, what was broken, what is not on this car
    """

    events: tuple[Event, ...] = ()
    torques: tuple[Told, ...] = ()
    new_parts: tuple[Told, ...] = ()
    owed: tuple[Told, ...] = ()
    closings: tuple[tuple[int, tuple[str, ...], Source], ...] = ()
    doubts: tuple[Told, ...] = ()
    remarks: tuple[Told, ...] = ()
