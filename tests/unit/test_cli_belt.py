"""`putback belt`."""

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from belt_samples import NAME

from putback import demo
from putback.cli import main

DRIVE = str(Path(demo.__file__).parent / NAME)
RIGHT = "crankshaft, tensioner pulley, idler pulley, alternator, compressor"


def printed(capsys, *words, status: int = 0) -> list[str]:
    assert main(["belt", *words]) == status
    return capsys.readouterr().out.splitlines()


def told(capsys, *words, status: int = 0) -> dict:
    assert main(["belt", *words, "--json"]) == status
    return json.loads(capsys.readouterr().out)


def changed(tmp_path, *pairs: tuple[str, str]) -> str:
    """The demo drive with pieces of it in other words, as a file."""
    text = demo.text(NAME).decode("utf-8")
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    path = tmp_path / "drive.yaml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def codes(found: list[dict]) -> list[str]:
    return [one["code"] for one in found if one["verdict"] == "stop"]


def test_a_drive_is_told_within_80_columns(capsys):
    """Route, tensioner, loads, cautions."""
    lines = printed(capsys, DRIVE)

    assert max(map(len, lines)) <= 80
    assert lines[-1].strip()
    assert "     alternator              ribs  clockwise        91°   304 mm   74 Hz   2.61" in lines
    assert "     A 4.5 mm pin holds it at 237°; the belt then has 36 mm to spare." in lines
    assert any("spring load" in line for line in lines)
    assert any("maker's" in line for line in lines)


def test_the_same_as_json(capsys):
    """With every figure in its unit."""
    found = told(capsys, DRIVE)
    route, alternator = found["route"], found["route"]["pulleys"][3]

    assert (found["verdict"], found["findings"], found["wrong"], route["origin"]) == ("fine", [], [], "known")
    assert route["length_mm"] == 1538
    assert route["tensioner"]["lengths_mm"]["longest"] > 1538 > route["tensioner"]["lengths_mm"]["shortest"]
    assert route["tensioner"]["inside_its_marks"]
    assert alternator["speed_ratio"] == pytest.approx(154 / 59, abs=1e-4)
    turned = sum(one["wrap_deg"] * (1 if one["side"] == "ribs" else -1) for one in route["pulleys"])
    assert turned == pytest.approx(360, abs=1e-3)
    assert [one["name"] for one in found["at_work"]["pulleys"]] == ["crankshaft", "alternator", "compressor"]


def test_a_belt_laid_right_is_not_called_wrong(capsys):
    """In either direction, from any pulley on."""
    for route in (RIGHT, "alternator, idler pulley, tensioner pulley, crankshaft, compressor"):
        assert told(capsys, DRIVE, "--laid", route)["laid"] == []
    assert "     Nothing speaks against it." in printed(capsys, DRIVE, "--laid", RIGHT)


def test_a_belt_laid_wrong_is_told_beside_the_right_route(capsys):
    """With exit status 1."""
    found = told(capsys, DRIVE, "--laid", RIGHT.replace("alternator", "alternator back, 1 rib off"), status=1)

    assert {"rotation", "face", "rib off"} <= set(codes(found["laid"]))
    assert (found["verdict"], found["route"]["origin"], found["findings"]) == ("stop", "known", [])


def test_without_a_route_the_likely_one_is_worked_out(capsys, tmp_path):
    """And that it is not known is said."""
    file = changed(tmp_path, (f"route: [{RIGHT}]", ""), ("    side: back\n", ""))
    found = told(capsys, file)

    assert found["route"]["origin"] == "proposed"
    assert ", ".join(one["name"] for one in found["route"]["pulleys"]) == RIGHT
    assert any("worked out, not known" in line for line in printed(capsys, file))


def test_without_a_route_a_belt_as_it_is_laid_is_judged(capsys, tmp_path):
    """Right is taken for right, wrong is told beside the likely route."""
    file = changed(tmp_path, (f"route: [{RIGHT}]", ""))
    right = told(capsys, file, "--laid", RIGHT)
    swapped = RIGHT.replace("idler pulley, alternator", "alternator, idler pulley")
    wrong = told(capsys, file, "--laid", swapped, status=1)

    assert (right["route"]["origin"], right["laid"]) == ("as laid", [])
    assert (wrong["route"]["origin"], codes(wrong["laid"])) == ("proposed", ["crossing"])


def test_a_wrong_route_in_the_file_is_told(capsys, tmp_path):
    """And the likely right one beside it."""
    file = changed(tmp_path, ("idler pulley, alternator, compressor", "alternator, idler pulley, compressor"))
    found = told(capsys, file, status=1)

    assert codes(found["wrong"]) == ["crossing"]
    assert ", ".join(one["name"] for one in found["route"]["pulleys"]) == RIGHT
    assert "THE ROUTE IN THE FILE IS WRONG" in printed(capsys, file, status=1)


def test_a_belt_that_no_route_fits_leaves_the_known_route_standing(capsys, tmp_path):
    """With the lengths that would do."""
    lines = printed(capsys, changed(tmp_path, ("7PK1538", "7PK1700")), status=1)

    assert any("112 mm too long" in line for line in lines)
    assert "     Belts of 1515 mm to 1559 mm keep it between them." in lines


def test_where_no_route_fits_the_belt_the_likely_one_is_told_with_the_lengths_that_do(capsys, tmp_path):
    """And exit status 1, for the belt is wrong or the figures are."""
    file = changed(tmp_path, ("7PK1538", "7PK1700"), (f"route: [{RIGHT}]", ""))
    found = told(capsys, file, status=1)

    assert (found["route"]["origin"], codes(found["findings"])) == ("proposed", ["length"])
    assert ", ".join(one["name"] for one in found["route"]["pulleys"]) == RIGHT
    assert "     Belts of 1515 mm to 1559 mm keep it between them." in printed(capsys, file, status=1)


def test_where_no_route_is_possible_that_is_told(capsys, tmp_path):
    """With exit status 1, and no picture to draw."""
    file = changed(tmp_path, ("at: 90, 245 mm", "at: 500, 245 mm"), (f"route: [{RIGHT}]", ""))

    assert any(line.startswith("No route over all of these pulleys") for line in printed(capsys, file, status=1))
    assert "route" not in told(capsys, file, status=1)
    assert main(["belt", file, "--svg", str(tmp_path / "x.svg")]) == 2
    assert "needs a route that is possible" in capsys.readouterr().err


def test_another_belt_is_judged(capsys):
    """A right one, and one with a rib too few."""
    assert codes(told(capsys, DRIVE, "--fit", "7PK1545")["fit"]) == []
    assert codes(told(capsys, DRIVE, "--fit", "6PK1545", status=1)["fit"]) == ["ribs"]
    assert "ANOTHER BELT: 7PK1545" in printed(capsys, DRIVE, "--fit", "7PK1545")


@pytest.mark.parametrize(
    ("angle", "found"),
    [
        ("253.2 deg", [("place", "fine")]),
        ("259 deg", [("place", "ask")]),  # 12 mm longer
        ("264 deg", [("length", "stop"), ("place", "ask")]),
        ("240 deg", [("length", "stop"), ("place", "ask")]),
    ],
)
def test_the_arm_tells_how_long_its_belt_is(capsys, angle, found):
    """Outside of its marks it stops; a belt that acts longer than its mark is asked about."""
    told_of = told(capsys, DRIVE, "--arm", angle, status=1 if len(found) > 1 else 0)["arm"]

    assert [(one["code"], one["verdict"]) for one in told_of] == found


def test_the_tone_of_a_run_tells_the_tension(capsys):
    """Near the spring's it is fine, far from it asked about; the run is named in either direction."""
    near = told(capsys, DRIVE, "--tone", "70 Hz", "--run", "alternator to idler pulley")["tone"][0]
    far = told(capsys, DRIVE, "--tone", "40 Hz", "--run", "idler pulley to alternator")["tone"][0]

    assert (near["verdict"], far["verdict"]) == ("fine", "ask")
    assert "281 N" in near["words"]


def test_speed_changes_the_loads(capsys):
    """An alternator's torque falls as it turns faster."""
    slow, fast = (told(capsys, DRIVE, "--speed", one)["at_work"]["pulleys"] for one in ("1000 rpm", "4000 rpm"))

    assert slow[1]["torque_nm"] == pytest.approx(4 * fast[1]["torque_nm"], rel=1e-4)
    assert slow[2]["torque_nm"] == fast[2]["torque_nm"] == 12


def test_a_measured_current_counts_in_place_of_the_file(capsys):
    """Half the current, half the torque of the alternator; the compressor's stays."""
    whole, half = (
        told(capsys, DRIVE, "--load", f"alternator: {one} A at 14 V")["at_work"]["pulleys"] for one in (120, 60)
    )

    assert whole[1]["torque_nm"] == pytest.approx(2 * half[1]["torque_nm"], rel=1e-3)
    assert whole[2] != half[2]  # its tension falls with the alternator's
    assert whole[2]["torque_nm"] == half[2]["torque_nm"]


def test_a_belt_that_slips_is_told(capsys):
    """At so little speed the alternator's load is too much."""
    lines = printed(capsys, DRIVE, "--speed", "300 rpm")

    assert any(line.startswith("The belt slips on the alternator at this load") for line in lines)


def test_what_was_seen_needs_no_drive(capsys):
    """The worst of it is the exit status."""
    lines = printed(capsys, "--gauge", "0.3 mm above", "--cracks", "2 in 76 mm")
    assert lines[0] == "WHAT WAS SEEN"
    assert [line[:4] for line in lines[1:] if line[0] != " "] == ["FINE", "FINE"]
    found = told(capsys, "--gauge", "level", "--torn", "5 mm", "--offset", "0.5 mm over 300 mm", status=1)
    assert [(one["code"], one["verdict"]) for one in found["seen"]] == [
        ("rib depth", "stop"), ("missing", "ask"), ("misalignment", "fine"),
    ]  # fmt: skip


def test_an_area_leads_to_its_drive(capsys, tmp_path):
    """By the name that it gives, in its own folder; none and several are told."""
    area = Path(demo.__file__).parent / "demo-a.yaml"
    text = area.read_text(encoding="utf-8")
    head = "drive: demo-a-drive.yaml"
    cases = {
        "": "names no belt drive",
        "drive: [a, b]": "several belt drives: a, b",
        "drive: a": "a: there is no such file",
        "drive: ../a": "lies in the folder of its area file",
    }

    assert told(capsys, str(area)) == told(capsys, DRIVE)
    for drive, said in cases.items():
        path = tmp_path / "area.yaml"
        path.write_text(text.replace(head, drive), encoding="utf-8")
        assert main(["belt", str(path)]) == 2
        assert said in capsys.readouterr().err


def test_the_picture_is_written(capsys, tmp_path):
    """With title and description."""
    path = tmp_path / "belt.svg"
    printed(capsys, DRIVE, "--svg", str(path))
    tree = ElementTree.parse(path).getroot()

    assert tree.findtext("{http://www.w3.org/2000/svg}title") == "Accessory drive of demo car A"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "name a drive file, or say what was seen"),
        (["--fit", "7PK1538"], "--fit is about a drive; name its file"),
        (["gone.yaml"], "gone.yaml: there is no such file"),
        ([DRIVE, "--laid", ""], "there is no pulley in it"),
        ([DRIVE, "--laid", "crankshaft"], "two pulleys at least"),
        ([DRIVE, "--laid", "alternator, compressor"], "crankshaft drives the belt, and is not in this route"),
        ([DRIVE, "--laid", "crankshaft, alternater"], 'did you mean "alternator"?'),
        ([DRIVE, "--laid", "crankshaft, alternator, alternator"], "alternator stands in this route twice"),
        ([DRIVE, "--fit", "1538"], "is no mark of a ribbed belt"),
        ([DRIVE, "--speed", "fast"], "is no speed of an engine"),
        ([DRIVE, "--load", "90 A at 14 V"], "what load on which pulley"),
        ([DRIVE, "--load", "crankshaft: 2 kW"], "is no driven pulley"),
        ([DRIVE, "--load", "alternator: 90 A"], "is no load"),
        ([DRIVE, "--arm", "253"], "is no angle"),
        ([DRIVE, "--arm", "90 deg"], "cannot stand at 90°, beyond its stops"),
        ([DRIVE, "--tone", "95 Hz"], "say the tone and the run together"),
        ([DRIVE, "--tone", "95", "--run", "crankshaft to compressor"], "is no frequency"),
        ([DRIVE, "--tone", "0 Hz", "--run", "crankshaft to compressor"], "a frequency above 0"),
        ([DRIVE, "--tone", "95 Hz", "--run", "crankshaft to alternator"], "is no run of this belt; there are"),
        (["--cracks", "many"], "how many cracks in how much of a rib"),
        (["--gauge", "0.3 mm"], "where the gauge lies"),
        (["--gauge", "1 mm level"], "where the gauge lies"),
        (["--torn", "8"], "has no clear unit"),
        (["--offset", "1 mm"], "what gap over what length"),
    ],
)
def test_what_is_not_understood_is_told(capsys, words, said):
    """In one sentence, and nothing else."""
    assert main(["belt", *words]) == 2
    out, err = capsys.readouterr()
    assert (out, said in err, err.count("\n")) == ("", True, 1)


def test_a_drive_without_tensioner_or_mass_asks_for_what_it_lacks(capsys, root):
    """Tension for the loads, mass for the tone."""
    file = str(root / "tests" / "data" / "belt" / "adjusted_by_hand.yaml")
    assert any("belt tight" in line for line in printed(capsys, file))
    assert main(["belt", file, "--speed", "2000 rpm"]) == 2
    assert "spring torque, or the belt's tension at rest" in capsys.readouterr().err
