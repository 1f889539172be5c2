"""A hand-written log of a job, for tests: events with numbers, one minute apart, as a ledger would give them out."""

from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from typing import NamedTuple

from putback.area.area_file import read_area
from putback.area.shop_file import read_shop
from putback.job.audit import audit
from putback.job.events import Event
from putback.job.fold import fold

DEMO = Path(__file__).parents[2] / "src" / "putback" / "demo"
START = datetime(2026, 3, 2, 8, 0)
JOB = "J" * 26


@cache
def demo_area(letter: str = "a"):
    """One of the demo areas."""
    file = DEMO / f"demo-{letter}.yaml"
    return read_area(file.read_bytes(), file.name)


@cache
def demo_shop():
    """The demo shop."""
    file = DEMO / "demo-shop.yaml"
    return read_shop(file.read_bytes(), file.name)


class Row(NamedTuple):
    """An event with its number."""

    number: int
    event: Event


class Log:
    """Says one thing after another; underscores in names stand for blanks, `_at` is minutes after eight."""

    def __init__(self, area=None, shop=None, **opened):
        self.area, self.shop, self.rows = area, shop, []
        self.say("job opened", name="a job", **opened)

    def say(self, kind: str, *, _by: str = "technician 1", _on: str = "bay 2", _at: float | None = None, **data) -> str:
        """Log one event; its id."""
        number = len(self.rows) + 1
        at = START + timedelta(minutes=number if _at is None else _at)
        own = f"E{number:025d}"
        plain = {name.replace("_", " "): value for name, value in data.items()}
        time = at.strftime("%Y-%m-%dT%H:%M:%S.000Z")
        self.rows.append(Row(number, Event(own, JOB, kind, time, _by, _on, plain)))
        return own

    def off(self, item: str, count: int, **more) -> str:
        """Fasteners that went to a tray."""
        return self.say("fasteners off", item=item, count=count, to="tray", tray_position=more.pop("tray", "1a"), **more)

    def on(self, item: str, count: int, torque: float, **more) -> str:
        """Fasteners that went back in and were tightened until the wrench clicked."""
        more = {"new": False, "evidence": "clicked at the setting", "torque": torque} | more
        return self.say("fasteners on", item=item, count=count, **more)

    def moved(self, item: str, state: str, **more) -> str:
        """A part, a plug or the like that changed its place."""
        return self.say("item moved", item=item, state=state, **more)

    @property
    def state(self):
        """What it adds up to."""
        return fold(self.rows, self.area)

    def points(self) -> dict[str, str]:
        """What stands open, by its key."""
        return {point.key: point.text for point in audit(self.state, self.area, self.shop)}
