"""Posteriors by hand: shared causes, silence, soft readings, faults that cannot be, and what nobody listed."""

import pytest
from suspects_samples import one_each, two_outcomes

from putback.errors import InputError
from putback.suspects import NOTHING_LISTED, Group, Model, posterior, shares
from putback.suspects.likelihood import share_together

PRIOR = {"left": 0.5, "right": 0.5}
MENDS = one_each({"left": 1.0, "right": 1.0})
SHARP = {"left": 0.9, "right": 0.1}


def odds(model, evidence):
    """Left against right."""
    found = posterior(model, evidence)
    return found["left"] / found["right"]


@pytest.mark.parametrize("count", [2, 3, 4])
@pytest.mark.parametrize("counts_as", [1, 1.5, 2])
def test_a_group_of_sharp_readings_counts_as_it_is_told_to(count, counts_as):
    """All of them bad: nine to one to the power that the model names."""
    names = [f"test {n}" for n in range(count)]
    tests = tuple(two_outcomes(name, SHARP) for name in names)
    model = Model(PRIOR, tests, MENDS, (Group(tuple(names), counts_as),), leftover=0.0)

    assert odds(model, dict.fromkeys(names, "bad")) == pytest.approx(9.0**counts_as)
    assert odds(model, {names[0]: "bad"}) == pytest.approx(9.0)


def test_a_member_of_a_group_that_could_be_anything_changes_nothing():
    """A reading that fits all its outcomes alike leaves the other's as they are, though one cause decides both."""
    tests = (two_outcomes("volts", SHARP), two_outcomes("amps", {"left": 0.5, "right": 0.5}))
    group = Group(("volts", "amps"), 1.0)
    model = Model(PRIOR, tests, MENDS, (group,), leftover=0.0)

    assert share_together(group) == pytest.approx(1.0)
    assert odds(model, {"volts": "bad", "amps": [0.3, 0.3]}) == pytest.approx(9.0)


def test_tests_of_a_group_move_together_along_their_orders():
    """With one cause for both, the milder test is bad whenever the sharper is not: never the other way round."""
    tests = (two_outcomes("sharp", SHARP), two_outcomes("mild", {"left": 0.6, "right": 0.05}))
    model = Model(PRIOR, tests, MENDS, (Group(("sharp", "mild"), 1.0),), leftover=0.0)

    with pytest.raises(InputError, match="nothing in the list explains these readings"):
        posterior(model, {"sharp": "fine", "mild": "bad"})


def test_a_silenced_test_says_nothing_and_one_whose_gate_was_not_read_says_less():
    """Drop without current: no word. By hand: P(bad | f) = P(current | f) P(bad | f, current) + P(none | f) / 2."""
    current = two_outcomes("current", {"left": 0.8, "right": 0.2})
    drop = two_outcomes("drop", SHARP, silent_when={"current": ("bad",)})
    model = Model(PRIOR, (current, drop), MENDS, leftover=0.0)

    assert odds(model, {"current": "bad", "drop": "bad"}) == pytest.approx(4.0)
    assert odds(model, {"current": "fine", "drop": "bad"}) == pytest.approx(0.25 * 9)
    assert odds(model, {"drop": "bad"}) == pytest.approx((0.2 * 0.9 + 0.8 / 2) / (0.8 * 0.1 + 0.2 / 2))


def test_a_soft_reading_counts_by_its_likelihoods_only():
    """Their scale does not matter, and one that fits all outcomes alike changes nothing."""
    model = Model(PRIOR, (two_outcomes("volts", SHARP),), MENDS, leftover=0.0)

    assert odds(model, {"volts": [0.2, 0.8]}) == pytest.approx((0.02 + 0.72) / (0.18 + 0.08))
    assert odds(model, {"volts": [20, 80]}) == pytest.approx(odds(model, {"volts": [0.2, 0.8]}))
    assert odds(model, {"volts": [7, 7]}) == pytest.approx(1.0)


def test_what_is_not_fitted_has_no_share_and_the_rest_keeps_its_proportions():
    """The share of what nobody listed stays as it was."""
    prior = {"left": 0.5, "right": 0.2, "none": 0.3}
    model = Model(prior, (), one_each(dict.fromkeys(prior, 1.0)), leftover=0.1)

    assert posterior(model, {}, ["left"]) == pytest.approx(
        {"left": 0.0, "right": 0.36, "none": 0.54, NOTHING_LISTED: 0.1}
    )


def test_readings_that_no_listed_fault_explains_point_at_what_nobody_listed():
    """Each improbable under both: the leftover share grows above one half."""
    tests = tuple(two_outcomes(f"test {n}", {"left": 0.05, "right": 0.05}) for n in range(3))
    model = Model(PRIOR, tests, MENDS)

    assert posterior(model, {test.name: "bad" for test in tests})[NOTHING_LISTED] > 0.9


def test_an_action_has_the_share_of_all_that_it_mends():
    """What nobody listed is in none of them."""
    model = Model(PRIOR, (), MENDS, leftover=0.2)

    assert shares(model, posterior(model, {})) == pytest.approx({"left": 0.4, "right": 0.4})


@pytest.mark.parametrize(
    ("evidence", "absent", "says"),
    [
        ({"ohms": "bad"}, (), 'no test "ohms"; there are: volts'),
        ({"volts": "odd"}, (), '"odd" is not one of its outcomes: fine, bad'),
        ({"volts": [1.0]}, (), "2 likelihoods"),
        ({"volts": [0.0, 0.0]}, (), "one of them above 0"),
        ({"volts": [float("nan"), 1.0]}, (), "is no reading"),
        ({}, ("hose",), 'no fault "hose"; there are: left, right'),
        ({}, ("left", "right"), "name one that may be there"),
    ],
)
def test_what_cannot_have_been_read_is_refused(evidence, absent, says):
    """One sentence, with what may be written."""
    model = Model(PRIOR, (two_outcomes("volts", SHARP),), MENDS)

    with pytest.raises(InputError, match=says):
        posterior(model, evidence, absent)
