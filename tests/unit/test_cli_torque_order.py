"""`putback torque order`."""

import json
from xml.etree import ElementTree

import pytest

from putback.cli import main


def told(capsys, *words) -> dict:
    assert main(["torque", "order", *words, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def printed(capsys, *words) -> list[str]:
    assert main(["torque", "order", *words]) == 0
    return capsys.readouterr().out.splitlines()


def test_the_order_alone(capsys):
    """Nothing else where nothing else was asked for."""
    assert told(capsys, "5") == {"order": [1, 3, 5, 2, 4]}
    assert told(capsys, "--rows", "1x5") == {"order": [3, 2, 4, 1, 5]}


def test_passes_rise_and_end_with_a_round(capsys):
    """Each with its order and its share."""
    found = told(capsys, "8", "--passes", "30/60/100")

    assert [(one["kind"], one.get("percent")) for one in found["passes"]] == [
        ("snug", None), ("pass", 30), ("pass", 60), ("pass", 100), ("round", None),
    ]  # fmt: skip
    assert found["passes"][-1]["order"] == [1, 2, 3, 4, 5, 6, 7, 8]
    assert len(told(capsys, "8", "--passes", "30/60/100", "--no-round")["passes"]) == 4


def test_the_makers_stages_and_angle(capsys):
    """The angle comes after the torque of all."""
    found = told(capsys, "4", "--torque", "20 N·m + 92 N·m + 90°")["passes"]

    assert [one.get("torque_nm") for one in found] == [pytest.approx(18.4), 20, 92, None]
    assert found[-1] == {"kind": "angle", "order": [1, 3, 2, 4], "angle_deg": 90}


def test_passes_that_are_only_counted_rise_in_equal_steps(capsys):
    """Where the sheet says how many, but not which."""
    found = told(capsys, "5", "--torque", "104 N·m in 2 passes")["passes"]

    assert [one["torque_nm"] for one in found if one["kind"] == "pass"] == [52, 104]


def test_the_text_tells_what_to_do(capsys):
    """In sentences, within 80 columns, the maker's word last."""
    lines = printed(capsys, "5", "--torque", "104 N·m", "--after-driving")

    assert lines[1] == "  1-3-5-2-4"
    assert "Pass 2: 62.4 N·m (60 %), in this order." in lines
    assert any("80 to 160 km" in line for line in lines)
    assert max(map(len, printed(capsys, "60"))) <= 80


def test_fasteners_by_name(capsys, tmp_path):
    """In any spelling that says where they are."""
    path = tmp_path / "sump.txt"
    path.write_text("# sump, mm\nfront left, 0, 0\nfront right 240 0\nrear left; 0; 100\nrear right\t240\t100\n\n")

    assert told(capsys, "--places", str(path))["order"] == ["front left", "rear right", "rear left", "front right"]
    assert "   2  rear right" in printed(capsys, "--places", str(path))


def test_what_is_wrong_with_the_places_is_told_at_once(capsys, tmp_path):
    """Each line with its place."""
    path = tmp_path / "sump.txt"
    path.write_text("a 1 2\n a 3 4\nb\n")

    assert main(["torque", "order", "--places", str(path)]) == 2
    assert capsys.readouterr().err.splitlines() == [
        f'{path}:2:2: "a" stands in line 1 already; give each fastener a name of its own',
        f'{path}:3:1: "b" is no place; write a name and two coordinates, as in "front left, 0, 0"',
    ]


@pytest.mark.parametrize(
    ("data", "said"),
    [(b"", "there is no place in this file"), (b"\xff\xfe", "no text in UTF-8"), (b"#" * 100_001, "larger than")],
)
def test_a_file_that_holds_no_places_is_told(capsys, tmp_path, data, said):
    """Empty, not text, or far too large."""
    path = tmp_path / "sump.txt"
    path.write_bytes(data)

    assert main(["torque", "order", "--places", str(path)]) == 2
    assert said in capsys.readouterr().err


def test_the_picture_is_written(capsys, tmp_path):
    """With title and description."""
    path = tmp_path / "order.svg"
    told(capsys, "5", "--torque", "104 N·m", "--svg", str(path))
    tree = ElementTree.parse(path).getroot()

    space = "{http://www.w3.org/2000/svg}"
    assert tree.findtext(f"{space}title") == "Order of tightening: 5 on a circle"
    assert tree.findtext(f"{space}desc") == "First 1, then 3, 5, 2, 4."
    assert any("62.4 N·m" in (text.text or "") for text in tree.iter(f"{space}text"))


@pytest.mark.parametrize("line", ["a" + " " * 90_000 + "b", "\x1b[2Ja 1 2"])
def test_a_line_made_to_break_readers_ends_at_once(capsys, tmp_path, line):
    """Neither endless looking nor signs that a terminal would obey."""
    path = tmp_path / "sump.txt"
    path.write_text(line)

    assert main(["torque", "order", "--places", str(path)]) == 2
    err = capsys.readouterr().err
    assert "this line is no place" in err
    assert "\x1b" not in err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "say one of"),
        (["5", "--rows", "2x5"], "say one of"),
        (["five"], "is no number of fasteners"),
        (["0"], "for 1 to 60 fasteners"),
        (["61"], "for 1 to 60 fasteners"),
        (["--rows", "2 by 5"], 'as in "2x5"'),
        (["--rows", "0x5"], "hold no fastener"),
        (["5", "--passes", "thirds"], 'as in "30/60/100"'),
        (["5", "--passes", "60/30/100"], "rise to 100 %"),
        (["5", "--torque", "25 lb"], "has no clear unit"),
        (["5", "--torque", "20 N·m + 90°", "--passes", "30/100"], "leave --passes out"),
        (["--places", "no such.txt"], "there is no such file"),
    ],
)
def test_what_is_not_understood_is_told(capsys, words, said):
    """In one sentence, and nothing else."""
    assert main(["torque", "order", *words]) == 2
    out, err = capsys.readouterr()
    assert (out, said in err, err.count("\n")) == ("", True, 1)
