"""When a part may be ordered, what stands against it, what cannot be told apart, and what to read again."""

import pytest
from suspects_samples import one_each, two_outcomes

from putback.errors import InputError
from putback.suspects import Action, Model, Test, classes, contradiction, decide, next_tests

PRIOR = {"alternator": 0.6, "belt": 0.2, "strap": 0.2}
TESTS = (
    two_outcomes("volts", {"alternator": 0.95, "belt": 0.9, "strap": 0.5}),
    two_outcomes("slip", {"alternator": 0.02, "belt": 0.9, "strap": 0.02}),
    two_outcomes("drop", {"alternator": 0.02, "belt": 0.02, "strap": 0.95}),
)
ALTERNATOR = Action("alternator", ("alternator",), 700.0, enough=0.9, known=("drop",), proof=(("volts", ("bad",)),))
MODEL = Model(PRIOR, TESTS, (ALTERNATOR, *one_each({"belt": 60.0, "strap": 40.0})), hand_on=1000.0)


def left(evidence):
    """Every test not read yet, at 5 each."""
    return {test.name: 5.0 for test in TESTS if test.name not in evidence}


def judged(evidence):
    """The decision by these readings."""
    return decide(MODEL, evidence, left(evidence))


def test_a_buried_part_waits_while_a_cheap_suspect_stands():
    """The reason names the suspect, its share, and what trying it costs beside the part."""
    found = judged({"volts": "bad", "drop": "fine"})

    assert found.action == "alternator"
    assert not found.ready
    assert any(
        reason.startswith("belt still stands at 2") and "costs 9% of alternator" in reason for reason in found.why
    )
    assert found.next[0].test == "slip"
    assert found.next[0].worth > 0


def test_a_part_may_be_ordered_once_the_cheap_suspects_are_cleared():
    """All that must be known is known, and no other test is asked for."""
    found = judged({"volts": "bad", "drop": "fine", "slip": "fine"})

    assert found.ready
    assert found.why == ()
    assert found.stop


def test_what_must_be_known_before_is_named():
    """The drop was not read: it is missing, and the part is not ready."""
    found = judged({"volts": "bad", "slip": "fine"})

    assert found.missing == ("drop",)
    assert any("not yet read: drop" in reason for reason in found.why)


def test_without_the_proof_a_part_is_not_condemned():
    """However likely it is; a soft reading counts as seen where it says so clearly."""
    sure = Model({"alternator": 0.98, "belt": 0.01, "strap": 0.01}, TESTS, MODEL.actions)
    rest = {"drop": "fine", "slip": "fine"}

    assert any("volts bad" in reason for reason in decide(sure, rest | {"volts": "fine"}, {}).why)
    assert any("volts bad" in reason for reason in decide(sure, rest | {"volts": [0.4, 1.0]}, {}).why)
    assert decide(sure, rest | {"volts": [0.3, 1.0]}, {}).ready


def test_faults_whose_rows_agree_are_one_set_and_none_of_them_is_named_alone():
    """The feed and the rotor read alike in all that can be had: 0.9 is the most for one of them."""
    prior = {"rotor": 0.95, "feed": 0.04, "belt": 0.01}
    volts = two_outcomes("volts", {"rotor": 0.97, "feed": 0.95, "belt": 0.2})
    at_plug = two_outcomes("at the plug", {"rotor": 0.03, "feed": 0.95, "belt": 0.03})
    model = Model(prior, (volts, at_plug), one_each(dict.fromkeys(prior, 10.0)), leftover=0.0)

    assert decide(model, {"volts": "bad"}, {}).sets == (("rotor", "feed"),)
    assert decide(model, {"volts": "bad"}, {}).posterior["rotor"] == pytest.approx(0.9)
    assert decide(model, {"volts": "bad"}, {"at the plug": 1.0}).sets == ()
    assert decide(model, {"volts": "bad", "at the plug": "fine"}, {}).posterior["rotor"] > 0.95
    assert classes(model, {"volts": "bad"}, (), absent=["feed"]) == []


@pytest.mark.parametrize(("chance", "together"), [(0.62, True), (0.6, False)])
def test_two_faults_agree_up_to_the_tolerance(chance, together):
    """0.08 apart on a test that can be had is within a tenth, and 0.11 is not."""
    prior = {"one": 0.5, "other": 0.5}
    other = 0.7 if together else 0.71
    model = Model(prior, (two_outcomes("volts", {"one": chance, "other": other}),), one_each(dict.fromkeys(prior, 1.0)))

    assert bool(classes(model, {}, ["volts"])) is together


def test_sets_that_are_listed_count_as_well():
    """Known from elsewhere not to be told apart."""
    prior = {"one": 0.99, "other": 0.01}
    tests = (two_outcomes("volts", {"one": 0.9, "other": 0.1}),)
    model = Model(prior, tests, one_each(dict.fromkeys(prior, 1.0)), leftover=0.0)

    assert decide(model, {"volts": "bad"}, {}, listed=[("one", "other")]).posterior["one"] == pytest.approx(0.9)


def test_readings_that_nothing_explains_together_are_to_be_taken_again():
    """Charging volts say none, output says plenty: under no fault are both likely."""
    prior = {"alternator": 0.5, "nothing": 0.5}
    tests = (
        two_outcomes("volts", {"alternator": 0.995, "nothing": 0.004}),
        two_outcomes("output", {"alternator": 0.996, "nothing": 0.004}),
        two_outcomes("belt", {"alternator": 0.05, "nothing": 0.05}),
    )
    model = Model(prior, tests, one_each({"alternator": 700.0, "nothing": 10.0}))
    found = contradiction(model, {"volts": "bad", "output": "fine", "belt": "fine"})

    assert set(found.again) == {"volts", "output"}
    assert found.credible < 0.01
    assert contradiction(model, {"volts": "bad", "output": "bad", "belt": "bad"}) is None
    reasons = decide(model, {"volts": "bad", "output": "fine"}, {}).why
    assert any(reason.startswith("nothing explains these readings together") for reason in reasons)


def test_one_odd_reading_among_many_is_no_contradiction():
    """Twenty tests that each err once in twenty: one that does is to be expected."""
    tests = tuple(two_outcomes(f"test {n}", {"here": 0.95, "there": 0.05}) for n in range(20))
    model = Model({"here": 0.5, "there": 0.5}, tests, one_each({"here": 1.0, "there": 1.0}))
    seen = {test.name: "bad" for test in tests}

    assert contradiction(model, seen | {"test 3": "fine"}) is None
    assert contradiction(model, seen | {f"test {n}": "fine" for n in range(6)}) is not None


def test_an_access_counts_once_for_a_test_and_the_repair_behind_it():
    """The test at the stud opens what the repair needs: by hand, 8 + 35 / 2 without it, 32 + 5 / 2 + 8 / 2 with it."""
    prior = {"link": 0.5, "lamp": 0.5}
    stud = two_outcomes("stud", {"link": 1.0, "lamp": 0.0})
    mends = (Action("link", ("link",), 5.0, "tray"), Action("lamp", ("lamp",), 8.0))
    model = Model(prior, (stud,), mends, leftover=0.0, access={"tray": 30.0}, test_access={"stud": "tray"})
    (choice,) = next_tests(model, {}, {"stud": 2.0})

    without = 8.0 + 0.5 * 35.0
    assert choice.cost == 32.0
    assert choice.worth == pytest.approx(without - (32.0 + 0.5 * 5.0 + 0.5 * 8.0))
    assert next_tests(model, {}, {"stud": 2.0}, opened=["tray"])[0].cost == 2.0


def test_the_second_test_is_told_for_each_outcome_of_the_first():
    """After a bad first reading the second pays, after a fine one it does not."""
    prior = {"a": 0.4, "b": 0.3, "c": 0.3}
    first = Test("first", ("low", "high"), {"a": (1.0, 0.0), "b": (0.0, 1.0), "c": (0.0, 1.0)})
    second = two_outcomes("second", {"a": 0.5, "b": 1.0, "c": 0.0})
    model = Model(prior, (first, second), one_each(dict.fromkeys(prior, 100.0)), leftover=0.0)
    found = {choice.test: choice for choice in next_tests(model, {}, {"first": 1.0, "second": 1.0})}

    assert found["first"].then == {"low": None, "high": "second"}
    assert next_tests(model, {}, {"first": 1.0, "second": 1.0}, ahead=1)[0].then == {"low": None, "high": None}


@pytest.mark.parametrize(
    ("evidence", "costs", "ahead", "says"),
    [
        ({"volts": "bad"}, {"volts": 1.0}, 2, "read already"),
        ({}, {"volts": -1.0}, 2, "write 0 or more"),
        ({}, {"ohms": 1.0}, 2, 'no test "ohms"'),
        ({}, {"volts": 1.0}, 5, "looking 5 tests ahead"),
    ],
)
def test_what_cannot_be_chosen_from_is_refused(evidence, costs, ahead, says):
    """One sentence."""
    with pytest.raises(InputError, match=says):
        next_tests(MODEL, evidence, costs, ahead=ahead)
