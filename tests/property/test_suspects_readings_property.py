"""Whatever stands in a file of readings or a model file: sets of readings, or sentences."""

from functools import cache

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings

from putback.errors import Findings
from putback.models import answer, load, read_readings
from putback.models.model_file import read_model

FORM = load("charging")
NAMES = st.sampled_from([*FORM.readings, "rest", "name", "", "é"])
VALUES = st.one_of(
    st.floats(allow_nan=True).map(str),
    st.sampled_from([word for one in FORM.readings.values() for word in one.words]),
    st.sampled_from(["not fitted", "~", "1e400", "12,4 V", "-0.0", "[1]", "{a: 1}", "&x 1", "*x", "!!python/object:os"]),
    st.text(max_size=20),
)


def sentences(read, data) -> None:
    """Reading gives something, or findings of one line each with their place."""
    try:
        read(data)
    except Findings as found:
        assert all(str(one).startswith("x.yaml") and "\n" not in str(one) for one in found.findings)


@given(st.lists(st.tuples(NAMES, VALUES), max_size=8))
@settings(max_examples=150, deadline=None)
def test_any_readings_end_in_sentences(pairs):
    """Names and values of all kinds, known and unknown."""
    sentences(lambda data: read_readings(FORM, data, "x.yaml"), "\n".join(f"{name}: {value}" for name, value in pairs))


@given(st.binary(max_size=200))
@settings(max_examples=100, deadline=None)
def test_any_bytes_end_in_sentences(data):
    """Readings and models alike."""
    sentences(lambda data: read_readings(FORM, data, "x.yaml"), data)
    sentences(lambda data: read_model(data, "x.yaml"), data)


@cache
def starter() -> list[str]:
    """The lines of a model that is right."""
    from importlib import resources

    return resources.files("putback.models").joinpath("starter.yaml").read_text(encoding="utf-8").splitlines()


@pytest.mark.slow
@given(st.integers(0, 10_000), st.sampled_from(["", "  ", "x: [", "- 1", "is: {}", "minutes: -1", "outcomes: [a]"]))
@settings(max_examples=60, deadline=None)
def test_a_model_with_one_odd_line_ends_in_sentences(at, line):
    """One line of a good model replaced."""
    lines = [*starter()]
    lines[at % len(lines)] = line
    sentences(lambda data: read_model(data, "x.yaml"), "\n".join(lines))


@st.composite
def some_readings(draw):
    """Readings within their ranges, some of them."""
    told = {}
    for one in draw(st.lists(st.sampled_from([*FORM.readings.values()]), max_size=10)):
        number = st.floats(one.lowest, one.highest, allow_nan=False)
        told[one.name] = draw(st.sampled_from(one.choices) if one.choices else st.just("lamp") if one.free else number)
    return told


@pytest.mark.slow
@given(some_readings())
@settings(max_examples=60, deadline=None)
def test_any_readings_within_their_ranges_are_answered(told):
    """However odd together: chances that sum to 1, one action, one verdict, nothing that was read is missing unless
    it does not count."""
    found = answer(FORM, told, ahead=1)

    assert sum(found.posterior.values()) == pytest.approx(1)
    assert found.action in (*FORM.actions, "more readings")
    assert found.verdict in ("go", "not yet", "not this part")
    assert found.verdict != "go" or not found.missing
    assert all(found.posterior[name] <= 0.9 + 1e-9 for one in found.sets for name in one)
