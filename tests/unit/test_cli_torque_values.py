"""`putback torque judge`, `range`, `heads` and `table`."""

import io
import json
import sys

import pytest

from putback.cli import main
from putback.cli_torque import WORDS

SHEET = """\
Torques in N·m
upper bolt; M10x1.5; 8.8; 46
stud nut; M8; 5.8; 97 ft-lb
oil filter; 3/4 turn after gasket contact
tray screws; 7 lb
"""


@pytest.fixture
def said(capsys):
    """Run a command line: exit status, and what was printed."""

    def run(*words: str) -> tuple[int, str]:
        status = main(["torque", *words])
        out = capsys.readouterr()
        return status, out.out + out.err

    return run


@pytest.fixture
def sheet(tmp_path, monkeypatch):
    """A sheet in the working folder."""
    (tmp_path / "sheet.txt").write_text(SHEET, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    "words",
    [
        ["judge", "97 ft-lb", "--thread", "M8x1.25", "--class", "5.8", "--spec", "97 in-lb", "--coated"],
        ["range", "M8", "--class", "A2-70"],
        ["heads", "19"],
        ["heads", "M12x1.5"],
        ["table", "sheet.txt", "--source", "page 12"],
    ],
)
def test_text_keeps_to_80_columns(said, sheet, words):
    """On a small screen and on paper; words that name a unit are not torn apart."""
    text = said(*words)[1]

    assert max(map(len, text.splitlines())) <= 80
    assert "ft-\n" not in text


@pytest.mark.parametrize("word", ["judge", "range", "heads", "table"])
def test_every_word_has_help(said, word):
    """Which names its arguments."""
    assert word in WORDS
    status, text = said(word, "--help")
    assert (status, "usage: putback torque " + word in text) == (0, True)


def test_judge_as_json(said):
    """A stud M8, class 5.8; 97 ft-lb where the sheet says 97 in-lb. An invented case."""
    status, text = said("judge", "97 ft-lb", "--thread", "M8x1.25", "--class", "5.8", "--spec", "97 in-lb", "--json")
    found = json.loads(text)

    assert (status, found["verdict"], found["unit_probably_meant"]) == (1, "stop", "in-lb")
    assert found["ratio_to_proof"] == pytest.approx(5.9, abs=0.05)
    assert [one["code"] for one in found["findings"]] == ["above-proof", "unit-slip"]


@pytest.mark.parametrize(
    ("words", "status", "first"),
    [
        (["11 N·m", "--spec", "97 in-lb", "--thread", "M8", "--class", "5.8"], 0, "FINE"),
        (["11 N·m", "--spec", "97 in-lb", "--evidence", "feel"], 1, "ASK"),
        (["24 N·m", "--spec", "25 N·m", "--tolerance", "± 3 %"], 1, "ASK"),
        (["24 N·m", "--spec", "25 N·m", "--tolerance", "5"], 0, "FINE"),
        (["92 N·m", "--spec", "92 N·m + 90°"], 1, "STOP"),
        (["92 N·m", "--spec", "92 N·m + 90°", "--angle-done"], 0, "FINE"),
        (["52 N·m", "--spec", "52 N·m", "--one-time"], 1, "STOP"),
        (["52 N·m", "--spec", "52 N·m", "--one-time", "--by", "the foreman", "--because", "none to be had"], 0, "FINE"),
        (["11 N·m", "--spec", "11 N·m", "--into", "Plastic", "--impact-tool"], 1, "STOP"),
        (["7 N·m", "--spec", "7 N·m", "--lengths", "2"], 1, "STOP"),
        (["7 N·m", "--spec", "7 N·m", "--lengths", "2", "--long-at", "rear edge"], 0, "FINE"),
        (["35 ft-lb", "--head", "15 mm"], 0, "FINE"),
        (["35 in-lb", "--head", "15 mm"], 1, "ASK"),
    ],
)
def test_judge_as_text(said, words, status, first):
    """The verdict stands first, and the exit status agrees with it."""
    found, text = said("judge", *words)

    assert (found, text.splitlines()[0]) == (status, first)
    assert text.splitlines()[-1] == "The vehicle maker's figure goes before everything here."


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["judge", "97"], 'torque "97" has no clear unit'),
        (["judge", "97 in-lb", "--spec", "97"], 'torque "97" has no clear unit'),
        (["judge", "97 in-lb", "--class", "5.8"], "name it as well, as in --thread M8x1.25"),
        (["judge", "97 in-lb", "--thread", "M8", "--class", "5.9"], "is no property class known for M8x1.25"),
        (["judge", "97 in-lb", "--thread", "M8", "--head", "13 mm"], "--head is for a thread that is not known"),
        (["judge", "97 in-lb", "--uses", "0"], "count this time as well"),
        (["judge", "97 in-lb", "--lengths", "0"], "count them from 1"),
        (["judge", "97 in-lb", "--tolerance", "100 %"], "a tolerance is below 100 %"),
        (["judge", "97 in-lb", "--tolerance", "much"], "is no number"),
        (["range", "M8"], "depends on its class"),
        (["range", "M8x2", "--class", "8.8"], "is no pitch of M8"),
        (["range", "M8", "--class", "8.8", "--friction", "0.1-0.2-0.3"], "is no range of friction"),
        (["range", "M8", "--class", "8.8", "--friction", "0-2"], "friction lies between 0 and 1"),
        (["range", "M8", "--class", "8.8", "--unit", "lb"], "is no unit of torque"),
        (["heads", "large"], "is no size of a spanner or key"),
        (["heads", "1/4-19 UNC"], "1/4 UNC has 20 threads to an inch"),
        (["table", "gone.txt"], "gone.txt: there is no such file"),
        (["table", "sheet.txt", "--area", "gone.yaml"], "gone.yaml: there is no such file"),
    ],
)
def test_what_cannot_be_used_is_told_in_one_sentence(said, sheet, words, sentence):
    """On the error stream, with exit status 2."""
    status, text = said(*words)

    assert status == 2
    assert sentence in text
    assert text.count("\n") == 1


def test_range_says_that_it_is_generic(said):
    """Before anybody takes it for the maker's figure."""
    status, text = said("range", "M10x1.5", "--class", "8.8")

    assert (status, text.splitlines()[0]) == (0, "M10x1.5, class 8.8: 36 to 59 N·m (27 to 43 ft-lb)")
    assert "no maker's figure" in " ".join(text.split())
    found = json.loads(said("range", "M10x1.5", "--class", "8.8", "--json")[1])
    assert (found["generic"], found["torque_nm"]) == (True, [36.4, 58.9])


def test_range_in_a_unit_and_with_friction_of_ones_own(said):
    """One friction gives one torque, said as a range all the same."""
    first = said("range", "M10", "--class", "8.8", "--unit", "in-lb", "--friction", "0.14")[1].splitlines()[0]

    assert first == "M10x1.5, class 8.8: 54 to 54 N·m (477 to 477 in-lb)"


def test_heads_either_way(said):
    """A size of a tool, or a thread; what no standard has ends in exit status 1."""
    status, text = said("heads", "15 mm")
    assert (status, "M12       flange bolt, small         ISO 4162:2012, JIS B 1189" in text) == (0, True)
    assert "15 mm     flange nut" in said("heads", "M10x1.25")[1]
    assert "3/4 in" in said("heads", "1/2-20")[1]
    assert "3/4       hexagon cap screw" in said("heads", "1-1/8 in")[1]
    assert said("heads", "99 mm") == (1, "No standard here has a head for 99 mm.\n")


def test_heads_as_json(said):
    """With the threads that each may have, and those of the other system that nearly fit."""
    found = json.loads(said("heads", "19 mm", "--json")[1])

    assert {"thread": "M12x1.5", "threads": ["M12x1.5"]}.items() <= found["heads"][2].items()
    assert {one["size"] for one in found["nearly"]} == {"3/4 in"}


def test_table_prints_lines_for_an_area_file(said, sheet):
    """What is not fine stands behind a #, and so does what was refused, with its line."""
    status, text = said("table", "sheet.txt", "--source", "page 12")

    assert status == 1
    assert text.splitlines()[:3] == [
        "# Torques in N·m",
        "upper bolt: M10x1.5 bolt, class 8.8, 46 N·m, source page 12",
        "# stud nut: M8x1.25 bolt, class 5.8, 97 ft-lb, source page 12",
    ]
    assert "# sheet.txt:5: tray screws; 7 lb\n" in text
    assert 'write "7 ft-lb" or "7 in-lb"' in text
    assert text.endswith("# 3 rows read, 1 not taken.\n")


def test_table_as_json(said, sheet):
    """Rows, headings and refusals."""
    found = json.loads(said("table", "sheet.txt", "--source", "page 12", "--json")[1])

    assert [(row["line"], row["name"], row["verdict"]) for row in found["rows"]] == [
        (2, "upper bolt", "fine"),
        (3, "stud nut", "stop"),
        (4, "oil filter", "fine"),
    ]
    assert (found["rows"][0]["stages_nm"], found["rows"][2]["angles_deg"]) == ([46.0], [270.0])
    assert (found["source"], found["headings"]) == ("page 12", [{"line": 1, "text": "Torques in N·m"}])
    assert found["refused"][0]["line"] == 5


def test_table_with_an_area(said, sheet, root):
    """Names are those of the demo area, thread and class come from it, and what differs is asked about."""
    area = str(root / "src/putback/demo/demo-a.yaml")
    (sheet / "sheet.txt").write_text("short tray screws; 7 N·m\nidler bolt; 43 ft-lb\nidler bold; 43 N·m\n", "utf-8")

    rows = json.loads(said("table", "sheet.txt", "--area", area, "--json")[1])["rows"]
    assert [(row["verdict"], row["thread"]) for row in rows] == [("fine", "M6x1"), ("ask", "M10x1.25"), ("ask", None)]
    assert rows[0]["area_line"] == "short tray screws: 7 x M6x1.0x16 bolt, class 8.8, 7 N·m"
    assert rows[1]["findings"][-1]["words"] == "The sheet has 43 ft-lb here, the area 43 N·m: which is right?"
    assert 'did you mean "idler bolt"?' in rows[2]["findings"][-1]["words"]


def test_table_from_the_standard_input(said, monkeypatch):
    """Typed or piped; a clean table ends in exit status 0, and a missing source is said."""
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO("cover screw\t8\tN·m\n".encode())))
    status, text = said("table", "-")

    assert (status, text.splitlines()[0]) == (0, "cover screw: fastener, 8 N·m")
    assert "No source is said" in text


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"upper bolt\t46 N\xb7m", "save it as UTF-8"),
        (b"nothing here\n", "no row with a torque"),
        (b"", "no row with a torque"),
    ],
)
def test_table_refuses_what_is_no_table(said, sheet, data, sentence):
    """In one sentence that says what to do."""
    (sheet / "sheet.txt").write_bytes(data)
    status, text = said("table", "sheet.txt")

    assert (status, sentence in text) == (2, True)
