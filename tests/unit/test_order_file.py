"""An order file is read against its area: every mistake has its place and one sentence."""

import pytest
from area_samples import PUMP, area

from putback.area.order_file import read_order
from putback.errors import Findings

AREA = (
    PUMP
    + """\
    out through:
      above: {}
      below, past the wheel: {from: under}
  wheel:
    from: wheel arch
    minutes: 5 off, 7 on
    held by:
      wheel bolts: 4 x M12x1.5x45, class 10.9, 17 mm, 110 N·m, on the ground
put in:
  prop:
    secures: [wheel]
    minutes: 1 in, 1 out
    by:
      jack: {from: under}
      bar: {from: top}
  cap: {covers: [pump], from: top, minutes: "1 in, 1 out"}
"""
)


def order(text: str):
    return read_order(text, "order.yaml", area(AREA))


def refused(text: str) -> list[str]:
    with pytest.raises(Findings) as caught:
        order(text)
    return [str(one).removeprefix("order.yaml:") for one in caught.value.findings]


def test_entries_keep_their_order_their_words_and_their_places():
    """A part, how far it goes, and by which way, though there be a comma in its name."""
    read = order(
        "order: 1\nname: the book's\nway in:\n  - wheel\n  - wheel bolts loose\n  - pump by below, past the wheel\n"
    )
    told = [(entry.text, entry.need.item, entry.need.level, entry.need.way, entry.place.line) for entry in read.out]

    assert read.name == "the book's"
    assert told == [
        ("wheel", "wheel", 1, None, 4),
        ("wheel bolts loose", "wheel bolts", 1, None, 5),
        ("pump by below, past the wheel", "pump", 1, "below, past the wheel", 6),
    ]


def test_the_way_back_is_a_list_or_in_reverse():
    """Left out it is in reverse too; an empty list is a list."""
    assert order("order: 1\nway in: [wheel]\n").back is None
    assert order("order: 1\nway in: [wheel]\nway back: in reverse\n").back is None
    assert order("order: 1\nway in: [wheel]\nway back: []\n").back == ()
    assert [one.text for one in order("order: 1\nway in: [wheel]\nway back: [wheel bolts, pump]\n").back] == [
        "wheel bolts",
        "pump",
    ]


def test_an_order_without_a_name_is_called_something():
    """So that sentences about it have a subject."""
    assert order("order: 1\nway in: wheel\n").name == "the order given"


TWO_WAYS = 'write "prop by jack" or "prop by bar"'
NO_LIST = 'expected "in reverse" or a list of what goes back, got "reversed"'
MISTAKES = {
    "no way in": ("", '1:1: an order file needs "way in"'),
    "unknown": ("way in: [whel]\n", '2:10: "whel" is not in this file; did you mean "wheel"?'),
    "unknown on the way back": (
        "way in: []\nway back: [pmup]\n",
        '3:12: "pmup" is not in this file; did you mean "pump"?',
    ),
    "twice": ("way in: [wheel, pump, wheel]\n", '2:23: "wheel" stands in this list twice; once is enough'),
    "no such state": (
        "way in: [wheel bolts undone]\n",
        '2:10: "wheel bolts" is never "undone"; its states are: tight, loose, out',
    ),
    "no such way": (
        "way in: [pump by aside]\n",
        '2:10: "pump" has no way "aside"; it has: above; below, past the wheel',
    ),
    "a thing put in without its way": ("way in: [prop]\n", f'2:10: "prop" may be put in in several ways; {TWO_WAYS}'),
    "reversed": ("way in: []\nway back: reversed\n", f"3:11: {NO_LIST}"),
    "a list in a list": ("way in: [[wheel]]\n", '2:10: expected what comes off, as in "left front wheel", got a list'),
    "another key": ("way in: []\nway out: []\n", '3:1: an order file has no key "way out"'),
}


@pytest.mark.parametrize(("text", "sentence"), MISTAKES.values(), ids=MISTAKES)
def test_a_mistake_is_one_sentence_with_its_place(text, sentence):
    """And nothing is made of the file."""
    [found] = refused("order: 1\n" + text)
    assert found.startswith(sentence)


def test_a_form_of_another_version_is_refused():
    """Nothing is guessed of it."""
    assert refused("order: 2\nway in: []\n") == ['1:8: version 1 of the form is read here, the file says "2"']


@pytest.mark.parametrize("text", ["", "# nothing\n"])
def test_an_empty_file_is_told(text):
    """Nothing, and a remark alone."""
    with pytest.raises(Findings, match="the file is empty"):
        order(text)


def test_all_mistakes_are_told_at_once_in_their_order():
    """Three in one file."""
    found = refused("order: 1\nway in: [whel, wheel, wheel]\nway back: [pmup]\n")
    assert [one.split(":")[0] for one in found] == ["2", "2", "3"]


def test_the_same_part_may_go_out_and_back():
    """Twice is twice in one list."""
    read = order("order: 1\nway in: [wheel]\nway back: [wheel]\n")
    assert [one.text for one in (*read.out, *read.back)] == ["wheel", "wheel"]
