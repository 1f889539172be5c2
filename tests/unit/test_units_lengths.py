"""Lengths and angles as people write them."""

import pytest

from putback.errors import InputError
from putback.units.lengths import read_angle, read_length, show_length


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("240mm", 0.24), ("240 mm", 0.24), ("24 cm", 0.24), ("0,24 m", 0.24), ("9 1/2 in", 0.2413), ('16"', 0.4064),
        ("1½ inches", 0.0381), ("1.5 ft", 0.4572), ("0 mm", 0.0),
    ],
)  # fmt: skip
def test_lengths_are_read_in_any_usual_unit(text, metres):
    """An inch is 25.4 mm by definition, a foot 304.8 mm; comma and halves count."""
    assert read_length(text) == pytest.approx(metres, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("240", '"240 mm", "240 cm" or "240 in"'),
        ("240 N·m", "no clear unit"),
        ("long", "is no length"),
        ("-5 mm", "is no length"),
        ("240 m", "longer than any wrench"),
    ],
)
def test_an_unclear_length_is_refused(text, words):
    """With what to write instead."""
    with pytest.raises(InputError, match=words):
        read_length(text)


@pytest.mark.parametrize(
    ("text", "degrees"), [("0deg", 0), ("90°", 90), ("45 degrees", 45), ("180", 180), ("22,5º", 22.5)]
)
def test_angles_are_read_in_degrees(text, degrees):
    """Degrees are the only unit of angle at a car, so a bare number is one."""
    assert read_angle(text) == degrees


@pytest.mark.parametrize(("text", "words"), [("181°", "from 0°"), ("1 rad", "is no angle"), ("in line", "is no angle")])
def test_an_angle_that_no_adapter_has_is_refused(text, words):
    """Half a turn is the most that there is; above it the other side is meant."""
    with pytest.raises(InputError, match=words):
        read_angle(text)


def test_a_length_is_shown_in_millimetres():
    """Without a tail of zeros."""
    assert show_length(0.2413) == "241.3 mm"
