"""Wear, cracks, alignment; and another belt in place of the right one."""

from math import degrees, radians, tan

import pytest
from belt_samples import demo_drive, two_pulleys

from putback.belt.profile import profile, read_mark
from putback.belt.replacement import judge_belt
from putback.belt.route import lay
from putback.belt.wear import judge_alignment, judge_cracks, judge_gauge, judge_missing, misalignment
from putback.errors import InputError

PK = profile("PK")


def test_misalignment_is_the_angle_of_the_offset():
    """1/16 in over a foot is 0.298°, 1/10 in 0.477°: a belt maker's check list (opened)."""
    assert degrees(misalignment(0.0254 / 16, 0.3048)) == pytest.approx(0.298, abs=0.001)
    assert degrees(misalignment(-0.0254 / 10, 0.3048)) == pytest.approx(0.477, abs=0.001)
    with pytest.raises(InputError):
        misalignment(0.001, 0)


@pytest.mark.parametrize(("angle", "verdict"), [(0.28, "fine"), (0.32, "ask"), (0.98, "ask"), (1.02, "stop")])
def test_alignment_is_judged_by_its_angle(angle, verdict):
    """From the check list's figure on it is asked about, from 1° on it stops (common practice, no source)."""
    assert judge_alignment(0.2 * tan(radians(angle)), 0.2, PK).verdict == verdict


def test_an_offset_of_a_whole_rib_looks_like_a_rib_off():
    """3.56 mm, or near to it; 2 mm is none."""
    assert "a rib off" in judge_alignment(0.0035, 0.15, PK).words
    assert "a rib off" in judge_alignment(0.0070, 0.15, PK).words
    assert "a rib off" not in judge_alignment(0.0020, 0.15, PK).words


@pytest.mark.parametrize(("count", "length", "verdict"), [
    (0, 0.0762, "fine"), (2, 0.0762, "fine"), (3, 0.0762, "ask"), (1, 0.0254, "ask"), (8, 0.0762, "ask"),
    (9, 0.0762, "stop"),
])  # fmt: skip
def test_cracks_are_counted_on_three_inches(count, length, verdict):
    """Three in one rib: a workshop's page, for chloroprene (opened); nine: common practice, no source."""
    assert judge_cracks(count, length).verdict == verdict


def test_no_length_has_no_cracks():
    """Refused in a sentence."""
    with pytest.raises(InputError):
        judge_cracks(3, 0)


@pytest.mark.parametrize(("millimetres", "verdict"), [(0, "fine"), (1, "ask"), (12.9, "ask"), (13, "stop")])
def test_a_piece_torn_out(millimetres, verdict):
    """From 13 mm on it stops: a workshop manual's chapter (opened)."""
    assert judge_missing(millimetres / 1000).verdict == verdict


@pytest.mark.parametrize(("proud", "verdict", "words"), [
    (0.0003, "fine", "0.3 mm above"), (0.0, "stop", "level with"), (-0.0002, "stop", "0.2 mm below"),
])  # fmt: skip
def test_the_gauge_sinks_in_as_ribs_wear(proud, verdict, words):
    """Above the tops on a new belt, below them on a worn one: a belt maker's page (opened)."""
    found = judge_gauge(proud)

    assert (found.verdict, words in found.words) == (verdict, True)


@pytest.fixture(scope="module")
def laid():
    drive = demo_drive()
    return lay(drive, drive.route)


def judged(laid, mark: str) -> dict[str, str]:
    return {one.code: one.verdict for one in judge_belt(laid, read_mark(mark))}


def test_the_right_belt_will_do(laid):
    """And it is told where the tensioner takes belts."""
    found = judge_belt(laid, read_mark("7PK1538"))

    assert [one.verdict for one in found] == ["fine"]
    assert found[0].words == "it is as long as the right one; the tensioner takes 1515 to 1559 mm between its marks"


@pytest.mark.parametrize(("mark", "wrong"), [
    ("7PK1515.5", {}), ("7PK1514", {"length": "stop"}), ("7PK1559", {}), ("7PK1561", {"length": "stop"}),
    ("6PK1538", {"ribs": "stop"}), ("8PK1538", {"ribs": "stop"}), ("7PJ1538", {"profile": "stop"}),
    ("7PK1504", {"length": "stop", "room": "ask"}), ("7PK1500", {"length": "stop", "room": "stop"}),
])  # fmt: skip
def test_another_belt_is_judged_by_ribs_profile_and_length(laid, mark, wrong):
    """At both borders of the marks, and by what is to spare with the pin in."""
    assert judged(laid, mark) == wrong | {"place": "fine"}


def test_without_a_tensioner_only_the_difference_is_told():
    """Nothing else is known."""
    drive = two_pulleys()
    found = judge_belt(lay(drive, drive.route), read_mark("6PK0900"))

    assert [one.code for one in found] == ["length", "place"]
    assert found[1].words == "it is 12.3 mm shorter than the right one"


@pytest.mark.parametrize(
    "text", ["", "7PK", "PK1538", "7XX1538", "0PK1538", "99PK1538", "7PK99", "7PK1538\n7PK1538", "7PK15389"]
)
def test_what_is_no_mark_is_refused(text):
    """Whole, and within what is made."""
    with pytest.raises(InputError):
        read_mark(text)


def test_a_mark_is_read_as_it_is_printed():
    """With blanks or without; and told again."""
    assert str(read_mark(" 6 pk 2120 ")) == "6PK2120"
    assert str(read_mark("5PK872,5")) == "5PK872.5"
