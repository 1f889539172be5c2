"""What events add up to."""

import pytest
from area_samples import area
from log import Log, demo_area


def wheel(**more) -> Log:
    log = Log(demo_area("a"), **more)
    log.off("wheel bolts", 4, tray="1a")
    log.moved("left front wheel", "off")
    return log


def test_what_is_off_is_counted_with_its_tray():
    """Four of four are out and lie in the tray that was named."""
    group = wheel().state.groups["wheel bolts"]
    assert (group.out, group.total, group.trays) == (4, 4, {"1a": 4})


def test_what_is_back_lies_in_no_tray():
    """Three of four tightened: one is out and still in its tray."""
    log = wheel()
    log.on("wheel bolts", 3, 104)
    group = log.state.groups["wheel bolts"]
    assert (group.out, group.hand_tight, group.trays) == (1, 0, {"1a": 1})


def test_fasteners_run_in_by_hand_are_in_and_not_tight():
    """They are tightened a step later, which needs no second report that they are in."""
    log = wheel()
    log.say("fasteners on", item="wheel bolts", count=4, new=False, evidence="hand-tight")
    assert log.state.groups["wheel bolts"].hand_tight == 4
    log.say("fasteners tightened", item="wheel bolts", count=4, evidence="value read", torque=104.0)
    assert log.state.groups["wheel bolts"].home


def test_an_angle_is_added_to_the_torque_of_its_first_stage():
    """All four to the torque first, then all four by the angle."""
    log = Log(demo_area("a"))
    log.off("front subframe bolts", 2)
    log.on("front subframe bolts", 2, 92, new=True)
    log.say("fasteners tightened", item="front subframe bolts", count=2, evidence="value read", torque=92, angle=90)
    (lot,) = log.state.groups["front subframe bolts"].lots
    assert (lot.torque, lot.angle, lot.new) == (92, 90, True)


def test_a_part_that_is_off_has_all_its_fasteners_and_plugs_off():
    """Nobody who lifts the tray away has left its screws in, though he may not have logged them."""
    log = Log(demo_area("a"))
    log.moved("undertray", "off")
    log.moved("compressor", "aside")
    state = log.state
    assert state.groups["short tray screws"].out == 7
    assert state.items["clutch plug"].state == "unplugged"


def test_what_was_put_in_a_second_way_is_known():
    """The way matters to the planner, which has a support bar and a jack."""
    log = Log(demo_area("a"))
    log.moved("engine support", "in", way="support bar")
    assert log.state.items["engine support"].ways == ("support bar",)


def test_an_event_taken_back_does_not_count():
    """Nor does a taking back that was taken back itself."""
    log = wheel()
    off = log.moved("undertray", "off")
    back = log.say("event undone", event=off)
    assert "undertray" not in log.state.items
    log.say("event undone", event=back)
    assert not log.state.items["undertray"].home


def test_undoings_count_in_whatever_order_they_come():
    """What takes a taking back back may come before it; and two that take each other back leave all as it was."""
    log = Log()
    own = log.off("bracket bolts", 2)
    log.say("event undone", event=f"E{4:025d}")
    log.say("event undone", event=own)
    assert log.state.groups["bracket bolts"].out == 2
    log.say("event undone", event=f"E{6:025d}")
    log.say("event undone", event=f"E{5:025d}")
    assert log.state.groups["bracket bolts"].out == 2


def test_an_undoing_that_comes_first_counts_all_the_same():
    """Devices may send out of order."""
    log = Log()
    log.say("event undone", event=f"E{3:025d}")
    log.off("bracket bolts", 2)
    assert "bracket bolts" not in log.state.groups


def test_late_good_news_does_not_count():
    """A telephone that was off the air sends "on" of ten o'clock after "off" of eleven: it is off."""
    log = wheel()
    log.on("wheel bolts", 4, 104, _at=100, _on="phone 1")
    log.off("wheel bolts", 4, _at=200, _on="phone 2", _by="technician 2")
    log.on("wheel bolts", 4, 104, _at=150, _on="phone 1")
    assert log.state.groups["wheel bolts"].out == 4
    assert [one.item for one in log.state.conflicts] == ["wheel bolts"]


def test_late_bad_news_counts_and_is_shown():
    """The same the other way round."""
    log = wheel()
    log.moved("left front wheel", "fitted", _at=200, _on="phone 1")
    log.moved("left front wheel", "off", _at=150, _on="phone 2", _by="technician 2")
    assert not log.state.items["left front wheel"].home
    assert "the worse one counts" in log.state.conflicts[0].text


@pytest.mark.parametrize("first", [0, 1])
def test_of_two_reports_of_one_closing_the_worse_one_counts(first):
    """Whichever comes first; and both names are shown."""
    log = wheel()
    reports = [
        {"evidence": "clicked at the setting", "torque": 104, "_by": "technician 1"},
        {"evidence": "by feel", "reason": "no room", "torque": 104, "_by": "technician 2"},
    ]
    for report in (reports[first], reports[1 - first]):
        log.say("fasteners on", item="wheel bolts", count=4, new=False, **report)
    (lot,) = log.state.groups["wheel bolts"].lots

    assert lot.evidence == "by feel"
    assert "technician 1" in log.state.conflicts[0].text and "technician 2" in log.state.conflicts[0].text


def test_two_equal_reports_of_one_closing_are_one():
    """Nobody is asked about what all agree on."""
    log = wheel()
    log.on("wheel bolts", 4, 104)
    log.on("wheel bolts", 4, 104, _by="technician 2")
    assert log.state.groups["wheel bolts"].count("closed") == 4
    assert log.state.conflicts == []


def test_more_off_than_there_are_is_shown():
    """Two persons mean the same four; one person means something that does not fit."""
    twice = wheel()
    twice.off("wheel bolts", 4, _by="technician 2")
    alone = wheel()
    alone.off("wheel bolts", 1)

    assert "count once" in twice.state.conflicts[0].text
    assert alone.state.groups["wheel bolts"].extra == 1


def test_what_nobody_described_counts_from_its_first_mention():
    """Two bolts of 13 mm, then one more: three are off."""
    log = Log()
    log.off("bracket bolts", 2, tray="3", size="13 mm", belongs_to="bracket")
    log.off("bracket bolts", 1, tray="3")
    log.moved("bracket", "off")
    group = log.state.groups["bracket bolts"]
    assert (group.out, group.total, group.size, group.belongs_to) == (3, 3, "13 mm", "bracket")
    assert list(log.state.order) == ["bracket bolts", "bracket"]


def test_a_long_pause_asks_for_the_last_two_steps_again():
    """Ten minutes are no pause; eleven are."""
    for minutes, asked in ((10, 0), (11, 2)):
        log = wheel()
        log.say("job paused", _at=20)
        log.say("job resumed", _at=20 + minutes)
        assert len(log.state.unconfirmed) == asked


def test_steps_are_confirmed_one_by_one():
    """What is not confirmed stays to be confirmed."""
    log = wheel()
    log.say("job handed on", to="technician 2")
    first, second = log.state.unconfirmed
    log.say("steps confirmed", events=[second])
    assert log.state.unconfirmed == (first,)


def test_a_late_report_that_somebody_is_clear_does_not_count():
    """Nobody lowers a car on old news."""
    log = Log()
    log.say("person went under", who="technician 1", _at=50, _on="phone 1")
    log.say("person came clear", who="technician 1", _at=40, _on="phone 2")
    assert "technician 1" in log.state.under


def test_an_unknown_kind_is_kept_and_told():
    """It may come from a newer program."""
    log = Log()
    log.say("kind of a newer program", x=1)
    assert "kind of a newer program" in log.state.puzzles[0]


def test_a_state_that_the_area_does_not_know_counts_as_away():
    """The worse reading, and it is told."""
    log = Log(demo_area("a"))
    log.moved("undertray", "hanging on one screw")
    assert not log.state.items["undertray"].home
    assert "hanging on one screw" in log.state.puzzles[0]


def test_what_is_logged_after_the_signature_is_kept_and_shown():
    """Nothing is dropped, and nothing slips in."""
    log = Log()
    log.say("hand-over signed", by="technician 1")
    log.off("bracket bolts", 1)
    assert log.state.after_signing == [3]
    assert log.state.groups["bracket bolts"].out == 1


def test_a_part_that_comes_off_again_takes_its_closed_fasteners_and_plugs_with_it():
    """Re-opened after everything was closed, and only the part is logged: nothing of it can still be tight."""
    log = Log(demo_area("a"))
    for state in ("aside", "fitted"):
        log.moved("compressor", state)
    log.on("front compressor bolts", 2, 24)
    log.moved("clutch plug", "plugged", confirmed="clicked")
    log.moved("compressor", "aside")
    state = log.state
    assert state.groups["front compressor bolts"].out == 2
    assert (state.items["clutch plug"].home, state.items["clutch plug"].confirmed) == (False, "")


SHARED = """parts:
  pump:
    from: top
    minutes: 1 off, 1 on
    held by: {pump bolts: {is: '3 x M8x30, 13 mm, 22 N·m', also holds: [shield]}}
  shield: {from: top, minutes: '1 off, 1 on'}
"""


def test_fasteners_that_hold_two_parts_are_out_with_either():
    """The shield hangs on the pump's bolts; with the shield off they are out, whoever has said so."""
    log = Log(area(SHARED))
    log.moved("shield", "off")
    assert log.state.groups["pump bolts"].out == 3


def test_clamps_that_came_off_with_their_hose_are_tightened_with_it():
    """Nobody logs a clamp off that never leaves its hose; what somebody put into a tray is another thing."""
    log = Log(demo_area("a"))
    log.moved("intake duct", "off")
    log.moved("intake duct", "fitted")
    log.say("fasteners tightened", item="duct clamps", count=2, evidence="seated")
    assert log.state.groups["duct clamps"].home and not log.state.conflicts
    log.off("duct clamps", 2)
    log.say("fasteners tightened", item="duct clamps", count=2, evidence="seated")
    assert log.state.groups["duct clamps"].out == 2 and log.state.conflicts


def test_tightening_goes_to_the_worst_first():
    """Three are right and one is not; who puts one right means that one."""
    log = wheel()
    log.on("wheel bolts", 3, 104)
    log.on("wheel bolts", 1, 60)
    log.say("fasteners tightened", item="wheel bolts", count=1, evidence="value read", torque=104)
    assert {lot.torque for lot in log.state.groups["wheel bolts"].lots} == {104}


def test_a_late_report_hides_no_later_one():
    """Loosened at 9:30 and on at 9:40, sent late, do not undo what somebody took off at 9:50."""
    for first, more in (("fasteners loosened", {}), ("fasteners off", {"to": "back in their holes"})):
        log = wheel()
        log.off("idler bolt", 1, _at=110, _on="phone 2", _by="technician 2")
        log.say(first, item="idler bolt", count=1, _at=90, _on="phone 1", **more)
        log.on("idler bolt", 1, 43, _at=100, _on="phone 1")
        assert log.state.groups["idler bolt"].out == 1
    log = wheel()
    log.moved("belt", "off", _at=110, _on="phone 2", _by="technician 2")
    log.moved("belt", "off", _at=90, _on="phone 1")
    log.moved("belt", "on", _at=100, _on="phone 1")
    assert not log.state.items["belt"].home


def test_what_is_sent_late_was_tightened_as_the_car_stood_then():
    """In the air, though the car is down when the telephone finds its signal."""
    log = wheel()
    log.say("car moved", posture="on a lift", _at=10)
    log.say("car moved", posture="on the ground", _at=30)
    log.on("wheel bolts", 4, 104, _at=20, _on="phone 2", _by="technician 2")
    (lot,) = log.state.groups["wheel bolts"].lots
    assert lot.posture == "on a lift"


def test_a_release_that_came_before_the_closing_releases_nothing():
    """Looked at 9:10, closed again at 9:20, sent the other way round."""
    log = wheel()
    log.on("wheel bolts", 4, 104, _at=80, _on="phone 3", _by="apprentice 1")
    log.say("hold point released", item="wheel bolts", _at=70, _on="phone 2", _by="technician 2")
    assert log.state.released == {}


def test_two_pauses_ask_for_the_steps_of_both():
    """Nobody gets rid of a question by pausing again, nor of a pause by pausing twice."""
    log = wheel()
    first = log.off("idler bolt", 1)
    log.say("job paused", _at=20)
    log.say("job paused", _at=30)
    log.say("job resumed", _at=31)
    log.off("link nut", 1)
    last = log.off("bracket bolt", 1)
    log.say("job paused", _at=50)
    log.say("job resumed", _at=70)
    assert first in log.state.unconfirmed and last in log.state.unconfirmed


def test_words_for_home_may_be_written_in_any_case():
    """For an item that no file describes."""
    log = Log()
    log.moved("bracket", "off")
    log.moved("bracket", " Fitted ")
    assert log.state.items["bracket"].home


def test_features_compared_one_after_another_add_up():
    """Three now, four later; the newer figure counts. Of a part that was found wrong nothing is kept for the next one."""
    log = Log(demo_area("a"), targets=["alternator"])
    log.say("part compared", part="alternator", old={}, new={"pulley ribs": "6", "B+ stud": "M8"})
    log.say("part compared", part="alternator", old={"pulley ribs": "7"}, new={"pulley ribs": "7"})
    assert log.state.compared["alternator"]["new"] == {"pulley ribs": "7", "B+ stud": "M8"}
    log.say("part found wrong", part="alternator")
    log.say("part compared", part="alternator", old={}, new={"pulley ribs": "7"})
    assert log.state.compared["alternator"]["new"] == {"pulley ribs": "7"}
