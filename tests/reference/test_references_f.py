"""The three-phase bridge against outside values: closed forms, and a circuit simulator. Each row has its source.

What is checked is how a record's mean and orders are found, and the circuit that development records are made with.
"""

from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest
from bench.circuit import Circuit, netlist
from bench.machines import electrical
from bench.simulator import OUT, run, there

from putback.charging import tracking
from putback.charging.spectrum import spectrum

PERIODS, HERTZ, RATE = 32, 400.0, 1_024_000.0
TURNED = 2 * pi * np.arange(int(PERIODS * RATE / HERTZ)) * HERTZ / RATE
PHASES = np.array([np.sin(TURNED + shift) for shift in (0.0, -2 * pi / 3, 2 * pi / 3)])
HEALTHY = PHASES.max(axis=0) - PHASES.min(axis=0)
OPEN = PHASES[1:].max(axis=0) - PHASES.min(axis=0)  # the upper diode of phase a never conducts
LOST = abs(PHASES[1] - PHASES[2])


def orders(volts: np.ndarray, turned: np.ndarray, count: int) -> np.ndarray:
    """Heights of the orders, whatever their angles."""
    return abs(tracking.orders(volts, turned, count))


def _relative(volts: np.ndarray, count: int) -> np.ndarray:
    """Orders of the electrical frequency, relative to the record's own mean."""
    return orders(volts - volts.mean(), TURNED, count) / volts.mean()


def test_f1_the_mean_of_six_pulses():
    """3 root 2 / pi of the line voltage, 1.653987 of a phase's peak (closed form; texts print 1.3505 and 1.654)."""
    assert HEALTHY.mean() == pytest.approx(1.653987, abs=1e-5)
    assert HEALTHY.mean() / sqrt(1.5) == pytest.approx(1.350474, abs=1e-5)


def test_f2_f3_the_ripple_of_six_pulses():
    """Ripple factor 0.041967; between 1.5 and root 3 of a phase's peak (closed form)."""
    assert sqrt((HEALTHY**2).mean() / HEALTHY.mean() ** 2 - 1) == pytest.approx(0.041967, abs=1e-5)
    assert (HEALTHY.min(), HEALTHY.max()) == pytest.approx((1.5, sqrt(3)), abs=1e-4)


def test_f4_the_orders_of_six_pulses():
    """Orders 6 and 12 at 2 / (k² - 1) of the mean, no other (closed form, Fourier series of a rectified sine)."""
    found = _relative(HEALTHY, 12)

    assert found[[5, 11]] == pytest.approx([2 / 35, 2 / 143], abs=1e-5)
    assert np.delete(found, [5, 11]) == pytest.approx(0, abs=1e-5)


def test_f4_the_spectrum_has_the_same_power():
    """Half of the squares of the orders' amplitudes, summed to order 60, is the power about the mean (Parseval)."""
    found = spectrum(HEALTHY, RATE)
    wanted = sum((2 / (k * k - 1) * HEALTHY.mean()) ** 2 / 2 for k in range(6, 61, 6))

    assert found.power[: int(62 * HERTZ / found.bin)].sum() == pytest.approx(wanted, rel=0.01)


def test_f5_the_electrical_frequency():
    """Poles times speed over 120: 12 poles at 4000 turns a minute 400 Hz, ripple 2400 Hz (US Navy training text)."""
    assert electrical(4000, 1.0, 6) == pytest.approx(400)
    assert 1 + _relative(HEALTHY, 12).argmax() == 2400 / 400


def test_f6_one_diode_open():
    """Mean 5/6 of healthy, down to nothing; orders 1 to 6 (numerical integration; ngspice 39 agrees to 0.0003)."""
    assert OPEN.mean() / HEALTHY.mean() == pytest.approx(5 / 6, abs=1e-4)
    assert OPEN.min() == pytest.approx(0, abs=0.01)
    assert _relative(OPEN, 6) == pytest.approx([0.36276, 0.26667, 0.15000, 0.05333, 0, 0.05714], abs=1e-4)


def test_f7_one_phase_open():
    """Mean 2/3 of healthy; only even orders, 2nd, 4th and 6th 2/3, 2/15 and 2/35 (closed form of a full wave)."""
    found = _relative(LOST, 6)

    assert LOST.mean() / HEALTHY.mean() == pytest.approx(2 / 3, abs=1e-4)
    assert found == pytest.approx([0, 2 / 3, 0, 2 / 15, 0, 2 / 35], abs=1e-4)


# --- with a battery, by a circuit simulator -------------------------------------------------------

# 400 Hz, phase peak 24 V, 60 uH and 30 mOhm a phase, 2 mOhm to a battery of 12.6 V and 10 mOhm, load 0.3 ohm.
BENCH = Circuit(
    hertz=400, peak=24, inductance=60e-6, resistance=30e-3, plus=2e-3, minus=1e-9, cable=1e-12, battery=12.6,
    inside=10e-3, steady=14 / 0.3,
)  # fmt: skip
# Mean, rms about the mean, and amplitudes by order, all in volts: ngspice 39, another netlist of the same circuit.
SIMULATED = {
    "F8, healthy": (BENCH, 13.363, 0.0489, {6: 0.0666}),
    "F9, a diode open": (replace(BENCH, open_diodes=("ap",)), 13.162, 0.4025,
                         {1: 0.5155, 2: 0.2118, 3: 0.0878, 4: 0.0208, 5: 0.0655, 6: 0.0111}),
    "F10, a diode shorted": (replace(BENCH, shorted=("ap",), short=2e-3), 12.601, 0.3227,
                             {1: 0.3721, 2: 0.2068, 3: 0.1580, 6: 0.0218}),
    "F11, a phase open": (replace(BENCH, open_phase="a"), 12.812, 0.3198, {2: 0.4426, 4: 0.0821, 6: 0.0346}),
}  # fmt: skip
ABSENT = {"F8, healthy": (1, 2, 3, 4, 5), "F11, a phase open": (1, 3, 5)}


@pytest.fixture(scope="module")
def simulated():
    """Posts of the four circuits over 16 periods, and the angle of the phase."""
    if not there():
        pytest.skip("ngspice is not installed")
    times = np.arange(16 * 2500) * 1e-6 + 20e-3
    found = {}
    for name, (circuit, *_) in SIMULATED.items():
        columns = run(netlist(circuit, 60.2e-3, 20e-3, 2e-6, OUT), 120)
        found[name] = np.interp(times, columns[:, 0], columns[:, 2])
    return found, 2 * pi * HERTZ * times


@pytest.mark.slow
@pytest.mark.parametrize("name", SIMULATED)
def test_f8_to_f11_a_bridge_on_a_battery(simulated, name):
    """Mean to half a percent, ripple and orders to 5 %, and none where symmetry forbids them."""
    (found, turned), (_, mean, rms, lines) = simulated, SIMULATED[name]
    volts = found[name]
    seen = orders(volts - volts.mean(), turned, 6)

    assert volts.mean() == pytest.approx(mean, rel=0.005)
    assert volts.std() == pytest.approx(rms, rel=0.05)
    assert [seen[order - 1] for order in lines] == pytest.approx(list(lines.values()), rel=0.05, abs=5e-4)
    assert all(seen[order - 1] < 2e-3 for order in ABSENT.get(name, ()))


@pytest.mark.slow
def test_f12_what_the_orders_say(simulated):
    """Healthy: order 6 alone; a diode open or shorted: order 1 the largest; a phase open: order 2 (the same runs)."""
    found, turned = simulated
    largest = {name: 1 + int(orders(volts - volts.mean(), turned, 12).argmax()) for name, volts in found.items()}

    assert list(largest.values()) == [6, 1, 1, 2]
