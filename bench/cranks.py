"""Cranking by a small model of our own: battery, cable, starter, and an engine that is turned over its compressions.

A circuit simulator would need the mechanics disguised as a circuit, so this is a short step-by-step integration. One
step is a tenth of a millisecond, a fiftieth of the quickest time in it. All ranges are judgement.
"""

from dataclasses import dataclass, replace
from math import exp, pi, sin

import numpy as np

HEALTHY, WEAK, CABLE = "healthy", "weak battery", "cable resistance"
SLOW, LOCKED = "engine slow", "engine locked"
CLASSES = (HEALTHY, WEAK, CABLE, SLOW, LOCKED)
STEP = 1e-4  # seconds
BRUSHES = 1.0  # volts that both brushes take
PULLS_IN, LATE, NEVER = 0.03, 0.6, 99.0  # seconds: the solenoid; how long some have been cranked already; long after
RPM = 60 / (2 * pi)


@dataclass(frozen=True)
class Law:
    """Ranges that are drawn from; a pair is (lowest, highest).

    Attributes
    ----------
    inside, weak, path, cable : tuple of float
        Resistances: of a good and a weak battery at 25 degC, a good path, and what a bad joint adds [ohm].
    armature : tuple of float
        Resistance of the starter [ohm].
    push : tuple of float
        Its volts per engine speed [V s/rad], which is its torque at the engine per ampere [N m/A].
    series : float
        Share of starters whose field winding carries their own current.
    cylinders : tuple of int
        Drawn from evenly.
    drag, compression : tuple of float
        Mean and swinging torque of a warm engine [N m].
    tight : tuple of float
        What a tight or cold engine's drag is multiplied by.
    polarised : tuple of float
        Share of the battery's resistance that builds up in tenths of a second.
    """

    inside: tuple[float, float]
    weak: tuple[float, float]
    path: tuple[float, float]
    cable: tuple[float, float]
    armature: tuple[float, float]
    push: tuple[float, float]
    series: float
    cylinders: tuple[int, ...]
    drag: tuple[float, float]
    compression: tuple[float, float]
    tight: tuple[float, float]
    polarised: tuple[float, float]


TUNE = Law(
    inside=(3.5e-3, 6.5e-3), weak=(16e-3, 32e-3), path=(1e-3, 3e-3), cable=(18e-3, 50e-3), armature=(6e-3, 12e-3),
    push=(0.33, 0.48), series=0.3, cylinders=(4, 4, 4, 3, 6), drag=(18, 35), compression=(20, 45), tight=(3.0, 5.0),
    polarised=(0.15, 0.35),
)  # fmt: skip
HELD = Law(
    inside=(3e-3, 7.5e-3), weak=(14e-3, 45e-3), path=(0.5e-3, 4e-3), cable=(15e-3, 60e-3), armature=(5e-3, 14e-3),
    push=(0.30, 0.55), series=0.6, cylinders=(4, 4, 3, 6, 8), drag=(15, 40), compression=(15, 55), tight=(2.2, 6.0),
    polarised=(0.1, 0.5),
)  # fmt: skip
LAWS = {"tune": TUNE, "held": HELD}


@dataclass(frozen=True)
class Crank:
    """A car that is cranked.

    Attributes
    ----------
    truth : str
        Of `CLASSES`.
    charge : float
        State of charge, 0..1.
    degc : float
        Temperature of battery and engine [degC].
    rest : float
        The battery's voltage without current [V].
    inside, polarised : float
        Its resistance, and the further share of it that builds up [ohm], [1].
    slowness : float
        How long that takes [s].
    path, joint : float
        Resistance of the good path, and of a bad joint in it [ohm].
    joint_at_clamp : bool
        The bad joint is the one between post and clamp.
    armature, push, saturation : float
        The starter: resistance [ohm], volts per engine speed [V s/rad], and the current that a field winding in series
        takes to fill the iron, 0 for magnets [A].
    inertia : float
        Of engine and starter, at the engine [kg m2].
    cylinders : int
        How many compressions in two turns.
    drag, rub, compression : float
        Torques: steady [N m], per speed [N m s/rad], and of the compressions [N m].
    uneven : tuple of float
        Each cylinder's share of the mean compression.
    key_on, fires, key_off : float
        Seconds: the starter is switched on, the engine fires, it is switched off.
    """

    truth: str
    charge: float
    degc: float
    rest: float
    inside: float
    polarised: float
    slowness: float
    path: float
    joint: float
    joint_at_clamp: bool
    armature: float
    push: float
    saturation: float
    inertia: float
    cylinders: int
    drag: float
    rub: float
    compression: float
    uneven: tuple[float, ...]
    key_on: float
    fires: float
    key_off: float

    @property
    def jammed(self) -> bool:
        """Nothing turns."""
        return self.truth == LOCKED


def draw(truth: str, law: Law, seconds: float, lot: np.random.Generator) -> Crank:
    """A car of a class.

    Parameters
    ----------
    truth : str
        Of `CLASSES`.
    law : Law
    seconds : float
        How long the record lasts; the key is turned within it.
    lot : Generator
        Where chance comes from.
    """
    degc, charge, flat = _state(truth, lot)
    cylinders = int(lot.choice(law.cylinders))
    drag = lot.uniform(*law.drag) * (lot.uniform(*law.tight) if truth == SLOW else 1.0 + 0.012 * (25 - degc))
    key_on, fires, key_off = _times(truth, seconds, lot)
    return Crank(
        truth, charge, degc, rest=11.75 + 0.95 * charge + lot.uniform(-0.05, 0.05) + 0.002 * (degc - 25),
        inside=_inside(truth, flat, law, charge, degc, lot), polarised=lot.uniform(*law.polarised),
        slowness=lot.uniform(0.1, 0.5), path=lot.uniform(*law.path),
        joint=lot.uniform(*law.cable) if truth == CABLE else 0.0, joint_at_clamp=bool(lot.random() < 0.35),
        armature=lot.uniform(*law.armature), push=lot.uniform(*law.push),
        saturation=lot.uniform(60, 200) if lot.random() < law.series else 0.0,
        inertia=lot.uniform(0.15, 0.35), cylinders=cylinders, drag=drag, rub=lot.uniform(0.2, 0.7),
        compression=lot.uniform(*law.compression), uneven=tuple(lot.uniform(0.96, 1.04, cylinders)),
        key_on=key_on, fires=fires, key_off=key_off,
    )  # fmt: skip


def _state(truth: str, lot) -> tuple[float, float, bool]:
    """Temperature, charge, and whether that is why a battery is weak; some slow engines are slow for being cold."""
    degc, charge = float(lot.uniform(0, 35)), float(lot.uniform(0.65, 1.0))
    if truth == SLOW and lot.random() < 0.4:
        degc = float(lot.uniform(-22, -8))
    flat = bool(truth == WEAK and lot.random() < 0.4)
    return degc, float(lot.uniform(0.05, 0.3)) if flat else charge, flat


def _times(truth: str, seconds: float, lot) -> tuple[float, float, float]:
    """When the key is turned, the engine fires, and the key is let go; `NEVER` is long after the record."""
    key_on = float(lot.uniform(0.05, 0.3) * seconds) if lot.random() < 0.9 else 0.0
    if truth in (HEALTHY, CABLE) and lot.random() < 0.25:
        fires = key_on + lot.uniform(0.6, 0.9) * (seconds - key_on)
        return key_on, fires, fires + 0.2
    return key_on, NEVER, lot.uniform(0.85, 0.97) * seconds if lot.random() < 0.3 else NEVER


def _inside(truth: str, flat: bool, law: Law, charge: float, degc: float, lot) -> float:
    """The battery's resistance; cold and lack of charge raise it."""
    base = lot.uniform(*(law.weak if truth == WEAK and not flat else law.inside))
    return base * (1 + 0.012 * max(0.0, 25 - degc)) * (3.5 if flat else 1 + 0.4 * (1 - charge))


@dataclass(frozen=True)
class Traces:
    """What a record can be taken of, a value a step.

    Attributes
    ----------
    posts, clamps : ndarray
        Voltages [V].
    amps : ndarray
        Current out of the battery [A].
    rpm : ndarray
        Engine speed [1/min].
    """

    posts: np.ndarray
    clamps: np.ndarray
    amps: np.ndarray
    rpm: np.ndarray


def crank(car: Crank, seconds: float, lot: np.random.Generator) -> Traces:
    """Crank a car.

    Parameters
    ----------
    car : Crank
    seconds : float
        How long.
    lot : Generator
        Where the engine stands, what is on besides, and the brushes.
    """
    amps, speed, turned, polarised = 0.0, 0.0, lot.uniform(0, 2 * pi), 0.0
    others, ripple, bars = lot.uniform(2, 9), lot.uniform(0.005, 0.03), lot.uniform(150, 500)
    if car.key_on == 0.0:  # the record begins within the cranking
        car = replace(car, key_on=-LATE)
    rows = []
    for n in range(min(0, round(car.key_on / STEP)), int(seconds / STEP)):
        time = n * STEP
        on = car.key_on <= time < car.key_off
        starter = on and time >= car.key_on + PULLS_IN
        solenoid = 0 if not on else 30 if starter else 65
        total = amps * (1 + ripple * sin(bars * turned)) + solenoid + others
        polarised += STEP / car.slowness * (total * car.inside * car.polarised - polarised)
        posts = car.rest - polarised - total * car.inside
        amps = _current(car, amps, speed, posts, time) if starter else 0.0
        if starter and not car.jammed:
            speed, turned = _turned(car, amps, speed, turned, time)
        elif not starter:
            speed = max(0.0, speed - 60 * STEP)
        if n >= 0:
            at_clamp = total * car.joint if car.joint_at_clamp else 0.0
            rows.append((posts, posts - at_clamp, total, speed * RPM))
    return Traces(*np.array(rows).T)


def _push(car: Crank, amps: float) -> float:
    """Volts per speed at a current; a series field is weak while the current is."""
    return car.push if not car.saturation else 1.25 * car.push * (1 - exp(-max(amps, 5.0) / car.saturation))


def _current(car: Crank, amps: float, speed: float, posts: float, time: float) -> float:
    """The starter's current a step on; its inductance is about 80 microhenries."""
    free = posts - BRUSHES - amps * (car.path + car.joint + car.armature) - _push(car, amps) * speed
    return max(0.0, amps + STEP / 80e-6 * free)


def _turned(car: Crank, amps: float, speed: float, turned: float, time: float) -> tuple[float, float]:
    """Speed and angle a step on. An engine that fires leaves the starter to spin freely."""
    torque = 0.85 * _push(car, amps) * amps
    if time >= car.fires:
        return speed + STEP / 0.05 * (torque - 8 - 0.5 * speed), turned + STEP * speed
    angle = car.cylinders / 2 * turned
    share = car.uneven[int(angle / (2 * pi)) % car.cylinders]
    swing = car.compression * share * (sin(angle) + 0.35 * sin(2 * angle))
    against = swing + (car.drag if speed > 0 or torque > swing + car.drag else torque - swing) + car.rub * speed
    speed = max(0.0, speed + STEP / car.inertia * (torque - against))
    return speed, turned + STEP * speed


# --- whether it can be told -----------------------------------------------------------------------


def decidable(car: Crank, traces: Traces, clamp: bool, with_amps: bool) -> tuple[bool, str]:
    """Whether an expert could tell the class from a record, and why not. Judgement, written down before any scoring.

    A bad joint between post and clamp looks like a weak battery from the clamps. Without current, the rush at the
    beginning must be in the record; and a slow engine that pulls the voltage down little, or a bad cable that lets it
    down far, cannot be told. Nor can speeds between slow and normal, or a weak battery that stays over 9.6 V (load-test
    limit, common practice) or is not far under it.

    Parameters
    ----------
    car : Crank
    traces : Traces
    clamp : bool
        The leads are on the clamps, not on the posts.
    with_amps : bool
        The current is recorded too.
    """
    rush = car.key_on > 0
    if not with_amps and not rush:
        return False, "neither current nor the rush at the beginning"
    if car.truth == CABLE and clamp and car.joint_at_clamp:
        return False, "from the clamps a bad joint at the post looks like a weak battery"
    volts, rpm = running(car, traces, clamp)
    return _told(car, volts, rpm, with_amps)


def _told(car: Crank, volts: float, rpm: float, with_amps: bool) -> tuple[bool, str]:
    if car.truth == HEALTHY:
        good = rpm >= 140 and volts >= 9.8
        return good, "" if good else "slow or low for a healthy car"
    if car.truth == WEAK:
        return volts <= 9.3, "" if volts <= 9.3 else "the voltage stays near the limit"
    if car.truth == SLOW:
        told = 15 <= rpm <= 115 and (with_amps or volts <= 10.4)
        return told, "" if told else "stalled, hardly slow, or hardly lowers the voltage"
    if car.truth == CABLE:
        told = rpm <= 140 and (with_amps or volts >= 10.6)
        return told, "" if told else "hardly slows the engine, or the voltage is not clearly high"
    return True, ""


def running(car: Crank, traces: Traces, clamp: bool) -> tuple[float, float]:
    """Mean volts and engine speed from 0.3 s after the key to the end of cranking.

    Parameters
    ----------
    car : Crank
    traces : Traces
    clamp : bool
        The leads are on the clamps, not on the posts.
    """
    first = int((max(car.key_on, 0.0) + 0.3) / STEP)
    last = int(min(car.key_off, car.fires, len(traces.rpm) * STEP) / STEP)
    volts = traces.clamps if clamp else traces.posts
    return float(volts[first:last].mean()), float(traces.rpm[first:last].mean())
