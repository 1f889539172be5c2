"""Events of a job: what they must say, how they are written, and how they are chained."""

import hashlib
import json
import string
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.errors import InputError
from putback.job.events import START, Event, canonical, chained, from_json, to_json
from putback.job.kinds import HAND_TIGHT, KINDS, SEATED
from putback.torque.work import EVIDENCE

HEAD = dict(job="J" * 26, at="2026-01-31T09:05:00.000Z", person="technician 1", device="bay 2")
IDS = st.text(string.ascii_letters + string.digits, min_size=26, max_size=26)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(
        st.characters(exclude_categories=["Cs"])),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(string.ascii_letters), inner, max_size=3),
    max_leaves=8,
)  # fmt: skip


def event(kind: str = "job resumed", **data) -> Event:
    return Event(id="A" * 26, kind=kind, data=data, **HEAD)


@given(IDS, st.dictionaries(st.text(string.ascii_letters), VALUES, max_size=4))
def test_json_and_back_is_the_same_event(own, data):
    """Of a kind that nobody knows yet nothing is lost either."""
    one = Event(id=own, kind="kind of a newer program", data=data, **HEAD)
    assert from_json(to_json(one)) == one
    assert canonical(from_json(to_json(one))) == canonical(one)


@pytest.mark.parametrize(
    ("kind", "data", "words"),
    [
        ("fasteners off", {"item": "bolt", "count": 0, "to": "tray", "tray position": "A1"}, "from 1 to 10000, not 0"),
        ("fasteners off", {"item": "bolt", "count": True, "to": "back in their holes"}, "not True"),
        ("fasteners off", {"item": "bolt", "count": 2, "to": "tray"}, 'say the "tray position"'),
        ("fasteners off", {"item": "bolt", "count": 2, "to": "pocket"}, '"tray" or "back in their holes"'),
        ("fasteners on", {"item": "bolt", "count": 2, "new": True, "evidence": "by feel"}, 'say the "reason"'),
        ("fasteners on", {"item": "bolt", "count": 2, "new": True, "evidence": "clicked at the setting"}, 'say the "torque"'),
        ("fluid drained", {"fluid": "coolant", "litres": -0.1}, "0 or more"),
        ("fluid drained", {"fluid": "coolant"}, 'does not say "litres"'),
        ("job resumed", {"why": "x"}, "nothing more"),
        ("difference found", {"item": "bolt", "what": []}, '"seized"'),
        ("unheard of", {"x": float("nan")}, "JSON cannot say"),
        ("unheard of", {"x": "\ud800"}, "JSON cannot say"),
        ("unheard of", {1: "x"}, "JSON cannot say"),
        ("unheard of", {"x": (1, 2)}, "JSON cannot say"),
        ("unheard of", {"x": 10**400}, "JSON cannot say"),
        ("reading taken", {"what": "x", "value": 10**400, "unit": "V"}, "JSON cannot say"),
    ],
)
def test_what_an_event_cannot_say_is_refused(kind, data, words):
    """One sentence names the field and what it must be."""
    with pytest.raises(InputError, match=".") as caught:
        Event(id="A" * 26, kind=kind, data=data, **HEAD)
    assert words in str(caught.value)


@pytest.mark.parametrize(
    "change",
    [
        {"id": "A" * 25}, {"id": "A" * 27}, {"id": "-" * 26}, {"job": 7}, {"person": " "}, {"device": "two\nlines"},
        {"at": "2026-02-30T09:05:00.000Z"}, {"at": "2026-01-31T09:05:00Z"}, {"at": "2026-01-31T09:05:00.000+01:00"},
        {"at": "2026-01-31"}, {"data": []},
    ],
)  # fmt: skip
def test_a_head_that_is_not_right_is_refused(change):
    """Ids, time and names are checked whatever the kind."""
    with pytest.raises(InputError):
        replace(event(), **change)


@pytest.mark.parametrize("text", ["", "[]", "{", "7", '{"id": "A"}', "[" * 100_000])
def test_what_is_no_event_is_refused(text):
    """No text, however odd, ends in anything but one sentence."""
    with pytest.raises(InputError, match="^event: "):
        from_json(text)


def test_ids_of_26_and_32_signs_are_good():
    """Both usual lengths of ids made without a server pass."""
    assert [len(replace(event(), id="a" * size).id) for size in (26, 32)] == [26, 32]


def test_the_chain_is_a_plain_sha_256():
    """Anybody can check the chain with a hash program: the hash before, then the sorted JSON (FIPS 180-4)."""
    one = event("fluid filled", fluid="coolant", litres=5.5)
    row = {**HEAD, "id": "A" * 26, "kind": "fluid filled", "data": {"fluid": "coolant", "litres": 5.5}}
    expected = hashlib.sha256(START.encode() + json.dumps(row, sort_keys=True, separators=(",", ":")).encode())

    assert chained(START, one) == expected.hexdigest()


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (1.0, "1"), (-0.0, "0"), (2.5, "2.5"), (1e22, "1" + "0" * 22), ([5.0, {"a": 7.0}], '[5,{"a":7}]'),
        (0.9999999999999999, "0.9999999999999999"), (2**53 + 1, "9007199254740993"), (True, "true"), ("1.0", '"1.0"'),
    ],
)  # fmt: skip
def test_whole_numbers_are_written_without_a_point(value, written):
    """A browser writes 1.0 as 1 (ECMA-262, Number::toString); the same event must be the same content from both."""
    one = event("unheard of", x=value)
    assert f'"data":{{"x":{written}}}' in to_json(one)
    assert to_json(from_json(to_json(one))) == to_json(one)


def test_data_are_a_copy():
    """What the caller does with its own afterwards changes no event."""
    data = {"x": [1]}
    one = event("unheard of", **data)
    data["x"].append(2)

    assert one.data == {"x": [1]}


def test_a_change_of_an_earlier_event_shows():
    """Every hash after it differs."""
    first, other = event("fluid filled", fluid="oil", litres=5.5), event("fluid filled", fluid="oil", litres=5.4)
    assert chained(chained(START, first), event()) != chained(chained(START, other), event())


def test_the_page_lists_every_kind_with_its_fields():
    """What the docs say of the events is what the program takes, in its order."""
    page = (Path(__file__).parents[2] / "docs" / "job-events.md").read_text(encoding="utf-8")
    rows = [line.strip("| ").split(" | ") for line in page.splitlines() if line.startswith("| `")]
    expected = [[f"`{kind}`", ", ".join(fields) or "nothing more"] for kind, fields in KINDS.items()]

    assert rows == expected


def test_evidence_has_the_words_of_the_torque_room():
    """One idea, one name; besides there are clips, which are seated, and threads that are only run in."""
    assert tuple(KINDS["fasteners on"]["evidence"].split("|")) == (*EVIDENCE, SEATED, HAND_TIGHT)
