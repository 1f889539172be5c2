"""Drive files: what is read, and what is said of what cannot be."""

from math import degrees, pi, radians

import pytest
import yaml
from belt_samples import demo_drive

from putback import demo
from putback import drive_phrases as phrases
from putback.belt.drive import BACK, RIBS, Stop
from putback.belt.geometry import ANTICLOCKWISE, CLOCKWISE
from putback.drive_file import read_drive, read_stop, scan_drive
from putback.errors import Findings, InputError

HEAD = "drive: 1\nname: sample\nbelt: 6PK900\n"
CRANK = "  crank: {is: driver, at: '0, 0 mm', effective diameter: 140 mm, grooves: 6, rotation: clockwise}\n"
ALTERNATOR = "  alternator: {is: driven, at: '300, 0 mm', effective diameter: 55 mm, grooves: 6}\n"
SAMPLE = HEAD + "pulleys:\n" + CRANK + ALTERNATOR
IDLER = "  wheel: {is: idler, outside diameter: 70 mm}\n"
ARM = SAMPLE + IDLER + "tensioner: {pulley: wheel, pivot: '150, 120 mm', arm: 80 mm, range: 300 to 240 deg}\n"


def told(text: str) -> list[str]:
    """The findings of a file, without its name."""
    return [str(one).removeprefix("f.yaml:") for one in scan_drive(text, "f.yaml")[1]]


def test_the_demo_drive_is_read_as_it_stands():
    """In SI units."""
    drive = demo_drive()
    alternator, arm = drive.pulley("alternator"), drive.tensioner

    assert (drive.belt.mark, drive.belt.mass, drive.belt.back) == ("7PK1538", 0.14, 0.0024)
    assert (alternator.centre, alternator.diameter, alternator.grooves) == ((0.317, 0.018), 0.055, 7)
    assert alternator.power == pytest.approx(135 * 14 / 0.55)
    assert (arm.pivot, arm.arm, arm.pin_diameter, arm.spring) == ((0.132, 0.165), 0.07, 0.0045, (30, 40))
    angles = [degrees(one) for one in (arm.free, arm.loaded, *arm.marks, arm.pin)]
    assert angles == pytest.approx([277, 233, 263, 243, 237])
    assert (arm.slackens, drive.driver.name) == (CLOCKWISE, "crankshaft")
    assert drive.route[1] == Stop("tensioner pulley", BACK)
    assert drive.speed == pytest.approx(2000 * 2 * pi / 60)


def test_the_demo_drive_agrees_with_the_demo_area():
    """Ribs, length, pin, direction, hub, and a ratio between 2.3 and 3.1."""
    from putback.belt.route import lay, speed_ratio

    area, drive = yaml.safe_load(demo.text("demo-a.yaml")), demo_drive()
    pin = area["put in"]["tensioner pin"]

    assert area["belts"]["belt"]["is"] == f"{drive.belt.ribs} ribs, {1000 * drive.belt.length:.0f} mm"
    assert pin["is"].startswith(f"{1000 * drive.tensioner.pin_diameter:g} mm pin")
    assert "clockwise" in pin["how"]["in"]
    assert drive.tensioner.tool in pin["tools"]
    assert drive.pulley("alternator").what == area["match"]["pulley type"]
    assert drive.pulley("alternator").grooves == area["match"]["pulley ribs"]
    assert area["match"]["rotation seen from the pulley"] == "clockwise"
    assert "left-hand" in area["parts"]["idler pulley"]["held by"]["idler bolt"]
    assert {"compressor", "alternator", "idler pulley"} < set(area["parts"])
    assert 2.3 < speed_ratio(lay(drive, drive.route), Stop("alternator", RIBS)) < 3.1


def test_the_least_that_a_drive_needs():
    """Two pulleys and a belt; no route, no tensioner."""
    drive = read_drive(SAMPLE, "f.yaml")

    assert (len(drive.pulleys), drive.route, drive.tensioner, drive.speed) == (2, (), None, None)


@pytest.mark.parametrize(
    ("text", "stop"),
    [
        ("tensioner pulley", Stop("tensioner pulley", BACK)),
        ("tensioner pulley ribs", Stop("tensioner pulley", RIBS)),
        ("alternator back", Stop("alternator", BACK)),
        ("alternator, 1 rib off", Stop("alternator", RIBS, 1)),
        ("alternator back, 2 ribs off", Stop("alternator", BACK, 2)),
    ],
)
def test_a_pulley_of_a_route_is_read(text, stop):
    """With its side and what hangs beside it, if that is said."""
    assert read_stop(demo_drive(), text) == stop


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "the file is empty"),
        ("drive: 2\nname: x\nbelt: 6PK900\npulleys: {}\n", "1:8: version 1 of the form"),
        (HEAD, 'a drive file needs "pulleys"'),
        (HEAD + "pulleys:\n" + CRANK, "a belt runs over two pulleys at least"),
        (HEAD + "pulleys:\n" + ALTERNATOR * 2, "stands here and in line 5"),
        (SAMPLE.replace("is: driver", "is: driven"), 'one pulley drives the others, "is: driver"; none here is'),
        (SAMPLE.replace("is: driven", "is: driver"), "here are 2: crank, alternator"),
        (SAMPLE.replace(", rotation: clockwise", ""), "crank drives, so it needs"),
        (SAMPLE.replace("rotation: clockwise", "rotation: right"), '5:88: "right" is no rotation'),
        (SAMPLE.replace("'300, 0 mm'", "'300, 0'"), "is no place"),
        (SAMPLE.replace("'300, 0 mm'", "'300 mm'"), "is no place"),
        (SAMPLE.replace("'300, 0 mm'", "'300, 0 m'"), "no drive is that large"),
        (SAMPLE.replace("at: '300, 0 mm', ", ""), 'alternator needs "at"'),
        (SAMPLE.replace("'300, 0 mm'", "'90, 0 mm'"), "alternator lies 7.5 mm into crank"),
        (SAMPLE.replace("effective diameter: 55 mm, ", ""), 'needs "effective diameter" or "outside diameter"'),
        (SAMPLE.replace("55 mm", "55 mm, outside diameter: 55 mm"), "one of the two"),
        (SAMPLE.replace("55 mm", "55"), "has no clear unit"),
        (SAMPLE.replace("55 mm", "55 in"), "no pulley is wider"),
        (SAMPLE.replace("55 mm", "0 mm"), "a length above 0"),
        (SAMPLE.replace("55 mm, grooves: 6", "55 mm, grooves: 99"), "at most 30 grooves"),
        (SAMPLE.replace("6PK900", "6QQ900"), "is no profile of a ribbed belt"),
        (SAMPLE.replace("6PK900", "900"), "is no mark of a ribbed belt"),
        (SAMPLE.replace("6PK900", "{mark: 6PK900, mass: 120}"), "is no mass of a belt"),
        (SAMPLE.replace("6PK900", "{ribs: 6, profile: PK}"), 'a belt needs "mark", or else'),
        (SAMPLE.replace("6PK900", "{mark: 6PK900, ribs: 6}"), 'leave "ribs" out'),
        (SAMPLE.replace("6PK900", "{ribs: 6, profile: PK, effective length: 60 m}"), "look at the unit"),
        (SAMPLE.replace("6PK900", "{ribs: 99, profile: PK, effective length: 900 mm}"), "1 to 30 ribs, not 99"),
        (SAMPLE.replace("grooves: 6}", "grooves: 6, load: 135 A}"), "is no load"),
        (SAMPLE.replace("grooves: 6}", "grooves: 6, load: 900 kW}"), "no belt on an engine carries"),
        (SAMPLE.replace("clockwise}", "clockwise, load: 1 kW}"), "crank takes no load off the belt"),
        (SAMPLE.replace("grooves: 6}", "grooves: 6, rotation: clockwise, side: back}"), "cannot turn clockwise with"),
        (SAMPLE + "route: [crank, alternater]\n", 'did you mean "alternator"?'),
        (SAMPLE + "route: [crank, alternator, crank]\n", "crank stands in this route twice"),
        (SAMPLE + "laid: [alternator]\n", "crank drives the belt, and is not in this route"),
        (SAMPLE + "laid: [crank]\n", "two pulleys at least"),
        (ARM + "route: [crank, alternator]\n", "the route leaves out wheel"),
        (ARM.replace("pulley: wheel", "pulley: wheal"), 'did you mean "wheel"?'),
        (ARM.replace("pulley: wheel", "pulley: alternator"), 'so it "is: idler"'),
        (ARM.replace("is: idler,", "is: idler, at: '0, 0 mm',"), 'leave "at" out'),
        (ARM.replace("300 to 240", "300 to 300"), "by more than nothing"),
        (ARM.replace("300 to 240", "500 to 240"), "less than half a turn"),
        (ARM.replace("300 to 240", "350 to 20"), 'across 0° count on, as in "350 to 380 deg"'),
        (ARM.replace("{pulley: wheel", "[{pulley: wheel").replace("deg}", "deg}]"), "a drive has one tensioner"),
        (ARM.replace("300 to 240 deg", "300"), "are no two angles"),
        (ARM.replace("240 deg", "240 deg, marks: 290 to 230 deg"), "230° lies beyond the stops"),
        (ARM.replace("240 deg", "240 deg, marks: 250 to 290 deg"), 'write "marks" as "range" goes'),
        (ARM.replace("240 deg", "240 deg, pin: '310 deg, 5 mm'"), "310° lies beyond the stops"),
        (ARM.replace("240 deg", "240 deg, slacken: anticlockwise"), "from 300 to 240 deg the arm turns clockwise"),
        (ARM.replace("240 deg", "240 deg, spring: 30"), "has no clear unit"),
        (SAMPLE + "friction: 9\n", "is no friction of a belt"),
        (SAMPLE + "loads at: 2000\n", "is no speed of an engine"),
        (SAMPLE + "loads at: 2.000 rpm\n", "is no speed of an engine"),
        (SAMPLE + "colour: black\n", 'a drive file has no key "colour"'),
    ],
)
def test_what_is_wrong_is_told_with_its_place(text, said):
    """In a sentence, with what to write."""
    lines = told(text)

    assert any(said in line for line in lines), lines
    assert len(lines) <= 3
    with pytest.raises(Findings):
        read_drive(text, "f.yaml")


@pytest.mark.parametrize(
    ("read", "text", "value"),
    [
        (phrases.place, "-60, 245 mm", (-0.06, 0.245)),
        (phrases.place, "1.5; −2 in", (0.0381, -0.0508)),
        (phrases.place, "+3 mm, 4 mm", (0.003, 0.004)),
        (phrases.rotation, "Counter-clockwise", ANTICLOCKWISE),
        (phrases.angles, "-10 to 30°", (radians(-10), radians(30))),
        (phrases.pin, "12.5°", (radians(12.5), None)),
        (phrases.spring, "30 to 40 N·m", (30, 40)),
        (phrases.spring, "25 N·m", (25, 25)),
        (phrases.load, "100 A at 14 V, 50 %", (2800, None)),
        (phrases.load, "2.5 kW", (2500, None)),
        (phrases.load, "12 N·m", (None, 12)),
        (phrases.load, "3 hp", (3 * 550 * 0.3048 * 4.4482216152605, None)),  # foot-pounds force, by definition
        (phrases.speed, "60 1/min", 2 * pi),
        (phrases.mass, "140 g/m", 0.14),
        (phrases.mass, "0.1 lb / ft", 0.045359237 / 0.3048),
        (phrases.diameter, "Ø 70 mm", 0.07),
        (phrases.force, "0.3 kN", 300),
    ],
)
def test_phrases_become_values(read, text, value):
    """In any usual spelling."""
    assert read(text) == pytest.approx(value)


@pytest.mark.parametrize("text", ["90000, 1 mm", "1, 2 furlongs", "a, b mm", "1e5, 2 mm", ""])
def test_what_is_no_place_is_refused(text):
    """In a sentence."""
    with pytest.raises(InputError):
        phrases.place(text)
