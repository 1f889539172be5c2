"""What the ledger knows over all jobs."""

from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

import pytest
from log import DEMO, demo_area

from putback.desk.history import again_soon, own_times, time_of_people, vehicle_history
from putback.desk.opening import File, open_job
from putback.desk.stamp import Stamp
from putback.job.learning import with_own_times
from putback.job.ledger import Ledger, open_ledger

AREA, SHOP = (File(name, (DEMO / name).read_bytes()) for name in ("demo-a.yaml", "demo-shop.yaml"))


@pytest.fixture
def ledger(tmp_path: Path):
    """An empty ledger."""
    with open_ledger(str(tmp_path / "ledger.db")) as opened:
        yield opened


def stamp(day: int = 1, numbers=count(1)) -> Stamp:
    return Stamp("technician 1", "bay 2", lambda: datetime(2026, 3, 1, tzinfo=UTC) + timedelta(days=day), lambda: f"I{next(numbers):025d}")


def subframe_job(ledger: Ledger, minutes: float, day: int, vehicle: str = "white hatchback, plate 12") -> None:
    """A job in which the subframe took some minutes to come down, handed over."""
    said = stamp(day)
    job = open_job(ledger, said, f"job of day {day}", area=AREA, shop=SHOP, vehicle=vehicle)
    events = [
        said.event(job, "item moved", item="subframe", state="lowered 65 mm", minutes=minutes),
        said.event(job, "part swapped", part="alternator", minutes=6),
        said.event(job, "reading taken", what="stud voltage", value=14.4, unit="V", when="after", good=True),
        said.event(job, "hand-over signed", by="technician 1"),
    ]
    ledger.append(events)


def test_own_minutes_stand_beside_the_files(ledger):
    """Story 33: ten jobs on the subframe, the median and its interval beside the file's 16; four would say nothing."""
    for day, minutes in enumerate((19, 17, 22, 18, 20, 21, 16, 19, 23, 18)):
        subframe_job(ledger, minutes, day)
    (learned,) = (one for one in own_times(ledger, demo_area("a")) if one.part == "subframe")

    assert (learned.median, learned.interval, len(learned.values)) == (19, (17, 22), 10)
    assert with_own_times(demo_area("a"), [learned]).items["subframe"].minutes.out.likely == 19


def test_a_vehicle_is_found_by_a_part_of_its_name(ledger):
    """Capitals and blanks do not count; another car's jobs are not shown."""
    subframe_job(ledger, 20, 1)
    subframe_job(ledger, 20, 2, "blue van, plate 77")
    (past,) = vehicle_history(ledger, "PLATE12")

    assert (past.name, past.swapped, past.opened, past.good) == ("job of day 1", ("alternator",), ("subframe",), True)
    assert vehicle_history(ledger, "  ") == []


@pytest.mark.parametrize(("day", "asked"), [(364, 1), (365, 0)])
def test_the_same_part_within_a_year_asks_for_the_cause(ledger, day, asked):
    """Trap 32: on the 364th day still, a year later no more."""
    subframe_job(ledger, 20, 0)
    past = vehicle_history(ledger, "plate 12")
    now = (datetime(2026, 3, 1, tzinfo=UTC) + timedelta(days=day)).isoformat().replace("+00:00", ".000Z")
    assert len(again_soon(past, ("alternator",), now)) == asked


def test_the_time_of_people_adds_up(ledger):
    """Over all jobs: what they said it took."""
    subframe_job(ledger, 20, 1)
    subframe_job(ledger, 14, 2)
    assert time_of_people(ledger) == {"technician 1": 46.0}
