"""Verdicts on ripple in closed form, and on the committed records made by a circuit simulator."""

from collections import Counter

import numpy as np
import pytest
import wave_samples as waves
import yaml

from putback.charging.evidence import judge
from putback.charging.record import make_record
from putback.charging.ripple import BROKEN, judge_ripple
from putback.record_file import read_record

CASES = [(waves.six_pulse, 0.3, "six-pulse", 6), (waves.phase_lost, 0.6, "phase lost", 2)]


@pytest.mark.parametrize(("wave", "size", "verdict", "order"), CASES)
@pytest.mark.parametrize("rate", [20_000.0, 200_000.0])
def test_the_state_of_the_bridge(wave, size, verdict, order, rate):
    """Found from the record alone, with the frequency of the main order. References F4 and F7, closed forms."""
    ripple = judge_ripple(waves.record(wave, size, rate=rate), rpm=1200)

    assert ripple.verdict == verdict
    assert ripple.hertz == pytest.approx(order * waves.FREQUENCY, rel=2e-3)
    assert ripple.confidence > 0.75


def test_a_machine_without_tolerances_is_not_taken_for_a_broken_one():
    """Without the speed its line may be that of a lost phase, which then is no verdict."""
    assert judge_ripple(waves.record(waves.six_pulse, 0.3)).verdict in ("six-pulse", "cannot tell")


def test_an_open_diode_on_a_battery(root):
    """The record of the documentation, from a circuit simulator: 567 Hz, with a load switched at 120 Hz."""
    name = "docs/examples/idle-loaded.csv.gz"
    ripple = judge_ripple(read_record((root / name).read_bytes(), name))

    assert ripple.verdict == "one diode open"
    assert ripple.hertz == pytest.approx(567, abs=1)
    assert "loads at 120 Hz" in ripple.why


@pytest.mark.parametrize("duty", [0.2, 0.5])
def test_a_switched_load_is_no_broken_diode(duty):
    """Orders of a load that does not fit the six-pulse line are the load's (common practice, no source)."""
    load = lambda times: -0.15 * waves.switched(times, 143.0, duty)  # noqa: E731
    ripple = judge_ripple(waves.record(waves.six_pulse, 0.4, more=load), rpm=1200)

    assert ripple.verdict == "six-pulse"
    assert "143 Hz" in ripple.why


def test_loads_alone_are_no_ripple():
    """The mean of a battery that nothing charges, and only a switched load."""
    load = lambda times: -0.1 * waves.switched(times, 210.0, 0.3)  # noqa: E731
    ripple = judge_ripple(waves.record(waves.six_pulse, 0.0, mean=12.3, more=load))

    assert (ripple.verdict, ripple.hertz) == ("no ripple", None)
    assert "mV would have been seen" in ripple.why


def test_two_loads_alone_are_no_ripple_either():
    """Neither is taken for a broken diode, though the orders of one stand beside those of the other."""
    loads = ((0.1, 169.0, 0.3), (0.06, 306.0, 0.2))
    load = lambda times: -sum(size * waves.switched(times, *how) for size, *how in loads)  # noqa: E731
    ripple = judge_ripple(waves.record(waves.six_pulse, 0.0, mean=12.5, seconds=0.1, more=load))

    assert ripple.verdict == "no ripple"
    assert "169 Hz" in ripple.why and "306 Hz" in ripple.why


def test_in_noise_it_cannot_tell():
    """A six-pulse line far below the noise is neither seen nor denied."""
    ripple = judge_ripple(waves.record(waves.six_pulse, 0.01, noise=0.03, seconds=0.05))

    assert ripple.verdict == "cannot tell"
    assert "six-pulse" in ripple.cannot_separate


def test_a_speed_that_wanders_is_seen():
    """Six-pulse whose frequency swings by 3 % five times a second; held steady it is six-pulse."""
    times = np.arange(25_000) / 50_000.0
    slip = 0.03 / (2 * np.pi * 5) * np.sin(2 * np.pi * 5 * times)
    noise = np.random.default_rng(1).normal(0, 2e-3, len(times))
    wandering = make_record(times, 14 + 0.3 * waves.six_pulse(times + slip) + noise)
    steady = make_record(times, 14 + 0.3 * waves.six_pulse(times) + noise)

    assert [judge_ripple(one, rpm=1200).verdict for one in (wandering, steady)] == ["speed wandering", "six-pulse"]


def test_a_line_lost_in_noise_is_found_by_its_path():
    """A line of a quarter of the noise, 4 % to and fro four times a second; a load beside it does not count."""
    times = np.arange(20_000) / 40_000.0
    slip = 0.04 / (2 * np.pi * 4) * np.sin(2 * np.pi * 4 * times)
    noise = np.random.default_rng(3).normal(0, 0.02, len(times))
    volts = 14 - 0.1 * waves.switched(times, 181.0, 0.3) + noise
    found = judge_ripple(make_record(times, volts + 0.005 * np.cos(2 * np.pi * 2400 * (times + slip))))

    assert found.verdict == "speed wandering"
    assert found.electrical == pytest.approx(400, rel=0.03)
    assert judge_ripple(make_record(times, volts)).verdict != "speed wandering"


def test_one_line_may_be_two_things_until_the_speed_is_told():
    """2,000 Hz is order 6 of a slow alternator, order 2 of a fast one. At 1,000 and 3,000 rpm it is known."""
    wave = waves.record(waves.six_pulse, 0.5, hertz=2000 / 6, noise=0.01, seconds=0.1)

    assert judge_ripple(wave, rpm=1000).verdict == "six-pulse"
    assert judge_ripple(wave, rpm=3000).verdict != "six-pulse"


def test_the_committed_records(root):
    """No broken bridge on a sound one; of ripple and cranking 95 in 100 are right or left open. By the simulation."""
    folder = root / "tests" / "data" / "records"
    kinds, right, sound = Counter(), Counter(), 0
    for label in yaml.safe_load((folder / "labels.yaml").read_text(encoding="utf-8")):
        record = read_record((folder / label["file"]).read_bytes(), label["file"])
        found = judge(record, label["at"] if label["at"] in ("posts", "stud") else None)
        verdict = found.cranking.verdict if found.cranking else found.ripple.verdict
        kinds[label["kind"]] += 1
        right[label["kind"]] += verdict in (label["truth"], "cannot tell")
        sound += label["truth"] == "six-pulse" and found.ripple.verdict in BROKEN

    assert sound == 0
    assert right["ripple"] >= 0.95 * kinds["ripple"]
    assert right["cranking"] >= 0.95 * kinds["cranking"]


def test_a_load_that_is_on_half_of_the_time_is_no_broken_diode():
    """Its odd multiples are strong and the second is not; beside a faint six-pulse line it stands out tenfold."""
    load = lambda times: -0.2 * waves.switched(times, 331.0, 0.48)  # noqa: E731
    ripple = judge_ripple(waves.record(waves.six_pulse, 0.15, more=load))

    assert ripple.verdict not in BROKEN


def test_the_third_order_tells_an_open_diode_from_a_shorted_one():
    """The same sizes twice: aligned they leave a gap as a missing pulse does, with the third turned they do not."""
    times = np.arange(10_000) / 50_000.0
    noise = np.random.default_rng(5).normal(0, 2e-3, len(times))

    def verdict(third: float, sizes: tuple[float, ...]) -> str:
        angles = 2 * np.pi * 700.0 * times
        waves_of = (size * np.cos(order * angles) for order, size in enumerate(sizes, 1) if order not in (2, 3))
        wave = sum(waves_of) - sizes[1] * np.cos(2 * angles) + sizes[2] * np.cos(3 * angles + third)
        return judge_ripple(make_record(times, 13.2 + wave + noise), "posts").verdict

    sizes = (0.3, 0.15, 0.08, 0.02, 0.025, 0.02)
    assert [verdict(third, sizes) for third in (0.0, np.pi)] == ["one diode open", "one diode shorted"]
