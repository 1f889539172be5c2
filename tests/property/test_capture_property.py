"""Whatever a note holds, reading it ends, quotes it truly, and is the same each time."""

import json

from hypothesis import given, settings
from hypothesis import strategies as st

from putback.capture import as_json, report, understand
from putback.capture.audit import audit
from putback.capture.draft import draft_area
from putback.check import check_files
from putback.notes_text import notes_text

WORDS = (
    "the a two 2x 13 mm 14mm T30 105Nm newton metres 40 pounds plus 90 degrees quarter turn by hand "
    "feel snug wheel bolts bolt"
    "carrier caliper hose plug clip clamp cover pump cap rag jack engine car battery lead coolant "
    "belt tensioner off out on in back"
    "up down loose aside took take undo undid unplugged removed fit fitted tighten torqued drained "
    "hung swung left right upper"
    "lower other one them it both all same side no sorry scratch that everything not don't if "
    "before you should tomorrow new old"
    "with of for and then so , . ; : - ? ! ( ) \n [1:02] OFF ON Refit: 1/2 ½ 3/8 in there's is 's"
).split(" ")
NOTES = st.lists(st.sampled_from(WORDS), max_size=60).map(" ".join)


@settings(max_examples=300, deadline=None)
@given(NOTES)
def test_any_words_of_the_trade_are_read(text):
    """Sources quote the text, counts and angles are sensible, the output fits 80 columns and is JSON."""
    told = report(text)
    for one in told.heard.events:
        assert one.item
        assert text[one.source.start : one.source.end] == one.source.text != ""
        assert one.count is None or one.count > 1
        assert 0 < one.confidence <= 1
    assert json.loads(json.dumps(as_json(told))) == as_json(told)
    assert max(map(len, notes_text(told, "n").splitlines())) <= 80
    assert audit(told.heard) == audit(understand(text))


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=200))
def test_hostile_text_never_breaks_it(text):
    """Any signs at all: no exception, and every source quotes the text."""
    told = report(text)
    assert all(text[one.source.start : one.source.end] == one.source.text for one in told.heard.events)
    notes_text(told, "n")


@settings(max_examples=100, deadline=None)
@given(NOTES, NOTES)
def test_a_draft_is_always_sound(first, second):
    """Whatever two notes say, `putback check` finds nothing wrong with their draft."""
    text = draft_area([understand(first), understand(second)], "n")
    assert not text or check_files({"d.yaml": text.encode()}, None) == []


def test_ten_thousand_words_are_read_in_time():
    """No sentence is looked at against all others: twice the words take about twice the time."""
    note = (
        "Then I took the left caliper bolt out, 17 mm, and hung the caliper up. The hose stays on. Pads "
        "in, bolts 105 Nm." * 450
    )

    assert len(understand(note).events) > 500
