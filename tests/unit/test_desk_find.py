"""Which job is meant."""

import pytest
from desk_samples import Desk

from putback.desk.find import find_job
from putback.errors import InputError


@pytest.fixture
def desk(tmp_path):
    with Desk(tmp_path) as desk:
        yield desk


def test_a_job_is_found_by_its_name_its_id_and_how_that_begins(desk):
    """However it is said, and in whatever case."""
    desk.ids = iter(["a3f91c" + "0" * 20, "E1", "b7" + "1" * 24, "E2"])
    first, second = desk.open(name="Alternator, blue van"), desk.open(name="starter")

    for text in (first, first[:4], first[:6].upper(), "Alternator, blue van", " alternator, BLUE van "):
        assert find_job(desk.ledger, text) == first
    assert find_job(desk.ledger, "b711") == second


def test_a_name_goes_before_the_beginning_of_an_id(desk):
    """A job may be called anything, even what another one's id begins with."""
    desk.ids = iter(["abcd" + "0" * 22, "E" * 26, "f" * 26, "D" * 26])
    desk.open(name="first")
    named = desk.open(name="abcd")
    assert find_job(desk.ledger, "abcd") == named


def test_none_and_several_are_one_sentence_each(desk):
    """Nobody logs to the wrong car because the program guessed."""
    with pytest.raises(InputError, match="none is open"):
        find_job(desk.ledger)
    with pytest.raises(InputError, match='no job "starter"; there is none yet'):
        find_job(desk.ledger, "starter")
    desk.open(name="alternator")
    desk.open(name="alternator")
    with pytest.raises(InputError, match='"alternator" may be several; say which by its id; there are: "alt'):
        find_job(desk.ledger, "alternator")
    with pytest.raises(InputError, match="several are open"):
        find_job(desk.ledger)
    with pytest.raises(InputError, match='no job "000"'):  # three signs of an id are too few
        find_job(desk.ledger, "000")


def test_the_only_open_job_need_not_be_named(desk):
    """One that was handed over is not meant; one whose signature was taken back is open again."""
    open_one = desk.open(name="open")
    desk.open(name="done")
    signed = desk.say("hand-over signed", by="technician 1")
    assert find_job(desk.ledger) == open_one
    desk.say("event undone", event=signed)
    with pytest.raises(InputError, match="several are open"):
        find_job(desk.ledger)


def test_a_signature_long_ago_still_counts(desk):
    """However much was noted after it."""
    desk.open(name="done")
    desk.say("hand-over signed", by="technician 1")
    for number in range(30):
        desk.say("note added", note=str(number))
    other = desk.open(name="open")
    assert find_job(desk.ledger) == other
