"""The hand-over: refused with reasons, or signed."""

import pytest
from desk_samples import THINKING, Desk

from putback.desk.handing_over import hand_over, record_of
from putback.errors import InputError


@pytest.fixture
def desk(tmp_path):
    with Desk(tmp_path) as desk:
        yield desk


def attempt(desk: Desk):
    return hand_over(desk.ledger, desk.job, desk.stamp, THINKING, by="technician 1", customer="the customer")


def closed(desk: Desk) -> None:
    """A small job on a car that nobody described, with everything back."""
    desk.open(targets=[])
    desk.off("bracket bolts", 2)
    desk.on("bracket bolts", 2, 20)


def test_a_hand_over_is_refused_with_each_reason_and_its_reach(desk):
    """Story 5: one fastener open, 36 min off and 49 on to reach it; the refusal is in the log with its reasons."""
    desk.open("a")
    desk.off("lower alternator bolt", 1)
    told = attempt(desk)
    bolt = next(one for one in told.barred if one.point.item == "lower alternator bolt")

    assert told.record is None and told.view.state.signed is None
    assert (bolt.reach.off, bolt.reach.on) == (36, 49)
    assert told.view.logged[-1].event.kind == "hand-over refused"
    assert bolt.point.text in told.view.logged[-1].event.data["reasons"]
    assert len(told.view.logged[-1].event.data["reasons"]) == len(told.barred)


def test_a_clean_job_is_signed_and_has_its_record(desk):
    """With the hash that stands for the whole log."""
    closed(desk)
    told = attempt(desk)

    assert told.barred == () and told.record["signature"]["by"] == "technician 1"
    assert told.record["signature"]["hash"] == told.view.logged[-1].hash
    assert told.record["fasteners"][0]["torque_nm"] == 20


def test_what_comes_after_the_signature_is_not_in_the_record(desk):
    """The record stays what was signed, to the byte."""
    closed(desk)
    signed = attempt(desk).record
    desk.say("note added", note="came back for its wheels")
    desk.say("event undone", event=desk.look().logged[2].event.id)
    assert record_of(desk.look()) == signed


def test_a_job_is_signed_once(desk):
    """Again only where something was logged since, and somebody has taken that on himself."""
    closed(desk)
    attempt(desk)
    with pytest.raises(InputError, match="handed over already, signed by technician 1"):
        attempt(desk)
    desk.moved("cover", "off")
    desk.moved("cover", "fitted")
    assert [one.point.kind for one in attempt(desk).barred] == ["after signing"]
    desk.say("point accepted", point="after signing", reason="looked behind the cover", by="technician 1")
    assert attempt(desk).record is not None


def test_a_draft_can_be_read_before_the_signature(desk):
    """It has no signature."""
    closed(desk)
    assert record_of(desk.look())["signature"] is None
