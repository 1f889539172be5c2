"""Whose bolt is this?"""

import pytest
from log import Log, demo_area

from putback.job.car import Car
from putback.job.whose import whose


def asked(text: str, log: Log | None = None) -> list[str]:
    log = log or Log(demo_area("a"))
    return [one.item for one in whose(text, log.state, Car(log.area, None))]


@pytest.mark.parametrize(
    ("text", "items"),
    [
        ("M8x82", ["lower alternator bolt"]),
        ("M8x1.25x82", ["lower alternator bolt"]),
        ("M8 x 84", ["lower alternator bolt"]),  # a rule held beside it is two millimetres off
        ("M8x85", []),
        ("M14", ["front subframe bolts"]),
        ("ST5x16", ["liner screws"]),
        ("M6x28, 10 mm", ["long tray screws"]),
        ("M6x28, 13 mm", []),
        ("T45", ["pinch bolt"]),
    ],
)
def test_thread_length_and_size_find_the_group(text, items):
    """What contradicts is left out; a figure greater than any pitch is a length."""
    assert asked(text) == items


def test_what_is_out_comes_first():
    """Of two kinds of nut M12x1.5 the one that is missing somewhere."""
    log = Log(demo_area("a"))
    log.off("left mount nuts", 2, tray="3a")
    found = whose("M12x1.5", log.state, Car(log.area, None))
    assert (found[0].item, found[0].out, found[0].trays) == ("left mount nuts", 2, ("3a",))


def test_on_a_car_that_nobody_described_the_log_is_searched():
    """By what was written when it came off."""
    log = Log()
    log.off("bracket bolts", 2, tray="3", size="M8x30, 13 mm", belongs_to="bracket")
    log.off("cover screws", 5, tray="1", size="T20")
    assert asked("M8x30", log) == ["bracket bolts"]
    assert asked("13 mm", log) == ["bracket bolts"]
    assert asked("bracket", log) == ["bracket bolts"]
