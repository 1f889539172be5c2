"""A group of fasteners in one line."""

from fractions import Fraction

import pytest

from putback.area.fastener import read_line, read_torque
from putback.area.model import Thread, Torque
from putback.errors import InputError
from putback.units import FOOT_POUND, INCH_POUND


def refused(text: str) -> str:
    """The sentence with which a line is refused."""
    with pytest.raises(InputError) as caught:
        read_line(text)
    return str(caught.value)


def test_one_line_says_it_all():
    """Every phrase finds its field, in whatever order they stand."""
    line = read_line(
        "7 x M6x16, class 8.8, 10 mm, 7 N·m, one-time, left-hand, on the ground, rear edge only, 2.10 each"
    )
    fastener = line.fastener

    assert (fastener.count, fastener.noun, fastener.thread.text) == (7, "bolt", "M6x16")
    assert (fastener.property_class, fastener.torque.final, fastener.price) == ("8.8", 7.0, Fraction(210))
    assert (fastener.one_time, fastener.left_hand, fastener.on_the_ground, fastener.coated) == (True, True, True, False)
    assert (fastener.where, line.tools) == ("rear edge only", (("10 mm socket",),))


@pytest.mark.parametrize(
    ("text", "thread", "noun"),
    [
        ("M6x16", Thread("M", 6, None, 16, "M6x16"), "bolt"),
        ("M6x1.0x18", Thread("M", 6, 1.0, 18, "M6x1.0x18"), "bolt"),
        ("M8 x 1.25 x 30", Thread("M", 8, 1.25, 30, "M8 x 1.25 x 30"), "bolt"),
        ("M8x30", Thread("M", 8, None, 30, "M8x30"), "bolt"),
        ("M12x1.5 lock nut", Thread("M", 12, 1.5, None, "M12x1.5"), "lock nut"),
        ("M24x1.5 hub nut", Thread("M", 24, 1.5, None, "M24x1.5"), "hub nut"),
        ("M8x1.25 copper lock nut", Thread("M", 8, 1.25, None, "M8x1.25"), "copper lock nut"),
        ("M8 stud nut", Thread("M", 8, None, None, "M8"), "stud nut"),
        ("ST5x16", Thread("ST", 5, None, 16, "ST5x16"), "tapping screw"),
        ("ST4.2x14 tapping screw", Thread("ST", 4.2, None, 14, "ST4.2x14"), "tapping screw"),
        ("push pin 8 mm", None, "push pin 8 mm"),
        ("hose clamp", None, "hose clamp"),
        ("gasket", None, "gasket"),
    ],
)
def test_what_is_fastened(text, thread, noun):
    """Thread, pitch and length, or another kind of fastener; the second number is a pitch if it is small enough."""
    fastener = read_line(f"2 x {text}").fastener

    assert (fastener.count, fastener.thread, fastener.noun) == (2, thread, noun)


def test_the_second_number_is_a_pitch_below_a_quarter_of_the_diameter():
    """No thread is so coarse, and no bolt so short."""
    assert read_line("M8x1.9").fastener.thread.pitch == 1.9  # below
    assert read_line("M8x2").fastener.thread.length == 2  # at
    assert read_line("M8x6").fastener.thread.length == 6  # above


def test_one_is_meant_when_no_number_is_given():
    """A single bolt needs no count."""
    assert read_line("M10x96, class 8.8, 15 mm, 46 N·m").fastener.count == 1


@pytest.mark.parametrize(
    ("text", "torque"),
    [
        ("7 N·m", Torque((7.0,), None, 1, "7 N·m")),
        ("7 Nm", Torque((7.0,), None, 1, "7 Nm")),
        ("5.5 N.m", Torque((5.5,), None, 1, "5.5 N.m")),
        ("92 N·m + 90°", Torque((92.0,), 90, 1, "92 N·m + 90°")),
        ("92 N·m then 90 deg", Torque((92.0,), 90, 1, "92 N·m then 90 deg")),
        ("104 N·m in 2 passes", Torque((104.0,), None, 2, "104 N·m in 2 passes")),
        ("passes 8 / 16 / 23 N·m", Torque((8.0, 16.0, 23.0), None, 3, "passes 8 / 16 / 23 N·m")),
        ("20 ft-lb", Torque((20 * FOOT_POUND,), None, 1, "20 ft-lb")),
        ("97 in-lb", Torque((97 * INCH_POUND,), None, 1, "97 in-lb")),
        ("18 lbf·ft", Torque((18 * FOOT_POUND,), None, 1, "18 lbf·ft")),
        ("20-25 N·m", Torque((22.5,), None, 1, "20-25 N·m", 20.0, 25.0)),
        ("25 ± 3 N·m", Torque((25.0,), None, 1, "25 ± 3 N·m", 22.0, 28.0)),
        ("20 N·m + 40 N·m + 90°", Torque((20.0, 40.0), 90, 1, "20 N·m + 40 N·m + 90°")),
    ],
)
def test_torques_with_passes_and_angles(text, torque):
    """SI inside, the words as typed beside it."""
    assert read_torque(text) == torque


@pytest.mark.parametrize(
    ("text", "question"),
    [
        ("25", '"25 N·m", "25 ft-lb" or "25 in-lb"'),
        ("25 ft", '"25 N·m", "25 ft-lb" or "25 in-lb"'),
        ("25 lb", '"25 ft-lb" or "25 in-lb"'),
        ("25 lbs", '"25 ft-lb" or "25 in-lb"'),
        ("25 kg", '"25 kgf·m" or "25 kgf·cm"'),
    ],
)
def test_a_torque_without_a_clear_unit_is_refused_with_the_question_what_to_write(text, question):
    """25 ft-lb is twelve times 25 in-lb: nobody may guess."""
    message = refused(f"M8x30, class 8.8, 13 mm, {text}")

    assert message == f'torque "{text}" has no clear unit; write {question}'


def test_an_angle_without_a_torque_is_asked_for_its_torque():
    """A fastener line says what is tightened to before the angle."""
    assert "is an angle without a torque" in refused("M8x30, 90°")


@pytest.mark.parametrize(
    ("slip", "meant"),
    [
        ("one-tiem", "one-time"),
        ("left hand", "left-hand"),
        ("cross patern", "cross pattern"),
        ("brim fork", "trim fork"),
    ],
)
def test_a_slip_of_the_pen_is_not_taken_for_a_place(slip, meant):
    """The nearest word with a meaning is suggested."""
    assert refused(f"2 x M6x16, {slip}") == f'"{slip}" is not understood; did you mean "{meant}"?'


def test_words_without_a_meaning_say_where():
    """Several phrases are kept together."""
    assert read_line("M8x30, rear, short, under the web").fastener.where == "rear, short, under the web"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("7 x", "does not say what is fastened"),
        ("0 x M6x16", "does not say what is fastened"),
        ("M6x16, class 8.9", "is no property class"),
        ("M6x16, 12 parsecs", "is not understood here"),
        ("M6x16,, 10 mm", "two commas with nothing between them"),
        ("M6x16, two each", "is no amount of money"),
    ],
)
def test_what_is_not_understood_is_told(text, words):
    """One sentence that says what to write."""
    assert words in refused(text)


@pytest.mark.parametrize(
    ("text", "sets"),
    [
        ("10 mm", (("10 mm socket",),)),
        ("16 mm spanner + 5 mm hex", (("16 mm spanner", "5 mm hex key"),)),
        (
            "13 mm + 400 mm extension + swivel or 13 mm crow-foot",
            (("13 mm socket", "400 mm extension", "swivel"), ("13 mm crow-foot",)),
        ),
        ("T45", (("T45 bit",),)),
        ("E12", (("E12 socket",),)),
        ("8 mm hex", (("8 mm hex key",),)),
        ("trim fork", (("trim fork",),)),
        ("3/8 in square", (("3/8 in square",),)),
    ],
)
def test_tool_sets(text, sets):
    """A size alone means a socket; the first of a set is the main tool."""
    assert read_line(f"M8x30, {text}").tools == sets


def test_from_after_and_source():
    """Where these are reached from, what is tightened first, and where the torque comes from."""
    line = read_line("M8x30, 13 mm, 22 N·m, from under, after upper bolt, source measured")

    assert (line.stand, line.after, line.fastener.source) == ("under", ("upper bolt",), "measured")


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("1001 x M6x16", "more than the 1000 pieces"),
        ("M0x16", "no thread is 0 mm thick"),
        ("M151x16", "no thread is 151 mm thick"),
        ("M9x100x100", "a pitch of 100 mm does not go with 9 mm"),
        ("M8x2001", "no bolt is 2001 mm long"),
        ("\u041c8x20", "U+041C only looks like a letter of ours"),
        ("M8x20, 10001 N·m", "no more than 10000 N·m"),
        ("M8x20, 10 N·m in 21 passes", "20 passes are taken for real"),
        ("M8x20, nan N·m", '"nan N·m" is no torque'),
        ("M8x20" + ", rear" * 25, "more than 24 phrases"),
    ],
)
def test_figures_beyond_all_measure_are_refused(line, words):
    """A slip of the pen, and the figure to look at is named."""
    assert words in refused(line)


@pytest.mark.parametrize("line", ["1000 x M6x16", "M150x6x16", "M8x2000", "M8x20, 10000 N·m", "M8x20, 10 N·m in 20 passes", "M8x20" + ", rear" * 24])
def test_figures_up_to_the_limits_are_read(line):
    """At the border."""
    assert read_line(line)
