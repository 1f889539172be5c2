"""What a note leaves over, owes and renews, and what its audit says; by the contract in docs/notes.md."""

import pytest

from putback.capture import report, understand
from putback.capture.audit import audit


def left(text: str) -> list[str]:
    return [one.item.lower() for one in report(text).left_over]


LEFT = [
    ("Tray off. Plug unplugged. Pump out. New pump in. Tray on.", ["plug"]),
    ("Four carrier bolts out. Carrier off. Carrier on. Three carrier bolts in.", ["carrier bolts"]),
    ("Bracket off. Pump off. Pump on.", ["bracket"]),
    ("Rag in the inlet port. Pump off. Pump on.", ["rag"]),
    ("Top hose off. Pump off. Pump on.", ["top hose"]),
    ("Hose clamp off. Pump off. Pump on.", ["hose clamp"]),
    ("Dust cap off the idler. Idler off. New idler on.", ["dust cap"]),
    ("Splash shield off, two bolts. Pump out. Pump in. Two bolts tightened to 20 Nm.", ["splash shield"]),
]


@pytest.mark.parametrize(("text", "items"), LEFT, ids=[text for text, _ in LEFT])
def test_what_never_went_back_is_left_over(text, items):
    """A plug, fewer bolts, a bracket, a rag, a hose and a clamp are found."""
    assert left(text) == items


NONE_LEFT = [
    "Tray off, five screws. Tray on.",
    "Old pump out. New one in.",
    "Wheel off. Liner off. Everything back.",
    "Tray off. Undertray off, six screws.",
    "Front wheel off. Car raised. Wheel on.",
    "Undertray off. Pump off. Pump on. Tray on.",
    "Supported the engine with a jack. Mount off. Mount on.",
]


@pytest.mark.parametrize("text", NONE_LEFT)
def test_what_goes_without_saying_is_not_left_over(text):
    """A part's own screws, a renewed part, "everything back", a note without a way back, supports."""
    assert left(text) == []


def test_what_is_excepted_from_everything_back_stays_open():
    """Everything back except the tray."""
    assert left("Tray off. Liner off. Everything back except the tray.") == ["tray"]


def test_fasteners_that_went_without_saying_are_a_doubt():
    """They are asked about."""
    assert any("screws" in one.what for one in report("Tray off, five screws. Tray on.").doubtful)


def test_a_circuit_that_was_opened_is_owed_its_fluid():
    """Drained and never filled is due; filled is not."""
    assert [one.item.lower() for one in report("Drained the coolant. Pump out. New pump in.").follow_ups] == ["coolant"]
    assert report("Drained the coolant. Pump out. New pump in. Filled the coolant.").follow_ups == ()


def test_what_was_told_as_owed_is_kept():
    """Needs bleeding, order a clip, tomorrow."""
    assert len(report("Caliper off. Caliper on. The brake needs bleeding. Order a clip tomorrow.").follow_ups) == 2


def test_new_parts_are_what_was_fitted_new():
    """New pump, new gasket; new coolant is none."""
    told = report("Pump out. New pump on with a new gasket. New coolant in.").new_parts
    assert {one.item.lower() for one in told} == {"pump", "gasket"}


def findings(text: str) -> dict[str, str]:
    return {one.about: one.words for one in audit(understand(text))}


def test_a_size_that_differs_is_found_with_both_places():
    """17 mm off, 15 mm on."""
    (found,) = (
        one
        for one in audit(understand("Carrier bolts out, 17 mm. Carrier bolts tightened, 15 mm, 105 Nm."))
        if one.about == "size"
    )
    assert (found.first.text, found.second.line) == ("Carrier bolts out, 17 mm", 1)


def test_a_torque_that_suits_no_thread_under_its_head_is_asked_about():
    """10 mm across flats has M6 under it (ISO 4014 heads): some 10 N·m, never 97."""
    assert "10 mm" in findings("Pan bolts out, 10 mm. Pan bolts tightened to 97 Nm.")["torque"]


def test_a_torque_that_suits_its_head_is_not():
    """13 mm across flats is M8 (ISO 4014), which class 8.8 takes to some 25 N·m (common handbook value)."""
    assert "torque" not in findings("Pan bolts out, 13 mm. Pan bolts tightened to 25 Nm.")


def test_fasteners_without_a_torque_and_a_rarer_unit_are_found():
    """Back with no figure; one figure in inch-pounds among newton metres."""
    assert "no figure" in findings("Pump bolts out. Pump bolts in. Pump bolts tight.")["torque"]
    told = "Hub nut 100 Nm. Carrier bolts 105 Nm. Pan bolts 97 inch pounds."
    assert "lbf·in" in findings(told)["unit"]


def test_angle_tightened_fasteners_are_asked_whether_they_are_new():
    """After 90 degrees they are mostly for one use (common practice, no source)."""
    assert "new?" in findings("Head bolts out. Head bolts 40 Nm plus 90 degrees.")["one-time"]
    assert "one-time" not in findings("Head bolts out. New head bolts 40 Nm plus 90 degrees.")


def test_the_battery_and_the_order_are_looked_at():
    """A live cable without the battery; battery on before plugs; filled before the hose is on; deep after cover."""
    assert "battery" in findings("Starter cable unplugged. Starter out. Starter in.")
    assert "order" in findings("Battery lead off. Fan plug unplugged. Battery lead on. Fan plug plugged in.")
    assert "order" in findings("Bottom hose off. Coolant filled. Bottom hose on.")
    assert "order" in findings("Cover off. Pump out. Cover on. Pump in.")


def test_a_clean_note_has_no_findings():
    """Nothing is found where nothing is wrong."""
    assert (
        audit(understand("Carrier bolts out, 17 mm. Carrier off. Carrier on. Carrier bolts tightened, 17 mm, 105 Nm."))
        == ()
    )
