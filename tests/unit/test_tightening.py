"""Each step that tightens something says with which of the shop's wrenches, at what setting, and in which order."""

import pytest
from area_samples import area, shop

from putback.area.fastener import read_line
from putback.plan_text import plan_lines
from putback.tightening import lacking, order_of, setting_words, tightening, torque_words, wrenches
from putback.way.plan import plan_way

WRENCHES = """\
torque wrenches:
  small: 1-5 N·m in steps of 0.1 N·m, lever 150 mm
  medium: 5-25 N·m in steps of 0.25 N·m, lever 240 mm
  large: 20-110 N·m in steps of 1 N·m, lever 400 mm
"""


def pump(line: str) -> str:
    return f"parts:\n  pump:\n    from: top\n    minutes: 4 off, 6 on\n    held by:\n      pump bolts: {line}\n"


def planned(line: str, more: str = WRENCHES, tools: str = ""):
    base = shop(more)
    return plan_way(area(pump(line)), base.with_more(tools=tools.split(", ") if tools else ()))


def how(sheet):
    (found,) = [one for step in sheet.steps if (one := tightening(sheet, step))]
    return found


@pytest.mark.parametrize(
    ("torque", "words"),
    [
        ("22 N·m", "medium at 22 N·m"),
        ("97 in-lb", "medium at 11 N·m"),  # 10.96 N·m, to the nearest quarter
        ("60 N·m", "large at 60 N·m"),
        ("passes 8 / 16 / 23 N·m", "medium at 8 N·m / 16 N·m / 23 N·m"),
        ("passes 15 / 60 N·m", "medium at 15 N·m, large at 60 N·m"),  # no wrench does both
    ],
)
def test_the_wrench_and_its_setting(torque, words):
    """One for all stages where one can do them all."""
    assert setting_words(how(planned(f"2 x M10x30, class 10.9, 13 mm, {torque}"))) == [words]


def test_only_what_is_tightened_to_a_torque_has_a_wrench():
    """A clip has none, nor has a bolt that is undone."""
    sheet = planned("4 x trim clip, bare hands")
    assert [tightening(sheet, step) for step in sheet.steps] == [None] * len(sheet.steps)
    assert wrenches(sheet) == []


def test_what_no_wrench_can_do_is_known_before_the_first_step():
    """In the list of what to lay out, and once more at the step."""
    sheet = planned("2 x M16x40, class 10.9, 24 mm, 200 N·m")

    assert lacking(sheet) == ["pump bolts: no wrench of this shop covers 200 N·m; a 80-400 N·m one would"]
    text = " ".join(" ".join(plan_lines(sheet)).split())
    assert text.index("pump bolts: no wrench of this shop covers 200 N·m") < text.index("WAY IN min")


def test_a_shop_that_lists_no_wrenches_is_not_told_to_buy_one():
    """It knows what it has; the torque is told all the same."""
    text = "\n".join(plan_lines(planned("2 x M8x30, class 8.8, 13 mm, 22 N·m", more="")))
    assert "to 22 N·m" in text
    assert "wrench" not in text


def test_an_angle_asks_for_its_gauge():
    """It is laid out where there is one, and lacking where there is none."""
    line = "2 x M10x30, class 10.9, 16 mm, 50 N·m + 90°"

    assert lacking(planned(line)) == ["pump bolts: an angle of 90° is measured with an angle gauge, and this shop lists none"]
    assert wrenches(planned(line, tools="angle gauge")) == ["large", "angle gauge"]


def test_a_crow_foot_has_two_settings():
    """240 mm and 38 mm: 12.5 at a right angle; 12.5 x 240 / 278 = 10.79 in line, whose nearest mark is 10.75."""
    more = WRENCHES.replace("torque wrenches", "  crow-feet: 13 mm, 38 mm long\ntorque wrenches")
    found = how(planned("M8 nut, class 8, 13 mm crow-foot, 12.5 N·m", more))

    assert setting_words(found) == ["medium at 12.5 N·m where the crow-foot stands at a right angle to it, medium at 10.75 N·m in line"]


def test_a_crow_foot_of_unknown_length_is_asked_about():
    """Without length and angle there is no setting."""
    more = WRENCHES.replace("torque wrenches", "  crow-feet: 13 mm\ntorque wrenches")
    found = how(planned("M8 nut, class 8, 13 mm crow-foot, 12.5 N·m", more))

    assert setting_words(found) == []
    assert "how long is it" in found.settings.missing[0]


@pytest.mark.parametrize(
    ("line", "order"),
    [
        ("4 x M12, 19 mm, cross pattern", (1, 3, 2, 4)),
        ("5 x M12, 19 mm, star pattern", (1, 3, 5, 2, 4)),
        ("10 x M8, 10 mm, centre outwards", ()),  # nobody knows how they lie
        ("6 x M8, 10 mm, centre outwards 2x3", (2, 5, 3, 4, 1, 6)),
        ("6 x M8, 10 mm", ()),
    ],
)
def test_the_order_of_a_pattern(line, order):
    """Numbers as they lie: round the circle, or row by row."""
    found = order_of(read_line(line).fastener)
    assert sorted(found) == sorted(order)
    assert found[:2] == order[:2]


@pytest.mark.parametrize(
    ("torque", "unit", "words"),
    [
        ("24 N·m", "N·m", "to 24 N·m"),
        ("24 N·m", "ft-lb", "to 24 N·m (17.7 ft-lb)"),
        ("97 in-lb", "N·m", "to 97 in-lb (11 N·m)"),
        ("passes 8 / 16 / 23 N·m", "ft-lb", "in passes of 8 / 16 / 23 N·m (5.9 / 11.8 / 17 ft-lb)"),
        ("92 N·m + 90°", "N·m", "to 92 N·m + 90°"),
    ],
)
def test_torques_are_told_in_newton_metres_and_in_the_shops_unit(torque, unit, words):
    """24 / 1.355818 = 17.70 (exact definitions of foot and pound)."""
    assert torque_words(read_line(f"M14, {torque}").fastener.torque, unit) == words
