"""Draws alternators, cars and faults by lot, and lets the regulator settle each.

Two laws of drawing stand beside each other, so that what was tuned on one can be tried on the other. All ranges are
judgement.
"""

from dataclasses import dataclass, replace
from math import pi

import numpy as np

from bench.circuit import SHIFTS, SIDES, Circuit, Pulses, Swing, netlist
from bench.simulator import OUT, run

SIX_PULSE, DIODE_OPEN, DIODE_SHORTED = "six-pulse", "one diode open", "one diode shorted"
PHASE_LOST, NO_RIPPLE, WANDERING = "phase lost", "no ripple", "speed wandering"
CLASSES = (SIX_PULSE, DIODE_OPEN, DIODE_SHORTED, PHASE_LOST, NO_RIPPLE, WANDERING)
RUN_LIMIT = 120.0  # seconds for one run of the simulator
DROP = 1.4  # volts of two diodes
RECTIFIED = 1.654  # mean of an ideal six-pulse bridge over a phase's peak


@dataclass(frozen=True)
class Law:
    """Ranges that are drawn from; a pair is (lowest, highest).

    Attributes
    ----------
    amps : tuple of float
        Load [A], even on a logarithm's scale.
    rated : tuple of float
        What the alternator can give at most [A].
    good_battery, weak_battery, good_path, bad_path : tuple of float
        Resistances [ohm].
    overtone : float
        Highest share of each odd overtone of the phase voltage.
    ripple_of_speed : float
        Highest swing of the speed at firing rate, as a share, at 700 rpm; it falls with speed.
    field : float
        Highest swing of the field, as a share.
    slip, stick : tuple of float
        Of a slipping belt: what it loses on average, and the swing of its speed from top to bottom, as shares.
    stick_hertz : tuple of float
        How often it sticks [Hz].
    teeth : tuple of float
        Heights of the overtones of that swing: a saw's teeth, or softer.
    pwm, ignition, hum, capacitor : float
        Chance that such a load is there; of a second one, its square.
    pwm_amps : tuple of float
        [A]
    """

    amps: tuple[float, float]
    rated: tuple[float, float]
    good_battery: tuple[float, float]
    weak_battery: tuple[float, float]
    good_path: tuple[float, float]
    bad_path: tuple[float, float]
    overtone: float
    ripple_of_speed: float
    field: float
    slip: tuple[float, float]
    stick: tuple[float, float]
    stick_hertz: tuple[float, float]
    teeth: tuple[float, ...]
    pwm: float
    ignition: float
    hum: float
    capacitor: float
    pwm_amps: tuple[float, float]


TUNE = Law(
    amps=(5, 120), rated=(80, 160), good_battery=(4e-3, 9e-3), weak_battery=(15e-3, 35e-3),
    good_path=(1e-3, 5e-3), bad_path=(10e-3, 40e-3), overtone=0.02, ripple_of_speed=0.012, field=0.01,
    slip=(0.08, 0.40), stick=(0.06, 0.25), stick_hertz=(3, 11), teeth=(1, 1 / 2, 1 / 3, 1 / 4),
    pwm=0.5, ignition=0.7, hum=0.3, capacitor=0.2, pwm_amps=(2, 20),
)  # fmt: skip
HELD = Law(
    amps=(4, 100), rated=(60, 190), good_battery=(3e-3, 11e-3), weak_battery=(13e-3, 45e-3),
    good_path=(0.5e-3, 6e-3), bad_path=(8e-3, 60e-3), overtone=0.035, ripple_of_speed=0.018, field=0.015,
    slip=(0.05, 0.45), stick=(0.05, 0.20), stick_hertz=(2.5, 8), teeth=(1, 0, 1 / 9, 0, 1 / 25),
    pwm=0.7, ignition=0.6, hum=0.5, capacitor=0.4, pwm_amps=(3, 28),
)  # fmt: skip
LAWS = {"tune": TUNE, "held": HELD}


@dataclass(frozen=True)
class Machine:
    """A circuit with its regulator settled, and what is known about it besides.

    Attributes
    ----------
    truth : str
        Of `CLASSES`.
    circuit : Circuit
    rpm, pole_pairs, ratio, amps, battery_good, path_good : object
        Engine speed [1/min], the alternator's pole pairs, the pulleys' ratio, the load [A], and what is in order.
    full_field : bool
        The regulator gives all it can.
    """

    truth: str
    circuit: Circuit
    rpm: float
    pole_pairs: int
    ratio: float
    amps: float
    battery_good: bool
    path_good: bool
    full_field: bool


def draw(truth: str, law: Law, lot: np.random.Generator) -> Machine:
    """A machine of a class.

    Parameters
    ----------
    truth : str
        Of `CLASSES`.
    law : Law
    lot : Generator
        Where chance comes from.
    """
    rpm = lot.uniform(650, 1000) if lot.random() < 0.4 else lot.uniform(1000, 3000)
    pole_pairs, ratio, amps = int(lot.integers(6, 9)), lot.uniform(2.3, 3.1), _even_in_logarithm(law.amps, lot)
    battery_good, path_good = lot.random() < 0.75, lot.random() < 0.75
    slip, slips = _belt(truth, law, lot)
    circuit = Circuit(
        hertz=electrical(rpm, ratio, pole_pairs) * (1 - slip), peak=0.0, inductance=0.0,
        resistance=lot.uniform(20e-3, 50e-3), battery=lot.uniform(13.4, 14.9),
        inside=lot.uniform(*(law.good_battery if battery_good else law.weak_battery)),
        cable=lot.uniform(0.8e-6, 2.2e-6), speed=(*slips, *_unsteady(rpm, law, lot)),
        field=(Swing(lot.uniform(0, law.field), lot.uniform(5, 250), lot.uniform(0, 6)),),
        across=2.2e-6 if lot.random() < law.capacitor else 0.0,
        **_path(path_good, law, lot), **_tolerances(law, lot), **_loads(amps, rpm, law, lot), **_fault(truth, lot),
    )  # fmt: skip
    settled, full_field = _settle(circuit, truth, pole_pairs, law, lot)
    return Machine(truth, settled, rpm, pole_pairs, ratio, amps, battery_good, path_good, full_field)


def electrical(rpm: float, ratio: float, pole_pairs: int) -> float:
    """Electrical frequency of a phase while the belt does not slip [Hz].

    Parameters
    ----------
    rpm : float
        Engine speed [1/min].
    ratio : float
        Of alternator to engine speed.
    pole_pairs : int
        Of the alternator.
    """
    return rpm / 60 * ratio * pole_pairs


def _even_in_logarithm(pair: tuple[float, float], lot) -> float:
    return float(np.exp(lot.uniform(*np.log(pair))))


def _belt(truth: str, law: Law, lot) -> tuple[float, tuple[Swing, ...]]:
    """What a belt that slips loses, and how the speed sticks and slips; nothing for the others."""
    if truth != WANDERING:
        return 0.0, ()
    hertz, top = lot.uniform(*law.stick_hertz), lot.uniform(*law.stick) / 2
    angle, drift = lot.uniform(0, 2 * pi), lot.uniform(0.2, 0.5)
    teeth = [Swing(top * height / 1.3, hertz * n, angle * n) for n, height in enumerate(law.teeth, 1) if height]
    return lot.uniform(*law.slip), (*teeth, Swing(top * drift, 0.618 * hertz, lot.uniform(0, 6)))


def _unsteady(rpm: float, law: Law, lot) -> tuple[Swing, ...]:
    """What every engine does: a swing at firing rate, and a slow drift."""
    firing = rpm / 60 * lot.choice([3, 4, 4, 4, 6]) / 2
    swing = Swing(law.ripple_of_speed * min(1.0, 700 / rpm) * lot.random(), firing, lot.uniform(0, 6))
    return swing, Swing(0.004 * lot.random(), lot.uniform(0.4, 1.5), lot.uniform(0, 6))


def _path(good: bool, law: Law, lot) -> dict:
    """Resistances of the positive and the negative path; of a bad path one of them is."""
    plus, minus = lot.uniform(*law.good_path), lot.uniform(*law.good_path) / 2
    if good:
        return {"plus": plus, "minus": minus}
    more = lot.uniform(*law.bad_path)
    return {"plus": plus + more, "minus": minus} if lot.random() < 0.6 else {"plus": plus, "minus": minus + more}


def _tolerances(law: Law, lot) -> dict:
    return {
        "windings": tuple(lot.uniform(0.994, 1.006, 3)),
        "diodes": tuple(lot.uniform(2.7e-3, 3.3e-3, 6)),
        "overtones": tuple((n, float(lot.uniform(-law.overtone, law.overtone))) for n in (3, 5, 7)),
    }


def _loads(amps: float, rpm: float, law: Law, lot) -> dict:
    """The steady load, and beside it what is switched, fires or hums."""
    pulses = [_pwm(law, lot) for chance in (law.pwm, law.pwm**2) if lot.random() < chance]
    if lot.random() < law.ignition:
        pulses.append(Pulses(lot.uniform(4, 9), rpm / 60 * lot.choice([1.5, 2, 2, 3]), 1e-5, lot.uniform(1.5e-3, 3e-3)))
    hum = (Swing(lot.uniform(0.2, 1.5), lot.uniform(120, 900)),) if lot.random() < law.hum else ()
    switched = sum(load.amps * (load.width + load.rise / 2) * load.hertz for load in pulses)
    return {"pulses": tuple(pulses), "hum": hum, "steady": max(2.0, amps - switched)}


def _pwm(law: Law, lot) -> Pulses:
    hertz, duty = lot.uniform(90, 400), lot.uniform(0.1, 0.9)
    return Pulses(lot.uniform(*law.pwm_amps), hertz, duty / hertz, lot.uniform(1e-5, 6e-5), lot.uniform(1e-5, 6e-5))


def _fault(truth: str, lot) -> dict:
    side = str(lot.choice(SIDES))
    if truth == DIODE_OPEN:
        return {"open_diodes": (side,)}
    if truth == DIODE_SHORTED:
        return {"shorted": (side,), "short": lot.uniform(1e-3, 6e-3)}
    if truth != PHASE_LOST:
        return {}
    phase = str(lot.choice(list(SHIFTS)))
    return {"open_phase": phase} if lot.random() < 0.6 else {"open_diodes": (phase + "p", phase + "n")}


# --- the regulator --------------------------------------------------------------------------------


def _settle(circuit: Circuit, truth: str, pole_pairs: int, law: Law, lot) -> tuple[Circuit, bool]:
    """The circuit with the field that brings the posts to the regulator's voltage, or with all the field there is.

    What the battery takes is drawn, so its voltage without current is what that leaves; where the alternator cannot
    hold the posts up, it is that of a battery which gives current.
    """
    linkage = 9.0 / (2 * pi * lot.uniform(900, 1300) / 60 * pole_pairs)  # 9 V peak where charging begins [V s]
    circuit = replace(circuit, inductance=linkage / lot.uniform(*law.rated))
    wanted, most = circuit.battery, linkage * 2 * pi * circuit.hertz
    charging, flat = replace(circuit, battery=wanted - lot.uniform(0.5, 12) * circuit.inside), lot.uniform(12.2, 12.8)
    if truth == NO_RIPPLE:
        return replace(circuit, peak=lot.uniform(0, 0.3), battery=flat), False
    if _posts(charging, most) < wanted:
        return replace(circuit, peak=most, battery=flat), True
    return replace(charging, peak=_field(charging, wanted, most)), False


def _field(circuit: Circuit, wanted: float, most: float) -> float:
    """The peak that gives the wanted voltage, by halving; a hundredth of a volt is near enough."""
    low, high = (wanted + DROP) / RECTIFIED * 0.8, most
    for _ in range(8):
        middle = (low + high) / 2
        low, high = (middle, high) if _posts(circuit, middle) < wanted else (low, middle)
    return high


def _posts(circuit: Circuit, peak: float) -> float:
    """Mean voltage at the posts once it runs evenly, a short run."""
    period = 1 / circuit.hertz
    steady = replace(circuit, peak=peak, speed=(), field=())
    seconds = 20 * period + 0.004
    columns = run(netlist(steady, seconds, seconds - 10 * period, period / 100, OUT), RUN_LIMIT)
    return float(np.trapezoid(columns[:, 2], columns[:, 0]) / (columns[-1, 0] - columns[0, 0]))
