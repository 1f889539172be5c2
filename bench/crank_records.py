"""Records of cranking: how they are taken, and their labels."""

from collections.abc import Iterator
from dataclasses import asdict

import numpy as np

from bench.cranks import CLASSES, LAWS, STEP, Crank, Traces, crank, decidable, draw, running
from bench.recorder import Task, rate_of, short, write

RATES = {"tune": (1e3, 2e3, 2.5e3, 5e3, 10e3, 20e3), "held": (1e3, 1.6e3, 4e3, 8e3, 12.5e3, 20e3)}
STEPS = (1e-3, 2e-3, 5e-3, 10e-3, 20e-3)  # volts
AMP_STEPS = (0.2, 0.5, 1.0, 2.5)
CLEAR = 0.8  # share of the runs that are drawn again until current and volts from the posts would tell
AGAIN = 8  # draws at most


def crank_run(task: Task, n: int) -> Iterator[dict]:
    """Make the records of one cranking and give their labels.

    Parameters
    ----------
    task : Task
    n : int
        The run's number in the set.
    """
    lot = np.random.default_rng([task.seed, n, 1])
    seconds = float(lot.uniform(1, 3))
    car, traces = _car(CLASSES[n % len(CLASSES)], task.law, seconds, lot)
    for letter in "abcdefgh"[: task.each]:
        name, clamp, with_amps = f"c{n:04d}{letter}.csv.gz", bool(lot.random() < 0.3), bool(lot.random() < 0.5)
        taken = _take(task, name, traces, clamp, with_amps, lot)
        yield {"file": name, "run": f"c{n:04d}", **_label(car, traces, clamp, with_amps), **taken}


def _car(truth: str, law: str, seconds: float, lot) -> tuple[Crank, Traces]:
    clear = lot.random() < CLEAR
    for _ in range(AGAIN):
        car = draw(truth, LAWS[law], seconds, lot)
        traces = crank(car, seconds, lot)
        if not clear or decidable(car, traces, False, True)[0]:
            break
    return car, traces


def _take(task: Task, name: str, traces: Traces, clamp: bool, with_amps: bool, lot) -> dict:
    """Write a record; how it was taken."""
    length = len(traces.posts) * STEP
    rate = rate_of(RATES[task.law], length, task.most, lot)
    noise, step = float(lot.uniform(0, 30e-3)), float(lot.choice(STEPS))
    at = np.arange(int(length * rate)) / rate
    steps = np.arange(len(traces.posts)) * STEP
    volts = np.interp(at, steps, traces.clamps if clamp else traces.posts) + lot.normal(0, noise, len(at))
    columns = {"volts": np.round(volts / step) * step}
    if with_amps:
        columns["amps"] = _clamp_meter(np.interp(at, steps, traces.amps), lot)
    write(task.folder / name, at, columns, step)
    return {"rate": rate, "noise": short(noise), "step": step}


def _clamp_meter(amps: np.ndarray, lot) -> np.ndarray:
    """What a current clamp says: a little off zero and off scale, with noise, in steps."""
    step = float(lot.choice(AMP_STEPS))
    seen = amps * lot.uniform(0.98, 1.02) + lot.uniform(-4, 4) + lot.normal(0, lot.uniform(0.3, 3), len(amps))
    return np.round(seen / step) * step


def _label(car: Crank, traces: Traces, clamp: bool, with_amps: bool) -> dict:
    told, why = decidable(car, traces, clamp, with_amps)
    volts, rpm = running(car, traces, clamp)
    facts = {name: short(value) for name, value in asdict(car).items() if name not in ("truth", "uneven")}
    return {
        "kind": "cranking", "truth": car.truth, "decidable": told, "why": why, "at": "clamps" if clamp else "posts",
        "with_amps": with_amps, "running_v": short(volts), "engine_rpm": round(rpm), **facts,
    }  # fmt: skip
