"""`putback job`: whole jobs said on the command line."""

import json
from pathlib import Path

import pytest
from log import DEMO

from putback.cli import main
from putback.cli_job import WORDS
from putback.cli_job_say import SAYINGS
from putback.job.kinds import KINDS

AREA, SHOP = str(DEMO / "demo-a.yaml"), str(DEMO / "demo-shop.yaml")


@pytest.fixture
def job(tmp_path: Path, monkeypatch, capsys):
    """Runs `putback job WORDS` on a ledger of its own; gives exit status, output and complaints."""
    monkeypatch.setenv("PUTBACK_LEDGER", str(tmp_path / "ledger.db"))
    monkeypatch.setenv("PUTBACK_PERSON", "technician 1")
    monkeypatch.delenv("PUTBACK_JOB", raising=False)

    def run(*words: str):
        status = main(["job", *words])
        said = capsys.readouterr()
        return status, said.out, said.err

    return run


def test_every_word_has_a_module_and_a_line_of_help(job):
    """Help tells of all words, and each word of its arguments."""
    assert job("--help")[0] == 0
    for word in WORDS:
        status, out, _ = job(word, "--help")
        assert (status, out.startswith(f"usage: putback job {word}")) == (0, True)


def test_every_saying_is_a_word_and_says_a_known_kind():
    """And the other way round."""
    assert {word for word, (module, _) in WORDS.items() if module == "putback.cli_job_say"} == set(SAYINGS)
    assert {saying.kind for saying in SAYINGS.values()} <= set(KINDS)


def test_a_car_that_nobody_described_from_opening_to_hand_over(job):
    """What comes off leads the way back; the hand-over is refused while a bolt is out, and granted once it is in."""
    job("open", "brakes", "--vehicle", "blue van", "--complaint", "squeals")
    job("off", "slider bolts", "2", "--tray", "1a", "--size", "14 mm")
    job("moved", "caliper", "aside", "--note", "hung on a hook")
    job("moved", "caliper", "fitted")
    status, out, err = job("hand-over")
    assert (status, "2 of 2 out: slider bolts" in out, "REFUSED" in err) == (1, True, True)
    assert job("on", "slider bolts", "2", "--torque", "35 N·m")[0] == 0
    assert job("hand-over", "--to", "the customer")[0] == 0
    _, out, _ = job("record", "--job", "brakes")
    assert "2 x slider bolts, 35 N·m, clicked at the setting" in out
    assert job("log", "--job", "brakes")[1].splitlines()[-1].startswith("whole: 8 events")


def test_the_note_of_a_removal_is_shown_at_the_refit(job):
    """Where the hose ran is wanted when it goes back."""
    job("open", "brakes")
    job("moved", "caliper", "aside", "--note", "hose in front of the bracket")
    assert "hose in front of the bracket" in job("next", "--all", "--json")[1]


def test_the_whole_demo_job_by_done_alone(job):
    """Every step of demo A is closed by a word; at the end nothing is left over."""
    job("open", "demo", "--area", AREA, "--shop", SHOP, "--complaint", "lamp on")
    job("intake", "--audio-code", "1234")
    whole = json.loads(job("next", "--all", "--json")[1])
    said = 0
    for _ in range(len(whole) + 5):
        steps = json.loads(job("next", "--json")[1])
        if steps[0]["asks"] == "hand-over signed":
            break
        said += _close(job, steps[0])
    status, out, err = job("hand-over")

    assert (status, err) == (0, "")
    assert said > 80


def _close(job, step: dict) -> int:
    from log import demo_area

    if step["asks"] == "part compared":
        features = [f"{name}={value}" for name, value in demo_area("a").match]
        return 1 - job("compare", step["part"], *features)[0]
    status, _, err = job("done")
    assert status == 0, err
    return 1


def test_a_slip_in_a_name_is_refused_with_the_nearest(job):
    """And what the area does not know is taken where somebody insists."""
    job("open", "demo", "--area", AREA, "--shop", SHOP)
    status, _, err = job("off", "idler bold", "1", "--tray", "1a")
    assert status == 2 and 'did you mean "idler bolt"?' in err
    assert job("off", "hidden bracket bolt", "1", "--tray", "9", "--extra", "--anyway", "found it so")[0] == 0
    assert "hidden bracket bolt" in job("proposals")[1]


def test_what_holds_back_says_why_and_can_be_overruled_with_a_reason(job):
    """The belt is in front of the idler pulley; who knows better says so, and it stands on the record."""
    job("open", "demo", "--area", AREA, "--shop", SHOP)
    status, _, err = job("off", "idler bolt", "1", "--tray", "1a")
    assert status == 1 and "the belt is still in front" in err
    assert job("off", "idler bolt", "1", "--tray", "1a", "--anyway", "belt is slack")[0] == 0
    assert "belt is slack" in job("log")[1]


def test_readings_are_weighed_and_hold_the_car_shut_until_they_condemn_the_part(job):
    """Trap 22: two readings are too few; with all of them the first cover may come off."""
    job("open", "demo", "--area", AREA, "--shop", SHOP, "--complaint", "battery lamp on")
    job("reading", "rest_v", "12,48")
    assert job("reading", "charging stud with the engine off", "12.46", "V")[0] == 0
    status, out, _ = job("suspects")
    assert status == 1 and out.startswith("NOT YET") and "READ NEXT" in out
    assert max(map(len, out.splitlines())) <= 80
    status, _, err = job("off", "cover clips", "4", "--tray", "1a")
    assert status == 1 and "the readings do not condemn alternator yet" in err

    for name, value in {
        "stud_v_2000_loaded": "13.62", "charge_v_2000_loaded": "13.51", "positive_drop_v": "0.07",
        "ground_drop_v": "0.04", "output_a_2000": "41", "command_v": "14.4", "ripple_mv_2000": "412", "belt": "good",
    }.items():  # fmt: skip
        assert job("reading", name, value)[0] == 0
    status, out, _ = job("suspects", "--json")
    told = json.loads(out)
    assert (status, told["verdict"], told["action"], told["model"]) == (0, "go", "alternator", "charging")
    assert "the readings" not in job("off", "cover clips", "4", "--tray", "1a")[2]


def test_undo_takes_back_a_reading_with_what_was_concluded_from_it(job):
    """Not the conclusion alone."""
    job("open", "demo", "--area", AREA, "--shop", SHOP)
    job("reading", "rest_v", "11.2")
    status, out, _ = job("undo")
    assert status == 0 and "battery at rest: 11.2 V" in out and "suspects weighed" in out


def test_a_reading_that_cannot_be_so_is_refused(job):
    """With what to write instead; one that no model knows wants its unit."""
    job("open", "demo", "--area", AREA, "--shop", SHOP)
    assert "look at the meter" in job("reading", "rest_v", "1248")[2]
    assert "is none of good" in job("reading", "belt", "purple")[2]
    assert "say the unit as well" in job("reading", "oil", "88")[2]
    assert job("suspects", "--model", "gearbox")[2].startswith('there is no model "gearbox"')


def test_a_person_under_the_car_stops_it_whatever_anybody_says(job):
    """No reason lowers a car onto somebody."""
    job("open", "demo")
    job("car", "on a lift")
    job("under")
    status, _, err = job("car", "on the ground", "--anyway", "in a hurry")
    assert status == 1 and err.startswith("STOP: technician 1 is under the car")
    job("clear")
    assert job("car", "on the ground")[0] == 0


def test_undo_takes_back_what_was_said_last_and_says_so(job):
    """It stays in the log, marked; a note is taken back before the step that came ahead of it."""
    job("open", "brakes")
    job("off", "bolts", "2", "--tray", "1")
    job("note", "rusty")
    assert "taken back: 3  rusty" in job("undo")[1]
    assert "taken back: 2  2 x bolts off, tray 1" in job("undo")[1]
    assert "(taken back)" in job("log")[1]
    assert json.loads(job("show", "--json")[1])["stands"]["fasteners"] == []


def test_undo_takes_the_plan_back_with_its_cause(job):
    """And the answer to what held a thing back with the thing."""
    job("open", "demo", "--area", AREA, "--shop", SHOP)
    job("off", "idler bolt", "1", "--tray", "1a", "--anyway", "belt is slack")
    job("differs", "left mount nuts", "seized", "--count", "1")
    out = job("undo")[1]
    assert "left mount nuts: seized" in out and "plan made" in out
    out = job("undo")[1]
    assert "idler bolt off" in out and "answers for" in out


def test_a_car_that_was_handed_over_is_not_opened_again(job):
    """What is done now belongs to a new job; the record is still to be had without its name."""
    job("open", "brakes")
    assert job("hand-over")[0] == 0
    status, _, err = job("off", "bolts", "2", "--tray", "1", "--job", "brakes")
    assert status == 1 and "open a new job" in err
    assert job("undo", "--job", "brakes")[0] == 2
    assert job("record")[0] == 0
    assert job("log", "--job", "bra")[0] == 2
    assert job("log", "--job", "brak")[0] == 0


def test_nobody_signs_for_a_log_that_was_changed(job, tmp_path):
    """The chain is looked at before the signature."""
    import sqlite3

    job("open", "brakes")
    job("off", "bolts", "2", "--tray", "1")
    job("on", "bolts", "2", "--torque", "9 N·m")
    with sqlite3.connect(tmp_path / "ledger.db") as base:
        base.execute("update ledger_events set content = replace(content, '9', '8') where number = 3")
    status, _, err = job("hand-over")
    assert status == 2 and "event 3 is not what was logged" in err


def test_a_state_that_the_area_does_not_have_is_refused(job):
    """Marks are marked, not in."""
    job("open", "demo", "--area", AREA, "--shop", SHOP)
    status, _, err = job("moved", "subframe marks", "in")
    assert status == 2 and "it knows: not marked, marked" in err


def test_seized_shows_the_ladder_beside_another_way(job):
    """With minutes and chances, and what the whole job comes to."""
    job("open", "demo", "--area", AREA, "--shop", SHOP)
    status, out, _ = job("differs", "left mount nuts", "seized", "--count", "1", "--note", "turns with its stud")
    assert status == 0
    assert "WHAT MAY FREE IT" in out and "another way" in out and "left drive shaft 22 min" in out


def test_a_paused_job_is_handed_on_and_taken_over(job):
    """The receiver confirms what is dangerous before he goes on."""
    job("open", "brakes")
    job("off", "bolts", "2", "--tray", "1")
    assert job("pause")[0] == 0
    assert job("resume")[0] == 0
    assert "LOOK AND CONFIRM" in job("hand-on", "--to", "technician 2")[1]
    status, _, err = job("off", "nuts", "1", "--tray", "1", "--by", "technician 2")
    assert status == 1 and "technician 2" in err
    assert job("take-over", "--by", "technician 2")[0] == 2
    assert job("take-over", "a", "b", "c", "--by", "technician 2")[0] == 0
    assert job("confirm", "--by", "technician 2")[0] == 0


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (("on", "bolts", "2"), "say how tight"),
        (("on", "bolts", "2", "--torque", "25 lb"), "no clear unit"),
        (("off", "bolts", "0", "--tray", "1"), "no count"),
        (("off", "bolts", "2"), "say where they lie"),
        (("fluid", "out", "coolant", "2 pints"), "not in litres"),
        (("compare", "pump", "ribs"), "NAME=VALUE"),
        (("tightened", "bolts", "2", "--angle", "90"), "torque of the stage before"),
        (("undo", "1"), "cannot be taken back"),
        (("take-over",), "nobody has handed it on"),
        (("next", "--job", "nonesuch"), "no job"),
        (("photo", AREA), "no JPEG"),
        (("off", "bolts\n99 somebody", "2", "--tray", "1"), "one line of text"),
        (("off", "b" * 5000, "2", "--tray", "1"), "at most 4000 signs"),
        (("log", "--last", "-5"), "from 1"),
    ],
)
def test_what_cannot_be_understood_is_one_sentence(job, words, complaint):
    """Nothing is logged then."""
    job("open", "brakes")
    before = job("log")[1]
    status, _, err = job(*words)

    assert status == 2 and complaint in err and len(err.splitlines()) == 1
    assert job("log")[1] == before


def test_without_a_ledger_it_says_so(job):
    """Asking does not make one."""
    status, _, err = job("next")
    assert status == 2 and len(err.splitlines()) == 1


def test_a_photo_is_kept_and_shown_at_the_refit(job, tmp_path):
    """It is known by how it begins, not by its name."""
    picture = tmp_path / "hose.jpg"
    picture.write_bytes(b"\xff\xd8\xff\xe0" + bytes(100))
    job("open", "brakes")
    job("moved", "hose", "off")
    assert job("photo", str(picture), "--item", "hose")[0] == 0
    assert "hose.jpg" in job("next", "--all", "--json")[1]


def test_parts_fluids_and_readings_are_told_in_the_record(job):
    """Each with who said it."""
    job("open", "brakes")
    job("part", "ordered", "pads", "4")
    job("part", "arrived", "pads", "4")
    job("fluid", "out", "brake fluid", "0.3 l")
    job("fluid", "in", "brake fluid", "0.3")
    job("reading", "disc run-out", "0.02", "mm", "--after", "--good")
    assert job("hand-over")[0] == 0
    out = job("record", "--job", "brakes")[1]
    assert "brake fluid: 0.3 l out, 0.3 l in" in out and "disc run-out: after 0.02 mm (good)" in out


def test_the_drive_beside_the_area_file_is_kept_and_told_of(job, tmp_path):
    """One that is not there is said so at once; one that is edited afterwards is told among what differs."""
    alone = tmp_path / "demo-a.yaml"
    alone.write_bytes(Path(AREA).read_bytes())
    without = job("open", "without", "--area", str(alone), "--shop", SHOP)[1]
    drive = tmp_path / "demo-a-drive.yaml"
    drive.write_bytes((DEMO / drive.name).read_bytes())
    opened = job("open", "with", "--area", str(alone), "--shop", SHOP)[1]
    drive.write_bytes(drive.read_bytes().replace(b"7PK1538", b"7PK1545"))
    edited = json.loads(job("proposals", "--file", str(alone), "--job", "with", "--json")[1])["edited"]

    assert f"There is no drawing of the belt: {drive.name} did not lie beside the area file" in without
    assert "drawing" not in opened
    assert edited == [f"{drive.name}: the belt drive is another in the file now; this job shows the one it began with"]
