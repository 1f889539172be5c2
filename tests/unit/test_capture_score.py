"""The scorer of notes agrees with cases worked by hand, and every key quotes its note."""

import pytest
from capture_score import (
    LeftOver,
    Tally,
    notes,
    pair,
    place_heard,
    place_key,
    same_item,
    score_events,
    score_folder,
    score_left_over,
    score_places,
    score_torques,
    total,
    words,
)

NOTE = "two 13 mm bolts out\nplug off, bracket off\nbracket on, bolts 25 Nm\n"
KEY = place_key(NOTE, {
    "events": [
        {"item": "bolts", "action": "remove", "count": 2, "tool": "13 mm", "from": "two 13 mm bolts out"},
        {"item": "plug", "action": "unplug", "from": "plug off"},
        {"item": "bracket", "action": "remove", "from": "bracket off"},
        {"item": "bracket", "action": "fit", "from": "bracket on"},
        {"item": "bolts", "action": "tighten", "torque": 25, "unit": "N·m", "from": "bolts 25 Nm"},
    ],
    "torques": [{"item": "bolts", "value": 25, "unit": "N·m", "from": "bolts 25 Nm"}],
    "left_over": [{"item": "plug", "from": "plug off"}],
    "follow_ups": [],
    "new_parts": [],
})
FOLDERS = ("tuning", "aside")
ACTIONS = set(
    "remove;loosen;set aside;lower;raise;unplug;open;drain;support;fit;start by hand;tighten;plug in;close;fill;bleed;"
    "unsupport;replace".split(";")
)


def heard(line: int, column: int, text: str, **fields) -> dict:
    """An event as a program would tell it."""
    return fields | {"source": {"line": line, "column": column, "text": text}}


def reading(*events: dict, **lists: list) -> dict:
    """A program's reading with its places."""
    empty = {"torques": [], "left_over": [], "follow_ups": [], "new_parts": []}
    return place_heard(NOTE, empty | lists | {"events": list(events)})


@pytest.mark.parametrize(("one", "other"), [
    ("bolts", "bolt"),
    ("the upper Bolts", "upper bolt"),
    ("bolts", "carrier bolts"),
    ("caliper bracket bolts", "bracket bolts"),
    ("driver's side lamp", "drivers side lamp"),
    ("o/s lamp", "o/s lamp"),
    ("negative", "negative lead"),
    ("intake-hose clips", "intake hose clip"),
    ("bushes", "bush"),
])
def test_names_of_one_thing_agree(one, other):
    """Plural, determiners, hyphens and a shorter name make no other thing."""
    assert same_item(one, other)
    assert same_item(other, one)


@pytest.mark.parametrize(("one", "other"), [
    ("upper bolt", "lower bolt"),
    ("left front bolt", "right front bolt"),
    ("left fan plug", "left fan cowl"),
    ("o/s lamp bolt", "n/s lamp bolt"),
    ("bolt", "nut"),
    ("fan plug", "pump plug seal"),
    ("", "bolt"),
])
def test_names_of_two_things_do_not(one, other):
    """Another side, another noun, or no noun at all is another thing."""
    assert not same_item(one, other)
    assert not same_item(other, one)


def test_words_lose_plural_and_determiner_only():
    """Glass, bus and chassis keep their endings."""
    assert words("the old glass bushes, pulleys and batteries") == ("glass", "bush", "pulley", "and", "battery")


def test_a_reading_like_the_key_is_right_throughout():
    """All five events found, each with all it has."""
    got = score_events(KEY["events"], KEY["events"])
    assert all(tally.precision == tally.recall == 1.0 for tally in got.values())
    assert got["item"] == Tally(5, 5, 5)
    assert got["count"] == Tally(1, 1, 1)
    assert got["angle"] == Tally(0, 0, 0)


def test_wrong_missing_and_invented_values_are_told_apart():
    """A wrong action costs both, a missing torque costs recall, an invented tool costs precision."""
    ours = reading(
        heard(1, 1, "two 13 mm bolts out", item="bolts", action="loosen", count=2, tool="13 mm"),
        heard(2, 1, "plug off", item="plug", action="unplug", count=1, tool="10 mm"),
        heard(3, 13, "bolts 25 Nm", item="bolts", action="tighten", torque=None, unit=None),
    )["events"]
    got = score_events(ours, KEY["events"])
    assert got["action"] == Tally(2, 3, 5)
    assert got["tool"] == Tally(1, 2, 1)
    assert got["torque"] == Tally(0, 0, 1)
    assert got["count"] == Tally(1, 1, 1)  # one plug is no count
    assert got["tool"].precision == 0.5
    assert got["item"].recall == 0.6


def test_one_clause_with_two_things_is_paired_by_the_things():
    """Where sources are the same, likeness of the items decides, whatever the order."""
    ours = reading(
        heard(2, 1, "plug off, bracket off", item="bracket", action="remove"),
        heard(2, 1, "plug off, bracket off", item="plug", action="unplug"),
    )["events"]
    assert sorted(pair(ours, KEY["events"])) == [(0, 2), (1, 1)]


def test_an_event_told_twice_is_right_once():
    """A double costs precision."""
    event = heard(2, 1, "plug off", item="plug", action="unplug")
    assert score_events(reading(event, event)["events"], KEY["events"])["item"] == Tally(1, 2, 5)


def test_an_event_from_other_words_is_wrong():
    """The right item told of the wrong place is not found."""
    ours = reading(heard(3, 1, "bracket on", item="plug", action="unplug"))["events"]
    assert score_events(ours, KEY["events"])["item"] == Tally(0, 1, 5)


@pytest.mark.parametrize(("value", "unit", "right"), [
    (25, "N·m", 1), (25.1, "N·m", 1), (25.2, "N·m", 0), (25, "lbf·ft", 0), (25, None, 0),
])
def test_a_torque_is_right_with_value_and_unit(value, unit, right):
    """Within a tenth, on both sides of it, and in the unit of the key."""
    torque = heard(3, 13, "bolts 25 Nm", item="bolts", value=value, unit=unit)
    assert score_torques(reading(torques=[torque])["torques"], KEY["torques"]) == Tally(right, 1, 1)


def test_left_overs_found_missed_and_false():
    """The plug is found by its name; what the key does not have is false, and so is a second plug."""
    ours = [{"item": "the plug"}, {"item": "plug"}, {"item": "bracket"}]
    assert score_left_over(ours, KEY["left_over"]) == LeftOver(("plug",), (), ("plug", "bracket"))
    assert score_left_over([], KEY["left_over"]) == LeftOver((), ("plug",), ())


def test_places_are_enough_for_follow_ups():
    """What is owed may be called otherwise, if it comes from the same words."""
    meant = [{"what": "bleed", "span": (0, 10)}]
    assert score_places([{"what": "bleeding", "span": (5, 20)}], meant) == Tally(1, 1, 1)
    assert score_places([{"what": "bleed", "span": (10, 20)}], meant) == Tally(0, 1, 1)  # just beside


def test_tallies_of_several_notes_add_up():
    """Sums of what was right, said and meant; not means of shares."""
    one = score_events(KEY["events"], KEY["events"])
    none = score_events([], KEY["events"])
    assert total([one, none])["item"] == Tally(5, 5, 10)


def test_a_source_that_does_not_quote_is_refused():
    """Place and words must fit each other."""
    with pytest.raises(ValueError, match="line 2, column 2"):
        reading(heard(2, 2, "plug off", item="plug", action="unplug"))


@pytest.mark.parametrize("quote", ["off", "not there"])
def test_a_key_quotes_words_that_stand_there_once(quote):
    """Words that stand there twice need a number, words that do not stand there are a slip."""
    with pytest.raises(ValueError, match="times in the note"):
        place_key(NOTE, dict.fromkeys(KEY, []) | {"events": [{"item": "plug", "action": "unplug", "from": quote}]})


def test_a_folder_is_scored_over_all_its_notes(tmp_path):
    """A reader that hears nothing finds none of what two notes mean, and leaves nothing over."""
    key = "events: [{item: plug, action: unplug, from: plug off}]\n"
    rest = "torques: []\nleft_over: [{item: plug, from: plug off}]\nfollow_ups: []\nnew_parts: []\n"
    for name in ("one", "two"):
        (tmp_path / f"{name}.txt").write_text(NOTE)
        (tmp_path / f"{name}.key.yaml").write_text(key + rest)
    fields, left = score_folder(tmp_path, lambda text: dict.fromkeys(KEY, []))
    assert fields["action"] == Tally(0, 0, 2)
    assert left == dict.fromkeys(("one", "two"), LeftOver((), ("plug",), ()))


@pytest.mark.parametrize("folder", FOLDERS)
def test_every_key_quotes_its_note(root, folder):
    """All entries are found in their notes, in the order told, with the actions of the page and torques that agree."""
    read = list(notes(root / "tests" / "data" / "notes" / folder))
    assert read
    for name, _, key in read:
        starts = [event["span"][0] for event in key["events"]]
        assert starts == sorted(starts), name
        assert {event["action"] for event in key["events"]} <= ACTIONS, name
        figures = {torque["value"] for torque in key["torques"]}
        assert {event["torque"] for event in key["events"] if "torque" in event} <= figures, name


def test_there_are_notes_enough(root):
    """Thirty notes in all, twelve of them aside, of 80 to 1,200 words, five of those aside with a left-over."""
    tuning, aside = (list(notes(root / "tests" / "data" / "notes" / folder)) for folder in FOLDERS)
    assert len(aside) >= 12
    assert len(tuning) >= 20
    assert [name for name, text, _ in tuning + aside if not 80 <= len(text.split()) <= 1200] == []
    assert sum(bool(key["left_over"]) for _, _, key in aside) >= 5
