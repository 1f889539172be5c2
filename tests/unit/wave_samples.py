"""Waveforms in closed form: what ideal diodes make of three sines, at a phase peak of 1 V.

Sources: references F1-F7 of the project's notes; the closed forms are those of any text on rectifiers.
"""

import numpy as np

from putback.charging.record import Record, make_record

FREQUENCY = 400.0  # Hz of one phase


def phases(times: np.ndarray, hertz: float) -> np.ndarray:
    """Three sines, a third of a period apart."""
    angle = 2 * np.pi * hertz * times
    return np.sin(angle[None] - 2 * np.pi / 3 * np.arange(3)[:, None])


def six_pulse(times, hertz=FREQUENCY):
    """The highest phase over the lowest: ideal diodes, a resistor as load."""
    three = phases(times, hertz)
    return three.max(axis=0) - three.min(axis=0)


def diode_open(times, hertz=FREQUENCY):
    """One upper diode missing."""
    three = phases(times, hertz)
    return np.maximum(three[1:].max(axis=0) - three.min(axis=0), 0.0)


def phase_lost(times, hertz=FREQUENCY):
    """Two phases through a bridge."""
    three = phases(times, hertz)[1:]
    return three.max(axis=0) - three.min(axis=0)


def switched(times, hertz, duty):
    """A load that is switched: 1 while it is on."""
    return ((times * hertz) % 1 < duty).astype(float)


def record(
    wave, size: float, *, mean=14.0, rate=50_000.0, seconds=0.3, noise=2e-3, hertz=FREQUENCY, more=None
) -> Record:
    """A record with a wave of some size [V] about a mean, noise, and more of it, a function of time."""
    times = np.arange(int(rate * seconds)) / rate
    ripple = wave(times, hertz)
    volts = mean + size * (ripple - ripple.mean()) + np.random.default_rng(1).normal(0, noise, len(times))
    return make_record(times, volts + (more(times) if more else 0.0))
