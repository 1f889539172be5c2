"""Posteriors against a general library of Bayes networks (pyagrum, exact inference), on models drawn by lot."""

from random import Random

import pytest
from suspects_samples import drawn_evidence, drawn_model

from putback.suspects import posterior

network = pytest.importorskip("referees.bayes_network", reason="the general library has no build for this machine")


@pytest.mark.parametrize("seed", range(12))
def test_posteriors_equal_those_of_a_general_library(seed):
    """To 1e-9: soft readings, shared causes, silenced tests and faults that cannot be, all at once."""
    random = Random(seed)
    model = drawn_model(random, faults=3 + seed, tests=4 + seed // 2)
    evidence = drawn_evidence(random, model, share=0.7)
    absent = ("fault 1",) if seed % 2 else ()

    expected = network.Network(model, absent).posterior(evidence)

    assert evidence
    assert [*posterior(model, evidence, absent).values()] == pytest.approx(expected, abs=1e-9)
