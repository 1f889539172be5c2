"""Readings judged into outcomes of tests: plainly where they are far from a limit, softly near it."""

from collections.abc import Mapping
from math import erf, sqrt
from typing import NamedTuple

from putback.charging.quantities import QUANTITIES
from putback.models.form import NOT_FITTED, Condition, Form, FormTest, Rule, Source

LEAST = 0.002  # of the weight of a reading stays on outcomes that it speaks against: meters and eyes err

Readings = Mapping[str, object]


class Judged(NamedTuple):
    """What the readings say of each test, and which of them say nothing, and why."""

    evidence: dict[str, tuple[float, ...]]
    silent: dict[str, str]


def judge(form: Form, readings: Readings) -> Judged:
    """Judge readings into the outcomes of a model's tests.

    Parameters
    ----------
    form : Form
    readings : dict of str to number or str
        By their names; only what was read.

    Returns
    -------
    judged : Judged
        Of each test that could be judged a likelihood of each outcome; of readings that say nothing the reason.
    """
    told = {name: value for name, value in readings.items() if value != NOT_FITTED}
    silent: dict[str, str] = {}
    evidence = {name: _test(test, told, silent) for name, test in form.tests.items()}
    return Judged({name: row for name, row in evidence.items() if row is not None}, silent)


def _test(test: FormTest, readings: Readings, silent: dict[str, str]) -> tuple[float, ...] | None:
    reasons: dict[str, str] = {}
    rows = [row for rule in test.rules if (row := _rule(test, rule, readings, reasons)) is not None]
    if not rows:
        silent.update(reasons)
        return None
    together = [1.0] * len(test.outcomes)
    for row in rows:
        together = [one * other for one, other in zip(together, row, strict=True)]
    return tuple(one / max(together) for one in together)


def _rule(test: FormTest, rule: Rule, readings: Readings, silent: dict[str, str]) -> list[float] | None:
    value = number(rule.source, readings)
    if value is None:
        return None
    weights = _word_weights(rule, value) if rule.words else _step_weights(rule, value)
    if weights is None:
        return None
    counts = holds(rule.condition, readings)
    if not counts and not _always(rule, value):
        silent.setdefault(test.name, rule.condition.otherwise)
        return None
    return [max(weights.get(outcome, 0.0), LEAST) for outcome in test.outcomes]


def number(source: Source, readings: Readings):
    """What a source comes to with these readings, or None.

    Parameters
    ----------
    source : Source
    readings : dict of str to number or str
    """
    if source.kind == "of":
        name = source.names[0]
        return QUANTITIES[name](readings) if name in QUANTITIES else readings.get(name)
    one, other = (readings.get(name) for name in source.names)
    if one is None or other is None or (source.kind == "ratio" and not other):
        return None
    return one - other if source.kind == "difference" else one / other


def _word_weights(rule: Rule, word: str) -> dict[str, float] | None:
    meant = rule.words.get(word, rule.words.get("some") if word else None)
    if meant is None:
        return None
    others = {outcome for outcomes in rule.words.values() for outcome in outcomes} - {*meant}
    return {outcome: 1.0 for outcome in meant} | {outcome: 1 - rule.sure for outcome in sorted(others)}


def _step_weights(rule: Rule, value: float) -> dict[str, float]:
    weights: dict[str, float] = {}
    for share, outcomes in zip(_shares(rule, value), rule.steps, strict=True):
        for outcome in outcomes:
            weights[outcome] = weights.get(outcome, 0.0) + share
    return weights


def _shares(rule: Rule, value: float) -> list[float]:
    """How much of what the meter may have meant lies in each step."""
    below = [_below(limit, value, rule.blur) for limit in rule.limits]
    return [high - low for low, high in zip([0.0, *below], [*below, 1.0], strict=True)]


def _below(limit: float, value: float, blur: float) -> float:
    """How likely the true value lies below a limit."""
    if not blur:
        return 1.0 if value < limit else 0.0
    return (1 + erf((limit - value) / (blur * sqrt(2)))) / 2


def holds(condition: Condition | None, readings: Readings) -> bool:
    """Whether a condition is met; one whose number is not known is taken to be.

    Parameters
    ----------
    condition : Condition or None
    readings : dict of str to number or str
    """
    value = None if condition is None else number(condition.source, readings)
    return value is None or condition.low <= value <= condition.high


def _always(rule: Rule, value) -> bool:
    """Whether a reading says so much that it counts without its condition."""
    if not rule.always or rule.words:
        return False
    place = sum(value >= limit for limit in rule.limits)
    return {*rule.steps[place]} <= {*rule.always}


def leading(test: FormTest, row: tuple[float, ...]) -> str:
    """The outcome that a reading speaks for most.

    Parameters
    ----------
    test : FormTest
    row : tuple of float
        A likelihood of each outcome.
    """
    return test.outcomes[max(range(len(row)), key=row.__getitem__)]
