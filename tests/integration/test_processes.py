"""Whole processes: the same bytes each time, from any folder, with any file name."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

DEMO = Path(__file__).resolve().parents[2] / "src" / "putback" / "demo"
CORE = Path(__file__).resolve().parents[1] / "data" / "way" / "shop_10_1.json"
AREA, SHOP = DEMO / "demo-a.yaml", DEMO / "demo-shop.yaml"
TIMING = re.compile(r'^ *"(seconds|first_plan_s)": .*$', re.MULTILINE)


def run(*words, seed: str = "0", cwd=None, **kwargs) -> subprocess.CompletedProcess:
    """One process of the program, with hashes seeded as asked."""
    command = [sys.executable, "-m", "putback", *map(str, words)]
    path = os.pathsep.join(filter(None, [str(DEMO.parents[1]), os.environ.get("PYTHONPATH")]))
    env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": path}
    return subprocess.run(command, cwd=cwd, env=env, capture_output=True, timeout=120, **kwargs)


def output(*words, **kwargs) -> str:
    done = run(*words, **kwargs)
    assert (done.returncode, done.stderr) == (0, b"")
    return done.stdout.decode("utf-8")


@pytest.mark.parametrize(
    "words",
    [["way", AREA, "--shop", SHOP], ["way", AREA, "--shop", SHOP, "--json"], ["way", "--core", CORE, "--json"], ["demo"]],
    ids=["text", "json", "core", "demo"],
)
def test_the_same_input_gives_the_same_bytes(words):
    """Two runs, and hashes seeded otherwise; of the JSON all but the two times."""
    first, again, seeded = (TIMING.sub("", output(*words, seed=seed)) for seed in ("0", "0", "4711"))
    assert first == again == seeded


PLAN_UNDER_A_LIMIT = """
import json, sys
from putback.way import solve_core
found = solve_core(json.load(open(sys.argv[1], encoding="utf-8")), nodes=100)
print(json.dumps([found.total, found.lower, found.proved, found.nodes, found.plan]))
"""


def test_a_plan_that_is_not_proved_is_the_same_as_well():
    """Under a limit of nodes, which is the same on every machine, whatever the hashes."""
    core, found = CORE.with_name("shop_100_1.json"), []
    for seed in ("0", "1", "4711"):
        env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(DEMO.parents[1])}
        command = [sys.executable, "-c", PLAN_UNDER_A_LIMIT, core]
        found.append(subprocess.run(command, env=env, capture_output=True, check=True, timeout=120).stdout)

    assert found[0] == found[1] == found[2]
    assert json.loads(found[0])[2] is False


def test_it_runs_from_any_folder_with_any_file_name(tmp_path):
    """Spaces, umlauts and a leading dash; all three files by a relative path."""
    folder = tmp_path / "my cars, Wölfe"
    folder.mkdir()
    shutil.copy(AREA, folder / "the area.yaml")
    shutil.copy(SHOP, folder / "unser Schöp.yaml")
    shutil.copy(DEMO / "demo-a-mount-nut-seized.yaml", folder / "-state.yaml")

    plain = output("way", AREA, "--shop", SHOP, "--state", DEMO / "demo-a-mount-nut-seized.yaml")
    named = output("way", "the area.yaml", "--shop", "unser Schöp.yaml", "--state=-state.yaml", cwd=folder)
    assert named == plain


def test_a_core_problem_can_come_through_a_pipe():
    """A dash stands for the standard input; the steps are those of the file."""
    piped = json.loads(run("way", "--core", "-", "--json", input=CORE.read_bytes()).stdout)
    assert piped["plan"] == json.loads(output("way", "--core", CORE, "--json"))["plan"]


@pytest.mark.parametrize("content", [b"", b"\xff", b"{", b'{"core": 2}', b"[" * 10**6])
def test_a_hostile_pipe_ends_in_one_sentence(content):
    """Exit status 2, one line, no traceback."""
    done = run("way", "--core", "-", input=content)
    assert (done.returncode, done.stdout, done.stderr.count(b"\n")) == (2, b"", 1)
    assert b"Traceback" not in done.stderr


def test_the_plan_prints_where_the_terminal_knows_only_ascii():
    """The dot of N·m becomes a full stop; nothing else fails."""
    env = {"PYTHONIOENCODING": "ascii", "PYTHONPATH": str(DEMO.parents[1])}
    done = subprocess.run(
        [sys.executable, "-m", "putback", "demo"], env={**os.environ, **env}, capture_output=True, timeout=120
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"to 46 N.m" in done.stdout


@pytest.mark.parametrize("words, status", [(["demo"], 0), (["way", AREA, "--shop", SHOP, "--without", "two-post lift", "--without", "axle stand"], 1), (["way"], 2)])
def test_exit_statuses_reach_the_shell(words, status):
    """Done, an honest no, and a command line that says too little."""
    assert run(*words).returncode == status


def test_a_reader_that_stops_reading_is_no_disaster():
    """As `putback demo | head -1` does."""
    with subprocess.Popen(
        [sys.executable, "-u", "-m", "putback", "demo"],
        env={**os.environ, "PYTHONPATH": str(DEMO.parents[1])}, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as process:  # fmt: skip
        process.stdout.readline()
        process.stdout.close()
        complaint = process.stderr.read()
        assert process.wait(timeout=60) in (0, 141)
    assert complaint == b""
