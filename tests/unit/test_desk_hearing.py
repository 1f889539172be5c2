"""Free words said in a job become events, or questions; the words themselves are always kept."""

import pytest
from desk_samples import Desk
from hypothesis import given, settings
from hypothesis import strategies as st

from putback.desk.heard import hear
from putback.desk.heard_parts import litres
from putback.desk.hearing import hear_note, say_words
from putback.errors import InputError
from putback.hearing_json import answer_object


@pytest.fixture
def desk(tmp_path):
    """A car that nobody has described."""
    with Desk(tmp_path) as desk:
        desk.open()
        yield desk


def say(desk, words, tray="1"):
    return say_words(desk.ledger, desk.job, desk.stamp, words, tray)


def told(desk, *sentences):
    """What sentences said one after another were logged as, in short."""
    return [_short(row.event) for words in sentences for row, _ in say(desk, words).logged]


def _short(event):
    data = event.data
    name = data.get("item") or data.get("fluid") or data.get("name") or data.get("part") or data.get("work") or ""
    figures = [data[key] for key in ("count", "state", "torque", "litres", "posture", "evidence") if key in data]
    return (event.kind, name, *figures)


def test_a_wheel_with_its_nuts(desk):
    """The nuts are named by the wheel and come before it, for with the wheel whatever holds it is off."""
    assert told(desk, "Van up on the lift, wheel off, five 19 mm nuts.") == [
        ("car moved", "", "on a lift"),
        ("fasteners off", "wheel nuts", 5),
        ("item moved", "wheel", "off"),
    ]
    group = desk.look().state.groups["wheel nuts"]
    assert (group.size, group.belongs_to, group.trays) == ("19 mm", "wheel", {"1": 5})


def test_fasteners_without_a_name_take_that_of_their_part(desk):
    """"Carrier off, two 17s" and back with its torque, from one sentence to the next."""
    said = told(desk, "Carrier off, two 17s.", "Carrier back on, 2x17 105Nm")
    assert said == [
        ("fasteners off", "carrier fasteners", 2),
        ("item moved", "carrier", "off"),
        ("item moved", "carrier", "fitted"),
        ("fasteners on", "carrier fasteners", 2, 105.0, "clicked at the setting"),
    ]


def test_what_goes_back_is_found_by_a_shorter_name(desk):
    """The sensor is the speed sensor, the nuts those of the wheel that was named with them."""
    told(desk, "Wheel off, five 19 mm nuts.", "Speed sensor unplugged.", "Drum off, two screws.")
    assert told(desk, "Sensor plugged back in, clicked.", "Wheel on, nuts 110 Nm.") == [
        ("item moved", "speed sensor", "plugged"),
        ("item moved", "wheel", "fitted"),
        ("fasteners on", "wheel nuts", 5, 110.0, "clicked at the setting"),
    ]


def test_a_line_a_fluid_a_rag_and_a_new_part(desk):
    """Everything else that the ledger knows: litres in words, where a rag is."""
    said = told(
        desk, "Drained the coolant, about two litres.", "top hose off", "pump out, three 10 mm bolts", "rag in the port",
        "took the rag out", "new pump on, three bolts 9 Nm", "top hose back on",
    )  # fmt: skip
    assert said == [
        ("fluid drained", "coolant", 2.0), ("item moved", "top hose", "open"),
        ("fasteners off", "pump bolts", 3), ("item moved", "pump", "off"), ("thing put in", "rag"), ("thing taken out", "rag"),
        ("item moved", "pump", "fitted"),
        ("fasteners on", "pump bolts", 3, 9.0, "clicked at the setting"), ("item moved", "top hose", "joined"),
    ]  # fmt: skip


def test_a_new_part_is_swapped_once_it_was_compared(desk):
    """The swap itself is held back until old and new were laid side by side, as it is everywhere else."""
    told(desk, "pump out, three 10 mm bolts")
    (held,) = say(desk, "new pump on").held
    assert held[0].kind == "part swapped" and "compare" in held[1].text
    desk.say("part compared", part="pump", old={"ports": "2"}, new={"ports": "2"})
    assert ("part swapped", "pump") in told(desk, "pump out", "new pump on")


def test_a_torque_in_foot_pounds_is_logged_in_newton_metres(desk):
    """18 lbf·ft are 24.4 N·m (1 lbf·ft = 1.3558179 N·m, SI brochure's figures for the pound and the foot)."""
    told(desk, "Bracket off, two 13 mm bolts.")
    (*_, event) = told(desk, "Bracket back on, bolts 18 foot pounds.")
    assert event[:3] == ("fasteners on", "bracket bolts", 2) and event[3] == pytest.approx(24.4047, abs=1e-4)


def test_a_torque_without_a_unit_is_asked_about(desk):
    """The bolts count as run in by hand, and each unit is an answer of one tap."""
    told(desk, "Bracket off, two 13 mm bolts.")
    answer = say(desk, "Bracket back on, bolts torqued to 25.")
    (question,) = answer.questions
    assert [name for name, *_ in question.choices] == ["25 N·m", "25 ft-lb", "25 in-lb"]
    assert [data["torque"] for *_, data in question.choices] == pytest.approx([25, 33.8954, 2.8246], abs=1e-4)
    assert desk.look().state.groups["bracket bolts"].hand_tight == 2


def test_how_many_is_asked_and_never_guessed(desk):
    """Some screws are no number; the cover is off all the same."""
    answer = say(desk, "cover off, some screws")
    (question,) = answer.questions
    assert [_short(row.event) for row, _ in answer.logged] == [("item moved", "cover", "off")]
    assert question.missing == "count" and question.data["item"] == "cover screws"


def test_bolts_put_in_are_not_taken_for_tight(desk):
    """They count as run in by hand until somebody says how tight they are."""
    told(desk, "Bracket off, two 13 mm bolts.")
    answer = say(desk, "Bracket on, both bolts in.")
    assert answer.questions[-1].missing == "torque"
    assert desk.look().state.groups["bracket bolts"].hand_tight == 2
    assert told(desk, "bolts 24 Nm") == [("fasteners tightened", "bracket bolts", 2, 24.0, "clicked at the setting")]


def test_clips_that_are_back_are_seated(desk):
    """Nobody asks for the torque of a clip."""
    told(desk, "Trim off, four clips.")
    answer = say(desk, "Trim back on, clips in.")
    assert not answer.questions and desk.look().state.groups["trim clips"].home


def test_what_was_never_off_is_asked_about(desk):
    """The open ones are offered."""
    told(desk, "Bracket off, two 13 mm bolts.")
    (question,) = say(desk, "the shield is back on").questions
    assert "shield" in question.text and [name for name, *_ in question.choices] == ["bracket"]


def test_a_car_does_not_come_down_onto_somebody(desk):
    """What cannot be passed is held back and told, and the words are kept."""
    told(desk, "car up on the lift")
    desk.say("person went under", who="technician 2")
    answer = say(desk, "car down")
    assert [stop.hard for _, stop in answer.held] == [True] and not answer.logged
    assert desk.look().state.posture == "on a lift"
    assert "car down" in [note["note"] for note in desk.look().state.notes[""]]


def test_what_was_done_is_logged_though_something_speaks_against_it(desk):
    """A fact is kept; what speaks against it is told."""
    told(desk, "Carrier bolts out, two of them.", "Caliper off, two bolts.")
    answer = say(desk, "carrier bolts back in, 105 Nm")
    assert [_short(row.event)[0] for row, _ in answer.logged] == ["fasteners on"] and answer.warnings


def test_broken_and_seized_things(desk):
    """What is named is logged as differing; what is not is asked about."""
    told(desk, "Bracket off, two 13 mm bolts.")
    assert told(desk, "One of the bracket bolts snapped.") == [("difference found", "bracket bolts")]
    (question,) = say(desk, "the left stud is seized").questions
    assert question.text == "seized: what?" and question.choices[0][0] == "left stud"
    assert told(desk, "nothing is broken so far") == []


def test_work_that_is_owed(desk):
    """It bars the hand-over until it is done."""
    assert told(desk, "need to check the level tomorrow")[0][0] == "work added"
    assert any("check the level" in point.text for point in desk.look().points)


def test_words_that_tell_nothing_are_kept_and_that_is_said(desk):
    """Nothing is lost, and nobody thinks it was understood."""
    answer = say(desk, "Radio code is on the sun visor.")
    assert not answer.logged and "no step was understood" in answer.questions[0].text
    assert desk.look().state.notes[""][-1]["note"] == "Radio code is on the sun visor."


def test_the_words_are_shown_when_their_thing_goes_back(desk):
    """A note of a removal is a note of its item."""
    told(desk, "Harness off its bracket, runs behind the pipe.", "Horn off, one bolt. Runs behind the bar.")
    assert [note["note"] for note in desk.look().state.notes["horn"]] == ["Horn off, one bolt. Runs behind the bar."]


def test_words_that_were_kept_without_a_connection_are_heard_once(desk):
    """Until then they stand open; heard twice they count once."""
    note = desk.say("note added", note="Bracket off, two 13 mm bolts.", to_hear=True)
    assert desk.look().state.unheard and any(point.kind == "unheard" for point in desk.look().points)

    first = hear_note(desk.ledger, desk.job, desk.stamp, note, "4")
    again = hear_note(desk.ledger, desk.job, desk.stamp, note, "4")
    assert [_short(row.event) for row, _ in first.logged] == [("fasteners off", "bracket bolts", 2), ("item moved", "bracket", "off")]
    assert [row.event.id for row, _ in again.logged] == [row.event.id for row, _ in first.logged]
    assert again.view.state.last == first.view.state.last and not desk.look().state.unheard
    with pytest.raises(InputError, match="there is no note"):
        hear_note(desk.ledger, desk.job, desk.stamp, "0" * 32)


def test_on_a_described_car_words_mean_the_names_of_its_area(tmp_path):
    """Scenario A: shorter names, the mechanic's own, are those of the description; what it does not know is asked about."""
    with Desk(tmp_path) as desk:
        desk.open("a")
        said = told(desk, "battery clamp off", "airflow plug and intake duct off", "front wheel off, four bolts", "liner out, six screws")
        names = [name for _, name, *_ in said]
        assert names == ["battery clamp", "airflow sensor plug", "intake duct", "wheel bolts", "left front wheel", "liner screws", "wheel-arch liner"]
        (question,) = say(desk, "thermostat off").questions
        assert "nothing of that name" in question.text and question.choices[-1][0] == "thermostat: there besides"


@pytest.mark.parametrize(
    "words, amount",
    [("about two litres came out", 2.0), ("0.7 l", 0.7), ("half a litre", 0.5), ("2,2 liters", 2.2), ("500 ml", 0.5), ("one quart", 0.9464),
     ("2 bolts", None), ("a lot", None)],
)  # fmt: skip
def test_litres(words, amount):
    """Figures, words, and a quart of 0.946353 l (US liquid quart, NIST handbook 44)."""
    assert litres(words) == (None if amount is None else pytest.approx(amount, abs=1e-3))


@settings(max_examples=150, deadline=None)
@given(words=st.text(min_size=1, max_size=300))
def test_no_words_break_it(words, tmp_path_factory):
    """Whatever somebody says is understood or not, and everything understood can be logged."""
    with Desk(tmp_path_factory.mktemp("desk")) as desk:
        desk.open()
        view = desk.look()
        for one in hear(view, words, "1").meant:
            desk.stamp.event(desk.job, one.kind, **one.data)


def test_the_answer_as_json(desk):
    """Events with their ids and words, questions with their answers."""
    found = answer_object(say(desk, "cover off, some screws"))
    assert found["logged"][0]["data"] == {"item": "cover", "state": "off"} and found["logged"][0]["id"]
    assert found["questions"][0]["missing"] == "count" and found["last"] == desk.look().state.last
