"""What holds for any fault model: chances stay chances, orders and strategies are as good as the best of all."""

from itertools import permutations
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from suspects_samples import drawn_evidence, drawn_model

from putback.suspects import NOTHING_LISTED, capped, classes, contradiction, decide, next_tests, order, posterior

SEEDS = st.integers(0, 10**6)
FEW = settings(max_examples=60, deadline=None)


def cheapest(model, chances, opened=frozenset()):
    """The cost of the best order and of the best moment to hand on, by trying them all; chances need not sum to 1."""
    best = None
    for way in permutations(model.actions):
        left, total, doors = sum(chances.values()), 0.0, set(opened)
        ends = []
        for action in way:
            ends.append(total + left * (model.hand_on or 0.0))
            door = model.access[action.behind] if action.behind and action.behind not in doors else 0.0
            doors.add(action.behind)
            total += (action.cost + door) * left
            left -= sum(chances[fault] for fault in action.cures)
        ends.append(total + left * (model.hand_on or 0.0))
        cost = ends[-1] if model.hand_on is None else min(ends)
        best = cost if best is None else min(best, cost)
    return best


def best_strategy(model, evidence, costs, ahead, opened=frozenset()):
    """The cost of the best strategy over at most `ahead` more tests, with the chance of what was read as a factor.

    By the posterior's own definition: the chance of an outcome is the sum of what it leaves of each fault."""
    weights = unscaled(model, evidence)
    best = cheapest(model, weights, opened)
    for name, cost in costs.items() if ahead else ():
        door = model.test_access.get(name)
        cost += model.access[door] if door and door not in opened else 0.0
        rest = {other: price for other, price in costs.items() if other != name}
        after = sum(
            best_strategy(model, evidence | {name: outcome}, rest, ahead - 1, opened | {door})
            for outcome in model.by_name[name].outcomes
        )
        best = min(best, cost * sum(weights.values()) + after)
    return best


def unscaled(model, evidence):
    """P(fault and what was read), from the likelihood alone."""
    from putback.suspects.likelihood import chances, likelihood
    from putback.suspects.posterior import readings_of, start

    weights = start(model) * likelihood(model, chances(model), readings_of(model, evidence))[0]
    return dict(zip([*model.faults, NOTHING_LISTED], weights, strict=True))


@FEW
@given(SEEDS)
def test_a_posterior_is_a_share_for_each_fault(seed):
    """Never below 0, summing to 1, and the same whatever order the readings came in."""
    random = Random(seed)
    model = drawn_model(random)
    evidence = drawn_evidence(random, model)
    found = posterior(model, evidence)

    assert min(found.values()) >= 0
    assert sum(found.values()) == pytest.approx(1)
    assert posterior(model, dict(reversed(evidence.items()))) == pytest.approx(found, abs=1e-12)


@FEW
@given(SEEDS)
def test_what_is_foreseen_adds_up_to_what_is_known(seed):
    """Over all outcomes of a test the posteriors average to the present one: shared causes and silence included."""
    random = Random(seed)
    model = drawn_model(random)
    evidence = drawn_evidence(random, model)
    for test in model.tests:
        if test.name not in evidence:
            parts = [unscaled(model, evidence | {test.name: outcome}) for outcome in test.outcomes]
            together = {fault: sum(part[fault] for part in parts) for fault in parts[0]}
            assert together == pytest.approx(unscaled(model, evidence), abs=1e-12)


@FEW
@given(SEEDS, st.integers(1, 6), st.integers(0, 6))
def test_an_order_costs_what_the_best_of_all_orders_costs(seed, actions, behind):
    """Accesses, faults that nobody listed and handing on included: all orders tried."""
    model = drawn_model(Random(seed), faults=6, tests=1, actions=actions, behind=behind)
    likely = posterior(model, {})
    found = order(model, likely)

    assert found.cost == pytest.approx(cheapest(model, likely), rel=1e-9)


@settings(max_examples=15, deadline=None)
@given(SEEDS, st.integers(0, 3))
def test_the_next_test_is_worth_what_the_best_strategy_over_two_saves(seed, behind):
    """Against a plain recursion over all tests, outcomes and orders of repair."""
    random = Random(seed)
    model = drawn_model(random, faults=4, tests=4, actions=3, behind=behind)
    evidence = drawn_evidence(random, model, share=0.3)
    costs = {test.name: random.uniform(0, 5) for test in model.tests if test.name not in evidence}
    scale = sum(unscaled(model, evidence).values())
    without = cheapest(model, unscaled(model, evidence)) / scale
    best = best_strategy(model, evidence, costs, 2) / scale
    found = next_tests(model, evidence, costs)
    worth = max([0.0, *(choice.worth for choice in found)])

    assert worth == pytest.approx(without - best, abs=1e-7)
    assert [choice.worth for choice in found] == sorted((choice.worth for choice in found), reverse=True)


@FEW
@given(SEEDS)
def test_nobody_is_surer_of_one_name_in_a_set_than_may_be(seed):
    """And nothing is lost: the sets keep their share, the rest its own."""
    random = Random(seed)
    model = drawn_model(random, faults=6)
    likely = posterior(model, drawn_evidence(random, model))
    sets = [("fault 0", "fault 1", "fault 2"), ("fault 3", "fault 4")]
    found = capped(likely, sets)

    assert all(found[name] <= 0.9 + 1e-12 for names in sets for name in names)
    assert sum(found.values()) == pytest.approx(1)
    assert found["fault 5"] == likely["fault 5"]


@settings(max_examples=25, deadline=None)
@given(SEEDS)
def test_a_decision_can_always_be_made(seed):
    """Whatever was read: an action, reasons where it is not ready, and the same answer twice."""
    random = Random(seed)
    model = drawn_model(random, behind=2)
    evidence = drawn_evidence(random, model)
    costs = {test.name: 1.0 for test in model.tests if test.name not in evidence}
    found = decide(model, evidence, costs)

    assert found == decide(model, evidence, costs)
    assert found.ready == (not found.why)
    assert found.action in [action.name for action in model.actions]
    odd = contradiction(model, evidence)
    assert found.again == (odd.again if odd else ())
    assert all(len(names) > 1 for names in classes(model, evidence, costs))
