"""The identification number and its check digit."""

import pytest

from putback.job.vin import check_digit, read_vin


@pytest.mark.parametrize("text", ["1M8GDM9AXKP042788", "11111111111111111", "5GZCZ43D13S812715"])
def test_published_examples_have_the_right_digit(text):
    """The worked example published with 49 CFR 565, the number of seventeen ones, and one more that is often quoted (from memory)."""
    assert read_vin(text) == (text, "")
    assert check_digit(text) == text[8]


@pytest.mark.parametrize("at", [0, 3, 7, 9, 16])
def test_one_wrong_sign_shows(at):
    """In any place but where its value is the same."""
    text = "11111111111111111"
    wrong = text[:at] + "2" + text[at + 1 :]
    assert "ninth sign" in read_vin(wrong).trouble


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("ZZZZZZ8K9BA12345I", "I never stand"),
        ("ZZZZZZ8K9BA1234*6", "no sign"),
        ("1M8GDM9AXKP04278", "16 signs"),
    ],
)
def test_what_is_wrong_is_said(text, words):
    """Signs that are confused, foreign signs, a sign too few."""
    assert words in read_vin(text).trouble


def test_where_no_digit_applies_none_is_asked_for():
    """Numbers of other continents carry anything in the ninth place."""
    assert read_vin("ZZZ ZZZ-8K9 BA123456").trouble == ""
    assert read_vin("").trouble == ""
