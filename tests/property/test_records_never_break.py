"""Whatever a file holds, a record comes of it or one sentence."""

import gzip

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from putback.charging.evidence import judge
from putback.charging.record import make_record
from putback.errors import InputError
from putback.record_file import read_record

NUMBERS = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True).map(repr),
    st.sampled_from(["", "nan", "-inf", "OL", "1e999", "-0", "12,5", "1_000", "0x10", "١٢", "9.9E37", "12:00:01.5"]),
    st.text(max_size=6),
)
PARTED = st.sampled_from([",", ";", "\t", " ", "|", ",,"])
HEADS = st.sampled_from(
    ["", "time,volts\n", "t [ms];U [mV]\n", "# rate: 0\n", "Sample rate: 1e400\n", "volts\n", "\ufeff", "\x00"]
)


@st.composite
def texts(draw) -> bytes:
    """Lines of columns, some of them hostile."""
    parted = draw(PARTED)
    odd = draw(st.lists(st.lists(NUMBERS, min_size=1, max_size=4), max_size=6))
    step, count = draw(st.sampled_from([1e-5, 1e-3, 1.0])), draw(st.sampled_from([0, 1, 300]))
    even = [[repr(n * step), "14.2"] for n in range(count)]
    lines = draw(st.permutations([*odd[:3], *even[:3]])) + even[3:] + odd[3:]
    return (draw(HEADS) + "\n".join(parted.join(line) for line in lines)).encode("utf-8", "replace")


def read(data: bytes) -> None:
    """Read and judge, or be told why not in one sentence."""
    try:
        record = read_record(data, "x.csv")
    except InputError as error:
        assert "\n" not in str(error)
        assert str(error).startswith("x.csv")
    else:
        judge_is_sound(record)


def judge_is_sound(record) -> None:
    """A verdict with a confidence, from finite volts."""
    assert np.isfinite(record.volts).all()
    assert 0 <= judge(record).said.confidence <= 1


@settings(max_examples=100, deadline=None)
@given(texts())
def test_hostile_columns(data):
    """Marks, huge numbers, ragged lines, other scripts."""
    read(data)


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=300), st.booleans())
def test_any_bytes(data, packed):
    """As they are, packed, or behind the mark of a packed file."""
    read(gzip.compress(data) if packed else data)
    read(b"\x1f\x8b\x08" + data)


@settings(max_examples=25, deadline=None)
@given(
    st.integers(0, 2**32 - 1),
    st.integers(200, 4000),
    st.sampled_from([1e-9, 0.02, 5.0, 900.0]),
    st.sampled_from([20.0, 1e3, 2e4, 2e5, 1e7]),
    st.booleans(),
)
def test_any_volts(seed, count, size, rate, jumps):
    """Noise of any size, jumps, constants, at any rate: a verdict and never a fault."""
    lot = np.random.default_rng(seed)
    drawn = np.repeat(lot.normal(0, 1, count // 50 + 1), 50)[:count] if jumps else lot.normal(0, 1, count)
    judge_is_sound(make_record(np.arange(count) / rate, np.clip(12 + size * drawn, -999, 999)))
