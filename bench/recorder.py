"""What a recorder makes of voltages: samples, noise, steps, coupling, and what goes wrong; the file and whether an
expert could tell anything from it.

A recorder here has no filter before its samples, as many have none: what is above half of the rate folds back.
"""

import gzip
import io
from dataclasses import dataclass
from math import pi, sqrt
from pathlib import Path

import numpy as np

from bench.circuit import Circuit
from bench.machines import DIODE_OPEN, DIODE_SHORTED, NO_RIPPLE, PHASE_LOST, SIX_PULSE, WANDERING, Machine

RATES = {
    "tune": (20e3, 25e3, 40e3, 50e3, 62.5e3, 100e3, 125e3, 200e3),
    "held": (20e3, 22.05e3, 24e3, 30e3, 44.1e3, 48e3, 80e3, 96e3, 156.25e3, 192e3, 200e3),
}
STEPS = {"tune": (0.5e-3, 1e-3, 2e-3, 5e-3, 10e-3, 20e-3), "held": (0.6e-3, 1.2e-3, 2.44e-3, 4.88e-3, 9.8e-3, 20e-3)}
FLAWS = ("clipped", "blank", "uneven", "dropped")
FLAWED = 0.15  # share of records with a flaw

# When an expert who looks with care would say "cannot tell": see `decidable`. Judgement, written before any scoring.
OVER_NOISE = 6.0  # the line that decides, over what noise alone gives a line on average
HEALTHY = {"posts": 1.5e-3, "stud": 6e-3}  # the least six-pulse line of a machine under a fair load [V]
LIKE_A_FAULT = 0.7  # of the six-pulse line: load lines that would be taken for a fault's
WINDOW, SHORTEST = 0.05, 0.25  # seconds: a window in which the speed is seen, and the record that shows it wander
LEAST_SWING = 0.03  # of the speed, top to bottom


@dataclass(frozen=True)
class Task:
    """A set of records that is to be made.

    Attributes
    ----------
    folder : Path
        Where they go.
    law : str
        tune or held.
    seed : int
        With the number of a run it decides everything.
    each, most : int
        Records of a run, and the most samples in one.
    step : float
        The longest step of the simulator, seconds.
    """

    folder: Path
    law: str = "tune"
    seed: int = 1
    each: int = 3
    most: int = 100_000
    step: float = 5e-6


@dataclass(frozen=True)
class Setting:
    """How a record is taken.

    Attributes
    ----------
    at : str
        posts or stud.
    rate, seconds, noise, step : float
        Samples a second, length, noise rms [V], and the recorder's step [V].
    coupling : str
        dc or ac.
    flaw : str
        Of `FLAWS`, or nothing.
    start : float
        Seconds after the run's beginning.
    """

    at: str
    rate: float
    seconds: float
    noise: float
    step: float
    coupling: str
    flaw: str
    start: float


@dataclass(frozen=True)
class Record:
    """Samples as they stand in the file.

    Attributes
    ----------
    times, volts : ndarray
        Seconds from the first sample; volts, NaN where there is none.
    clean : ndarray
        The volts without noise, steps, coupling and flaws, at even times.
    even : ndarray
        Those times, from the run's beginning.
    """

    times: np.ndarray
    volts: np.ndarray
    clean: np.ndarray
    even: np.ndarray


def setting(task: Task, longest: float, lot: np.random.Generator, shortest: float = 0.05) -> Setting:
    """How a record is taken, drawn by lot.

    Parameters
    ----------
    task : Task
    longest : float
        Seconds that are there to take from.
    lot : Generator
        Where chance comes from.
    shortest : float
        Seconds at least, where so many samples are allowed.
    """
    rate = rate_of(RATES[task.law], shortest, task.most, lot)
    top = min(longest, task.most / rate)
    seconds = float(np.exp(lot.uniform(np.log(shortest), np.log(max(top, 1.02 * shortest)))))
    noise = lot.uniform(0, 5e-3) if lot.random() < 0.5 else lot.uniform(5e-3, 30e-3)
    flaw = str(lot.choice(FLAWS)) if lot.random() < FLAWED else ""
    coupling = "ac" if lot.random() < 0.2 else "dc"
    at = "stud" if lot.random() < 0.35 else "posts"
    return Setting(at, rate, seconds, float(noise), float(lot.choice(STEPS[task.law])), coupling, flaw,
                   float(lot.uniform(0, max(longest - seconds, 0))))  # fmt: skip


def rate_of(rates: tuple[float, ...], seconds: float, most: int, lot: np.random.Generator) -> float:
    """A rate drawn from those whose samples are not too many, or the slowest.

    Parameters
    ----------
    rates : tuple of float
        Samples a second, slowest first.
    seconds : float
        How long the record lasts.
    most : int
        Samples at most.
    lot : Generator
        Where chance comes from.
    """
    return float(lot.choice([rate for rate in rates if rate * seconds <= most] or rates[:1]))


def take(columns: np.ndarray, how: Setting, lot: np.random.Generator) -> Record:
    """A record of a run.

    Parameters
    ----------
    columns : ndarray
        Time, stud and posts, one row a step.
    how : Setting
    lot : Generator
        Where chance comes from.
    """
    even = columns[0, 0] + how.start + np.arange(int(how.seconds * how.rate)) / how.rate
    at = even + (lot.uniform(-0.3, 0.3, len(even)) / how.rate if how.flaw == "uneven" else 0.0)
    volts = np.interp(at, columns[:, 0], columns[:, 1 if how.at == "stud" else 2])
    clean = np.interp(even, columns[:, 0], columns[:, 1 if how.at == "stud" else 2])
    seen = volts + lot.normal(0.0, how.noise, len(volts))
    if how.coupling == "ac":
        seen = seen - seen.mean()
    seen = np.round(seen / how.step) * how.step
    times, seen = _flawed(at - even[0], seen, how, lot)
    return Record(times, seen, clean, even)


def _flawed(times, volts, how: Setting, lot) -> tuple[np.ndarray, np.ndarray]:
    if how.flaw == "clipped":
        return times, np.minimum(volts, np.quantile(volts, lot.uniform(0.95, 0.99)))
    share = lot.uniform(0.002, 0.03)
    hit = lot.random(len(times)) < share
    if how.flaw == "blank":
        return times, np.where(hit, np.nan, volts)
    if how.flaw == "dropped":
        return times[~hit], volts[~hit]
    return times, volts


def write(path: Path, times: np.ndarray, columns: dict[str, np.ndarray], step: float) -> None:
    """Write a record as gzipped CSV: time_s and the columns named; a missing value is an empty cell.

    Parameters
    ----------
    path : Path
    times : ndarray
        Seconds.
    columns : dict
        Values by heading.
    step : float
        The recorder's step: values are written to a tenth of it at the least.
    """
    places = max(1, int(np.ceil(-np.log10(step / 5))))
    lines = [",".join(["time_s", *columns])]
    lines += [_line(row, places) for row in zip(times, *columns.values(), strict=True)]
    text = io.StringIO()
    text.write("\n".join(lines) + "\n")
    with path.open("wb") as raw, gzip.GzipFile("", "wb", 9, raw, mtime=0) as packed:
        packed.write(text.getvalue().encode("ascii"))


def _line(row, places: int) -> str:
    time, *values = row
    return ",".join([f"{time:.8g}", *("" if np.isnan(value) else f"{value:.{places}f}" for value in values)])


def short(value):
    """A figure as a label says it: five digits."""
    return float(f"{value:.5g}") if isinstance(value, float) else value


# --- whether it can be told -----------------------------------------------------------------------


def decidable(machine: Machine, how: Setting, record: Record) -> tuple[bool, str]:
    """Whether an expert could tell the class from the record, and why not.

    The line that decides (order 6 of a six-pulse machine, 1 of a diode, 2 of a lost phase) must stand `OVER_NOISE`
    times over the line that noise and steps give on average. For "no ripple" the least line of a healthy machine
    would have to. Speed is seen to wander only in windows of `WINDOW`, over `SHORTEST` and three quarters of a
    swing, and by `LEAST_SWING`. A six-pulse record cannot be told whose load lines on order 2, or on 1 and 3, come
    near the six-pulse line; nor can ripple that stays within the recorder's step.

    Parameters
    ----------
    machine : Machine
    how : Setting
    record : Record
    """
    noise = 2 * sqrt((how.noise**2 + how.step**2 / 12) / len(record.clean))
    if np.ptp(record.clean) < 2 * how.step and how.noise < how.step / 3:
        return False, "the ripple stays within the recorder's step"
    if machine.truth == NO_RIPPLE:
        seen = OVER_NOISE * noise <= HEALTHY[how.at]
        return seen, "" if seen else "a healthy line could hide in the noise"
    lines = {order: line(machine.circuit, record, order) for order in (1, 2, 3, 6)}
    if machine.truth == WANDERING:
        return _wander_seen(machine, how, lines[6], noise)
    deciding = lines[{SIX_PULSE: 6, DIODE_OPEN: 1, DIODE_SHORTED: 1, PHASE_LOST: 2}[machine.truth]]
    if deciding < OVER_NOISE * noise:
        return False, "the deciding line is in the noise"
    if machine.truth == SIX_PULSE and max(lines[2], min(lines[1], lines[3])) > LIKE_A_FAULT * lines[6]:
        return False, "load lines stand where a fault's would"
    return True, ""


def _wander_seen(machine: Machine, how: Setting, deciding: float, noise: float) -> tuple[bool, str]:
    stick = machine.circuit.speed[0]
    if how.seconds < max(SHORTEST, 0.75 / stick.hertz):
        return False, "too short for the speed to be seen wandering"
    if 2 * stick.depth < LEAST_SWING:
        return False, "the speed hardly wanders"
    seen = deciding >= OVER_NOISE * noise * sqrt(how.seconds / WINDOW)
    return seen, "" if seen else "the six-pulse line is in the noise"


def line(circuit: Circuit, record: Record, order: int) -> float:
    """Amplitude of an order in a clean record, along the angle that the phase really went through [V].

    Parameters
    ----------
    circuit : Circuit
    record : Record
    order : int
        Multiple of the electrical frequency.
    """
    turned = 2 * pi * circuit.hertz * record.even
    for swing in circuit.speed:
        turned -= swing.depth * circuit.hertz / swing.hertz * np.cos(2 * pi * swing.hertz * record.even + swing.angle)
    weight = np.hanning(len(turned))
    volts = record.clean - record.clean.mean()
    return float(2 * abs(np.sum(weight * volts * np.exp(-1j * order * turned))) / weight.sum())
