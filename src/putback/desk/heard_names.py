"""Names that somebody uses at the car, and what a job calls the same things."""

from collections.abc import Sequence
from dataclasses import dataclass

from putback.area.model import FASTENERS
from putback.capture.events import Event as Told
from putback.capture.events import Source
from putback.capture.names import likeness, plain_words
from putback.capture.phrases import kind_of
from putback.desk.view import View
from putback.job.kinds import HAND_TIGHT
from putback.job.state import HOME

LIKELY = 0.5  # of names, from 0 to 1; our own judgement, as in the drafts of areas
FASTENING = ("fastener", "clamp", "catch")  # classes of nouns.txt
CLEAR = 0.15  # so much likelier than the next, or it is asked about
OFFERED = 5  # names in a question
ACTIONS = {
    "off": "remove",
    "aside": "set aside",
    "unplugged": "unplug",
    "open": "open",
    "lowered": "lower",
    "raised": "raise",
    "loose": "loosen",
}


@dataclass
class Known:
    """A thing of the job.

    Attributes
    ----------
    name : str
    group : bool
        Whether it is a group of fasteners.
    owner : str
        The part that a group belongs to.
    out, loose, total : int
        Fasteners out, run in by hand, and there at all; of anything else, out is 1 while it is not where it belongs.
    state : str
        How anything else stands.
    states : tuple of str
        Those that the area gives it.
    order : int
        When it was last spoken of.
    """

    name: str
    group: bool
    owner: str = ""
    out: int = 0
    loose: int = 0
    total: int = 0
    state: str = ""
    states: tuple[str, ...] = ()
    order: int = 0

    @property
    def open(self) -> bool:
        """Whether something of it has still to go back or be made tight."""
        return bool(self.out or self.loose)


class Names:
    """What a job knows by name, kept up to date while words are heard.

    Parameters
    ----------
    view : View
    """

    def __init__(self, view: View):
        self.view, self.described = view, view.area is not None
        self.known: dict[str, Known] = {}
        self.told: dict[int, str] = {}  # things of what is heard, and their names here
        self._described()
        self._logged()
        self.things = {entry for entry, count in view.state.things.items() if count}
        self.added = list(view.state.added)

    def _described(self) -> None:
        for item in self.view.car.items.values():
            if item.kind == FASTENERS:
                total = item.fastener.count
                self.known[item.name] = Known(item.name, True, item.owner or "", total=total, states=item.states)
            else:
                self.known[item.name] = Known(item.name, False, total=1, states=item.states, state=item.states[0])

    def _logged(self) -> None:
        for group in self.view.state.groups.values():
            one = self.known.setdefault(group.name, Known(group.name, True, group.belongs_to))
            one.out, one.loose, one.total, one.order = group.out, group.hand_tight, group.total, _order(group)
            one.owner = one.owner or group.belongs_to
        for item in self.view.state.items.values():
            one = self.known.setdefault(item.name, Known(item.name, False, total=1))
            one.out, one.state, one.order = int(not item.home), item.state, _order(item)

    def before(self) -> list[Told]:
        """What the job has heard so far, as if it had been said: the latest last."""
        spoken = sorted((one for one in self.known.values() if one.order), key=lambda one: one.order)
        self.told = {thing: one.name for thing, one in enumerate(spoken)}
        return [_as_told(one, thing) for thing, one in enumerate(spoken)]

    def owner_of(self, events: Sequence[Told], at: int) -> str:
        """The part that a fastener was told with: the nearest of its sentence, or of the one before if it has no name.

        Parameters
        ----------
        events : sequence of Event
        at : int
            Which of them is the fastener's.
        """
        here, back = events[at], 1 if len(events[at].item.split()) < 2 else 0
        near = [
            (here.sentence - one.sentence, abs(n - at), n < at, one)
            for n, one in enumerate(events)
            if n != at and _is_part(one) and 0 <= here.sentence - one.sentence <= back
        ]
        if not near:
            return ""
        told = min(near, key=lambda row: row[:3])[3]
        return self.told.get(told.thing) or next(iter(self.alike(told.item, False)), told.item)

    def alike(self, item: str, group: bool, owner: str = "", going: bool | None = None) -> list[str]:
        """Names that may be meant, the likeliest first; one alone where it is clear.

        Parameters
        ----------
        item : str
            As it was said.
        group : bool
            Whether fasteners are meant.
        owner : str
            The part that they were told with.
        going : bool, optional
            Whether it goes off, or on again; None for either.
        """
        rows = [
            (self._score(one, item, owner), one.order, one.name)
            for one in self.known.values()
            if self._fits(one, group, going)
        ]
        found = sorted((row for row in rows if row[0] >= LIKELY), key=lambda row: (-row[0], -row[1], row[2]))
        if len(found) > 1 and found[0][0] - found[1][0] >= CLEAR:
            found = found[:1]
        return [name for *_, name in found]

    def _fits(self, one: Known, group: bool, going: bool | None) -> bool:
        if one.group != group:
            return False
        if going is None:
            return True
        return one.out + one.loose < max(one.total, 1) if going else one.open

    def _score(self, one: Known, item: str, owner: str) -> float:
        score = max(likeness(item, one.name), likeness(f"{owner} {item}", one.name) if owner else 0.0)
        if one.group and owner and one.owner == owner:
            alone = len(plain_words(item)) == 1 or item == owner
            score = max(score, 0.9 if alone and score else 0.6 if score else 0.0) + 0.05
        return score

    def part_of(self, name: str) -> str:
        """The part that a group of fasteners belongs to; empty where nobody knows.

        Parameters
        ----------
        name : str
        """
        return self.known[name].owner if name in self.known else ""

    def held_by(self, part: str) -> list[Known]:
        """The groups that hold a part.

        Parameters
        ----------
        part : str
        """
        return [one for one in self.known.values() if one.group and one.owner == part]

    def open_ones(self, group: bool) -> list[str]:
        """What has still to go back, the last that left first, as many as can be offered.

        Parameters
        ----------
        group : bool
        """
        found = sorted(
            (one for one in self.known.values() if one.group == group and one.open), key=lambda one: -one.order
        )
        return [one.name for one in found[:OFFERED]]

    def new_name(self, item: str, owner: str, tool: str | None) -> str:
        """A name for fasteners new to the job: with their part, or else their size, where one word is all.

        Parameters
        ----------
        item : str
        owner : str
        tool : str or None
        """
        before = owner or tool or ""
        name = f"{before} {item}".strip() if len(item.split()) == 1 else item
        taken = self.known.get(name)
        if taken is None or not taken.open or (taken.owner == owner and owner):
            return name
        return next(f"{name} {n}" for n in range(2, 1000) if f"{name} {n}" not in self.known)

    def take(self, kind: str, data: dict, told: Told) -> None:
        """Remember an event that words told.

        Parameters
        ----------
        kind, data
            As the ledger will have them.
        told : Event
        """
        if kind in ("thing put in", "thing taken out"):
            entry = (data["what"], data["name"], data["where"])
            self.things = self.things | {entry} if kind == "thing put in" else self.things - {entry}
        name = data.get("item", "")
        if not name or kind == "difference found":
            return
        group = kind.startswith("fasteners")
        one = self.known.setdefault(name, Known(name, group, data.get("belongs to", "")))
        one.order = 1 + max(each.order for each in self.known.values())
        if group == (told.kind in FASTENING):
            self.told[told.thing] = name
        if not group:
            home = data["state"] in (one.states[:1] or HOME)
            one.out, one.state, one.total = int(not home), data["state"], 1
            return
        _count(one, kind, data)


def _count(one: Known, kind: str, data: dict) -> None:
    count = data["count"]
    if kind == "fasteners off":
        one.out, one.loose = one.out + count, max(0, one.loose - count)
        one.total = max(one.total, one.out)
    elif kind == "fasteners loosened":
        one.loose, one.total = one.loose + count, max(one.total, one.loose + count)
    elif kind == "fasteners on":
        one.out = max(0, one.out - count)
        one.loose += count if data["evidence"] == HAND_TIGHT else 0
    elif kind == "fasteners tightened":
        one.loose = max(0, one.loose - count)


def _order(thing) -> int:
    return thing.last.number if thing.last else thing.left


def _as_told(one: Known, thing: int) -> Told:
    kind = kind_of(plain_words(one.name))
    if one.group and kind not in FASTENING:
        kind = "fastener"
    action = (ACTIONS.get(one.state, "remove") if not one.group else "remove") if one.open else "fit"
    return Told(one.name, action, Source(1, 1, ""), one.total if one.group else None, kind=kind, thing=thing)


def _is_part(told: Told) -> bool:
    return told.kind not in (*FASTENING, "fluid", "car", "prop", "put in", "shop", "tool")


@dataclass(frozen=True)
class Telling:
    """One thing that was told.

    Attributes
    ----------
    told : Event
    names : Names
    owner : str
        The part that fasteners were told with; empty where there is none.
    words : str
        The whole text: an amount or a place may stand behind what it is about.
    tray : str
        Where fasteners go that are said to be off; empty where nobody said.
    """

    told: Told
    names: Names
    owner: str
    words: str
    tray: str
