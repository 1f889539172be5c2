"""Records are made of samples as they come."""

import numpy as np
import pytest

from putback.charging.record import FEWEST, make_record
from putback.errors import InputError

RATE = 20_000.0
TIMES = np.arange(2000) / RATE
VOLTS = 14 + 0.1 * np.sin(2 * np.pi * 397.3 * TIMES)


def test_even_samples_stay_as_they_are():
    """Rate, mean and volts, and nothing told."""
    record = make_record(TIMES, VOLTS)

    assert record.rate == pytest.approx(RATE)
    assert np.array_equal(record.volts, VOLTS)
    assert record.mended == ()
    assert record.seconds == pytest.approx(0.1)


@pytest.mark.parametrize("step", [1e-5, 1e-4, 1e-3])
def test_rounded_times_are_even_times(step):
    """A recorder that rounds the time to fewer digits than it has samples still samples evenly."""
    record = make_record(np.round(TIMES / step) * step, VOLTS)

    assert record.rate == pytest.approx(RATE, rel=0.02)
    assert np.array_equal(record.volts, VOLTS)


def test_uneven_samples_are_brought_to_even_times():
    """Interpolated, and told; a slow wave comes out as it was."""
    off = np.random.default_rng(1).uniform(-0.3, 0.3, len(TIMES)) / RATE
    slow = make_record(TIMES + off, 14 + np.sin(2 * np.pi * 50 * (TIMES + off)))
    even = np.arange(len(slow.volts)) / slow.rate + TIMES[0] + off[0]

    assert slow.mended == ("uneven samples are brought to even times",)
    assert np.abs(slow.volts - 14 - np.sin(2 * np.pi * 50 * even)).max() < 1e-3


def test_blanks_are_bridged():
    """NaN and the mark 9.9E37 count as missing, and how many is told."""
    volts = VOLTS.copy()
    volts[[100, 101, 900]] = np.nan, np.inf, 9.9e37
    record = make_record(TIMES, volts)

    assert record.mended == ("3 samples without a value are bridged",)
    assert np.abs(record.volts - VOLTS).max() < 0.02


def test_of_pieces_the_longest_is_used():
    """A long gap is not bridged."""
    times = np.concatenate([TIMES[:500], TIMES[500:] + 1.0])
    record = make_record(times, VOLTS)

    assert len(record.volts) == 1500
    assert "of 2 pieces" in record.mended[0]


def test_a_clipped_record_says_so():
    """Many samples at the end of the range, few beside it."""
    noisy = VOLTS + np.random.default_rng(1).normal(0, 0.01, len(VOLTS))
    clipped = make_record(TIMES, np.round(np.minimum(noisy, 14.05), 3))

    assert clipped.clipped == pytest.approx(0.33, abs=0.05)
    assert make_record(TIMES, np.round(noisy, 3)).clipped == 0


def test_the_step_of_the_recorder_is_seen():
    """20 mV between values."""
    assert make_record(TIMES, np.round(VOLTS / 0.02) * 0.02).step == pytest.approx(0.02)


@pytest.mark.parametrize(
    ("times", "volts", "said"),
    [
        (TIMES[: FEWEST - 1], VOLTS[: FEWEST - 1], "too few"),
        (TIMES, np.where(np.arange(2000) % 3 == 0, np.nan, VOLTS), "667 of 2000 samples"),
        (TIMES[::-1], VOLTS, "goes back"),
        (np.zeros(2000), VOLTS, "stands still"),
        (np.repeat(np.arange(20), 100) + np.tile(TIMES[:100], 20), VOLTS, "no stretch"),
    ],
)
def test_what_cannot_be_mended_is_refused(times, volts, said):
    """One sentence each."""
    with pytest.raises(InputError, match=said):
        make_record(times, volts)


def test_missing_amps_cost_no_volts():
    """A clamp with blanks is bridged, one with hardly a value is left out."""
    amps = np.full(2000, 50.0)
    amps[5] = np.nan

    assert make_record(TIMES, VOLTS, amps).amps[5] == 50
    assert make_record(TIMES, VOLTS, np.full(2000, np.nan)).amps is None
