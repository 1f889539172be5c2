"""Readings as they are typed: numbers with units, words, what is not fitted, and what is wrong."""

import pytest

from putback.errors import Findings, InputError
from putback.models import check_reading, load, read_readings

FORM = load("charging")


def read(text: str) -> list[dict]:
    return read_readings(FORM, text, "readings.yaml")


def finding(text: str) -> str:
    """The one sentence that a file earns."""
    with pytest.raises(Findings) as caught:
        read(text)
    (only,) = caught.value.findings
    return str(only)


@pytest.mark.parametrize("text", ["12.48", "12.48 V", '"12,48 V"', "1.248e1", "+12.48v"])
def test_a_number_is_read_with_its_unit_or_without(text):
    """Point or comma, unit or none."""
    assert read(f"rest_v: {text}") == [{"rest_v": 12.48}]


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("lamp_running: ON", ("lamp_running", "on")),
        ("lamp_running: true", ("lamp_running", "on")),
        ("lamp_key_on: off", ("lamp_key_on", "off")),
        ("crank_sound: clicks", ("crank_sound", "click only")),
        ("pulley_drives_rotor: no", ("pulley_drives_rotor", "no")),
        ("belt_squeal: false", ("belt_squeal", "no")),
        ("stored_code: data wire", ("stored_code", "data wire")),
        ("stored_code: none", ("stored_code", "none")),
        ("command_v: not fitted", ("command_v", "not fitted")),
    ],
)
def test_words_are_known_in_several_spellings(text, word):
    """What people and other programs write for the same thing."""
    assert read(text) == [dict([word])]


def test_a_list_keeps_its_order_and_empty_ones_are_left_out():
    """One set for each entry; what stands empty was not read; name and note are for people."""
    text = "- {name: one, rest_v: 12.5, crank_v: }\n- {note: two, rest_v: ~, crank_v: 10.1}"
    assert read(text) == [{"rest_v": 12.5}, {"crank_v": 10.1}]


def test_json_is_read_as_well():
    """YAML holds JSON."""
    assert read('[{"rest_v": 12.5, "belt_squeal": true, "command_v": null}]') == [{"rest_v": 12.5, "belt_squeal": "yes"}]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("rest_w: 12", 'readings.yaml:1:1: the model "charging" has no reading "rest_w"; did you mean "rest_v"?'),
        ("rest_v: 1248", "readings.yaml:1:9: rest_v: 1248 lies outside 0 to 20 V"),
        ("rest_v: .nan", 'readings.yaml:1:9: rest_v: ".nan" is no number; write it in V'),
        ("rest_v: 12.4 mV", 'readings.yaml:1:9: rest_v is read in V, and "12.4 mV" has another unit'),
        ("rest_v: [12]", "readings.yaml:1:9: rest_v takes one value"),
        ("belt: purple", 'readings.yaml:1:7: belt: "purple" is none of good, worn, glazed, oily, loose, off'),
        ("- 12", "readings.yaml:1:3: expected readings with their names"),
        ("", "readings.yaml: the file is empty"),
        ("[]", "readings.yaml:1:1: there is no set of readings"),
        ("rest_v: {", "readings.yaml:"),
    ],
)
def test_what_is_wrong_is_one_sentence_with_its_place(text, said):
    """File, line and column, what was expected, what to do."""
    assert finding(text).startswith(said)


def test_one_reading_is_checked_by_itself():
    """For a keypad: the same rules, no place."""
    assert check_reading(FORM, "rest_v", " 12,5 ") == 12.5
    with pytest.raises(InputError):
        check_reading(FORM, "rest_v", "lots")


def test_thousands_of_sets_are_read():
    """A file of many cars."""
    assert len(read("- {rest_v: 12.5, crank_v: 10.1, belt: good}\n" * 5000)) == 5000
