"""A desk for tests: a ledger in a folder of the test, a clock that is moved by hand, ids that count."""

from datetime import UTC, datetime, timedelta
from itertools import count
from time import perf_counter

from log import DEMO

from putback.desk.opening import File, open_job
from putback.desk.planning import Thinking, keep_plan, plan_on
from putback.desk.stamp import Stamp
from putback.desk.view import View, look
from putback.job.ledger import Ledger, open_ledger

THINKING = Thinking(perf_counter, 20.0)
SHOP = """\
shop: 1
name: a shop
labour: 60.00 per hour
set-up minutes: {tool: 1, vantage: 2}
raises cars:
  on a lift: 3 min up, 2 min down
equipment: {two-post lift: 1}
tools:
  sockets: 6-32 mm
"""


def file(name: str) -> File:
    """A demo file."""
    return File(name, (DEMO / name).read_bytes())


class Desk:
    """A ledger with one job in it, and somebody who logs to it; a minute passes with each event."""

    def __init__(self, folder, person: str = "technician 1"):
        self.ledger: Ledger = open_ledger(str(folder / "ledger.db"))
        self.time = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
        self.ids = count(1)
        self.person, self.job = person, ""

    def __enter__(self) -> "Desk":
        return self

    def __exit__(self, *_) -> None:
        self.ledger.close()

    @property
    def stamp(self) -> Stamp:
        """As whoever speaks now."""
        return self.stamp_of(self.person)

    def stamp_of(self, person: str) -> Stamp:
        """As somebody else."""
        return Stamp(person, "bay 2", self._clock, lambda: str(next(self.ids)).rjust(26, "0"))

    def _clock(self) -> datetime:
        self.time += timedelta(minutes=1)
        return self.time

    def open(self, letter: str | None = None, **more) -> str:
        """A job on a demo car, or on one that nobody has described."""
        demo = {"area": file(f"demo-{letter}.yaml"), "shop": file("demo-shop.yaml"), "beside": file} if letter else {}
        self.job = open_job(self.ledger, self.stamp, more.pop("name", "a job"), **(demo | more))
        return self.job

    def describe(self, area: str, shop: str = SHOP, **more) -> str:
        """A job on a car of one's own."""
        files = {"area": File("area.yaml", area.encode()), "shop": File("shop.yaml", shop.encode())}
        return self.open(**files, **more)

    def say(self, kind: str, **data) -> str:
        """Log one event; its id."""
        event = self.stamp.event(self.job, kind, **data)
        self.ledger.append([event])
        return event.id

    def off(self, item: str, count: int, **more) -> str:
        """Fasteners that went to a tray."""
        tray = more.pop("tray", "1a")
        return self.say("fasteners off", item=item, count=count, to="tray", tray_position=tray, **more)

    def on(self, item: str, count: int, torque: float, **more) -> str:
        """Fasteners that went back in and were tightened until the wrench clicked."""
        more = {"new": False, "evidence": "clicked at the setting", "torque": torque} | more
        return self.say("fasteners on", item=item, count=count, **more)

    def moved(self, item: str, state: str, **more) -> str:
        """A part, a plug or the like that changed its place."""
        return self.say("item moved", item=item, state=state, **more)

    def look(self) -> View:
        """The job as it stands."""
        return look(self.ledger, self.job)

    def plan(self) -> View:
        """Plan from here, and put the plan in force."""
        return keep_plan(self.ledger, self.job, plan_on(self.look(), self.stamp.now(), THINKING), self.stamp)


def half_way_on_a(desk: Desk) -> None:
    """Demo A on the way in from above, as far as the mount nuts: one is out, the other turns with its stud."""
    desk.say("work done", work="readings before")
    for item, state, more in (
        ("engine cover", "off", {}), ("intake duct", "off", {}), ("throttle cap", "in", {}),
        ("battery clamp", "off", {}), ("coolant expansion tank", "aside", {}),
    ):  # fmt: skip
        desk.moved(item, state, **more)
    desk.say("car moved", posture="on a lift")
    for item, state, more in (
        ("left front wheel", "off", {}), ("undertray", "off", {}), ("wheel-arch liner", "off", {}),
        ("tensioner pin", "in", {}), ("belt", "off", {}), ("idler pulley", "off", {}), ("compressor strap", "in", {}),
        ("compressor", "aside", {}), ("coolant pipe bracket", "free", {}), ("alternator control plug", "unplugged", {}),
        ("charge cable", "off", {}), ("engine support", "in", {"way": "support bar"}),
    ):  # fmt: skip
        desk.moved(item, state, **more)
    desk.off("lower alternator bolt", 1)
    desk.off("mount-to-body bolts", 3)
    desk.off("left mount nuts", 1)
