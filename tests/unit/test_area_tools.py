"""Tools as they are said."""

import pytest

from putback.area.tools import sizes, tool, tool_list, tool_sets
from putback.errors import InputError


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("10 mm", "10 mm socket"),
        ("10 mm spanner", "10 mm spanner"),
        ("13 mm crow-foot", "13 mm crow-foot"),
        ("5 mm hex", "5 mm hex key"),
        ("T25", "T25 bit"),
        ("E10", "E10 socket"),
        ("PH2", "PH2 screwdriver"),
        ("bare hands", "bare hands"),
        ("rear edge only", None),
        ("25 N·m", None),
    ],
)
def test_sizes_and_names(said, name):
    """A size alone means a socket; words that are no tool are none."""
    assert tool(said) == name


def test_a_set_with_something_unknown_is_no_set():
    """So that a line can take the words for something else."""
    assert tool_sets("13 mm + something odd") is None


def test_a_list_of_tools_takes_any_name():
    """There nothing else can be meant."""
    assert tool_list("33-spline hub tool + 17 mm spanner") == (("33-spline hub tool", "17 mm spanner"),)


def test_ranges_of_sizes():
    """As a shop writes them."""
    assert sizes("8-10, 21, 5.5 mm", "mm") == ["8", "9", "10", "21", "5.5"]


@pytest.mark.parametrize("text", ["8-", "19-8 mm", "1-5000 mm", "all mm", ""])
def test_ranges_that_are_none_are_refused(text):
    """A range runs up, and not for ever."""
    with pytest.raises(InputError):
        sizes(text, "mm")
