"""`putback evidence`."""

import json
from xml.etree import ElementTree

import numpy as np
import pytest
import wave_samples as waves

from putback.cli import main

SPACE = "{http://www.w3.org/2000/svg}"
KEYS = ["file", "ripple", "cranking", "confidence", "cannot_separate", "mean_v", "ripple_hz", "why"]
EXAMPLE = "docs/examples/idle-loaded.csv.gz"


@pytest.fixture
def example(root) -> str:
    return str(root / EXAMPLE)


def written(path, times, volts) -> str:
    path.write_text("time_s,volts\n" + "\n".join(f"{t:.6f},{v:.4f}" for t, v in zip(times, volts, strict=True)))
    return str(path)


@pytest.fixture
def cranked(tmp_path) -> str:
    """Volts alone: 12.6 V at rest, the rush, then the engine turning at five compressions a second."""
    times = np.arange(4000) / 2000.0
    since = np.maximum(times - 0.3, 0.0)
    turning = 0.9 + 0.15 * np.sin(2 * np.pi * 6 * since) + 2.4 * np.exp(-since / 0.04)
    volts = 12.6 - np.where(times > 0.3, turning, 0.0) + np.random.default_rng(1).normal(0, 5e-3, len(times))
    return written(tmp_path / "crank.csv", times, volts)


def told(capsys, *words) -> list[dict]:
    assert main(["evidence", *words, "--json"]) == 0
    return [json.loads(line) for line in capsys.readouterr().out.splitlines()]


def test_one_object_a_line_in_the_order_given(capsys, example, cranked):
    """The keys of the issue, in their order; a running record has no cranking, a cranking one no ripple."""
    running, cranking = told(capsys, example, cranked, "--at", "posts")

    assert list(running) == KEYS == list(cranking)
    assert (running["file"], running["ripple"], running["cranking"]) == (example, "one diode open", None)
    assert running["ripple_hz"] == pytest.approx(567, abs=1)
    assert running["mean_v"] == pytest.approx(13.7, abs=0.1)
    assert (cranking["ripple"], cranking["cranking"], cranking["ripple_hz"]) == ("cannot tell", "healthy", None)
    assert 0 < cranking["confidence"] <= 1


def test_people_see_sentences(capsys, example):
    """Not the keys."""
    assert main(["evidence", example]) == 0
    out = capsys.readouterr().out

    assert "running, one diode open (" in out
    assert "not told apart: upper or lower diode" in out
    assert "ripple_hz" not in out


def test_one_bad_record_does_not_cost_the_others(capsys, example, tmp_path):
    """They are judged, the bad one is told at the end, and the status says so."""
    bad = tmp_path / "bad.csv"
    bad.write_text("time,volts\n0.1,x\n")

    assert main(["evidence", str(bad), str(tmp_path / "none.csv"), example, "--json"]) == 2
    out, err = capsys.readouterr()
    assert json.loads(out)["ripple"] == "one diode open"
    assert [line.partition(": ")[0] for line in err.splitlines()] == [f"{bad}:1:1", str(tmp_path / "none.csv")]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--rpm", "0"], "--rpm 0 is out of range"),
        (["--rpm", "nan"], "--rpm nan is out of range"),
        (["--pole-pairs", "6"], "says nothing without --rpm"),
        (["--rate", "1e99"], "--rate 1e+99 is out of range"),
        (["--at", "roof"], "invalid choice"),
    ],
)
def test_options_out_of_range_are_refused(capsys, example, words, said):
    """One sentence."""
    assert main(["evidence", example, *words]) == 2
    assert said in capsys.readouterr().err


def test_pictures_go_into_a_folder(capsys, example, cranked, tmp_path):
    """One for each record, under its own name; several into one file are refused."""
    folder = tmp_path / "pictures"
    folder.mkdir()

    assert main(["evidence", example, cranked, "--svg", str(folder)]) == 0
    assert sorted(path.name for path in folder.iterdir()) == ["crank.svg", "idle-loaded.svg"]
    assert main(["evidence", example, cranked, "--svg", str(tmp_path / "one.svg")]) == 2


def test_the_picture_has_record_spectrum_and_orders(capsys, example, cranked, tmp_path):
    """One trace in each half, the orders by their numbers, all of it in words; of cranking the record alone."""
    trees = []
    for record in (example, cranked):
        assert main(["evidence", record, "--svg", str(tmp_path / "a.svg")]) == 0
        trees.append(ElementTree.parse(tmp_path / "a.svg").getroot())
    running, cranking = trees
    texts = [one.text for one in running.iter(f"{SPACE}text")]

    assert [len(list(tree.iter(f"{SPACE}polyline"))) for tree in trees] == [2, 1]
    assert {"1", "2", "3", "6", "12", "V", "mV", "time, ms", "frequency, Hz"} <= set(texts)
    assert "one diode open" in running.findtext(f"{SPACE}title")
    assert "orders 1, 2, 3" in running.findtext(f"{SPACE}desc")
    assert "time, s" in [one.text for one in cranking.iter(f"{SPACE}text")]


def test_the_same_record_gives_the_same_bytes(capsys, example, tmp_path):
    """Judged and drawn twice."""
    found = []
    for _ in range(2):
        main(["evidence", example, "--json", "--svg", str(tmp_path / "a.svg")])
        found.append((capsys.readouterr().out, (tmp_path / "a.svg").read_bytes()))

    assert found[0] == found[1]


def test_a_flat_line_and_a_slow_record_are_no_trouble(capsys, tmp_path):
    """12.6 V at rest, and a record with too few samples a second for any order."""
    flat = written(tmp_path / "flat.csv", np.arange(2000) / 20_000, np.full(2000, 12.6))
    slow = written(tmp_path / "slow.csv", np.arange(1500) / 500, 14 + waves.switched(np.arange(1500) / 500, 3.0, 0.5))

    assert [one["ripple"] for one in told(capsys, flat, slow)][0] in ("no ripple", "cannot tell")
