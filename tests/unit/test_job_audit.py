"""What stands open at the end of a job, point by point."""

import pytest
from area_samples import area
from log import Log, demo_area, demo_shop

from putback.job.audit import audit, bars


def job(letter: str = "a", **opened) -> Log:
    return Log(demo_area(letter), demo_shop(), **opened)


def keys(log: Log) -> set[str]:
    """What stands open, without the work that every job of the area has."""
    return {key for key in log.points() if not key.startswith("not done: ")}


def closed(item: str, count: int, torque: float, letter: str = "a", **more) -> set[str]:
    """What stands open of a group that came off and went on again."""
    log = job(letter)
    log.off(item, count)
    log.on(item, count, torque, **more)
    return keys(log) - {"owed: re-check the wheel bolts after 80 km"}


def test_a_fastener_left_out_is_named_with_its_thread_and_its_tray():
    """Who reads it finds the bolt and its hole."""
    log = job()
    log.off("lower alternator bolt", 1, tray="4b")
    (text,) = (text for key, text in log.points().items() if key.startswith("out: "))
    assert text == "1 of 1 out: lower alternator bolt, M8x1.25x82, behind the compressor (1 in 4b)"


def test_a_fastener_closed_as_asked_leaves_nothing_open():
    """The torque of the file, on a new one where one is asked for."""
    assert closed("idler bolt", 1, 43) == set()
    assert closed("left mount nuts", 2, 77, new=True) == set()


@pytest.mark.parametrize(
    ("torque", "open_"), [(43 * 0.95, {"torque: idler bolt"}), (43 * 0.96, set()), (43 * 1.04, set()), (43 * 1.05, {"torque: idler bolt"})]
)
def test_a_torque_is_what_was_asked_for_within_what_a_wrench_can_do(torque, open_):
    """4 % above 10 N·m (ISO 6789-1:2017, from memory): below, at, at, above."""
    assert closed("idler bolt", 1, torque) == open_


def test_an_old_one_used_again_is_open_until_somebody_answers_for_it():
    """By name and with a reason, and then it stands on the record."""
    log = job()
    log.off("left mount nuts", 2)
    log.on("left mount nuts", 2, 77)
    assert "old one: left mount nuts" in log.points()
    log.say("point accepted", point="old one: left mount nuts", reason="none to be had before Monday", by="the foreman")
    (point,) = (point for point in audit(log.state, log.area) if point.key == "old one: left mount nuts")
    assert not bars(point) and "the foreman: none to be had" in point.text


def test_what_is_out_cannot_be_accepted():
    """No name and no reason let a car go with a bolt missing."""
    log = job()
    log.off("idler bolt", 1)
    log.say("point accepted", point="out: idler bolt", reason="customer waits", by="the foreman")
    assert any(bars(point) for point in audit(log.state, log.area) if point.key == "out: idler bolt")


def test_a_torque_without_its_angle_is_open():
    """85 of 90 degrees will do, which is what can be read off; 84 will not."""
    assert closed("front subframe bolts", 2, 92, new=True) == {"angle: front subframe bolts", "owed: check the wheel alignment"} - {
        "owed: check the wheel alignment"
    }
    assert closed("front subframe bolts", 2, 92, new=True, angle=85) == set()
    assert "angle: front subframe bolts" in closed("front subframe bolts", 2, 92, new=True, angle=84)


def test_wheel_bolts_want_their_passes_their_pattern_and_the_ground():
    """Each is asked for by itself."""
    log = job()
    log.off("wheel bolts", 4)
    log.say("car moved", posture="on a lift")
    log.on("wheel bolts", 4, 104)
    assert {"passes: wheel bolts", "pattern: wheel bolts", "on the ground: wheel bolts", "posture"} <= keys(log)
    log.say("car moved", posture="on the ground")
    log.say("fasteners tightened", item="wheel bolts", count=4, evidence="value read", torque=104, passes=2, in_order=True)
    assert keys(log) == set()


def test_two_lengths_of_one_thread_want_to_be_told_apart():
    """The long one in the short hole touches what it must not."""
    assert "where: long tray screws" in closed("long tray screws", 2, 7)
    assert closed("long tray screws", 2, 7, at="rear edge only") == set()


def test_what_is_tightened_after_something_else_keeps_that_order():
    """The bush is pulled by the upper bolt; the lower one waits for it."""
    log = job()
    log.off("lower alternator bolt", 1)
    log.off("upper alternator bolt", 1)
    log.on("lower alternator bolt", 1, 24)
    log.on("upper alternator bolt", 1, 46)
    assert "order: lower alternator bolt, upper alternator bolt" in log.points()


def test_a_plug_that_nobody_pulled_at_is_open():
    """Plugged is not clicked."""
    log = job()
    log.moved("airflow sensor plug", "unplugged")
    assert "away: airflow sensor plug" in log.points()
    log.moved("airflow sensor plug", "plugged")
    assert "not confirmed: airflow sensor plug" in log.points()
    log.moved("airflow sensor plug", "plugged", confirmed="clicked")
    assert keys(log) == set()


def test_what_is_still_in_is_open():
    """The pin in the tensioner, the cap on the throttle."""
    log = job()
    log.moved("tensioner pin", "in")
    assert log.points()["away: tensioner pin"] == "tensioner pin: still in"


def test_paint_marks_may_stay():
    """They are put there to stay."""
    log = job()
    log.moved("subframe marks", "marked")
    assert keys(log) == set()


def test_a_part_that_uses_something_up_wants_it_new():
    """The belt, the shaft's seal and its circlip."""
    log = job()
    log.moved("belt", "off")
    log.moved("belt", "on")
    assert "no new part: belt, belt" in log.points()


def test_a_fluid_that_ran_out_is_owed_even_if_nobody_measured_it():
    """The area knows how much it is."""
    log = job("a")
    log.moved("left drive shaft", "off")
    assert "0.7 l missing" in log.points()["fluid: gearbox oil"]


@pytest.mark.parametrize(("back", "open_"), [(1.99, True), (2.0, False), (2.2, False), (2.4, False), (2.41, True)])
def test_fluids_balance_within_two_tenths_of_a_litre(back, open_):
    """2.2 l came out (common practice, no source for the limit)."""
    log = job("b")
    log.say("fluid drained", fluid="coolant", litres=2.2)
    log.say("fluid filled", fluid="coolant", litres=back)
    assert ("fluid: coolant" in log.points()) is open_


def test_caps_and_rags_are_counted():
    """Six went in, five came out."""
    log = Log()
    log.say("thing put in", what="rag", name="clean rag", where="intake ports", count=6)
    log.say("thing taken out", what="rag", name="clean rag", where="intake ports", count=5)
    assert log.points()["left in: rag, clean rag, intake ports"].startswith("1 x clean rag")


def test_follow_ups_are_owed_until_they_are_done_after_the_move():
    """An alignment before the subframe came down is worth nothing."""
    log = job()
    log.say("work done", work="check the wheel alignment")
    log.moved("subframe", "lowered 65 mm")
    assert "owed: check the wheel alignment" in log.points()
    log.say("work done", work="check the wheel alignment")
    assert "owed: check the wheel alignment" not in log.points()


def test_the_new_part_is_compared_before_it_counts_as_swapped():
    """The plug's key at eight o'clock is the wrong unit; "looks the same" is no value."""
    log = job(targets=["alternator"])
    good = dict(demo_area("a").match)
    log.say("part compared", part="alternator", old={}, new=good | {"control plug": "3-pin, key at 8 o'clock", "pulley ribs": "looks the same"})
    log.say("part swapped", part="alternator")
    assert "pulley ribs" in log.points()["not compared: alternator"]
    assert "mismatch: alternator, control plug" in log.points()
    log.say("part compared", part="alternator", old={}, new=good)
    assert keys(log) == set()


def test_a_person_under_the_car_bars_the_hand_over():
    """Whoever it is, until he is reported clear."""
    log = Log()
    log.say("person went under", who="technician 2")
    assert "under: technician 2" in log.points()
    log.say("person came clear", who="technician 2")
    assert log.points() == {}


def test_an_apprentice_needs_another_to_release_a_hold_point():
    """Not himself, not another apprentice, not before he closed it; nor does another title for him."""
    log = job()
    log.say("role given", who="apprentice 1", role="apprentice")
    log.off("front subframe bolts", 2)
    log.say("hold point released", item="front subframe bolts")
    log.on("front subframe bolts", 2, 92, new=True, angle=90, _by="apprentice 1")
    log.say("hold point released", item="front subframe bolts", _by="apprentice 1")
    assert "hold point: front subframe bolts" in log.points()
    log.say("role given", who="apprentice 1", role="technician")
    assert "hold point: front subframe bolts" in log.points()
    log.say("hold point released", item="front subframe bolts", _by="technician 1")
    assert "hold point: front subframe bolts" not in log.points()


def test_a_plan_above_what_was_agreed_needs_consent():
    """To that sum or more."""
    log = Log(cap=76000)
    log.say("plan made", plan="0" * 64, money=80000)
    assert "consent" in log.points()
    log.say("consent given", to_what="the way over the subframe", by="the customer", total=80000)
    assert "consent" not in log.points()


def test_a_failing_reading_is_open_until_it_passes():
    """The last one of its kind counts."""
    log = Log()
    log.say("reading taken", what="stud voltage", value=12.2, unit="V", when="after", good=False)
    assert "failing: stud voltage" in log.points()
    log.say("reading taken", what="stud voltage", value=14.4, unit="V", when="after", good=True)
    assert log.points() == {}


def test_a_wrench_out_of_its_calibration_is_told_and_bars_nothing():
    """The demo's large wrench was calibrated in September 2026."""
    log = job()
    log.off("idler bolt", 1)
    log.on("idler bolt", 1, 43, wrench="large wrench", _at=60 * 24 * 600)
    (point,) = (point for point in audit(log.state, log.area, log.shop) if point.kind == "calibration")
    assert not bars(point)


def test_seized_and_broken_want_to_know_how_it_was_put_right():
    """And what is not fitted on this car is asked for no more."""
    log = job()
    log.say("difference found", item="link nut", what="seized")
    log.say("difference found", item="push pins", what="not fitted")
    assert keys(log) == {"seized: link nut", "not fitted: push pins"}
    log.say("difference settled", item="link nut", how="cut off and renewed")
    assert "cut off and renewed" in log.points()["seized: link nut"]


def test_what_lies_in_a_tray_was_fitted():
    """Nobody explains a left-over away as not fitted; only what was never said to be off may be missing."""
    log = job()
    log.off("push pins", 3)
    log.say("difference found", item="push pins", what="not fitted")
    assert {"out: push pins", "conflict: push pins, 2+3"} <= keys(log)
    log.say("fasteners on", item="push pins", count=3, new=True, evidence="seated")
    assert keys(log) == {"not fitted: push pins"}


@pytest.mark.parametrize("area", (None, demo_area("a")))
def test_a_part_that_somebody_has_taken_off_was_fitted(area):
    """On a car nobody described, and for a described part: it stays away, and both reports are shown."""
    log = Log(area)
    log.moved("wheel-arch liner", "off")
    log.say("difference found", item="wheel-arch liner", what="not fitted")
    assert {"away: wheel-arch liner", "conflict: wheel-arch liner, 2+3"} <= keys(log)


def test_bolts_of_an_undescribed_car_that_lie_in_a_tray_were_fitted():
    """They stay out, and the contradiction is shown until they are in."""
    log = Log()
    log.off("bracket bolts", 3)
    log.say("difference found", item="bracket bolts", what="not fitted")
    assert {"out: bracket bolts", "conflict: bracket bolts, 2+3"} <= keys(log)
    log.on("bracket bolts", 3, 20)
    assert keys(log) == {"not fitted: bracket bolts"}


def test_one_that_is_missing_from_the_start_is_not_asked_for():
    """The other three are; and whoever puts a tool on what was called missing knows better."""
    log = job()
    log.say("difference found", item="push pins", what="not fitted", count=1)
    log.moved("wheel-arch liner", "off")
    assert log.points()["out: push pins"].startswith("3 of 3 out")
    log.say("difference found", item="idler bolt", what="not fitted")
    log.off("idler bolt", 1)
    assert "out: idler bolt" in keys(log)


def test_one_more_than_the_file_says_has_to_go_back_as_well():
    """Five came off where the file has four: four on leave one in the tray."""
    log = job()
    log.off("push pins", 5)
    log.say("fasteners on", item="push pins", count=4, new=True, evidence="seated")
    assert log.points()["out: push pins"].startswith("1 of 5 out")


@pytest.mark.parametrize(("torques", "open_"), [((23,), True), ((16, 23), True), ((8, 16, 23), False)])
def test_passes_told_one_by_one_add_up(torques, open_):
    """A higher torque is one more pass; a look at it afterwards is none."""
    log = job("b")
    log.off("manifold bolts", 10)
    log.on("manifold bolts", 10, torques[0], in_order=True)
    for torque in (*torques[1:], torques[-1]):
        log.say("fasteners tightened", item="manifold bolts", count=10, evidence="value read", torque=torque)
    assert ("passes: manifold bolts" in keys(log)) is open_


def test_a_stretch_bolt_turned_twice_is_an_old_one():
    """Torque and angle once more cannot be without loosening it; the same said by a colleague is the same turn."""
    log = job()
    log.off("front subframe bolts", 2)
    log.on("front subframe bolts", 2, 92, new=True, angle=90)
    turn = {"item": "front subframe bolts", "count": 2, "evidence": "value read", "torque": 92, "angle": 90}
    log.say("fasteners tightened", _by="technician 2", **turn)
    assert "old one: front subframe bolts" not in keys(log)
    log.say("fasteners tightened", _by="technician 2", **turn)
    assert "old one: front subframe bolts" in keys(log)


def test_what_belongs_after_a_part_waits_for_its_fasteners_too():
    """The torque rod is tightened with the engine at rest, which it is not before the mount's nuts are tight."""
    log = job()
    log.moved("left engine mount", "off")
    log.off("torque-rod bolt", 1)
    log.moved("left engine mount", "fitted")
    log.on("torque-rod bolt", 1, 112)
    log.on("mount-to-body bolts", 3, 58)
    assert "order: torque-rod bolt, left engine mount" in keys(log)
    log.on("left mount nuts", 2, 77, new=True)
    log.say("fasteners loosened", item="torque-rod bolt", count=1)
    log.say("fasteners tightened", item="torque-rod bolt", count=1, evidence="value read", torque=112)
    log.say("fasteners tightened", item="mount-to-body bolts", count=3, evidence="value read", torque=58)  # looked after
    assert "order: torque-rod bolt, left engine mount" not in keys(log)


def test_current_comes_last():
    """A clamp that is on before the fuel line is joined."""
    log = job("b")
    log.moved("fuel feed line", "open")
    log.moved("battery clamp", "off")
    log.moved("battery clamp", "fitted")
    log.moved("fuel feed line", "joined")
    assert "order: battery clamp, fuel feed line" in keys(log)


def test_work_keeps_its_order():
    """The sensor is zeroed on an aligned car."""
    log = job()
    log.say("work done", work="zero the steering-angle sensor")
    log.say("work done", work="check the wheel alignment")
    assert "order: zero the steering-angle sensor, check the wheel alignment" in log.points()
    log.say("work done", work="zero the steering-angle sensor")
    assert not any(key.startswith("order: ") for key in log.points())


def test_two_parts_that_lose_one_fluid_lose_the_sum():
    """What nobody measured is what the file says of each."""
    loses = "{from: top, minutes: '1 off, 1 on', loses: '1 l coolant, 2.00'}"
    log = Log(area(f"parts:\n  pump: {loses}\n  thermostat: {loses}\n"))
    for state in ("off", "fitted"):
        log.moved("pump", state)
        log.moved("thermostat", state)
    log.say("fluid filled", fluid="coolant", litres=1)
    assert "2 l out, 1 l in" in log.points()["fluid: coolant"]


def test_a_road_test_with_the_old_part_proves_nothing():
    """What belongs after the swap counts from the swap on."""
    log = job(targets=["alternator"])
    log.say("work done", work="road test")
    assert "not done: road test" not in log.points()
    log.say("part swapped", part="alternator")
    assert "not done: road test" in log.points()


def test_what_condemned_the_part_is_read_again():
    """A figure that failed before has to be known afterwards."""
    log = Log()
    log.say("reading taken", what="stud voltage", value=12.2, unit="V", when="before", good=False)
    assert "not read again: stud voltage" in log.points()
    log.say("reading taken", what="stud voltage", value=14.4, unit="V", when="after", good=True)
    assert log.points() == {}


def test_a_follow_up_while_the_part_is_still_away_is_worth_nothing():
    """The alignment waits for the subframe; what is only told to the customer may be told at any time."""
    log = job()
    log.moved("subframe", "lowered 65 mm")
    log.moved("left front wheel", "off")
    log.say("work done", work="check the wheel alignment")
    log.say("work done", work="re-check the wheel bolts after 80 km")
    log.moved("subframe", "fitted")
    log.moved("left front wheel", "fitted")
    assert "owed: check the wheel alignment" in log.points()
    assert "owed: re-check the wheel bolts after 80 km" not in log.points()


def test_a_second_new_part_is_compared_as_well():
    """Who says "swapped" twice has put in another one; a colleague who says so too has not."""
    log = job(targets=["alternator"])
    log.say("part compared", part="alternator", old={}, new=dict(demo_area("a").match))
    log.say("part swapped", part="alternator")
    log.say("part swapped", part="alternator", _by="technician 2")
    assert "not compared: alternator" not in log.points()
    log.say("part swapped", part="alternator")
    assert "not compared: alternator" in log.points()


def test_a_wrong_part_does_not_become_right_by_fitting_it():
    """It takes another one that came or was compared, or somebody who says how it was put right."""
    for last in (
        {"kind": "part arrived", "part": "belt", "count": 1},
        {"kind": "part compared", "part": "belt", "old": {}, "new": {"ribs": "7"}},
        {"kind": "difference settled", "item": "belt", "how": "the old one goes on"},
    ):
        log = Log()
        log.say("part found wrong", part="belt", note="6 ribs")
        log.say("part swapped", part="belt")
        assert "wrong part: belt" in log.points()
        log.say(last.pop("kind"), **last)
        log.say("part swapped", part="belt")
        assert log.points() == {}


def test_a_plug_of_an_unknown_car_must_click_whatever_it_is_called():
    """It was unplugged, so it is a plug."""
    log = Log()
    log.moved("lamp lead", "unplugged")
    log.moved("lamp lead", "connected")
    assert set(log.points()) == {"not confirmed: lamp lead"}


def test_a_conflict_about_a_person_is_settled_by_what_is_said_anew():
    """Under the car counts until he is reported clear again, and then nothing stands open."""
    log = Log()
    log.say("person went under", who="technician 1", _at=50, _on="phone 1")
    log.say("person came clear", who="technician 1", _at=40, _on="phone 2")
    log.say("person came clear", who="technician 1", _at=60, _on="phone 2")
    assert log.points() == {}


def test_a_conflict_is_open_until_somebody_says_something_newer():
    """Taking the wrong one back settles it as well."""
    log = job()
    log.off("idler bolt", 1)
    log.on("idler bolt", 1, 43)
    wrong = log.say("fasteners on", item="idler bolt", count=1, new=False, evidence="by feel", reason="in a hurry", _by="technician 2")
    assert any(key.startswith("conflict: idler bolt") for key in log.points())
    log.say("event undone", event=wrong)
    assert keys(log) == set()


def test_what_was_done_before_counts_towards_the_cap():
    """Trap 72: a plan made half way through says only what is still to do."""
    log = Log(cap=76000)
    log.say("plan made", plan="0" * 64, money=50000, spent_money=30000)
    assert log.points()["consent"] == "the job comes to 800.00, agreed are 760.00"
    log.say("plan made", plan="0" * 64, money=50000, spent_money=26000)
    assert "consent" not in log.points()


def test_what_was_accepted_is_asked_again_after_the_next_time():
    """The foreman answered for the first closing, and for the litres of that time."""
    log = job()
    log.off("left mount nuts", 2)
    log.on("left mount nuts", 2, 77)
    log.say("fluid drained", fluid="coolant", litres=2)
    log.say("fluid filled", fluid="coolant", litres=1.7)
    for point in ("old one: left mount nuts", "fluid: coolant"):
        log.say("point accepted", point=point, reason="customer waits", by="the foreman")
    assert not {"old one", "fluid"} & {point.kind for point in audit(log.state, log.area) if bars(point)}
    log.off("left mount nuts", 2)
    log.on("left mount nuts", 2, 77)
    log.say("fluid drained", fluid="coolant", litres=1)
    assert {"old one", "fluid"} <= {point.kind for point in audit(log.state, log.area) if bars(point)}


def test_an_order_counts_only_where_the_ledger_and_the_clocks_say_so():
    """The lower bolt came first by the clock, though its report came last; and the other way round."""
    torques = {"upper": 46, "lower": 24}
    for first, last in (("upper", "lower"), ("lower", "upper")):
        log = job()
        log.off("lower alternator bolt", 1)
        log.off("upper alternator bolt", 1)
        log.on(f"{first} alternator bolt", 1, torques[first], _at=100, _on="phone 1")
        log.on(f"{last} alternator bolt", 1, torques[last], _at=90, _on="phone 2")
        assert "order: lower alternator bolt, upper alternator bolt" in log.points()


@pytest.mark.parametrize("name", ("MAF plug", "lamp connector", "plugs at the pump", "oil pressure switch plug"))
def test_a_plug_that_was_moved_off_is_asked_for_its_click(name):
    """Trap 54: it is a plug by its name, with whatever word it was logged."""
    log = Log()
    log.moved(name, "off")
    log.moved(name, "refitted")
    assert f"not confirmed: {name}" in log.points()


@pytest.mark.parametrize("name", ("drain plug", "spark plugs", "glow plug", "sump-plug", "filler plug", "core plug"))
def test_a_plug_that_is_screwed_in_does_not_click(name):
    """It has a thread."""
    log = Log()
    log.moved(name, "off")
    log.moved(name, "refitted")
    assert f"not confirmed: {name}" not in log.points()


@pytest.mark.parametrize(
    ("name", "part", "asked"),
    (("caliper bolts", "", True), ("bolts", "steering rack", True), ("fuel rail screws", "", True), ("airbag screws", "", True),
     ("bracket bolts", "bracket", False)),
)  # fmt: skip
def test_by_feel_at_brakes_steering_fuel_and_airbags_is_answered_for(name, part, asked):
    """On a car that nobody described; a bracket by feel is a remark."""
    log = Log()
    log.off(name, 2, **({"belongs_to": part} if part else {}))
    log.say("fasteners on", item=name, count=2, new=False, evidence="by feel", reason="no figure")
    (point,) = (point for point in audit(log.state) if point.kind == "by feel")
    assert bars(point) is asked


def test_by_feel_at_what_the_car_stands_on_is_answered_for():
    """The area gives a torque and the car rests on the part; the idler bolt carries nothing."""
    log = job()
    rests = {ref.name for ref in log.area.stands_on}
    names = [one.name for one in log.area.items.values() if one.fastener and one.fastener.torque and one.owner in rests]
    for name in (*names, "idler bolt"):
        count = log.area.items[name].fastener.count
        log.off(name, count)
        log.say("fasteners on", item=name, count=count, new=True, evidence="by feel", reason="no room")
    found = {point.item: bars(point) for point in audit(log.state, log.area) if point.kind == "by feel"}
    assert names and found == dict.fromkeys(names, True) | {"idler bolt": False}


def test_a_broken_bolt_with_no_new_one_is_told_on_the_record():
    """Three off, one broken, three old on: it bars nothing once it is settled, and whoever reads the record may ask."""
    log = job()
    log.off("short tray screws", 7)
    log.say("difference found", item="short tray screws", what="broken", count=1)
    log.say("difference settled", item="short tray screws", how="drilled out")
    log.on("short tray screws", 7, 7)
    assert "1 broke, and 0 new went in" in log.points()["broken: short tray screws, renewed"]
    log.off("short tray screws", 1)
    log.on("short tray screws", 1, 7, new=True)
    assert "broken: short tray screws, renewed" not in log.points()
