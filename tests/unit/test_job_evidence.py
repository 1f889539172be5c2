"""Readings in a job: they hold the car shut until the part is condemned, and prove the repair afterwards.

Traps of the trade, each named at its test: common practice, no source, unless a test says otherwise.
"""

import pytest
from job_play import Played, demo_plan, when
from log import Log, demo_area, demo_shop

from putback.errors import InputError
from putback.job.car import Car
from putback.job.guards import stops
from putback.job.kinds import check
from putback.job.record import record
from putback.job.step import WAY_IN

NOT_YET = {
    "model": "charging", "verdict": "not yet", "action": "alternator", "share": 0.7,
    "why": ["not yet read: positive_drop_v, ground_drop_v"], "missing": ["positive_drop_v", "ground_drop_v"],
}  # fmt: skip
GO = {"model": "charging", "verdict": "go", "action": "alternator", "share": 0.97}
PROOF = {"stud_v_2000_loaded": "14.2 to 14.7 V", "positive_drop_v": "at most 0.2 V"}


def weighed(**more):
    """A job on demo A whose suspects were weighed."""
    log = Log(demo_area(), demo_shop(), targets=["alternator"])
    log.say("suspects weighed", **{name.replace(" ", "_"): value for name, value in more.items()})
    return log


def against(log, kind="fasteners off", **data):
    """What speaks against an event; against the first fastener when none is named."""
    data = {name.replace("_", " "): value for name, value in data.items()}
    data = data or {"item": "cover clips", "count": 4, "to": "back in their holes"}
    found = stops(log.state, Car(log.area, log.shop), [(kind, data)], when(30))
    return {stop.key: stop for stop in found}


def test_trap_22_a_teardown_before_the_readings_is_held_and_what_is_missing_is_named():
    """Before the first thing comes off, softly: facts are kept, and somebody may take it on himself."""
    stop = against(weighed(**NOT_YET))["suspects"]

    assert not stop.hard
    assert stop.text.startswith("the readings do not condemn alternator yet (alternator, 70% likely)")
    assert "positive_drop_v" in stop.text


def test_trap_22_an_order_before_the_readings_is_held_as_well():
    """The part itself; anything else may be ordered."""
    log = weighed(**NOT_YET)

    assert "suspects" in against(log, "part ordered", part="alternator", count=1)
    assert "suspects" not in against(log, "part ordered", part="push pins", count=4)


def test_a_part_that_the_readings_clear_is_not_reached():
    """The verdict names what they point at in its place."""
    cleared = NOT_YET | {"verdict": "not this part", "action": "positive path", "share": 0.96}
    stop = against(weighed(**cleared))["suspects"]

    assert stop.text.startswith("the readings clear alternator: positive path, 96% likely")


@pytest.mark.parametrize("last", [GO, None])
def test_nothing_is_held_once_the_part_is_condemned_or_where_nothing_was_weighed(last):
    """The last weighing counts."""
    log = weighed(**NOT_YET) if last else Log(demo_area(), demo_shop(), targets=["alternator"])
    if last:
        log.say("suspects weighed", **last)

    assert "suspects" not in against(log)


def test_who_goes_on_all_the_same_is_asked_again_when_the_suspects_were_weighed_anew():
    """His reason held for what was known then."""
    log = weighed(**NOT_YET)
    log.say("point accepted", point="suspects", reason="recall of this part", by="supervisor 1")
    assert "suspects" not in against(log)
    log.say("suspects weighed", **NOT_YET)

    assert "suspects" in against(log)


def test_what_has_to_come_off_for_a_reading_is_not_held():
    """The wheel and its bolts, where the stud lies behind them; the cover is."""
    log = weighed(**NOT_YET, **{"behind": {"stud_v_engine_off": "charge cable"}, "open first": ["left front wheel"]})

    assert "suspects" not in against(log, "fasteners loosened", item="wheel bolts", count=4)
    assert "suspects" in against(log)


def played(letter="b", **said):
    """A job on a demo car, its suspects weighed."""
    game = Played(letter, plan=demo_plan(letter))
    game.log.say("suspects weighed", **{name.replace(" ", "_"): value for name, value in said.items()})
    return game


BEHIND = {
    "model": "starter", "verdict": "not yet", "action": "starter", "missing": ["stud_v"],
    "behind": {"stud_v": "starter cable"}, "open first": ["undertray", "exhaust section", "cooler-line bracket"],
}  # fmt: skip


def test_a_reading_behind_parts_is_a_stop_in_the_steps():
    """What leads to it comes first, the battery is still on, and all the rest waits for the reading."""
    keys = [step for step in played(**BEHIND).steps() if step.phase == WAY_IN]
    place = next(n for n, step in enumerate(keys) if step.key == "measure: stud_v")
    before = {step.part for step in keys[:place] if step.part}  # raising the car is of no part

    assert keys[place].text == "measure here before going on: stud_v, at the starter cable; the order waits"
    assert keys[place].asks == "reading taken"
    assert before == {"undertray", "exhaust section", "cooler-line bracket"}
    assert "battery clamp" in {step.part for step in keys[place + 1 :]}


def test_the_stop_is_gone_when_the_reading_was_taken_or_the_part_is_condemned():
    """Nothing else of the way changes."""
    game = played(**BEHIND)
    game.log.say("reading taken", what="stud_v", value=11.8, unit="V")
    assert "measure: stud_v" not in [step.key for step in game.steps()]
    game.log.say("suspects weighed", model="starter", verdict="go", action="starter")

    assert [step.key for step in game.steps()] == [step.key for step in played("b", **GO).steps()]


def test_readings_that_are_missing_stand_before_the_work():
    """Before parts are ordered, as a step that one tap does not close; not where all of them lie behind parts."""
    steps = played("a", **NOT_YET).steps()
    step = next(step for step in steps if step.key == "readings")
    assert [step.key for step in steps][:3] == ["intake", "readings", "work: readings before"]

    assert "positive_drop_v" in step.text
    assert (step.asks, step.closes) == ("reading taken", ())
    assert "readings" not in [step.key for step in played(**BEHIND).steps()]
    assert "readings" not in [step.key for step in played("a", **GO).steps()]


def swapped():
    """A condemned alternator, and the new one in; nothing else is told."""
    log = weighed(**GO, limits=PROOF)
    log.say("reading taken", what="stud_v_2000_loaded", value=12.2, unit="V", good=False)
    log.say("part swapped", part="alternator")
    return log


def test_trap_33_readings_that_condemned_the_part_are_taken_again():
    """Missing ones bar the hand-over, each by its name."""
    points = swapped().points()

    assert {"not read again: stud_v_2000_loaded", "not read again: positive_drop_v"} <= set(points)


def test_trap_33_a_reading_after_the_repair_keeps_within_the_limit_for_proof():
    """Failing it bars the hand-over and names the limit; one that nobody judged is asked about; a good one is fine."""
    log = swapped()
    log.say("reading taken", what="positive_drop_v", value=0.31, unit="V", good=False)
    assert log.points()["failing: positive_drop_v"] == "failing: positive_drop_v, 0.31 V, wanted at most 0.2 V"
    log.say("reading taken", what="positive_drop_v", value=0.12, unit="V")
    assert "nobody has said whether it is" in log.points()["not held against its limit: positive_drop_v"]
    log.say("reading taken", what="positive_drop_v", value=0.12, unit="V", good=True)
    log.say("reading taken", what="stud_v_2000_loaded", value=14.5, unit="V", good=True)

    assert not [key for key in log.points() if "positive_drop_v" in key or "stud_v" in key]


def test_readings_held_against_their_limits_count_as_judged():
    """Bad whatever somebody said of it; good where nobody said anything; a later reading is judged anew."""
    log = swapped()
    log.say("reading taken", what="positive_drop_v", value=0.31, unit="V", good=True)
    log.say("reading taken", what="stud_v_2000_loaded", value=14.5, unit="V")
    log.say("reading taken", what="ripple", value=40, unit="mV", good=False)
    log.say("readings judged", model="charging", good=["stud_v_2000_loaded", "ripple"], bad=["positive_drop_v"])
    assert "failing: ripple" in log.points()  # whoever calls it bad has his reason
    assert [key for key in log.points() if "drop_v" in key or "stud_v" in key] == ["failing: positive_drop_v"]
    log.say("reading taken", what="positive_drop_v", value=0.1, unit="V")

    assert "not held against its limit: positive_drop_v" in log.points()


def test_trap_31_a_lamp_that_stays_on_after_the_repair_bars_the_hand_over():
    """A word is a reading like a figure."""
    log = weighed(**GO, limits={"lamp_running": "off"})
    log.say("part swapped", part="alternator")
    log.say("reading taken", what="lamp_running", word="on", good=False)

    assert log.points()["failing: lamp_running"] == "failing: lamp_running, on, wanted off"


def test_what_condemned_the_old_part_stays_as_it_was():
    """Weighing again after the swap changes nothing of it."""
    log = swapped()
    log.say("suspects weighed", model="charging", verdict="not yet", action="nothing found")

    assert log.state.weighed["verdict"] == "go"


def test_the_record_has_before_against_after_with_the_limit():
    """One row a reading."""
    log = swapped()
    log.say("reading taken", what="stud_v_2000_loaded", value=14.5, unit="V", good=True)
    row = record(log.state, Car(log.area, log.shop))["readings"][0]

    assert (row["before"]["value"], row["after"]["value"], row["wanted"]) == (12.2, 14.5, "14.2 to 14.7 V")


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ({"what": "belt"}, 'the "word" that was seen'),
        ({"what": "rest", "value": 12.1}, 'a "value" and its "unit" go together'),
        ({"what": "rest", "unit": "V", "word": "fine"}, 'a "value" and its "unit" go together'),
    ],
)
def test_a_reading_is_a_figure_with_its_unit_or_a_word(data, says):
    """Anything else is refused in one sentence."""
    with pytest.raises(InputError, match=says):
        check("reading taken", data)
    check("reading taken", {"what": "belt", "word": "glazed"})
