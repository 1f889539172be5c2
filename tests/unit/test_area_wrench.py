"""Torque wrenches in one line."""

from datetime import date

import pytest

from putback.area.wrench import READING, read_wrench
from putback.errors import InputError

INCH_POUND = 0.3048 * 0.45359237 * 9.80665 / 12  # N·m, by definition


def test_a_line_with_all_there_is():
    """SI inside, whatever the order of the phrases."""
    text = (
        "20-110 N·m in steps of 1 N·m, 1/2 in, lever 400 mm, ±4 %, calibrated 2026-09-02, "
        "every 12 months or 5000 operations, 1200 operations since, reading"
    )

    assert read_wrench(text) == {
        "low": 20.0, "high": 110.0, "step": 1.0, "unit": "N·m", "drive": "1/2 in", "lever": 0.4, "deviation": 0.04,
        "calibrated": date(2026, 9, 2), "months": 12, "operations": 5000, "used": 1200, "kind": READING,
    }  # fmt: skip


def test_a_scale_in_another_unit():
    """Range and step in N·m inside; the unit is kept, as that is what people set."""
    read = read_wrench("40-200 in-lb in steps of 2")

    assert read["unit"] == "in-lb"
    assert read["low"] == pytest.approx(40 * INCH_POUND, rel=1e-12)
    assert read["step"] == pytest.approx(2 * INCH_POUND, rel=1e-12)


def test_a_wrench_whose_lowest_mark_nobody_knows():
    """Its range is left to be worked out."""
    assert read_wrench("up to 110 N·m")["low"] is None


@pytest.mark.parametrize(
    ("phrase", "drive"),
    [
        ("1/4 in", "1/4 in"), ("3/8 in square", "3/8 in"), ("½ in drive", "1/2 in"), ("1 in", "1 in"),
        ("1 1/2 in", "1 1/2 in"), ("12.5 mm square", "1/2 in"), ("1/4 in hex", "1/4 in hex"),
    ],
)  # fmt: skip
def test_drives(phrase, drive):
    """In inches or in millimetres, as ISO 1174-1 pairs them (from memory)."""
    assert read_wrench(f"5-25 N·m, {phrase}")["drive"] == drive


@pytest.mark.parametrize("text", ["5–25 Nm in steps of 0.25", "5 to 25 N.m in steps of 0.25 Nm"])
def test_usual_spellings(text):
    """Any dash, any dot, and a unit left out where it stands beside."""
    assert read_wrench(text)["step"] == 0.25


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("5-25", "begin a torque wrench as"),
        ("25-5 N·m", "from the smaller torque to the larger"),
        ("5-25 lb", "has no clear unit"),
        ("20-110 N·m in steps of 1 ft-lb", "write its steps in N·m"),
        ("20-110 N·m in steps of 1 lb", "has no clear unit"),
        ("20-110 N·m in steps of 91", "smaller than the range"),
        ("5-25 N·m, calibrated last spring", 'write the day as "calibrated 2026-04-14"'),
        ("5-25 N·m, blue", "a torque wrench takes a drive"),
        ("5-25 N·m, 5/16 in", "is no square drive"),
        ("5-25 N·m, lever 400", 'write "400 mm"'),
        ("5-25 N·m, lever 29 mm", "lies between 30 mm and 3000 mm"),  # below
        ("5-25 N·m, lever 4 m", "look at the unit"),
        ("5-25 N·m, ±0 %", "above 0 and at most 25 %"),
        ("5-25 N·m, ±26 %", "above 0 and at most 25 %"),
        ("5-25 N·m, every year", "is no interval"),
        ("5-25 N·m, every 0 months", "is no interval"),
        ("5-25 N·m, lever 240 mm, lever 250 mm", "the lever of this torque wrench is said twice"),
        ("5-25 N·m,", "is not understood"),
    ],
)
def test_what_is_wrong_is_told(text, words):
    """With what to write instead."""
    with pytest.raises(InputError, match=words):
        read_wrench(text)
