"""Spectra against closed forms of rectified sines."""

import numpy as np
import pytest
import wave_samples as waves

from putback.charging.spectrum import alias, lines, spectrum, without_trend
from putback.charging.tracking import follow, orders

RATE = 200_000.0
TIMES = np.arange(40_000) / RATE


def ratios(wave, count=12) -> np.ndarray:
    """Orders 1 to `count` over the mean, by the program."""
    volts = wave(TIMES)
    phase = 2 * np.pi * waves.FREQUENCY * TIMES
    return np.abs(orders(volts - volts.mean(), phase, count)) / volts.mean()


def test_a_six_pulse_bridge_has_order_6_and_12():
    """2/35 and 2/143 of the mean, nothing else. Reference F4: closed form 2/(k²-1)."""
    expected = np.zeros(12)
    expected[5], expected[11] = 2 / 35, 2 / 143

    assert ratios(waves.six_pulse) == pytest.approx(expected, abs=2e-5)


def test_an_open_diode_has_orders_1_2_3():
    """Reference F6: numerical integration, a circuit simulation agrees."""
    expected = [0.36276, 0.26667, 0.15, 0.05333, 0, 0.05714]

    assert ratios(waves.diode_open, 6) == pytest.approx(expected, abs=1e-4)


def test_a_lost_phase_has_even_orders_only():
    """2/3, 2/15, 2/35 of the mean. Reference F7: closed form of a single phase through a bridge."""
    expected = [0, 2 / 3, 0, 2 / 15, 0, 2 / 35]

    assert ratios(waves.phase_lost, 6) == pytest.approx(expected, abs=1e-4)


def test_means_of_ideal_bridges():
    """1.653987 of the phase peak, 5/6 and 2/3 of that. References F1, F6, F7."""
    means = [wave(TIMES).mean() for wave in (waves.six_pulse, waves.diode_open, waves.phase_lost)]

    assert means == pytest.approx([1.653987, 1.378322, 1.102658], abs=3e-5)


def test_power_sums_to_the_mean_square():
    """Parseval: of noise, and of a line whose band is summed."""
    noise = np.random.default_rng(1).normal(0, 0.01, 40_000)
    found = spectrum(noise, RATE)

    assert found.power.sum() == pytest.approx(1e-4, rel=0.03)
    assert found.floor.mean() * len(found.floor) == pytest.approx(1e-4, rel=0.05)


def test_a_line_is_found_with_its_size():
    """20 mV at 1234 Hz in 5 mV of noise."""
    volts = 0.02 * np.sin(2 * np.pi * 1234 * TIMES) + np.random.default_rng(1).normal(0, 0.005, 40_000)
    line = lines(spectrum(volts, RATE), 15.0)[0]

    assert line.hertz == pytest.approx(1234, abs=2)
    assert line.volts == pytest.approx(0.02, rel=0.05)


def test_noise_has_no_lines():
    """In twenty records of noise hardly any."""
    counts = [len(lines(spectrum(np.random.default_rng(n).normal(0, 1, 8000), RATE), 15.0)) for n in range(20)]

    assert sum(counts) <= 2


FOLDED = [(9_999, 9_999), (10_000, 10_000), (10_001, 9_999), (20_000, 0), (26_000, 6_000)]


@pytest.mark.parametrize(("hertz", "seen"), FOLDED)
def test_frequencies_fold_back(hertz, seen):
    """Below, at and above half of the rate; at the rate; beyond."""
    assert alias(hertz, 20_000.0) == seen


def test_a_wavering_line_is_one_line_again_by_its_phase():
    """An order 12 that swings by 2 % at 30 Hz is spread by the spectrum and whole by the track, order 24 as well."""
    times = np.arange(80_000) / RATE
    swing = 0.02 / (2 * np.pi * 30) * np.sin(2 * np.pi * 30 * times)
    angle = 2 * np.pi * 400 * (times + swing)
    volts = 0.1 * np.sin(6 * angle) + 0.02 * np.sin(12 * angle + 1) + np.random.default_rng(1).normal(0, 1e-3, 80_000)
    volts = without_trend(volts)
    found = spectrum(volts, RATE)
    track = follow(volts, found, lines(found, 15.0)[0])
    sizes = np.abs(orders(volts, track.phase, 2))

    assert track.hertz == pytest.approx(2400, rel=1e-3)
    assert sizes == pytest.approx([0.1, 0.02], rel=0.05)
    assert track.firing == pytest.approx(30, abs=4)
    assert found.at(4800) < 0.012  # in its own bins less than two thirds are left
