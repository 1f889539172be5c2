"""Work stops, goes on, and passes to somebody else."""

from datetime import timedelta

import pytest
from desk_samples import Desk

from putback.desk.passing_on import confirm, hand_on, hand_on_of, pause, resume, take_over
from putback.errors import InputError


@pytest.fixture
def desk(tmp_path):
    with Desk(tmp_path) as desk:
        desk.open("a")
        yield desk


def test_the_receiver_confirms_three_facts_before_the_work_goes_on(desk):
    """Trap 69: by their keys, all of them, and he himself."""
    desk.say("car moved", posture="on a lift")
    desk.moved("battery clamp", "off")
    told = hand_on(desk.ledger, desk.job, desk.stamp, "technician 2")
    other = desk.stamp_of("technician 2")

    assert len(told.facts) == 3 and told.last[0] == "battery clamp: off"
    with pytest.raises(InputError, match="look and confirm first: the car is on a lift"):
        take_over(desk.ledger, desk.job, other, [fact.key for fact in told.facts[1:]])
    with pytest.raises(InputError, match="handed to technician 2, not to technician 1"):
        take_over(desk.ledger, desk.job, desk.stamp, [fact.key for fact in told.facts])
    assert "handed on" in {point.key for point in desk.look().points}

    view = take_over(desk.ledger, desk.job, other, [fact.key for fact in told.facts])
    assert view.state.handed_to is None and "handed on" not in {point.key for point in view.points}
    assert view.logged[-1].event.data["confirmed"] == [fact.text for fact in told.facts]


def test_what_was_handed_on_is_handed_on_once(desk):
    """Nothing to take over, nothing to hand on twice; to another one it may go."""
    with pytest.raises(InputError, match="nobody has handed it on"):
        take_over(desk.ledger, desk.job, desk.stamp, [])
    hand_on(desk.ledger, desk.job, desk.stamp, "technician 2")
    with pytest.raises(InputError, match="technician 2 has it already"):
        hand_on(desk.ledger, desk.job, desk.stamp, "technician 2")
    hand_on(desk.ledger, desk.job, desk.stamp, "technician 3")
    assert desk.look().state.handed_to == "technician 3"


def test_after_a_long_pause_the_last_two_steps_are_confirmed_again(desk):
    """Story 10, trap 68: 37 min in the middle of two bolts; what is hand-tight is named."""
    desk.off("bracket bolt", 1)
    desk.off("upper alternator bolt", 1)
    desk.say("fasteners on", item="upper alternator bolt", count=1, new=False, evidence="hand-tight")
    pause(desk.ledger, desk.job, desk.stamp, "telephone")
    desk.time += timedelta(minutes=36)
    told = resume(desk.ledger, desk.job, desk.stamp)

    assert told.minutes == 37
    assert told.loose == ("upper alternator bolt: 1 of 1 in by hand, not tight",)
    assert len(told.confirm) == 2 and told.confirm[1].startswith("1 x upper alternator bolt on")
    assert confirm(desk.ledger, desk.job, desk.stamp).state.unconfirmed == ()
    with pytest.raises(InputError, match="nothing to confirm"):
        confirm(desk.ledger, desk.job, desk.stamp)


def test_a_short_pause_asks_for_nothing(desk):
    """Ten minutes and less."""
    desk.off("bracket bolt", 1)
    pause(desk.ledger, desk.job, desk.stamp)
    with pytest.raises(InputError, match="paused since"):
        pause(desk.ledger, desk.job, desk.stamp)
    assert resume(desk.ledger, desk.job, desk.stamp).confirm == ()
    with pytest.raises(InputError, match="not paused"):
        resume(desk.ledger, desk.job, desk.stamp)


def test_the_sheet_says_what_comes_next(desk):
    """The step now, not that the job has to be taken over."""
    desk.plan()
    hand_on(desk.ledger, desk.job, desk.stamp, "technician 2")
    told = hand_on_of(desk.look(), desk.stamp.now())
    assert told.next and "take the job over" not in told.next


def test_a_job_that_was_handed_over_is_over(desk):
    """Nobody pauses it or hands it on."""
    desk.say("hand-over signed", by="technician 1")
    with pytest.raises(InputError, match="handed over already"):
        pause(desk.ledger, desk.job, desk.stamp)
    with pytest.raises(InputError, match="handed over already"):
        hand_on(desk.ledger, desk.job, desk.stamp, "technician 2")
