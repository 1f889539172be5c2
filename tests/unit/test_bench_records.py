"""Development records: circuits and cranking behave as physics says, what a recorder does is done, counts are right."""

import gzip
from dataclasses import replace
from math import cos, pi
from pathlib import Path

import numpy as np
import pytest
from bench import cranks, machines, recorder
from bench.__main__ import main
from bench.apart import Failed
from bench.circuit import Circuit, Pulses, Swing, angle, netlist
from bench.crank_records import crank_run
from bench.records import LABELS, labels, make
from bench.scores import NOT_JUDGED, REFUSED, false_alarms, report, right_and_wrong, score, verdict
from bench.simulator import OUT, run, there

SMALL = Path(__file__).parents[1] / "data" / "records"
CIRCUIT = Circuit(hertz=400, peak=24, inductance=60e-6, resistance=30e-3, battery=12.6, inside=10e-3, steady=40)
HOW = recorder.Setting("posts", 50e3, 0.1, 0.0, 1e-3, "dc", "", 0.0)


# --- the circuit ----------------------------------------------------------------------------------


def test_a_fault_is_in_the_netlist():
    """An open diode is left out, a shorted one is a small resistance, a lost phase has a lead that conducts nothing."""
    faults = ({}, {"open_diodes": ("bn",)}, {"shorted": ("cp",)}, {"open_phase": "a"})
    sound, opened, shorted, lost = (netlist(replace(CIRCUIT, **fault), 0.1, 0.0, 1e-5, "out") for fault in faults)

    assert [text.count("\nD") for text in (sound, opened, shorted, lost)] == [6, 5, 5, 6]
    assert "\nDbn " not in opened and "\nRcp c pos 0.002" in shorted
    assert "\nRa a1 a 1meg" in lost and "\nRa a1 a 0.03" in sound


def test_pulses_are_in_the_netlist_one_each():
    """Each with its own period."""
    loads = (Pulses(5, 100, 3e-3, 1e-5), Pulses(9, 40, 1e-5, 2e-3))
    text = netlist(replace(CIRCUIT, pulses=loads), 0.1, 0, 1e-5, "out")

    assert "IPULSE0 bp bn PULSE(0 5 0.003 1e-05 2e-05 0.003 0.01)" in text
    assert text.count("\nIPULSE") == 2


def test_the_angle_is_the_integral_of_the_frequency():
    """Differences of the angle over a tenth of a millisecond against the frequency, by hand."""
    circuit = replace(CIRCUIT, speed=(Swing(0.1, 5, 0.3), Swing(0.02, 30)))
    formula = compile(angle(circuit), "angle", "eval")
    at = [eval(formula, {"time": time, "cos": cos}) for time in (0.0429, 0.043)]
    share = 1 + 0.1 * np.sin(2 * pi * 5 * 0.04295 + 0.3) + 0.02 * np.sin(2 * pi * 30 * 0.04295)

    assert (at[1] - at[0]) / 1e-4 / (2 * pi) == pytest.approx(400 * share, rel=1e-5)


@pytest.mark.parametrize("law", machines.LAWS)
def test_loads_add_up_to_what_was_drawn(law):
    """On average the steady load and the switched ones take the amperes drawn, or two more where these take all."""
    lot = np.random.default_rng(4)
    for _ in range(50):
        loads = machines._loads(60.0, 1500.0, machines.LAWS[law], lot)
        mean = sum(one.amps * (one.width + one.rise / 2) * one.hertz for one in loads["pulses"])

        assert loads["steady"] + mean == pytest.approx(max(60.0, mean + 2.0))


# --- the recorder ---------------------------------------------------------------------------------


def _run(volts) -> np.ndarray:
    """Columns of a run in which stud and posts hold the same volts."""
    times = np.arange(0, 0.2, 5e-6)
    return np.column_stack([times, volts(times), volts(times)])


def test_a_record_is_sampled_in_steps_without_a_filter():
    """A line above half the rate folds back with its whole height; values are whole steps."""
    columns = _run(lambda at: 14 + 0.1 * np.sin(2 * pi * 14_400 * at))
    record = recorder.take(columns, replace(HOW, rate=20e3), np.random.default_rng(1))
    spectrum = abs(np.fft.rfft(record.volts - record.volts.mean())) * 2 / len(record.volts)

    assert len(record.volts) == 2000
    assert spectrum.argmax() * 10 == 5600 and spectrum.max() == pytest.approx(0.1, rel=0.08)
    assert record.volts / 1e-3 == pytest.approx(np.round(record.volts / 1e-3), abs=1e-6)


def test_flaws_are_what_they_are_called():
    """Blanks are missing values, dropped samples missing rows, clipping a ceiling, uneven times still run on."""
    columns = _run(lambda at: 14 + 0.1 * np.sin(2 * pi * 500 * at))
    taken = {flaw: recorder.take(columns, replace(HOW, flaw=flaw), np.random.default_rng(2)) for flaw in recorder.FLAWS}
    steps = {flaw: np.diff(record.times) for flaw, record in taken.items()}

    assert 5 < np.isnan(taken["blank"].volts).sum() < 200 and len(taken["blank"].volts) == 5000
    assert 4800 < len(taken["dropped"].volts) < 4995 and steps["dropped"].max() > 1.9 / 50e3
    assert (taken["clipped"].volts == taken["clipped"].volts.max()).sum() > 40
    assert 0 < steps["uneven"].min() < 0.8 / 50e3 and steps["uneven"].max() > 1.2 / 50e3


def test_a_coupling_capacitor_takes_the_mean():
    """What is left swings about nothing."""
    columns = _run(lambda at: 14 + 0.1 * np.sin(2 * pi * 500 * at))
    record = recorder.take(columns, replace(HOW, coupling="ac"), np.random.default_rng(3))

    assert record.volts.mean() == pytest.approx(0, abs=1e-3)


def test_a_line_is_measured_along_a_speed_that_swings():
    """60 mV of order 6 at a speed that swings by a tenth, with nothing at order 1."""
    circuit = replace(CIRCUIT, speed=(Swing(0.1, 7, 1.0),))


    def volts(at):
        return 14 + 0.06 * np.sin(6 * (2 * pi * 400 * at - 0.1 * 400 / 7 * np.cos(2 * pi * 7 * at + 1.0)))

    record = recorder.take(_run(volts), HOW, np.random.default_rng(5))

    assert recorder.line(circuit, record, 6) == pytest.approx(0.06, rel=0.01)
    assert recorder.line(circuit, record, 1) < 1e-4


def _machine(truth: str, **circuit) -> machines.Machine:
    return machines.Machine(truth, replace(CIRCUIT, **circuit), 1500, 6, 2.67, 40, True, True, False)


def _told(truth: str, height: float, noise: float, hertz: float = 2400, seconds: float = 0.1, **circuit) -> bool:
    """Whether a record with one line can be told."""
    columns = _run(lambda at: 14 + height * np.sin(2 * pi * hertz * at))
    how = replace(HOW, noise=noise, seconds=seconds)
    return recorder.decidable(_machine(truth, **circuit), how, recorder.take(columns, how, np.random.default_rng(6)))[0]


def test_what_an_expert_could_tell():
    """Six times over the noise of 5000 samples, 30 mV: 2 x 30 / root 5000 = 0.85 mV, so 5.1 mV; both sides of it."""
    assert _told("six-pulse", 5.6e-3, 30e-3) and not _told("six-pulse", 4.6e-3, 30e-3)
    assert _told("phase lost", 5.6e-3, 30e-3, 800) and not _told("phase lost", 4.6e-3, 30e-3, 800)
    assert not _told("one diode open", 0.1, 1e-3)  # order 6 alone says nothing of a diode
    assert _told("no ripple", 5e-3, 5e-3) and not _told("no ripple", 5e-3, 30e-3)  # a healthy line could hide
    assert not _told("six-pulse", 4e-4, 0.0)  # within one step


def test_a_speed_must_be_seen_to_wander():
    """Long enough for three quarters of a swing, a swing of 3 %, and a line that stands out in windows of 50 ms."""
    sticks, creeps = {"speed": (Swing(0.05, 8),)}, {"speed": (Swing(0.01, 8),)}
    columns = np.column_stack([at := np.arange(0, 0.4, 5e-6), *[14 + 0.05 * np.sin(2 * pi * 2400 * at)] * 2])
    for circuit, seconds, wanted in ((sticks, 0.24, False), (creeps, 0.3, False)):
        how = replace(HOW, seconds=seconds)
        record = recorder.take(columns, how, np.random.default_rng(7))

        assert recorder.decidable(_machine("speed wandering", **circuit), how, record)[0] is wanted


# --- cranking -------------------------------------------------------------------------------------


def _car(truth: str, seed: int) -> tuple[cranks.Crank, cranks.Traces]:
    lot = np.random.default_rng(seed)
    car = replace(cranks.draw(truth, cranks.TUNE, 2.0, lot), key_on=0.2, key_off=99.0, fires=99.0)
    return car, cranks.crank(car, 2.0, lot)


@pytest.mark.parametrize("seed", range(3))
def test_a_locked_engine_takes_what_ohm_says(seed):
    """Rest less brushes over all resistances, the polarised share of the battery's included; nothing turns."""
    car, traces = _car("engine locked", seed)
    total = car.inside * (1 + car.polarised) + car.path + car.armature
    others = traces.amps[:1000].mean() + 30  # what was on before, and the solenoid's holding
    wanted = (car.rest - cranks.BRUSHES - car.inside * (1 + car.polarised) * others) / total

    assert traces.amps[-2000:].mean() - others == pytest.approx(wanted, rel=0.03)
    assert traces.rpm.max() == 0


@pytest.mark.parametrize("seed", range(3))
def test_a_healthy_engine_turns_as_its_torques_balance(seed):
    """Over whole turns the starter's torque is what friction takes, since the compressions give back what they took."""
    car, traces = _car("healthy", seed)
    car, traces = (car, traces) if not car.saturation else _car("healthy", seed + 10)
    steady = slice(10_000, 20_000)
    starter = traces.amps[steady].mean() - traces.amps[:1000].mean() - 30
    speed = traces.rpm[steady].mean() / cranks.RPM
    if car.saturation:
        pytest.skip("the torque of a field in series is not in proportion to the current")

    assert 120 < speed * cranks.RPM < 320
    assert 0.85 * car.push * starter == pytest.approx(car.drag + car.rub * speed, rel=0.08)


@pytest.mark.slow
def test_faults_pull_where_they_should():
    """Against healthy cars: a weak battery less volts, a bad cable less current, a slow engine more."""
    of = {truth: [_car(truth, seed) for seed in range(4)] for truth in cranks.CLASSES}
    volts = {truth: np.mean([traces.posts[6000:].mean() for _, traces in cars]) for truth, cars in of.items()}
    rush = {truth: np.mean([traces.amps.max() for _, traces in cars]) for truth, cars in of.items()}
    amps = {truth: np.mean([traces.amps[6000:].mean() for _, traces in cars]) for truth, cars in of.items()}

    assert volts["weak battery"] < volts["healthy"] - 1 < volts["cable resistance"]
    assert rush["cable resistance"] < 0.7 * rush["healthy"]
    assert amps["healthy"] < amps["engine slow"] < amps["engine locked"]


def test_what_cranking_could_be_told_from():
    """From the clamps a joint at the post looks like a weak battery; without current the rush must be there."""
    car, traces = _car("cable resistance", 1)
    at_clamp, late = replace(car, joint_at_clamp=True), replace(car, key_on=0.0)

    assert not cranks.decidable(at_clamp, traces, True, True)[0]
    assert cranks.decidable(at_clamp, traces, False, True)[0] == cranks.decidable(car, traces, False, True)[0]
    assert not cranks.decidable(late, traces, False, False)[0]


# --- sets -----------------------------------------------------------------------------------------


def test_the_same_seed_makes_the_same_files(tmp_path):
    """Byte for byte, and labels alike; another run of the set is another car."""
    first, again = tmp_path / "first", tmp_path / "again"
    for folder in (first, again):
        make([str(folder), "--runs", "0", "--cranks", "2", "--each", "1", "--most", "3000"])

    for file in sorted(first.glob("*.gz")):
        assert file.read_bytes() == (again / file.name).read_bytes()
    assert labels(first) == labels(again) and len({label["rest"] for label in labels(first)}) == 2


def test_a_set_goes_on_where_it_was(tmp_path):
    """What is labelled is not made again."""
    words = [str(tmp_path), "--runs", "0", "--each", "1", "--most", "3000"]
    make([*words, "--cranks", "1"])
    before = (tmp_path / "c0000a.csv.gz").stat().st_mtime_ns
    make([*words, "--cranks", "2"])

    assert [label["run"] for label in labels(tmp_path)] == ["c0000", "c0001"]
    assert (tmp_path / "c0000a.csv.gz").stat().st_mtime_ns == before


def test_a_file_holds_its_columns(tmp_path):
    """Time and volts, and amps where they are recorded; a label says which."""
    (label,) = crank_run(recorder.Task(tmp_path, "held", each=1, most=3000), 4)
    rows = gzip.decompress((tmp_path / label["file"]).read_bytes()).decode().splitlines()

    assert rows[0] == ("time_s,volts,amps" if label["with_amps"] else "time_s,volts")
    assert 900 < len(rows) <= 3001 and rows[1].startswith("0,")


@pytest.mark.slow
def test_the_regulator_holds_the_posts():
    """A healthy machine under a fair load: the mean within the regulator's range, order 6 before all others."""
    if not there():
        pytest.skip("ngspice is not installed")
    law = replace(machines.TUNE, amps=(20, 30), rated=(150, 160), pwm=0.0, ignition=0.0, hum=0.0)
    lot = np.random.default_rng(5)
    machine = machines.draw("six-pulse", law, lot)
    columns = run(netlist(machine.circuit, 0.12, 0.04, 1e-5, OUT), 60)
    record = recorder.take(columns, replace(HOW, seconds=0.08), lot)

    assert not machine.full_field and 13.3 < record.clean.mean() < 15.0
    assert 0.0 < record.clean.mean() - machine.circuit.battery < 12.5 * machine.circuit.inside
    assert recorder.line(machine.circuit, record, 6) > 5 * recorder.line(machine.circuit, record, 1)


@pytest.mark.slow
def test_a_run_of_the_simulator_makes_records(tmp_path):
    """Two records of one healthy machine, and their labels."""
    if not there():
        pytest.skip("ngspice is not installed")
    make([str(tmp_path), "--seed", "5", "--runs", "1", "--cranks", "0", "--each", "2", "--most", "5000"])

    assert [label["truth"] for label in labels(tmp_path)] == ["six-pulse"] * 2
    assert all((tmp_path / label["file"]).stat().st_size > 1000 for label in labels(tmp_path))


def test_the_small_set_is_whole():
    """Every class of both kinds, every file labelled, under 2 MB in all."""
    found = labels(SMALL)
    files = {file.name for file in SMALL.iterdir()} - {LABELS}

    assert files == {label["file"] for label in found}
    assert sum(file.stat().st_size for file in SMALL.iterdir()) < 2e6
    assert {label["truth"] for label in found if label["decidable"]} == {*machines.CLASSES, *cranks.CLASSES}


# --- counting -------------------------------------------------------------------------------------


def _judged(*pairs: tuple[str, str | None], decidable: bool = True) -> list[tuple[dict, dict]]:
    return [({"truth": true, "decidable": decidable, "file": f"{n}.csv"}, {"ripple": said, "confidence": 0.9})
            for n, (true, said) in enumerate(pairs)]  # fmt: skip


def test_right_and_wrong_are_counted_apart():
    """"Cannot tell" and no verdict are neither."""
    names = ("six-pulse", "cannot tell", NOT_JUDGED, "phase lost", "no ripple")
    told = [({"truth": "six-pulse"}, said) for said in names]

    assert right_and_wrong(told) == (1, 2)
    assert false_alarms(told) == 1  # no ripple is no fault of the bridge


def test_a_report_counts_what_could_be_told_apart_from_the_rest(capsys):
    """Two of three that can be told are right; the false alarm among the others is counted too."""
    judged = _judged(("six-pulse", "six-pulse"), ("phase lost", "phase lost"), ("one diode open", None))
    judged += _judged(("six-pulse", "one diode open"), decidable=False)
    report("ripple", machines.CLASSES, judged, name_wrong=True)
    printed = capsys.readouterr().out

    assert "right: 2 of 3, 66.7 %; called another name: 0" in printed
    assert "bridge faults called on six-pulse records: 1" in printed
    assert "2.csv: one diode open, called none" in printed


def test_a_refused_record_is_called_another_name(tmp_path, capsys):
    """The count goes on after a file that the program does not take."""
    label = {"kind": "ripple", "truth": "six-pulse", "decidable": True, "at": "posts", "rpm": 900, "file": "r.csv"}
    (tmp_path / "r.csv").write_text("nothing that could be read\n")
    said = verdict(tmp_path / "r.csv", label)
    report("ripple", machines.CLASSES, [(label, said)])

    assert said["ripple"] == REFUSED
    assert "called another name: 1" in capsys.readouterr().out


def test_an_empty_folder_is_refused(tmp_path, capsys):
    """In a sentence, through the command line too."""
    with pytest.raises(Failed):
        score([str(tmp_path)])

    assert main(["records", str(tmp_path)]) == 1
    assert "holds no labels" in capsys.readouterr().err
