"""How a course of work gets logged: by two or three persons on devices of their own, with all the freedom there is.

Counts come in several events, fasteners are run in by hand and tightened later, stages and passes are told one by one,
events are taken back and said again, notes and photos lie in between, a telephone sends late.
"""

from datetime import datetime, timedelta
from random import Random
from typing import NamedTuple

from jobs.acts import (
    APPRENTICE,
    AWAY,
    DEVICES,
    HOME,
    LOOSEN,
    OFF,
    ON,
    RUN_IN,
    SAY,
    SECOND,
    TECHNICIAN,
    Act,
    Closing,
    Course,
)
from putback.job.events import Event

START = datetime(2026, 3, 2, 8, 0)
JOB = "J" * 26
STEPS = {
    "item moved",
    "fasteners loosened",
    "fasteners off",
    "fasteners on",
    "fasteners tightened",
    "part swapped",
    "work done",
}
BARRIERS = {
    "job paused",
    "job resumed",
    "job handed on",
    "job taken over",
    "steps confirmed",
    "event undone",
    "job opened",
}
FURTHEST = 12  # events that a late one may be late by
NOTES = (
    "rusty",
    "the “long” one sits at the back",
    "siehe Foto; läuft schwer",
    "<b>hold it</b> & pull",
    "'; --",
    "1/2\n2/2",
)


class Row(NamedTuple):
    """An event with its number, as a ledger gives them out."""

    number: int
    event: Event


def tell(course: Course, rng: Random, free: float = 1.0) -> list[Row]:
    """The events of a course, in the order in which they reach the ledger.

    Parameters
    ----------
    course : Course
    rng : Random
    free : float
        How much freedom the telling takes, 0 to 1.
    """
    teller = _Teller(course, rng, free)
    for act in course.acts:
        teller.tell(act)
    return [Row(number, event) for number, event in enumerate(_delivered(teller.events, teller.owners, rng, free), 1)]


class _Teller:
    def __init__(self, course: Course, rng: Random, free: float):
        self.course, self.rng, self.free = course, rng, free
        self.events: list[Event] = []
        self.now, self.run = START, rng.getrandbits(60)
        self.owners = {act.item: (act.of.owner if act.of else act.owner) for act in course.acts}
        self.run_in: dict[str, int] = {}
        self.steps: list[str] = []  # ids of all steps, and of those that a pause asks for again
        self.asked: list[str] = []
        self.say("job opened", {"name": course.name, **course.opened})

    def chance(self, share: float) -> bool:
        return self.rng.random() < share * self.free

    def say(self, kind: str, data: dict, by: str | None = None, plain: bool = False) -> str:
        """Log one event; now and then it is said, taken back and said again."""
        by = by or (SECOND if self.chance(0.3) else TECHNICIAN)
        data = {name: value for name, value in data.items() if value is not None}
        if not plain and kind not in BARRIERS and self.chance(0.03):
            self.event("event undone", {"event": self.event(kind, data, by), "reason": "a slip"}, by)
        own = self.event(kind, data, by)
        if kind in STEPS:
            self.steps.append(own)
        if kind in BARRIERS:
            self.asked += self.steps[-2:]
        return own

    def event(self, kind: str, data: dict, by: str) -> str:
        self.now += timedelta(seconds=self.rng.randint(1, 240))
        own = f"{self.run:019d}{len(self.events):07d}"
        at = self.now.strftime("%Y-%m-%dT%H:%M:%S.") + f"{self.rng.randrange(1000):03d}Z"
        self.events.append(Event(own, JOB, kind, at, by, DEVICES.get(by, "bay 2"), data))
        return own

    def tell(self, act: Act) -> None:
        if act.silent:
            return
        if self.chance(0.02):
            self.bogus()
        {
            SAY: self.other,
            AWAY: self.away,
            HOME: self.home,
            LOOSEN: self.loosen,
            OFF: self.off,
            RUN_IN: self.hand,
            ON: self.on,
        }[act.does](act)
        if self.chance(0.03):
            self.say("note added", {"note": self.rng.choice(NOTES), "item": act.item or None})
        if self.chance(0.02):
            self.say(
                "file added",
                {
                    "hash": f"{self.rng.getrandbits(256):064x}",
                    "name": "photo.jpg",
                    "type": "image/jpeg",
                    "item": act.item or None,
                },
            )

    def bogus(self) -> None:
        """Something that never happened, logged and taken back."""
        name = self.rng.choice([act.item for act in self.course.acts if act.item] or ["a bolt"])
        kind, data = self.rng.choice((
            ("item moved", {"item": name, "state": "off"}),
            ("fasteners off", {"item": name, "count": 2, "to": "back in their holes"}),
            ("person went under", {"who": TECHNICIAN}),
            ("thing put in", {"what": "tool", "name": "mirror", "where": name}),
            ("difference found", {"item": name, "what": "broken"}),
        ))  # fmt: skip
        self.event("event undone", {"event": self.event(kind, data, TECHNICIAN)}, TECHNICIAN)

    def other(self, act: Act) -> None:
        if act.kind == "steps confirmed":
            self.say(act.kind, {"events": sorted(set(self.asked)) or ["none"]}, act.by)
        elif act.kind in ("fluid drained", "fluid filled") and self.chance(0.2) and act.data["litres"] > 0.1:
            first = round(act.data["litres"] / 2, 3)
            for litres in (first, round(act.data["litres"] - first, 3)):
                self.say(act.kind, {**act.data, "litres": litres}, act.by)
        elif act.kind == "wait":
            self.now += timedelta(minutes=act.data["minutes"])
        else:
            self.say(act.kind, act.data, act.by)

    # Items

    def away(self, act: Act) -> None:
        self.moved(act, {"way": act.way or None})

    def home(self, act: Act) -> None:
        more = {"way": act.way or None, "new parts": list(act.new_parts) or None, "confirmed": act.confirmed}
        if act.confirmed and self.chance(0.1):  # the click is told afterwards
            self.moved(act, {**more, "confirmed": None})
        self.moved(act, more)

    def moved(self, act: Act, more: dict) -> None:
        data = {"item": act.item, "state": act.state, **more, **self.along()}
        self.say("item moved", data, act.by)
        if act.does == AWAY and self.chance(0.02):  # the colleague says the same
            self.say("item moved", data, act.by)

    def along(self) -> dict:
        said = {"minutes": round(self.rng.uniform(0.2, 9), 1)} if self.chance(0.3) else {}
        return said | ({"note": self.rng.choice(NOTES)} if self.chance(0.05) else {})

    # Fasteners

    def chunks(self, count: int, share: float = 0.25) -> list[int]:
        if count < 2 or not self.chance(share):
            return [count]
        first = self.rng.randint(1, count - 1)
        return [first, *self.chunks(count - first, share)]

    def loosen(self, act: Act) -> None:
        for count in self.chunks(act.count):
            self.say("fasteners loosened", {"item": act.item, "count": count, **self.along()}, act.by)

    def off(self, act: Act) -> None:
        if not self.course.of(act.item, LOOSEN) and self.chance(0.08):
            self.loosen(act)
        for count in self.chunks(act.count):
            where = (
                {"to": "back in their holes"}
                if self.chance(0.15)
                else {"to": "tray", "tray position": f"{self.rng.randint(1, 9)}{self.rng.choice('abc')}"}
            )
            if not act.of.described:
                where |= {"size": act.of.size or None, "belongs to": act.of.owner or None}
            self.say("fasteners off", {"item": act.item, "count": count, **where, **self.along()}, act.by)

    def hand(self, act: Act) -> None:
        """Run in; what they are, new or old, is what the final closing says."""
        closing = next((one.closing for one in self.course.of(act.item, ON)), None) or Closing(act.count)
        for count in self.chunks(act.count):
            self.put_on(act.item, count, closing, {"evidence": "hand-tight"})
        self.run_in[act.item] = act.count

    def on(self, act: Act) -> None:
        closing, inside = act.closing, self.run_in.pop(act.item, 0)
        if closing.hand_tight:
            if not inside:
                self.put_on(act.item, closing.count, closing, {"evidence": "hand-tight"})
            return
        by_hand = self.chance(0.15) and not inside and not closing.at_once
        if by_hand:
            for count in self.chunks(closing.count):
                self.put_on(act.item, count, closing, {"evidence": "hand-tight"})
        stages = self.stages(act, closing)
        for number, stage in enumerate(stages):
            for count in [closing.count] if closing.at_once else self.chunks(closing.count):
                if inside or by_hand or number:
                    self.say(
                        "fasteners tightened", {"item": act.item, "count": count, **stage, **self.along()}, closing.by
                    )
                else:
                    self.put_on(act.item, count, closing, stage)
        if closing.released_by:
            self.say("hold point released", {"item": act.item}, closing.released_by)

    def put_on(self, item: str, count: int, closing: Closing, stage: dict) -> None:
        data = {
            "item": item,
            "count": count,
            "new": closing.new,
            "cleaned": closing.cleaned or None,
            **stage,
            **self.along(),
        }
        self.say("fasteners on", data, closing.by)

    def stages(self, act: Act, closing: Closing) -> list[dict]:
        """A closing in one event or in several: pass by pass, and the angle after the torque."""
        whole = {
            "evidence": closing.evidence, "torque": closing.torque, "reason": closing.reason, "at": closing.at,
            "in order": True if closing.in_order else None,
        }  # fmt: skip
        if closing.torque is None or closing.at_once:
            return [whole | {"angle": closing.angle, "passes": closing.passes if closing.passes > 1 else None}]
        told = [whole | {"passes": closing.passes if closing.passes > 1 else None}]
        if closing.passes > 1 and self.chance(0.5):
            before = list(act.of.stages[:-1]) if len(act.of.stages) > 1 else []
            before = (before + [round(closing.torque * share, 1) for share in (0.4, 0.6, 0.8)])[: closing.passes - 1]
            told = [whole | {"torque": torque} for torque in sorted(before)] + [dict(whole)]
        if closing.angle is not None and self.chance(0.6):
            again = {} if self.chance(0.5) else {"torque": closing.torque}
            evidence = "value read" if again else "seated"
            return (
                [*told, {"evidence": evidence, "angle": closing.angle, **again}]
                if again
                else [*told, _turned(closing, told[-1])]
            )
        told[-1]["angle"] = closing.angle
        return told


def _turned(closing: Closing, last: dict) -> dict:
    return {"evidence": closing.evidence, "torque": last["torque"], "angle": closing.angle}


def _delivered(events: list[Event], owners: dict[str, str], rng: Random, free: float) -> list[Event]:
    """As they reach the ledger: a device sends late, but what it says is nobody else's at that time."""
    order = list(events)
    for event in events:
        here = order.index(event)
        near = {one.kind for one in order[here : here + 2 * FURTHEST]}
        if event.device != DEVICES[SECOND] or event.kind == "car moved" or near & BARRIERS or rng.random() > 0.2 * free:
            continue
        there = here
        while there + 1 < len(order) and there - here < FURTHEST and not _meet(event, order[there + 1], owners):
            there += 1
        order.insert(rng.randint(here, there), order.pop(here))
    return order


def _meet(one: Event, other: Event, owners: dict[str, str]) -> bool:
    """Whether two events may not change places."""
    if other.device == one.device or other.kind in BARRIERS:
        return True
    return bool(_names(one, owners) & _names(other, owners))


def _names(event: Event, owners: dict[str, str]) -> set[str]:
    said = {
        event.data[key]
        for key in ("item", "part", "who", "fluid", "what", "work", "posture", "name")
        if key in event.data
    }
    names = {name for name in said if isinstance(name, str)} | {
        owners.get(name, "") for name in said if isinstance(name, str)
    }
    return (names - {""}) | (
        {event.kind} if event.kind in ("part swapped", "work done", "reading taken", "plan made") else set()
    )


__all__ = ["APPRENTICE", "JOB", "START", "Row", "tell"]
