"""Sets of waveform records whose truth is known: made with ngspice, kept with their labels, judged and counted."""

import argparse
import json
import sys
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

import numpy as np
import yaml

from bench.apart import Failed
from bench.circuit import netlist
from bench.crank_records import crank_run
from bench.machines import (
    DIODE_OPEN,
    DIODE_SHORTED,
    LAWS,
    NO_RIPPLE,
    PHASE_LOST,
    RUN_LIMIT,
    SIX_PULSE,
    WANDERING,
    Machine,
    draw,
)
from bench.recorder import SHORTEST, Record, Setting, Task, decidable, setting, short, take, write
from bench.simulator import OUT, run

TURN = (SIX_PULSE, DIODE_OPEN, DIODE_SHORTED, PHASE_LOST, SIX_PULSE, NO_RIPPLE, WANDERING)  # classes
LABELS = "labels.yaml"


def make(words: list[str]) -> int:
    """Make a set of records, or go on with one: `scripts/bench make-records FOLDER`."""
    args = _parser().parse_args(words)
    args.folder.mkdir(parents=True, exist_ok=True)
    _begin(args.folder / LABELS, words[1:])
    done = {label["run"] for label in labels(args.folder)}
    task = Task(args.folder, args.law, args.seed, args.each, args.most, args.step)
    for letter, one, runs in (("c", crank_run, args.cranks), ("r", ripple_run, args.runs)):
        for n in range(runs):
            if f"{letter}{n:04d}" not in done:
                _report(args.folder, list(one(task, n)))
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser("scripts/bench make-records", description=make.__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--law", choices=LAWS, default=Task.law, help=f"the ranges that are drawn from ({Task.law})")
    for name, usual, text in (
        ("seed", Task.seed, "what the set is drawn by"),
        ("runs", 70, "runs of the simulator"),
        ("cranks", 35, "cars that are cranked"),
        ("each", Task.each, "records of a run"),
        ("most", Task.most, "samples in a record at most"),
        ("step", Task.step, "the longest step of a run, seconds"),
    ):
        parser.add_argument(f"--{name}", type=type(usual), default=usual, metavar="N", help=f"{text} ({usual:g})")
    return parser


def _begin(file: Path, words: list[str]) -> None:
    """A new set says what it was made by."""
    if not file.exists():
        file.write_text(f"# Made by scripts/bench make-records FOLDER {' '.join(words)}\n", encoding="utf-8")


def labels(folder: Path) -> list[dict]:
    """The labels of a set, in the order the records were made in; none where there is no set yet."""
    file = folder / LABELS
    return yaml.load(file.read_text("utf-8"), yaml.CSafeLoader) or [] if file.exists() else []


def _report(folder: Path, found: list[dict]) -> None:
    """Add the labels of a run to the file and tell of them."""
    with (folder / LABELS).open("a", encoding="utf-8") as file:
        file.writelines(f"- {json.dumps(label)}\n" for label in found)
    for label in found:
        print(label["file"], label["truth"], "" if label["decidable"] else f"(cannot tell: {label['why']})", flush=True)


def ripple_run(task: Task, n: int) -> Iterator[dict]:
    """Make the records of one run of the simulator and give their labels; a run that fails is told and left out.

    Parameters
    ----------
    task : Task
    n : int
        The run's number in the set.
    """
    lot = np.random.default_rng([task.seed, n])
    truth = TURN[n % len(TURN)]
    seconds = lot.uniform(0.3, 0.51) if truth == WANDERING else np.exp(lot.uniform(*np.log([0.06, 0.51])))
    try:
        machine = draw(truth, LAWS[task.law], lot)
        skip = max(12 / machine.circuit.hertz, 0.02)
        columns = run(netlist(machine.circuit, skip + seconds, skip, task.step, OUT), RUN_LIMIT)
    except Failed as failure:
        print(f"run {n}: {failure}", file=sys.stderr)
        return
    for letter in "abcdefgh"[: task.each]:
        shortest = 0.05 if truth != WANDERING or lot.random() < 0.15 else SHORTEST
        how = setting(task, seconds, lot, shortest)
        record = take(columns, how, lot)
        name = f"r{n:04d}{letter}.csv.gz"
        write(task.folder / name, record.times, {"volts": record.volts}, how.step)
        yield {"file": name, "run": f"r{n:04d}", **_label(machine, how, record)}


def _label(machine: Machine, how: Setting, record: Record) -> dict:
    told, why = decidable(machine, how, record)
    circuit = machine.circuit
    return {
        "kind": "ripple", "truth": machine.truth, "decidable": told, "why": why,
        **{name: short(value) for name, value in asdict(how).items()},
        "rpm": round(machine.rpm), "pole_pairs": machine.pole_pairs, "ratio": short(machine.ratio),
        "hertz": short(circuit.hertz), "amps": short(machine.amps), "battery_good": machine.battery_good,
        "path_good": machine.path_good, "full_field": machine.full_field,
        "broken": [*circuit.open_diodes, *circuit.shorted, *([circuit.open_phase] if circuit.open_phase else [])],
        "load_lines": [short(load.hertz) for load in circuit.pulses],
    }  # fmt: skip
