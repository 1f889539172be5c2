"""A job on a car that nobody had described becomes an area file that is sound, plans, and takes the job's own order."""

from random import Random
from time import perf_counter

import pytest
from desk_samples import Desk
from jobs.telling import JOB, tell
from jobs.undescribed import undescribed_course

from putback.area import read_area
from putback.area.order_file import read_order
from putback.check import check_files
from putback.desk.drafting import area_of_jobs, order_of_job
from putback.desk.hearing import say_words
from putback.desk.view import look
from putback.errors import InputError
from putback.job.ledger import open_ledger
from putback.way.full_shop import full_shop
from putback.way.price_order import price_order
from putback.way.task import make_task


@pytest.fixture
def desk(tmp_path):
    """A car that nobody has described."""
    with Desk(tmp_path) as desk:
        desk.open("", name="the pump")
        yield desk


def _new(folder):
    folder.mkdir()
    return folder


def brake_job(desk, first="cover", second="duct") -> None:
    """Two things that hide a pump, and the pump renewed."""
    for name, count in ((first, 3), (second, 2)):
        desk.off(f"{name} screws", count, size="T30", belongs_to=name)
        desk.moved(name, "off")
    desk.moved("pump plug", "unplugged")
    desk.off("pump bolts", 4, size="13 mm", belongs_to="pump")
    desk.moved("pump", "off")
    desk.say("part swapped", part="pump")
    desk.moved("pump", "fitted")
    desk.on("pump bolts", 4, 22.0)
    desk.moved("pump plug", "plugged")
    for name, count in ((second, 2), (first, 3)):
        desk.moved(name, "fitted")
        desk.on(f"{name} screws", count, 4.0)


def area_of(*desks):
    return read_area(area_of_jobs([desk.look() for desk in desks], "the pump"), "draft.yaml")


def behind(area, name):
    return [ref.name for ref in area.items[name].base.behind]


def test_what_was_logged_is_what_the_file_says(desk):
    """Fasteners with count, size and torque, the target that was renewed, needs from the order."""
    brake_job(desk)
    area = area_of(desk)
    bolts = area.items["pump bolts"].fastener
    assert area.targets[0].name.name == "pump"
    assert (bolts.count, bolts.torque.text, bolts.source) == (4, "22 N·m", "logged")
    assert area.items["pump bolts"].owner == "pump" and area.items["cover screws"].owner == "cover"
    assert behind(area, "duct") == ["cover"] and behind(area, "pump") == ["pump plug"]


def test_its_minutes_are_those_that_were_taken(desk):
    """A minute between two events; the screws count with their part."""
    brake_job(desk)
    assert "duct:" in (text := area_of_jobs([desk.look()], "x")) and "minutes: 2 off, 2 on   # taken" in text


def test_a_second_job_in_another_order_loosens_a_need(desk, tmp_path):
    """What stood before something in one job and behind it in the other hides nothing."""
    brake_job(desk)
    with Desk(_new(tmp_path / "two")) as other:
        other.open("", name="again")
        brake_job(other, first="duct", second="cover")
        merged = area_of(desk, other)
    assert behind(merged, "duct") == [] and behind(merged, "cover") == []
    assert "cover" in behind(merged, "pump plug") or "cover" in behind(merged, "pump")


def test_a_job_told_in_words_drafts_the_same_way(desk):
    """Dictation, log, area: nobody types anything twice."""
    for words in ("Tray off, seven 10 mm screws.", "Sensor unplugged.", "Pump out, three 13 mm bolts.", "Pump back in, bolts 22 Nm.",
                  "Sensor plugged in, it clicked.", "Tray on, screws 7 Nm."):  # fmt: skip
        say_words(desk.ledger, desk.job, desk.stamp, words, "1")
    area = area_of(desk)
    assert area.items["tray screws"].fastener.count == 7 and behind(area, "pump") == ["sensor"]


def test_a_described_car_and_a_job_without_work_are_refused(desk, tmp_path):
    """Each with what to do instead."""
    with pytest.raises(InputError, match="nothing came off"):
        area_of(desk)
    with Desk(_new(tmp_path / "a")) as other:
        other.open("a")
        with pytest.raises(InputError, match="proposals"):
            area_of(other)


@pytest.mark.parametrize("seed", range(25))
def test_drafts_of_random_jobs_check_plan_and_take_their_own_order(seed, tmp_path):
    """Whatever things are called, whichever lies within which."""
    rng = Random(seed)
    course = undescribed_course(rng)
    with open_ledger(str(tmp_path / "x.ledger")) as ledger:
        ledger.append([row.event for row in tell(course, rng)])
        view = look(ledger, JOB)
    text = area_of_jobs([view], "drafted")
    assert check_files({"draft.yaml": text.encode()}, None) == []
    area = read_area(text, "draft.yaml")
    task = make_task(area, full_shop(area, []))
    order = read_order(order_of_job(view, "own").encode(), "order.yaml", task.area)
    priced = price_order(task, order, clock=perf_counter, seconds=5.0)
    assert priced.points == () and priced.sheet.minutes >= priced.best.minutes > 0
