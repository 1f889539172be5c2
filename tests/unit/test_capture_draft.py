"""A draft area from notes is sound, plans, keeps what the notes say of order, and lets it go where notes differ."""

from pathlib import Path

import pytest

from putback.area import read_area
from putback.capture import understand
from putback.capture.draft import draft_area
from putback.check import check_files

TUNING = sorted((Path(__file__).parents[1] / "data" / "notes" / "tuning").glob("*.txt"))
NOTE = """Wheel off, five 19 mm bolts. Liner off, six push pins. Pump plug unplugged. Pump out, two 13 mm bolts.
New pump in, two bolts 25 Nm. Plug on. Liner on. Wheel on, five bolts 120 Nm."""


def drafted(*notes: str) -> str:
    return draft_area([understand(note) for note in notes], "the pump")


def area_of(*notes: str):
    return read_area(drafted(*notes), "draft.yaml")


def behind(area, name: str) -> list[str]:
    return [ref.name for ref in area.items[name].base.behind]


@pytest.mark.parametrize("path", TUNING, ids=lambda path: path.stem)
def test_the_draft_of_a_note_has_nothing_wrong(path):
    """`putback check` finds nothing, whatever the note is like."""
    text = draft_area([understand(path.read_text(encoding="utf-8"))], path.stem)
    assert check_files({"draft.yaml": text.encode()}, None) == []


def test_the_draft_has_fasteners_torques_and_their_source():
    """A line of fasteners is what was told of them."""
    fastener = next(item.fastener for item in area_of(NOTE).items.values() if item.fastener and item.fastener.torque)
    assert (fastener.torque.text, fastener.source) in {("25 N·m", "dictated"), ("120 N·m", "dictated")}


def test_what_was_off_when_a_thing_came_off_stands_in_front_of_it():
    """The nearest is named; the rest follows from it."""
    area = area_of(NOTE)
    assert behind(area, "liner") == ["wheel"]
    assert area.targets[0].name.name == "pump"


def test_a_way_back_that_is_not_the_reverse_loosens_a_need():
    """What went back before the other did cannot hide it."""
    area = area_of("Cover off. Tray off. Pump out. Pump in. Cover on. Tray on.")
    assert behind(area, "tray") == []
    assert sorted(behind(area, "pump")) == ["cover", "tray"]


def test_a_second_teardown_in_another_order_loosens_what_differs():
    """Only what both keep stays."""
    other = "Tray off. Cover off. Pump out. Pump in. Cover on. Tray on."
    assert behind(area_of("Cover off. Tray off. Pump out. Pump in. Tray on. Cover on."), "tray") == ["cover"]
    merged = area_of("Cover off. Tray off. Pump out. Pump in. Tray on. Cover on.", other)
    assert behind(merged, "tray") == behind(merged, "cover") == []
    assert sorted(behind(merged, "pump")) == ["cover", "tray"]


def test_the_draft_says_what_is_a_guess():
    """Minutes, and an order that was seen once."""
    text = drafted(NOTE)
    assert "seen in this order only" in text
    assert "first guess" in text


def test_a_note_without_a_removal_gives_no_area():
    """There is nothing to describe."""
    assert drafted("Wheel bolts tightened to 120 Nm.") == ""
