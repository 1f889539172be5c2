"""Charging systems made by lot: the same seed, the same car; and the answers to them are mostly right."""

import pytest
from bench.meters import FAULTS, FORM, case
from bench.meters_score import lines

from putback.models import answer


def test_the_same_seed_makes_the_same_car():
    """And other laws another one."""
    assert case(7).readings == case(7).readings
    assert case(7, "b").readings != case(7, "a").readings


def test_every_fault_is_made_and_its_action_is_one_of_the_model():
    """All faults of the model, none left out, and only readings that the model knows."""
    cases = [case(seed) for seed in range(400)]

    assert {one.fault for one in cases} == {*FAULTS} == {*FORM.faults}
    assert {one.action for one in cases} <= {*FORM.actions}
    assert {name for one in cases for name in one.readings} <= {*FORM.readings}


@pytest.mark.slow
@pytest.mark.parametrize("laws", ["a", "b"])
def test_where_everything_was_read_the_action_is_right(laws):
    """Of cars that were not used while the model was written; what is likeliest is mostly right, a go always."""
    cases = [case(seed, laws, uniform=False, gaps=False) for seed in range(700_000, 700_100)]
    found = [answer(FORM, one.readings, ahead=1) for one in cases]
    right = [said.action == one.action for one, said in zip(cases, found, strict=True)]
    go = [hit for hit, said in zip(right, found, strict=True) if said.verdict == "go"]

    assert sum(right) >= 88
    assert go and all(go)


@pytest.mark.slow
def test_the_report_counts_what_it_says():
    """One line each for what can be decided, what was left undecided, and how honest the chances were."""
    text = "\n".join(lines([case(seed) for seed in range(12)], "a"))

    assert "can be decided" in text and "more readings" in text and "log score" in text
