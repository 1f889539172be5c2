"""What one tap logs, and what may be changed before it does."""

import pytest
from job_play import NOTHING, Played
from log import Log, demo_area, demo_shop

from putback.area.model import BACK, OUT
from putback.errors import InputError
from putback.job.car import Car
from putback.job.closing import Move, asks_how_tight, changed, closing
from putback.job.kinds import check
from putback.job.step import Said


def car(letter: str = "a") -> Car:
    """A demo car in the demo shop."""
    return Car(demo_area(letter), demo_shop())


def one(move: Move, log: Log | None = None, letter: str = "a", tray: str = "") -> dict:
    """What the only event of a tap says."""
    (said,) = closing(move, (log or Log(demo_area(letter))).state, car(letter), tray)
    check(said.kind, said.data)
    return {"kind": said.kind} | said.data


def opened(item: str, count: int, letter: str = "a") -> Log:
    """A job in which fasteners are off."""
    log = Log(demo_area(letter))
    log.off(item, count)
    return log


def test_fasteners_come_out_into_their_tray():
    """With the position; without one they go back into their holes."""
    move = Move("cover clips", OUT, "out", 4)
    off = {"kind": "fasteners off", "item": "cover clips", "count": 4}
    assert one(move, tray="1A") == off | {"to": "tray", "tray position": "1A"}
    assert one(move) == off | {"to": "back in their holes"}


def test_breaking_loose_is_not_taking_out():
    """Wheel bolts have a state between tight and out."""
    said = one(Move("wheel bolts", OUT, "loose", 4))
    assert said == {"kind": "fasteners loosened", "item": "wheel bolts", "count": 4}


def test_a_bolt_is_closed_at_the_torque_asked_for_with_the_wrench_of_the_plan():
    """Old, for it may be used again; where it goes is said, for its neighbours differ in length."""
    log = opened("rear compressor bolt", 1)
    assert one(Move("rear compressor bolt", BACK, "tight", 1, wrench="medium wrench"), log) == {
        "kind": "fasteners on",
        "item": "rear compressor bolt",
        "count": 1,
        "new": False,
        "evidence": "clicked at the setting",
        "torque": 22.0,
        "wrench": "medium wrench",
        "at": "rear, short, a long one touches the crankcase",
    }


def test_what_is_used_once_goes_in_new():
    """Trap 10: mount nuts."""
    assert one(Move("left mount nuts", BACK, "tight", 2), opened("left mount nuts", 2))["new"] is True


def test_the_angle_follows_the_torque():
    """Trap 9: subframe bolts of demo A, 92 N·m and 90°."""
    said = one(Move("front subframe bolts", BACK, "tight", 2), opened("front subframe bolts", 2))
    assert (said["torque"], said["angle"]) == (92.0, 90)


def test_passes_and_pattern_are_kept():
    """Trap 66: wheel bolts run in by hand first, then in two passes and cross over."""
    log = opened("wheel bolts", 4)
    run_in = one(Move("wheel bolts", BACK, "loose", 4), log)
    assert run_in["evidence"] == "hand-tight" and "torque" not in run_in
    log.say("fasteners on", item="wheel bolts", count=4, new=False, evidence="hand-tight")
    final = one(Move("wheel bolts", BACK, "tight", 4), log)
    assert final["kind"] == "fasteners tightened"
    assert (final["torque"], final["passes"], final["in order"]) == (104.0, 2, True)


def test_a_coated_thread_is_cleaned_or_new():
    """Trap 17: the pinch bolt is coated and used once, so new is enough."""
    said = one(Move("pinch bolt", BACK, "tight", 1), opened("pinch bolt", 1))
    assert said["new"] is True and "cleaned" not in said


def test_clips_are_seated():
    """Neither torque nor wrench for a ball clip or a hose clamp; push pins are new as the liner has it."""
    assert one(Move("cover clips", BACK, "tight", 4), opened("cover clips", 4))["evidence"] == "seated"
    assert one(Move("duct clamps", BACK, "tight", 2), opened("duct clamps", 2))["evidence"] == "seated"
    assert one(Move("push pins", BACK, "tight", 4), opened("push pins", 4))["new"] is True


def test_no_wrench_is_no_click():
    """Where no wrench of the shop covers a torque a tap says by feel and why, never more than is known."""
    move = Move("control stud nut", BACK, "tight", 1, lacks="no wrench of this shop covers 3.8 N·m")
    said = one(move, opened("control stud nut", 1, "b"), "b")
    assert (said["evidence"], said["reason"]) == ("by feel", "no wrench of this shop covers 3.8 N·m")
    assert "torque" not in said


def test_some_out_and_some_loose_are_two_events():
    """One of two nuts hangs on its thread, the other lies in the tray: the tap says both."""
    log = Log(demo_area("a"))
    log.off("left mount nuts", 1)
    log.say("fasteners loosened", item="left mount nuts", count=1)
    found = closing(Move("left mount nuts", BACK, "tight", 2), log.state, car())
    assert [(said.kind, said.data["count"]) for said in found] == [("fasteners on", 1), ("fasteners tightened", 1)]


def test_a_plug_clicks_and_a_belt_has_every_rib():
    """Traps 54 and 57: going back says what was looked at; going out says nothing of it."""
    assert one(Move("clutch plug", BACK, "plugged"))["confirmed"] == "clicked"
    belt = one(Move("belt", BACK, "on"))
    assert belt["confirmed"].startswith("every rib") and belt["new parts"] == ["belt"]
    assert "confirmed" not in one(Move("clutch plug", OUT, "unplugged"))


def test_the_way_taken_is_the_items_own():
    """The plan names with it how the engine hangs; the mount has no way of its own."""
    assert one(Move("engine", OUT, "raised 50 mm", way="jack"))["way"] == "jack"
    assert "way" not in one(Move("left engine mount", OUT, "off", way="engine support by support bar"))


def test_a_car_that_nobody_described_closes_by_feel():
    """No torque is known, and the tap says so; a plug is plugged and clicked."""
    log = Log()
    log.off("bolts", 2, size="13 mm", belongs_to="bracket")
    log.moved("lamp plug", "unplugged")
    (bolts,) = closing(Move("bolts", BACK, "", 2), log.state, NOTHING)
    by_feel = {"evidence": "by feel", "reason": "no torque is known for it"}
    assert bolts.data == {"item": "bolts", "count": 2, "new": False} | by_feel
    (plug,) = closing(Move("lamp plug", BACK, "plugged"), log.state, NOTHING)
    assert plug.data == {"item": "lamp plug", "state": "plugged", "confirmed": "clicked"}
    log.off("trim clips", 3)
    assert closing(Move("trim clips", BACK, "", 3), log.state, NOTHING)[0].data["evidence"] == "seated"


@pytest.mark.parametrize(
    "name",
    ("pinch bolt", "guide-pin bolts", "guide pins", "button head screws", "axle king-pin nut", "pushrod nut",
     "steering clamp bolt", "battery clamp nut", "clamp", "locknuts", "bolts"),
)  # fmt: skip
def test_a_thread_is_never_closed_as_seated_by_one_tap(name):
    """Pin in pinch, button in button head: words count whole, and a bolt, nut, screw or stud is tightened; how is asked."""
    log = Log()
    log.off(name, 2)
    (said,) = closing(Move(name, BACK, "", 2), log.state, NOTHING)
    assert said.data["evidence"] != "seated"
    assert asks_how_tight(name, log.state, NOTHING)


@pytest.mark.parametrize("name", ("clip", "trim clips", "pins", "push pins", "push-pins", "rivets", "hose clamps", "spring clamp"))
def test_clips_of_an_undescribed_car_are_seated_by_one_tap(name):
    """Nobody is asked for the torque of a clip."""
    log = Log()
    log.off(name, 2)
    assert closing(Move(name, BACK, "", 2), log.state, NOTHING)[0].data["evidence"] == "seated"
    assert not asks_how_tight(name, log.state, NOTHING)


def test_a_torque_is_never_seated():
    """Whoever names a torque has measured it, whatever the tap would have said."""
    log = Log()
    log.off("trim clips", 3)
    (said,) = changed(closing(Move("trim clips", BACK, "", 3), log.state, NOTHING), torque=6.0)
    assert (said.data["evidence"], said.data["torque"]) == ("clicked at the setting", 6.0)
    log.say("fasteners on", item="trim clips", count=3, new=False, evidence="seated", torque=6.0)
    assert "evidence: trim clips" in log.points()


def test_what_was_done_otherwise_is_changed_before_it_is_logged():
    """Fewer, new though it need not be, by feel with a reason: the torque that nobody measured goes."""
    move = Move("rear compressor bolt", BACK, "tight", 1, wrench="medium wrench")
    closes = closing(move, opened("rear compressor bolt", 1).state, car())
    (said,) = changed(closes, evidence="by feel", reason="no room for the wrench", new=True)
    assert said.data["evidence"] == "by feel" and said.data["new"] is True
    assert not {"torque", "wrench"} & said.data.keys()
    (said,) = changed(closes, torque=21.5, evidence="value read")
    assert said.data["torque"] == 21.5 and said.data["wrench"] == "medium wrench"
    (said,) = changed(closes, wrench=None)
    assert "wrench" not in said.data


def test_a_change_that_fits_no_event_is_refused_in_one_sentence():
    """A count for a plug, by feel without a reason."""
    with pytest.raises(InputError, match='this step has no "count" to be changed; log it as an event of its own'):
        changed((Said("item moved", {"item": "clutch plug", "state": "plugged"}),), count=2)
    closes = closing(Move("rear compressor bolt", BACK, "tight", 1), opened("rear compressor bolt", 1).state, car())
    with pytest.raises(InputError, match='say the "reason" why no torque was measured'):
        changed(closes, evidence="by feel")


def test_every_tap_of_a_plan_can_be_logged():
    """Whatever the steps of demo D close with is what the kinds of events know."""
    for step in Played("d").steps():
        for said in step.closes:
            check(said.kind, said.data)
