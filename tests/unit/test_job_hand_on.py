"""The sheet for whoever takes a job over."""

from log import Log, demo_area

from putback.job.audit import audit
from putback.job.car import Car
from putback.job.hand_on import Fasteners, Tray, facts, hand_on_sheet

NOW = "2026-03-02T09:30:00.000Z"


def sheet(log: Log, **more):
    state = log.state
    return hand_on_sheet(state, Car(log.area, None, state.variants), audit(state, log.area), NOW, **more)


def keys(log: Log) -> list[str]:
    state = log.state
    return [fact.key for fact in facts(state, Car(log.area, None, state.variants))]


def as_far_as_the_belt() -> Log:
    """Demo A up to the belt, every fastener logged to its tray."""
    log = Log(demo_area("a"), targets=["alternator"])
    log.off("clamp nut", 1, tray="1a")
    log.moved("battery clamp", "off", _at=162)
    log.say("car moved", posture="on a lift")
    for item, count, tray, part, state in (
        ("wheel bolts", 4, "1b", "left front wheel", "off"), ("short tray screws", 7, "2a", "", ""),
        ("long tray screws", 2, "2b", "undertray", "off"), ("liner screws", 6, "3a", "", ""),
        ("push pins", 4, "3b", "wheel-arch liner", "off"),
    ):  # fmt: skip
        log.off(item, count, tray=tray)
        if part:
            log.moved(part, state)
    log.moved("tensioner pin", "in")
    log.moved("belt", "off")
    return log


def test_half_a_job_fits_on_one_sheet():
    """Story 9: belt pinned, wheel off, 24 fasteners out, nothing drained, battery off since 10:42, trays 1 to 3."""
    told = sheet(as_far_as_the_belt())

    assert sum(one.count for one in told.out) == 24
    assert told.battery == "the battery is off since 10:42 UTC (battery clamp)"
    assert told.put_in == ("tensioner pin: 4.5 mm pin that holds the tensioner back",)
    assert "left front wheel: off" in told.off and "belt: off" in told.off
    assert told.drained == () and told.posture == "on a lift"
    assert [tray.position for tray in told.trays] == ["1a", "1b", "2a", "2b", "3a", "3b"]
    assert Tray("2a", (("short tray screws", 7),)) in told.trays
    assert Fasteners("wheel bolts", 4, 4, "1b") in told.out


def test_the_facts_are_three_the_most_dangerous_first():
    """Story 9: how the car stands, the pin under tension, the battery; always the same three for the same state."""
    log = as_far_as_the_belt()
    assert keys(log) == ["posture", "tension: tensioner pin", "battery"]
    assert keys(log) == keys(as_far_as_the_belt())


def test_who_is_under_the_car_goes_before_everything():
    """Trap 40: then the engine that runs, then what hangs on something."""
    log = Log(demo_area("a"))
    log.moved("engine support", "in", way="support bar")
    log.moved("left engine mount", "off")
    log.say("car moved", posture="on a lift")
    log.say("person went under", who="technician 2")
    log.say("engine ran", what="started")

    assert keys(log) == ["under: technician 2", "engine", "held: engine support"]
    assert sheet(log).held == ("the left engine mount hangs on the engine support (support bar)",)
    assert sheet(log).under == ("technician 2, since 08:05 UTC",)


def test_what_is_in_by_hand_is_told_apart_from_what_is_out():
    """Trap 68: the hand-tight list."""
    log = Log(demo_area("a"))
    log.off("wheel bolts", 4)
    log.say("fasteners on", item="wheel bolts", count=4, new=False, evidence="hand-tight")
    told = sheet(log)
    assert told.loose == (Fasteners("wheel bolts", 4, 4, "left front wheel"),) and told.out == ()
    assert keys(log)[0] == "loose: wheel bolts"


def test_a_load_that_hangs_on_nothing_is_said():
    """Trap 36: a subframe down with no table logged."""
    log = Log(demo_area("a"))
    log.moved("subframe", "lowered 65 mm")
    assert sheet(log).held == ("the subframe hangs on nothing that was logged",)


def test_waits_fluids_rags_differences_and_questions_are_told():
    """What a page would not show is forgotten by the next one."""
    log = Log(demo_area("c"))
    log.moved("battery clamp", "off", _at=85)
    log.say("fluid drained", fluid="coolant", litres=2.2)
    log.say("fluid filled", fluid="coolant", litres=1)
    log.say("thing put in", what="rag", name="clean rag", where="duct", count=2)
    log.say("difference found", item="glove box", what="broken", note="hinge cracked")
    told = sheet(log, last=("battery clamp: off",), step_now="open the glove box")

    assert told.waits == ("5 min to wait after the battery clamp",)  # 10 min from 9:25, and it is 9:30
    assert told.drained == ("1.2 l coolant out",)
    assert "2 x clean rag (rag): duct" in told.put_in
    assert told.differences == ("glove box: broken (hinge cracked)",)
    assert any("glove box" in question for question in told.questions)
    assert told.last == ("battery clamp: off",) and told.next == "open the glove box"


def test_a_job_hardly_begun_still_has_three_facts():
    """There is always something to look at."""
    log = Log()
    assert [fact.text for fact in facts(log.state, Car(None, None))] == [
        "no fastener is out", "nothing is off", "nothing has been done yet",
    ]  # fmt: skip


def test_a_car_that_nobody_described_is_told_by_its_log():
    """Own names, and the battery by its name."""
    log = Log()
    log.moved("battery cable", "off", _at=30)
    log.say("fasteners off", item="bracket bolts", count=2, to="tray", tray_position="10", belongs_to="bracket")
    log.say("fasteners off", item="cover screws", count=5, to="tray", tray_position="9")
    told = sheet(log)
    assert told.battery == "the battery is off since 08:30 UTC (battery cable)"
    assert [tray.position for tray in told.trays] == ["9", "10"]


def test_a_bare_live_end_is_a_fact_while_the_battery_is_on():
    """Trap 42: before how the car stands; with the battery off it is only told."""
    log = Log(demo_area("a"))
    log.say("car moved", posture="on a lift")
    log.moved("charge cable", "off")
    assert keys(log)[0] == "live: charge cable" and sheet(log).live == ("charge cable",)
    log.moved("battery clamp", "off")
    assert keys(log)[0] == "posture" and sheet(log).live == ("charge cable",)
