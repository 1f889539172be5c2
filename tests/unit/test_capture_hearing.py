"""What single sentences say was done, by the contract in docs/notes.md."""

import pytest

from putback.capture import understand


def heard(text: str) -> list[tuple]:
    """Events as (item, action, count, tool), without what is not told at the end."""
    events = understand(text).events
    told = [(event.item, event.action, event.count, event.tool) for event in events]
    return [tuple(one[: max(n for n, value in enumerate(one, 1) if value is not None)]) for one in told]


STEPS = [
    ("Took the wheel off.", [("wheel", "remove")]),
    ("wheel off", [("wheel", "remove")]),
    ("the wheel's off", [("wheel", "remove")]),
    ("The cover comes off.", [("cover", "remove")]),
    ("Two 13 mm bolts out.", [("bolts", "remove", 2, "13 mm")]),
    ("I undid the two fourteen mil slider bolts.", [("slider bolts", "remove", 2, "14 mm")]),
    ("Slackened the hub nut, 32 mm.", [("hub nut", "loosen", None, "32 mm")]),
    ("Backed off the adjuster.", [("adjuster", "loosen")]),
    ("Caliper off and hung up on a wire.", [("caliper", "set aside")]),
    ("Lowered the subframe 60 mm.", [("subframe", "lower")]),
    ("Jacked the car up.", [("car", "raise")]),
    ("Unplugged the fan.", [("fan", "unplug")]),
    ("Disconnected the sensor plug.", [("sensor plug", "unplug")]),
    ("Disconnected the fuel line.", [("fuel line", "open")]),
    ("top hose off", [("top hose", "open")]),
    ("Opened the bonnet.", [("bonnet", "open")]),
    ("Drained the coolant.", [("coolant", "drain")]),
    ("Supported the engine with a jack.", [("engine", "support", None, "jack")]),
    ("New pump in.", [("pump", "fit")]),
    ("Started the four bolts by hand.", [("bolts", "start by hand", 4)]),
    ("Plugged the sensor back in.", [("sensor", "plug in")]),
    ("bottom hose back on", [("bottom hose", "close")]),
    ("Filled it up with coolant.", [("coolant", "fill")]),
    ("Bled the brakes.", [("brakes", "bleed")]),
    ("Replaced the thermostat.", [("thermostat", "replace")]),
    ("The bolts of the carrier out, T45.", [("carrier bolts", "remove", None, "T45")]),
    ("The bolt on the left is out.", [("left bolt", "remove")]),
    ("Panel off, two clips with the trim fork.", [("Panel", "remove"), ("clips", "remove", 2, "trim fork")]),
    ("Took off the wotsit.", [("wotsit", "remove")]),
    ("The tray and the liner off.", [("tray", "remove"), ("liner", "remove")]),
    ("2x 14mm slider bolts off, hose left on", [("slider bolts", "remove", 2, "14 mm")]),
    ("9/16 nut off", [("nut", "remove", None, "9/16 in")]),
    ("three eighths bolts out", [("bolts", "remove", None, "3/8 in")]),
    ("Cap screws out, 8 mm hex.", [("Cap screws", "remove", None, "8 mm hex")]),
    ("bracket off, three 13s", [("bracket", "remove", 3, "13 mm")]),
]


@pytest.mark.parametrize(("text", "expected"), STEPS, ids=[text for text, _ in STEPS])
def test_a_sentence_gives_its_steps(text, expected):
    """Item, action, count and tool are those that the contract has for it."""
    assert [(one[0].lower(), *one[1:]) for one in heard(text)] == [(one[0].lower(), *one[1:]) for one in expected]


NO_STEPS = [
    "Don't take the lines off.",
    "I didn't need to undo the top bolt.",
    "You want to take the tray off first.",
    "Next time I'd take the bumper off.",
    "Watch the clip, it snaps.",
    "Did I take the washer off?",
    "I tried to undo the bolt.",
    "The bolt wouldn't come out.",
    "The manual says take the whole dash out.",
    "The battery stays on.",
    "Hose left on.",
    "Tomorrow I'll fit the tray.",
    "This one hasn't got the lower screw.",
    "The stud snapped.",
    "It is held by two bolts and a nut.",
    "Cleaned the face and greased the pins.",
    "Ignition off.",
]


@pytest.mark.parametrize("text", NO_STEPS)
def test_what_is_no_step_gives_none(text):
    """Warnings, advice, negations, questions, plans, failed attempts and descriptions are no events."""
    assert heard(text) == []


TIGHT = [
    ("Carrier 2x17 105Nm", 105, "N·m", None),
    ("Tightened the bolts to one oh five newton metres.", 105, "N·m", None),
    ("Torqued the hub bolts to 60 ft-lb.", 60, "lbf·ft", None),
    ("Pan bolts at 97 inch pounds.", 97, "lbf·in", None),
    ("Head bolts 40 Nm plus 90 degrees.", 40, "N·m", 90),
    ("Tightened the screws a quarter turn.", None, None, 90),
    ("Bolts in, 20 to 25 Nm.", 22.5, "N·m", None),
    ("Tightened the bolts to 30.", 30, None, None),
    ("Nuts forty pounds.", 40, None, None),
]


@pytest.mark.parametrize(("text", "torque", "unit", "angle"), TIGHT, ids=[one[0] for one in TIGHT])
def test_a_torque_is_told_with_its_unit_and_angle(text, torque, unit, angle):
    """One event, tightened, with the figure as it was said; a unit that is not clear is null."""
    (event,) = understand(text).events
    assert (event.action, event.torque, event.unit, event.angle) == ("tighten", torque, unit, angle)


def test_a_torque_without_a_clear_unit_is_a_doubt():
    """Nothing is guessed: the program asks."""
    assert "which unit" in understand("Tightened the bolts to 30.").doubts[0].what


def test_a_pronoun_has_the_nouns_of_what_it_stands_for():
    """They, it and the other one mean things that were named."""
    assert heard("There's four screws along the edge. They're T20s. All four out.") == [("screws", "remove", 4, "T20")]
    assert heard("Upper bracket bolt out. Then the other one out.")[1][0] == "bracket bolt"
    assert heard("Unplugged the sensor and lifted it out.")[1] == ("sensor", "remove")


def test_a_correction_leaves_one_event():
    """The corrected figure stands, the wrong one is gone."""
    assert heard("Two bolts out, 16 mm, no, sorry, 17.") == [("bolts", "remove", 2, "17 mm")]
    assert heard("I pulled the intake tube... no, scratch that.") == []


def test_the_same_on_the_other_side_repeats_with_sides_changed():
    """Each event again, with these words as its source."""
    told = understand("Left caliper bolt out, 17 mm. Caliper off. Same on the right side.").events
    assert [(one.item.lower(), one.action) for one in told[2:]] == [
        ("right caliper bolt", "remove"),
        ("caliper", "remove"),
    ]
    assert {one.source.text for one in told[2:]} == {"Same on the right side."}


def test_said_twice_is_once():
    """A state told again adds what it says and makes no second event."""
    assert heard("I'll undo the drain plug, 17 mm. Okay, the drain plug's out.") == [
        ("drain plug", "remove", None, "17 mm")
    ]


def test_a_sentence_is_understood_with_what_was_said_before():
    """One note a step: what was heard before says what "it" is."""
    before = understand("Took out the starter.").events
    (event,) = understand("Put it back in.", before).events
    assert (event.item, event.action) == ("starter", "fit")


def test_a_source_quotes_the_text_where_it_says():
    """Line and column lead to the very words."""
    text = "Wheel off.\n  Then the two carrier bolts out."
    event = understand(text).events[1]
    line = text.splitlines()[event.source.line - 1]
    assert line[event.source.column - 1 :].startswith(event.source.text)
