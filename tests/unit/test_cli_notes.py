"""`putback notes`: what a note says, on the terminal, as JSON, and as an area that can be planned."""

import json
from pathlib import Path

import pytest

from putback.cli import main

NOTE = """[0:02] Wheel off, five 19 mm bolts. Liner off, six push pins.
[0:40] Fan plug unplugged. Pump out, two 13 mm bolts.
[1:30] New pump in, two bolts 25 Nm. Liner on. Wheel on, five bolts 120 pounds.
"""
KEYS = {
    "events": {"item", "action", "count", "tool", "torque", "unit", "angle", "source", "confidence"},
    "torques": {"item", "value", "unit", "source"},
    "left_over": {"item", "why", "source"},
    "doubtful": {"question", "source"},
    "follow_ups": {"what", "source"},
    "new_parts": {"item", "count", "source"},
}


@pytest.fixture
def folder(tmp_path, monkeypatch) -> Path:
    """A folder with a note, which is the working folder."""
    (tmp_path / "pump.txt").write_text(NOTE, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_json_has_the_keys_of_the_contract(folder, capsys):
    """Every list is there, every entry has its keys, every source quotes the note."""
    assert main(["notes", "pump.txt", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)

    assert set(told) == set(KEYS)
    for name, keys in KEYS.items():
        for entry in told[name]:
            assert set(entry) == keys
            source = entry["source"]
            line = NOTE.splitlines()[source["line"] - 1]
            assert line[source["column"] - 1 :].startswith(source["text"].splitlines()[0])


def test_the_text_fits_80_columns_and_says_what_is_left_over(folder, capsys):
    """The procedure first, then what is left over, new and doubtful."""
    assert main(["notes", "pump.txt"]) == 0
    out = capsys.readouterr().out

    assert max(map(len, out.splitlines())) <= 80
    headings = [line for line in out.splitlines() if line.isupper()]
    assert any("LEFT OVER" in line for line in headings)
    assert "fan plug: unplugged, never plugged in" in out.lower()
    assert "DOUBTFUL" in headings


def test_a_draft_checks_plans_and_takes_the_notes_own_order(folder, capsys):
    """check finds nothing, way finds a way, and the order of the note is allowed as it is."""
    assert main(["notes", "pump.txt", "--area", "pump.yaml", "--order", "order.yaml"]) == 0
    capsys.readouterr()

    assert main(["check", "pump.yaml"]) == 0
    assert main(["way", "pump.yaml"]) == 0
    capsys.readouterr()
    assert main(["way", "pump.yaml", "--order", "order.yaml"]) == 0
    assert "NOT ALLOWED" not in capsys.readouterr().out


def test_two_notes_are_merged_into_one_area(folder, capsys):
    """What both tell of stands once."""
    (folder / "again.txt").write_text(
        "Liner off. Wheel off. Pump out. New pump in. Wheel on. Liner on.", encoding="utf-8"
    )

    assert main(["notes", "pump.txt", "again.txt", "--area", "both.yaml"]) == 0
    capsys.readouterr()
    assert main(["check", "both.yaml"]) == 0
    assert (folder / "both.yaml").read_text(encoding="utf-8").lower().count("\n  wheel:") == 1


def test_what_cannot_be_read_is_told_in_one_sentence(folder, capsys):
    """No such file; not UTF-8; a note from which no area can be drafted."""
    (folder / "latin.txt").write_bytes(b"wheel off\ncaf\xe9\n")
    (folder / "empty.txt").write_text("Nothing done today.\n", encoding="utf-8")

    assert main(["notes", "no.txt"]) == 2
    assert capsys.readouterr().err == "no.txt: there is no such file\n"
    assert main(["notes", "latin.txt"]) == 2
    assert capsys.readouterr().err == "latin.txt:2: the note is not UTF-8 text; save it as UTF-8\n"
    assert main(["notes", "empty.txt", "--area", "x.yaml"]) == 2
    assert capsys.readouterr().err == "empty.txt: nothing comes off in this note, so there is no area to draft\n"


def test_an_empty_note_gives_nothing(folder, capsys):
    """Empty lists, and a text that says so."""
    (folder / "empty.txt").write_text("", encoding="utf-8")
    assert main(["notes", "empty.txt"]) == 0
    assert "Nothing in this note was understood as a step." in capsys.readouterr().out
