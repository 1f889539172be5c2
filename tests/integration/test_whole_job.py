"""Whole jobs at the desk: every step as it is asked for, with what goes wrong on the way, to the signature."""

import pytest
from desk_samples import THINKING, Desk

from putback.desk.differs import Found, differs, settle
from putback.desk.handing_over import hand_over
from putback.desk.passing_on import confirm, hand_on, take_over
from putback.job.events import Event
from putback.job.match import fits
from putback.job.next_step import next_steps
from putback.job.step import HAND_OVER

MOST = 400  # steps; a job of the demos has some hundred

pytestmark = pytest.mark.slow


@pytest.fixture
def desk(tmp_path):
    with Desk(tmp_path) as desk:
        yield desk


def play(desk: Desk, until=lambda step: False):
    """Does what is asked for, step by step, until something is reached or the car can be handed over; that step."""
    for _ in range(MOST):
        view = desk.look()
        step = next_steps(view.state, view.car, view.plan, desk.stamp.now())[0]
        if step.phase == HAND_OVER or until(step):
            return step
        do(desk, view, step)
    raise AssertionError(f"{MOST} steps, and no end: {step.text}")


def do(desk: Desk, view, step) -> None:
    """One tap; what a tap alone cannot say is filled in as it should be."""
    if step.key == "intake":
        desk.say("intake noted", complaint="does not charge", kilometres=48210)
    elif step.asks == "part compared":
        same = {name: as_wanted(wanted) for name, wanted in view.area.match}
        desk.say("part compared", part=step.item or step.part, old=same, new=same)
    else:
        assert step.closes, step.text
        stamp = desk.stamp
        events = [
            Event(stamp.new_id(), desk.job, said.kind, stamp.now(), stamp.person, stamp.device, said.data)
            for said in step.closes
        ]
        desk.ledger.append(events)


def as_wanted(text: str) -> str:
    """A value that fits what is wanted."""
    return text if "±" not in text and " to " not in text else next(one for one in text.split() if fits(text, one))


def sign(desk: Desk):
    return hand_over(desk.ledger, desk.job, desk.stamp, THINKING, by="technician 1")


@pytest.mark.parametrize("letter", "abcd")
def test_a_job_done_as_planned_is_signed_at_once(desk, letter):
    """No false refusal, and the record has a torque for every group that asks for one."""
    desk.open(letter)
    desk.plan()
    play(desk)
    told = sign(desk)

    assert [one.point.text for one in told.barred] == []
    assert all(one["torque_nm"] for one in told.record["fasteners"] if one["asked"])


def test_a_job_with_a_seized_nut_and_a_change_of_hands_is_signed_in_the_end(desk):
    """Scenario A: refused half way, on through the wheel arch, handed on, the stud repaired; one total throughout."""
    desk.open("a")
    desk.plan()
    play(desk, until=lambda step: step.item == "left mount nuts")
    assert sign(desk).record is None

    desk.off("left mount nuts", 1)
    found = differs(desk.ledger, desk.job, desk.stamp, Found("left mount nuts", "seized"), THINKING)
    sheet = hand_on(desk.ledger, desk.job, desk.stamp, "technician 2")
    desk.person = "technician 2"
    take_over(desk.ledger, desk.job, desk.stamp, [fact.key for fact in sheet.facts])
    confirm(desk.ledger, desk.job, desk.stamp)

    play(desk, until=lambda step: step.item == "left mount nuts")
    settled = settle(desk.ledger, desk.job, desk.stamp, "left mount nuts", "stud repaired", THINKING)
    play(desk)
    told = sign(desk)

    assert settled.change.whole_after.money == pytest.approx(found.change.whole_after.money)
    assert told.barred == ()
    assert {"part": "alternator", "way": "the wheel arch, drive shaft out"} in told.record["way"]["taken"]
    assert told.record["deviations"][0]["settled"] == "stud repaired" and len(told.record["refusals"]) == 1
    assert [one["person"] for one in told.record["people"]] == ["technician 1", "technician 2"]
