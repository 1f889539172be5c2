"""The record of a job."""

import json
from pathlib import Path

from log import Log, demo_area, demo_shop

from putback.job.car import Car
from putback.job.record import record

PAGE = Path(__file__).parents[2] / "docs" / "job-record.md"


def told(log: Log, **more) -> dict:
    state = log.state
    return record(state, Car(log.area, log.shop, state.variants), **more)


def full() -> Log:
    """Demo A with something of everything in its log."""
    log = Log(demo_area("a"), demo_shop(), targets=["alternator"])
    log.say("intake noted", complaint="lamp on", kilometres=48210, lamps_on=["charge"], audio_code="1234")
    log.say("role given", who="technician 2", role="apprentice")
    log.say("plan made", plan="0" * 64, money=70000, minutes=255)
    spent = {"spent_money": 30000, "spent_minutes": 80}
    log.say("plan made", plan="1" * 64, money=50000, minutes=200, why="a nut is seized", **spent)
    log.say("reading taken", what="voltage at the stud", value=12.2, unit="V", when="before", good=False)
    log.off("wheel bolts", 4)
    log.moved("left front wheel", "off", note="scratch on the rim")
    log.moved("engine support", "in", way="support bar")
    log.say("fluid drained", fluid="coolant", litres=0.2)
    log.say("fluid filled", fluid="coolant", litres=0.2)
    log.say("difference found", item="left mount nuts", what="seized", note="turns")
    log.say("consent given", to_what="the other way", by="the customer", total=80000, how="by phone")
    log.say("part ordered", part="alternator", count=1)
    compared = {"old": {"pulley ribs": "7"}, "new": {"pulley ribs": "6"}, "accepted": {"pulley ribs": "x"}}
    log.say("part compared", part="alternator", **compared)
    log.say("part swapped", part="alternator")
    log.off("front subframe bolts", 2, tray="4a")
    log.on("front subframe bolts", 2, 92, angle=90, new=True, passes=2, wrench="long wrench", _by="technician 2")
    log.say("hold point released", item="front subframe bolts", _by="technician 1")
    log.moved("left front wheel", "fitted")
    log.on("wheel bolts", 4, 104, passes=2, in_order=True)
    log.say("work done", work="re-check the wheel bolts after 80 km", result="offered, accepted")
    log.say("reading taken", what="voltage at the stud", value=14.4, unit="V", when="after", good=True)
    log.say("file added", hash="a" * 64, name="rim.jpg", type="image/jpeg", item="left front wheel")
    log.say("point accepted", point="x", reason="y", by="technician 1")
    log.say("job paused")
    log.say("job resumed")
    log.say("hand-over refused", reasons=["something"])
    log.say("hand-over signed", by="technician 1", customer="the customer")
    return log


def test_every_fastener_has_its_value_its_evidence_and_its_person():
    """Story 32: the next man reads who closed what to which torque, new or old, and who released it."""
    by_item = {one["item"]: one for one in told(full())["fasteners"]}
    front = by_item["front subframe bolts"]

    assert (front["count"], front["of"], front["torque_nm"], front["angle_deg"], front["new"]) == (2, 2, 92, 90, True)
    assert (front["person"], front["released_by"], front["wrench"]) == ("technician 2", "technician 1", "long wrench")
    assert front["thread"] == "M14x1.5x112" and front["asked"] == "92 N·m + 90°" and front["part"] == "subframe"
    assert by_item["wheel bolts"]["evidence"] == "clicked at the setting" and by_item["wheel bolts"]["in_order"]
    assert "short tray screws" not in by_item


def test_the_wheel_slip_is_due_eighty_kilometres_on():
    """Story 28, trap 66: in at 48 210 km, due at 48 290 km with 104 N·m, and what the customer said."""
    assert told(full())["slips"] == [{
        "what": "re-check the wheel bolts after 80 km",
        "at_kilometres": 48290,
        "fasteners": [{"item": "wheel bolts", "count": 4, "asked": "104 N·m in 2 passes"}],
        "answer": "offered, accepted",
    }]  # fmt: skip


def test_readings_stand_before_against_after():
    """Trap 33: the figure that condemned the part beside the one that proves the repair."""
    reading = told(full())["readings"][0]
    assert (reading["before"]["value"], reading["after"]["value"]) == (12.2, 14.4)
    assert reading["before"]["good"] is False and reading["after"]["good"] is True


def test_a_mismatch_that_was_accepted_says_so():
    """Trap 64: with the reason; what nobody compared has no value."""
    found = {one["feature"]: one for one in told(full())["match"]}
    assert found["pulley ribs"]["fits"] is False and found["pulley ribs"]["accepted"] == "x"
    assert found["B+ stud"]["new"] is None and found["B+ stud"]["fits"] is None


def test_plans_are_told_for_the_whole_job():
    """What was done before counts; money in currency units."""
    assert told(full())["way"]["plans"] == [
        {"minutes": 255, "money": 700.0, "why": None},
        {"minutes": 280, "money": 800.0, "why": "a nut is seized"},
    ]
    assert {"part": "engine support", "way": "support bar"} in told(full())["way"]["taken"]


def test_the_audio_code_is_not_handed_out():
    """Whoever holds the paper could use it."""
    intake = told(full())["intake"]
    assert intake["audio_code_noted"] and "1234" not in json.dumps(told(full()))


def test_the_signature_carries_the_hash():
    """Against later tampering; a draft has none."""
    assert told(full(), hash="f" * 64)["signature"]["hash"] == "f" * 64
    assert told(Log())["signature"] is None


def test_a_car_that_nobody_described_has_a_record_as_well():
    """By the names and sizes that were logged."""
    log = Log()
    log.off("bracket bolts", 2, size="13 mm", belongs_to="bracket")
    log.on("bracket bolts", 2, 20)
    fastener = told(log)["fasteners"][0]
    assert (fastener["thread"], fastener["part"], fastener["torque_nm"]) == ("13 mm", "bracket", 20)


def test_every_key_is_taught():
    """Nobody has to guess; and the record is plain JSON."""
    page = PAGE.read_text(encoding="utf-8")
    assert [key for key in dict.fromkeys(_keys(json.loads(json.dumps(told(full()))))) if f"`{key}`" not in page] == []


def _keys(value):
    if isinstance(value, dict):
        for key, inner in value.items():
            yield key
            yield from _keys(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _keys(inner)
