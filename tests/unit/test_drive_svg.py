"""Belt drives as pictures."""

import re
from dataclasses import replace
from math import dist
from xml.etree import ElementTree

import pytest
from belt_samples import demo_drive, two_pulleys

from putback.belt.advise import PROPOSED
from putback.belt.route import lay
from putback.chart.text import text_width
from putback.drive_file import read_drive
from putback.drive_svg import WIDTH, description, drive_svg
from putback.errors import InputError

SPACE = "{http://www.w3.org/2000/svg}"
NAMES = ["eight_pulleys", "small_car_one_accessory", "tensioner_on_the_ribs", "adjusted_by_hand", "stretched_on"]


def drawn(drive, **more):
    return ElementTree.fromstring(drive_svg(drive, lay(drive, drive.route), **more))


def drives(root):
    files = [root / "tests" / "data" / "belt" / f"{name}.yaml" for name in NAMES]
    return [demo_drive(), *(read_drive(file.read_bytes(), file.name) for file in files)]


def group(tree, kind: str) -> list:
    return [one for part in tree.iter(f"{SPACE}g") if part.get("class") == kind for one in part]


def test_every_pulley_is_there_with_its_number_and_its_name(root):
    """The number in the ring, the name in the list, in running order."""
    for drive in drives(root):
        tree = drawn(drive)
        numbers = [one.text for one in group(tree, "numbers")]
        listed = " ".join(one.text for one in group(tree, "list"))

        assert numbers == [str(n) for n in range(1, len(drive.pulleys) + 1)]
        assert all(stop.pulley in listed for stop in lay(drive, drive.route).route)


def test_grooves_have_two_rings_and_the_driver_a_heavy_one():
    """So that the faces are told without colour."""
    rings = group(drawn(demo_drive()), "pulleys")

    assert len(rings) == 5 + 4
    assert [float(one.get("stroke-width")) for one in rings].count(2.6) == 1


def test_the_rotation_of_each_pulley_is_an_arrow():
    """Its arc swept clockwise, or the other way on the back of the belt."""
    arcs = [one.get("d") for one in group(drawn(demo_drive()), "rotation") if "A" in one.get("d")]
    sweeps = [re.search(r"A\S+ \S+ 0 \d (\d)", one)[1] for one in arcs]

    assert sweeps == ["1", "0", "1", "1", "1"]


def test_everything_lies_within_the_picture(root):
    """No path, no ring and no text is cut off."""
    for drive in drives(root):
        tree = drawn(drive)
        width, height = float(tree.get("width")), float(tree.get("height"))
        for one in tree.iter(f"{SPACE}circle"):
            x, y, r = (float(one.get(key)) for key in ("cx", "cy", "r"))
            assert r <= x <= width - r
            assert r <= y <= height - r
        for one in tree.iter(f"{SPACE}path"):
            for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", one.get("d")):
                assert 0 <= float(x) <= width
                assert 0 <= float(y) <= height
        for one in tree.iter(f"{SPACE}text"):
            middle = one.get("text-anchor") == "middle" or one in group(tree, "numbers")
            wide = text_width(one.text, float(one.get("font-size", 13)), one.get("font-weight") == "bold")
            assert float(one.get("x")) + (wide / 2 if middle else wide) <= width + 1, one.text
            assert float(one.get("y")) <= height - 2


def test_labels_of_the_tensioner_do_not_overlap(root):
    """However near its marks, its pin and its stops lie."""
    drive = demo_drive()
    now = lay(drive, drive.route).angle
    near = replace(drive, tensioner=replace(drive.tensioner, marks=(now + 0.01, now - 0.01)))
    for one in (drive, near):
        heights = [float(text.get("y")) for text in group(drawn(one), "tensioner") if text.tag == f"{SPACE}text"]
        assert all(after - before >= 17 for before, after in zip(heights[1:], heights[2:], strict=False))


def test_the_window_of_the_tensioner_is_black_and_the_arm_points_into_it():
    """A belt of the right length stands in its window; one that is too long does not."""
    for length, inside in ((1.538, True), (1.57, False)):
        drive = demo_drive()
        tree = ElementTree.fromstring(drive_svg(drive, lay(drive, drive.route, length)))
        bar = next(one for one in group(tree, "tensioner") if one.tag == f"{SPACE}rect")
        top, high = float(bar.get("y")), float(bar.get("height"))
        tip = re.search(r"M[\d.]+ ([\d.]+)L", group(tree, "tensioner")[-1].get("d"))
        assert (top <= float(tip[1]) <= top + high) == inside


def test_without_a_tensioner_there_is_no_scale():
    """Nor an arm."""
    tree = drawn(two_pulleys())

    assert group(tree, "tensioner") == group(tree, "arm") == []


def test_the_picture_reads_on_any_ground_and_without_colour(root):
    """Black on white of its own; grey nowhere."""
    for drive in drives(root):
        text = drive_svg(drive, lay(drive, drive.route))
        ground = ElementTree.fromstring(text).find(f"{SPACE}rect")
        assert (ground.get("fill"), ground.get("width")) == ("#fff", str(WIDTH))
        assert set(re.findall(r"#[0-9a-f]{3,6}", text)) == {"#000", "#fff"}


def test_the_same_drive_gives_the_same_bytes():
    """And the picture is said in words."""
    drive = demo_drive()
    laid = lay(drive, drive.route)

    assert drive_svg(drive, laid) == drive_svg(drive, laid)
    assert description(laid).startswith("The belt runs over crankshaft, tensioner pulley (back), idler pulley")
    assert drawn(drive).findtext(f"{SPACE}desc") == description(laid)


def test_a_route_that_is_not_known_says_so():
    """In its title."""
    assert "likely route, not known" in drawn(demo_drive(), origin=PROPOSED).findtext(f"{SPACE}title")


def test_the_width_is_settled_by_whoever_asks():
    """From that of the narrowest phones on."""
    assert drawn(demo_drive(), width=720).get("width") == "720"
    with pytest.raises(InputError, match="320 px or wider"):
        drawn(demo_drive(), width=319)


def test_names_that_a_browser_would_obey_are_text():
    """Markup in a name is shown, not done; turning signs are gone."""
    drive = demo_drive()
    bad = "<script>\u202e"
    pulleys = tuple(replace(one, name=bad) if one.name == "alternator" else one for one in drive.pulleys)
    route = tuple(stop._replace(pulley=bad) if stop.pulley == "alternator" else stop for stop in drive.route)
    tree = drawn(replace(drive, pulleys=pulleys, route=route, name="<b>&"))

    assert tree.findtext(f"{SPACE}title") == "<b>&"
    assert not list(tree.iter(f"{SPACE}script"))


def test_the_belt_is_drawn_where_it_runs():
    """The ends of its runs lie on the rims of the pulleys, to the thickness of the line."""
    drive = demo_drive()
    tree = drawn(drive)
    band = group(tree, "belt")[-1].get("d")
    ends = [tuple(map(float, pair)) for pair in re.findall(r"[ML ](\d+\.\d\d) (\d+\.\d\d)", band)]
    rings = [one for one in group(tree, "pulleys") if one.get("stroke-width") != "0.7"]
    discs = [tuple(float(one.get(key)) for key in ("cx", "cy", "r")) for one in rings]

    assert len(ends) == 11
    for end in ends:
        assert min(abs(dist(end, (x, y)) - r) for x, y, r in discs) < 5


def test_the_figure_in_the_docs_is_the_picture_of_the_demo(root):
    """`putback belt src/putback/demo/demo-a-drive.yaml --svg docs/figures/demo-a-belt.svg` renews it."""
    drive = demo_drive()
    figure = root / "docs" / "figures" / "demo-a-belt.svg"

    assert figure.read_text(encoding="utf-8") == drive_svg(drive, lay(drive, drive.route))


def test_a_belt_with_ribs_on_both_sides_has_teeth_on_both(root):
    """One with a smooth back on one side."""
    file = root / "tests" / "data" / "belt_odd" / "ribs_on_both_sides.yaml"
    double = read_drive(file.read_bytes(), file.name)
    smooth = demo_drive()

    assert [drive_svg(one, lay(one, one.route)).count("stroke-dasharray") for one in (double, smooth)] == [2, 1]
