"""Tightening orders as pictures."""

import re
from xml.etree import ElementTree

import pytest

from putback.cli import main
from putback.order_svg import description, order_svg
from putback.torque.group import in_places, in_rows, on_a_circle

SPACE = "{http://www.w3.org/2000/svg}"


def drawn(group, **more):
    return ElementTree.fromstring(order_svg(group.order, group.points, "an order", names=group.names, **more))


def texts(tree, kind: str) -> list[str]:
    return [text.text for part in tree.iter(f"{SPACE}g") if part.get("class") == kind for text in part]


@pytest.mark.parametrize("group", [on_a_circle(1), on_a_circle(5), on_a_circle(60), in_rows(2, 5), in_rows(1, 60)])
def test_every_fastener_has_its_step_and_its_number(group):
    """However many there are."""
    tree = drawn(group)

    assert texts(tree, "steps") == [str(step) for step in range(1, len(group.order) + 1)]
    assert texts(tree, "numbers") == [str(number) for number in group.order]


@pytest.mark.parametrize("count", [2, 5, 12, 24, 36, 60])
def test_a_circle_fits_a_phone_and_can_be_read(count):
    """360 px wide, no type under 8.5 px, no two rings over each other."""
    tree = drawn(on_a_circle(count))
    rings = [one for one in tree.iter(f"{SPACE}circle") if one.get("stroke-width") is None]
    spots = [(float(one.get("cx")), float(one.get("cy"))) for one in rings]
    radius = float(rings[0].get("r"))
    gaps = [((a - c) ** 2 + (b - d) ** 2) ** 0.5 for n, (a, b) in enumerate(spots) for c, d in spots[:n]]

    assert tree.get("width") == "360"
    assert min(gaps) >= 2 * radius - 0.3
    assert min(float(one.get("font-size", 13)) for one in tree.iter(f"{SPACE}text")) >= 8.5


@pytest.mark.parametrize("group", [on_a_circle(60), in_rows(1, 60), in_rows(10, 6), on_a_circle(1)])
def test_everything_lies_within_the_picture(group):
    """Nothing is cut off."""
    tree = drawn(group, below=["A sentence that is long enough to be broken into several lines beneath the picture."])
    width, height = float(tree.get("width")), float(tree.get("height"))

    for one in tree.iter():
        x, y = float(one.get("cx", one.get("x", 0))), float(one.get("cy", one.get("y", 0)))
        assert 0 <= x <= width and 0 <= y <= height


def test_only_ink_and_paper():
    """Nothing is told by colour."""
    text = order_svg((1, 3, 2, 4), on_a_circle(4).points, "an order")

    assert set(re.findall(r"#[0-9a-f]{3,6}", text)) == {"#000", "#fff"}


def test_names_are_listed_and_cannot_break_the_picture():
    """Signs of markup and of nothing at all are kept or replaced."""
    group = in_places([("a <b> & c", 0, 0), ("\x00d", 10, 0), ("e", 10, 5)])
    tree = drawn(group)

    assert texts(tree, "words")[group.order.index(1)] == "1 a <b> & c".replace("1", str(group.order.index(1) + 1))
    assert texts(tree, "numbers") == []


def test_places_far_from_a_crowd_do_not_blow_the_picture_up():
    """At most six phones wide."""
    assert float(drawn(in_places([("a", 0, 0), ("b", 1e-3, 0), ("c", 1e6, 0)])).get("width")) <= 6 * 360


def test_the_order_in_words():
    """For whoever cannot see it."""
    assert description((1, 3, 2)) == "First 1, then 3, 2."
    assert description((2, 1), ["left", "right"]) == "First right, then left."
    assert description((1,)) == "Only 1."


def test_the_same_order_is_the_same_picture():
    """To the byte."""
    group = in_rows(2, 5)

    assert order_svg(group.order, group.points, "x") == order_svg(group.order, group.points, "x")


def test_the_figure_of_the_page_is_as_drawn(root, tmp_path, capsys):
    """`putback torque order 8 --torque "30 N·m" --svg docs/figures/order.svg` renews it."""
    path = tmp_path / "order.svg"

    assert main(["torque", "order", "8", "--torque", "30 N·m", "--svg", str(path)]) == 0
    assert path.read_text(encoding="utf-8") == (root / "docs" / "figures" / "order.svg").read_text(encoding="utf-8")
