"""Text in a drawing: no wider than was thought, broken where it fits, labels apart."""

import pytest

from putback.chart.text import apart, clean, text_width, wrapped

# Advance widths as shares of the type size, summed from the tables of two wide faces in common use, DejaVu Sans and
# DejaVu Sans Bold 2.37 (without kerning).
MEASURED = [
    ("engine cover", 6.508, 7.290),
    ("alternator control plug", 11.276, 12.887),
    ("wheel-arch liner", 8.062, 9.140),
    ("81 steps, 20 parts, 228.7 min at the car", 19.948, 22.389),
    ("WIMMWAM bolt", 7.779, 8.909),
    ("Größe 12 × 1,5", 7.697, 8.444),
]


@pytest.mark.parametrize(("text", "plain", "bold"), MEASURED)
def test_text_is_no_wider_than_was_thought(text, plain, bold):
    """And not so much narrower that room is wasted: 20 % at most."""
    assert 10 * plain <= text_width(text, 10) <= 12 * plain
    assert 10 * bold <= text_width(text, 10, bold=True) <= 12 * bold


def test_an_accent_takes_no_room_and_a_full_width_sign_takes_more():
    """An accented letter is as wide as without, however it is written."""
    assert text_width("e\u0301", 12) == text_width("é", 12) == text_width("e", 12)
    assert text_width("発", 12) > 12


def test_text_is_broken_between_words():
    """As few lines as will do, none wider than the room."""
    lines = wrapped("front lower alternator bolt", 12, 105)

    assert lines == ["front lower", "alternator bolt"]


def test_a_word_too_long_is_broken_and_the_rest_cut_off():
    """The last line says so with an ellipsis, and fits as well."""
    lines = wrapped("x" * 50, 12, 90, most=2)

    assert len(lines) == 2
    assert lines[1].endswith("x…")
    assert all(text_width(line, 12) <= 90 for line in lines)


@pytest.mark.parametrize("text", ["", " ", "\n"])
def test_no_text_is_one_empty_line(text):
    """A label has a place even so."""
    assert wrapped(text, 12, 90) == [""]


def test_what_xml_cannot_hold_is_marked():
    """Control characters, half characters, and those that turn the direction of text; blanks are one each."""
    assert clean("a\x00b\ud800c\u202ed\n  e") == "a\ufffdb\ufffdc\ufffdd e"


def test_labels_that_fit_stay_where_they_belong():
    """Nothing is moved without need."""
    assert apart([10, 30, 70], [10, 10, 10], 0, 100) == [5, 25, 65]


def test_labels_that_meet_part_evenly():
    """By hand: two that want the same place go half their height up and down; three want 45, 45 and 53, and are moved
    by 22/3 up and by 8/3 and 14/3 down, which makes nought together.
    """
    assert apart([50, 50], [10, 10], 0, 100) == [40, 50]
    assert apart([50, 50, 58], [10, 10, 10], 0, 100) == pytest.approx([45 - 22 / 3, 45 + 8 / 3, 53 + 14 / 3])


def test_labels_stay_in_the_room_there_is():
    """At its ends they stack up."""
    assert apart([0, 1], [10, 10], 0, 100) == [0, 10]
    assert apart([99, 99], [10, 20], 0, 100) == [70, 80]
    assert apart([50, 50], [10, 20], 0, 30) == [0, 10]
    assert apart([], [], 0, 30) == []
