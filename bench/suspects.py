"""The next test: how long it takes to choose one, and a posterior beside a general library of Bayes networks."""

from collections.abc import Callable
from random import Random
from time import perf_counter

from bench.figures import Table, middle
from bench.options import Options

FAULTS, TESTS, ACTIONS, BEHIND = 17, 18, 9, 3  # as many as where a battery goes flat


def suspects(options: Options) -> None:
    """A posterior and the next test, ours beside a general library."""
    model, evidence = _drawn()
    table = Table(
        f"suspects: milliseconds, {FAULTS} faults and {TESTS} tests, medians of {options.runs} runs",
        ["work", "median"],
        first=52,
    )
    for name, work in _works(model, evidence).items():
        table.row([name, f"{1000 * middle(_time(work) for _ in range(options.runs)):.2f}"])


def _drawn():
    from unit.suspects_samples import drawn_evidence, drawn_model

    random = Random(1)
    model = drawn_model(random, FAULTS, TESTS, ACTIONS, BEHIND)
    return model, drawn_evidence(random, model, 0.3)


def _works(model, evidence: dict) -> dict[str, Callable[[], object]]:
    from putback.suspects import decide, next_tests, posterior
    from referees.bayes_network import Network

    costs = {test.name: 5.0 for test in model.tests}
    left = {name: cost for name, cost in costs.items() if name not in evidence}
    network = Network(model)
    return {
        "posterior": lambda: posterior(model, evidence),
        "posterior, general library, network at hand": lambda: network.posterior(evidence),
        "next test, nothing read, two ahead": lambda: next_tests(model, {}, costs),
        "next test, some read, two ahead": lambda: next_tests(model, evidence, left),
        "decision, all of it": lambda: decide(model, evidence, left),
        "an answer by the model of the charging system": _charging(),
        "posteriors after each two tests, general library": lambda: _after_two(network, model),
    }


def _charging() -> Callable[[], object]:
    """Two readings of a lamp that is on, judged and weighed by the program's own model."""
    from putback.models import answer, load

    form = load("charging")
    return lambda: answer(form, {"complaint": "lamp on", "rest_v": 12.48, "charge_v_2000_loaded": 12.2})


def _after_two(network, model) -> None:
    """What looking two ahead asks of a library that knows nothing of repairs: a posterior for each pair of outcomes."""
    for place, first in enumerate(model.tests):
        for second in model.tests[place + 1 :]:
            for one in first.outcomes:
                for other in second.outcomes:
                    network.posterior({first.name: one, second.name: other})


def _time(work: Callable[[], object]) -> float:
    begun = perf_counter()
    work()
    return perf_counter() - begun
