"""`putback job note`: a whole job on a car that nobody has described, told in free words."""

import json

import pytest
from log import DEMO

from putback.cli import main


@pytest.fixture
def job(tmp_path, monkeypatch, capsys):
    """Runs `putback job WORDS` on a ledger of its own; gives exit status, output and complaints."""
    monkeypatch.setenv("PUTBACK_LEDGER", str(tmp_path / "ledger.db"))
    monkeypatch.setenv("PUTBACK_PERSON", "technician 1")
    monkeypatch.delenv("PUTBACK_JOB", raising=False)

    def run(*words: str):
        status = main(["job", *words])
        said = capsys.readouterr()
        return status, said.out, said.err

    return run


OUT = (
    "Van's up on the lift. Wheel off, five 19 mm nuts.",
    "Speed sensor unplugged.",
    "Caliper off, two 14 mm slider bolts, hung it up on a hook, hose left on.",
    "Carrier off, two 17s.",
    "Disc off, one Torx 30 screw.",
)
BACK = (
    "New disc on, screw in by hand. Disc screw 10 Nm.",
    "Carrier back on, 2x17 105Nm",
    "Caliper back on the carrier, slider bolts 35 newton metres",
    "Sensor plugged back in, it clicked",
    "Wheel on, nuts run in by hand",
    "Van down.",
    "Wheel nuts 110 Nm.",
)


def test_a_whole_job_told_in_words(job):
    """The way back is led by what was told on the way in, a bolt that was not told keeps the car here, and the rest signs."""
    job("open", "front discs")
    for number, words in enumerate(OUT, 1):
        assert job("note", words, "--tray", str(number))[0] == 0, words
    _, out, _ = job("next", "--all")
    order = [out.index(words) for words in ("disc screw", "carrier fasteners", "slider bolts", "wheel nuts")]
    assert order == sorted(order), out

    for words in BACK[:-1]:
        job("note", words)
    status, out, err = job("hand-over")
    assert status == 1 and "wheel nuts" in out and "carrier" not in out
    job("note", BACK[-1])
    status, out, err = job("hand-over", "--to", "the customer")
    assert status == 0, out + err


def test_what_was_understood_is_shown_and_taken_back_by_its_number(job):
    """Each thing has the number that `undo` takes."""
    job("open", "brakes")
    _, out, _ = job("note", "Carrier off, two 17s.", "--tray", "2")
    number = next(line.split()[0] for line in out.splitlines() if "carrier fasteners" in line)
    assert "undo" in out and job("undo", number)[0] == 0
    assert "carrier fasteners" not in job("show")[1]


def test_a_bare_undo_takes_back_all_that_was_said_at_once(job):
    """The words and everything that they told."""
    job("open", "brakes")
    job("note", "Carrier off, two 17s.")
    out = job("undo")[1]
    assert "carrier: off" in out and "2 x carrier fasteners" in out and "Carrier off, two 17s." in out
    assert "carrier" not in job("show")[1]


def test_json_has_events_questions_and_their_answers(job):
    """The same as the pages get."""
    job("open", "brakes")
    found = json.loads(job("note", "cover off, some screws", "--json")[1])
    assert found["logged"][0]["data"] == {"item": "cover", "state": "off"}
    assert found["questions"][0]["choices"][0]["data"]["count"] == 2


def test_on_a_described_car_words_are_kept_unless_they_are_to_be_logged(job):
    """A note of a described job stays a note; `--log` logs what it tells."""
    job("open", "alternator", "--area", str(DEMO / "demo-a.yaml"), "--shop", str(DEMO / "demo-shop.yaml"))
    assert "belt" not in job("note", "belt off", "--json")[1].replace("belt off", "")
    assert '"state": "off"' in job("note", "belt off", "--json", "--log")[1]


def test_what_is_about_an_item_is_kept_and_nothing_more(job):
    """Nothing is logged of what somebody only wants to remember."""
    job("open", "brakes")
    job("moved", "caliper", "aside")
    job("note", "bolts off the bracket are scrap", "--item", "caliper")
    assert "bracket" not in [line.split(":")[0] for line in job("show")[1].splitlines()]


def test_held_back_it_ends_with_1(job):
    """As every other word does."""
    job("open", "brakes")
    job("note", "car up on the lift")
    job("under")
    status, out, _ = job("note", "car down")
    assert status == 1 and "STOP" in out
