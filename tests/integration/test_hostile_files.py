"""Files made to break readers: each ends as one sentence, soon, and in little memory.

Every case is a whole process under limits of memory and time, with input made on the fly.
"""

import os
import random
import resource
import subprocess
import sys
import threading
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parents[2] / "src"
DEMO = SOURCE / "putback" / "demo"
AREA, SHOP = DEMO / "demo-a.yaml", DEMO / "demo-shop.yaml"

MEMORY = 400_000_000  # bytes of address space, which holds all that is resident and more
SECONDS = 6  # of processor time; on the machine of the authors none takes two, and what hangs takes for ever
LONG = 20  # seconds on any clock: nothing waits

HEAD = """\
area: 1
name: sample
figures from: invented
work from: {top: any posture, under: raised}
targets: {pump: {new: 100.00}}
"""
PUMP = HEAD + "parts:\n  pump:\n    from: top\n    minutes: 4 off, 6 on\n"
BOLTS = PUMP + "    held by:\n      pump bolts: "
SHOP_HEAD = "shop: 1\nname: s\nlabour: 60.00 per hour\n"


def limits() -> None:
    """For the process that is about to begin."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS + 1))


def run(*words, **kwargs) -> subprocess.CompletedProcess:
    """One process of the program under its limits."""
    env = {**os.environ, "PYTHONPATH": str(SOURCE)}
    command = [sys.executable, "-m", "putback", *map(str, words)]
    kwargs = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE} | kwargs
    return subprocess.run(command, env=env, timeout=LONG, preexec_fn=limits, **kwargs)


def told(done: subprocess.CompletedProcess) -> list[str]:
    """What was said, line by line: plain sentences, and nothing that a terminal obeys."""
    text = ((done.stdout or b"") + (done.stderr or b"")).decode("utf-8")
    assert "Traceback" not in text
    assert "fault of its own" not in text
    lines = text.splitlines()
    assert all(line.isprintable() and len(line) < 700 for line in lines)
    return lines


@pytest.fixture
def place(tmp_path, monkeypatch):
    """A folder of one's own to work in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def many(line: str, count: int) -> str:
    """A line so many times, each with its own number."""
    return "".join(line.format(n) for n in range(count))


# Each with the place or the words that its sentence has.
AREAS = {
    "an alias bomb": ("a: &a [x, x, x]\nb: &b [*a, *a, *a]\nc: &c [*b, *b, *b]\n", ":1:4: an anchor"),
    "a merge key": ("area: 1\nx:\n  <<: *b\n", ":3:7: an alias"),
    "50 MB": (b"a: 1\n" * 10_000_000, "larger than 500 kB"),
    "50 MB of zeros": (bytes(50_000_000), "larger than 500 kB"),
    "lists without end": ("area: " + "[" * 100_000, ":1:26: this is nested more than 20 deep"),
    "closed lists": ("area: " + "[" * 100_000 + "]" * 100_000, "nested more than 20 deep"),
    "mappings without end": ("area: " + "{a: " * 100_000, "nested more than 20 deep"),
    "dashes without end": ("- " * 100_000, "nested more than 20 deep"),
    "steps without end": (many("{0:>{0}}:\n", 900).replace(" 0:", "a:"), ":"),
    "UTF-16 with a mark": (PUMP.encode("utf-16"), "not UTF-8"),
    "UTF-16 without a mark": (PUMP.encode("utf-16-le"), "U+0000 may not stand in YAML; save the file as UTF-8"),
    "Latin-1": ((BOLTS + "M8x20, 13 mm, 22 N·m").encode("latin-1"), ":11: the file is not UTF-8"),
    "noise": (random.Random(1).randbytes(200_000), "not UTF-8"),
    "half a pair": (PUMP.encode() + b"# \xed\xa0\x80\n", "not UTF-8"),
    "half a pair, escaped": (PUMP + '    is: "\\ud800"\n', ":10:12: not YAML"),
    "no character at all": (PUMP + '    is: "\\U00110000"\n', ":10:12: not YAML"),
    "a number for a mapping": (HEAD + "parts: 7\n", ":6:8: expected the names of things"),
    "a list for a mapping": (HEAD + "parts: [a]\n", ":6:8: expected the names of things"),
    "a mapping for a list": (PUMP + "    behind: {a: b}\n", ":10:13: expected the name"),
    "a day": (HEAD + "parts: 2026-01-01\n", ":6:8: expected the names of things"),
    "a tag": (PUMP + "    is: !!python/object/apply:os.system [ls]\n", ":10:9: a tag"),
    "bytes": (PUMP + "    is: !!binary aGVsbG8=\n", ":10:9: a tag"),
    "a key again": (PUMP + "parts: {}\n", '"parts" stands here and in line 6'),
    "things without end": (HEAD + "parts:\n" + many("  p{}: x\n", 1_000_000), "larger than 500 kB"),
    "fasteners without end": (PUMP + "    held by:\n" + many("      b{}: M8, 13 mm\n", 1_000_000), "larger than 500 kB"),
    "too many fasteners": (PUMP + "    held by:\n" + many("      b{}: M8, 13 mm\n", 12_000), "more than 5000 things"),
    "too many keys": (PUMP + "    behind: [" + "a, " * 60_000 + "]\n", "more than 50000 keys"),
    "a long list": (PUMP + "    behind: [" + "a, " * 1_000 + "]\n", ":10:13: more than 200 entries"),
    "a long text": (PUMP + "    is: " + "x" * 400_000 + "\n", ":10:9: this text has more than 4000 characters"),
    "10 MB of text": (PUMP + "    is: " + "x" * 10_000_000 + "\n", "larger than 500 kB"),
    "a long name": (HEAD + "parts:\n  " + "x" * 500 + ": {from: top, minutes: '1 off, 1 on'}\n", ":7:3: a name of more"),
    "no name": (HEAD + 'parts:\n  "": {from: top, minutes: "1 off, 1 on"}\n', ":7:3: a name is missing"),
    "so many pieces": (BOLTS + "1" + "0" * 400 + " x M8x20, 13 mm\n", "more than the 1000 pieces"),
    "so many minutes": (HEAD + "parts: {pump: {from: top, minutes: '1" + "0" * 400 + " off, 1 on'}}\n", "minutes that are taken for real"),
    "so thick": (BOLTS + "M1" + "0" * 400 + "x20, 13 mm\n", ":11:19:"),
    "so tight": (BOLTS + "M8x20, 13 mm, 1" + "0" * 300 + " N·m\n", ":11:19:"),
    "so often": (BOLTS + "M8x20, 13 mm, 20 N·m in 1000000000 passes\n", ":11:19:"),
    "no number": (HEAD + "parts: {pump: {from: top, minutes: 'nan off, 1 on'}}\n", "is not understood"),
    "no torque": (BOLTS + "M8x20, 13 mm, inf N·m\n", '"inf N·m" is no torque'),
    "nothing, with a sign": (HEAD + "parts: {pump: {from: top, minutes: '-0 off, 1 on'}}\n", "is not understood"),
    "a raised two": (PUMP + "    held by:\n      b: {is: 'M8, 13 mm', count: ²}\n", ":11:35:"),
    "a letter that looks like ours": (BOLTS + "\u041c8x20, 13 mm\n", "U+041C only looks like"),
    "right to left": (PUMP + "    behind: ['\u202ecover']\n", ":10:14: this text holds U+202E"),
    "no width": (HEAD + "parts: {pu\u200bmp: {}}\n", ":6:9: this text holds U+200B"),
    "a clear screen": (PUMP + '    behind: ["\\e[2J\\e]0;x\\a"]\n', ":10:14: this text holds U+001B"),
    "a raw escape": (PUMP + "    behind: [\x1b[2J]\n", "U+001B may not stand in YAML"),
    "a slow phrase": (PUMP + "    held by:\n" + many("      b{}: 'M8, 1" + " " * 3_800 + "x'\n", 120), ":11:11:"),
    "a slow line": (PUMP + "    held by:\n" + many("      b{}: '" + "M8, left hnad" * 99 + "'\n", 300), "more than 24 phrases"),
    "parts of parts": (HEAD + "parts:\n" + many("  p{0}: {{from: top, part of: q{0}}}\n  q{0}: {{from: top, part of: p{0}}}\n", 900), "in a circle"),
    "two ways each": (PUMP + "put in:\n" + many("  s{}: {{secures: pump, from: top, minutes: '1 in, 1 out', by: {{a: {{}}, b: {{}}}}}}\n", 30), "more than 200 ways together"),
    "covers of covers": (PUMP + "put in:\n" + many("  a{0}: {{covers: b{0}, part of: pump, from: top}}\n  b{0}: {{covers: a{0}, part of: pump, from: top}}\n", 9), "is put in itself"),
    "a great circle": (HEAD.replace("pump", "p0") + "parts:\n" + "".join(f"  p{n}: {{from: top, minutes: '1 off, 1 on', behind: p{(n + 1) % 1_000}}}\n" for n in range(1_000)), "a circle that nothing can open"),
}  # fmt: skip


def written(place: Path, name: str) -> str:
    """The file of one case."""
    file, data = place / f"{name}.yaml", AREAS[name][0]
    file.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8"))
    return file.name


def is_told(name: str, lines: list[str]) -> bool:
    """Whether the words of a case stand among the lines about its file, and not too many lines do."""
    own = [line for line in lines if line.startswith(f"{name}.yaml:")]
    return len(own) <= 51 and any(AREAS[name][1] in line for line in own)


SMALL = [name for name, (data, _) in AREAS.items() if len(data) < 20_000]


def test_small_hostile_areas_end_in_sentences(place):
    """All of them in one process; each with its place, exit status 1."""
    done = run("check", *(written(place, name) for name in SMALL))
    lines = told(done)

    assert (done.returncode, done.stderr) == (1, b"")
    assert [name for name in SMALL if not is_told(name, lines)] == []


@pytest.mark.parametrize("name", [name for name in AREAS if name not in SMALL])
def test_a_large_hostile_area_ends_in_sentences(place, name):
    """A process for each."""
    done = run("check", written(place, name))

    assert (done.returncode, done.stderr) == (1, b"")
    assert is_told(name, told(done))


@pytest.mark.parametrize("name", ["an alias bomb", "a clear screen", "two ways each"])
def test_planning_refuses_a_hostile_area_as_well(place, name):
    """In the same words, with exit status 2."""
    words = AREAS[name][1]
    done = run("way", written(place, name))

    assert (done.returncode, done.stdout) == (2, b"")
    assert words in "\n".join(told(done))


def test_a_million_mistakes_are_not_a_million_lines(place):
    """Fifty are told, and that there are more."""
    (place / "f.yaml").write_text(HEAD + "parts:\n" + many("  p{}: q\n", 20_000))
    lines = told(run("check", "f.yaml"))

    assert len(lines) == 51
    assert lines[-1] == "f.yaml: there is more; it is told when these are put right"


def test_mistakes_among_thousands_of_names_are_told_in_time(place):
    """Each is compared with all names to find the one that was meant."""
    lines = many("  part number {0}: {{from: top, minutes: '1 off, 1 on', behind: [prat number {0}]}}\n", 2_000)
    (place / "f.yaml").write_text(HEAD + "parts:\n" + lines)

    assert '"prat number 7" is not in this file; did you mean "part number 7"?' in "\n".join(told(run("check", "f.yaml")))


def test_a_large_area_is_read_all_the_same(place):
    """A thousand parts, a thousand groups of fasteners and half as many plugs."""
    line = "  part {0}:\n    from: top\n    minutes: 6 off, 8 on\n    held by:\n      bolts of {0}: 4 x M8x20, class 8.8, 13 mm, 22 N·m\n"
    text = HEAD.replace("pump", "part 0") + "parts:\n" + many(line + "    plugs: [plug of {0}]\n", 1_000)
    (place / "f.yaml").write_text(text, encoding="utf-8")
    done = run("check", "f.yaml")

    assert (done.returncode, told(done)) == (0, ["1 file checked, nothing wrong"])


SHOPS = {
    "nothing below the line": (SHOP_HEAD + "set-up minutes: {tool: 1/0}\n", ":4:24:"),
    "a number of a million digits": (SHOP_HEAD + "set-up minutes: {tool: 1e99999999}\n", ":4:24:"),
    "a minus": (SHOP_HEAD + "set-up minutes: {tool: -3}\n", ":4:24:"),
    "full stops": (SHOP_HEAD + "raises cars: {on a lift: '1.2.3 min up, . min down'}\n", ":4:26:"),
    "so many people": (SHOP_HEAD + "people: 1" + "0" * 400 + "\n", "more than the 1000 pieces"),
    "a tax on everything": (SHOP_HEAD + "tax: 1" + "0" * 300 + " %\n", "is no tax rate"),
    "no such day": (SHOP_HEAD + "torque wrenches: {a: '1-5 N·m, calibrated 2026-13-45'}\n", ":4:22:"),
}


def test_hostile_shops_end_in_a_sentence_each(place):
    """All of them in one process."""
    for name, (data, _) in SHOPS.items():
        (place / name).write_text(data, encoding="utf-8")
    done = run("check", *SHOPS)
    lines = told(done)

    assert (done.returncode, len(lines)) == (1, len(SHOPS))
    assert all(words in line for line, (_, words) in zip(lines, SHOPS.values(), strict=True))


STATE_HEAD = "state: 1\narea: alternator behind a transverse four, demo car A\n"
STATES = {
    "names that are not there": STATE_HEAD + "now: {" + many("x{}: off, ", 15_000) + "}\n",
    "so many of so many": STATE_HEAD + "now: {engine cover: 1" + "0" * 3_000 + " of 3 off}\n",
    "a wait for ever": STATE_HEAD + "still to wait: {battery clamp: 1" + "0" * 300 + " min}\n",
    "a price beyond all": STATE_HEAD + "broken: {engine cover: 1" + "0" * 300 + "}\n",
}


@pytest.mark.parametrize("name", STATES)
def test_a_hostile_state_ends_in_sentences(place, name):
    """Read with its area."""
    (place / "f.yaml").write_text(STATES[name])
    done = run("check", AREA, "f.yaml")

    assert done.returncode == 1
    assert len(told(done)) <= 51


DRIVE_HEAD = "drive: 1\nname: d\nbelt: 6PK2400\npulleys:\n"
CRANK = "  c: {is: driver, at: '0, 0 mm', effective diameter: 60 mm, grooves: 6, rotation: clockwise}\n"
WHEEL = "  p{0}: {{is: idler, at: '{1}, {2} mm', outside diameter: 10 mm}}\n"
ARM = """\
  t: {is: idler, outside diameter: 10 mm}
tensioner: {pulley: t, pivot: '45, 45 mm', arm: 300 mm, range: 100 to 0 deg"""
DRIVES = {
    "a number of a thousand digits": (DRIVE_HEAD + CRANK.replace("60 mm", "6" * 1_000 + " mm"), 1),
    "an angle of a thousand digits": (DRIVE_HEAD + CRANK + ARM.replace("100", "1" * 1_000) + "}\n", 1),
    "signs and blanks without end": (DRIVE_HEAD + CRANK.replace("0, 0 mm", "-" * 1_900 + " " * 1_900), 1),
    "not a number": (DRIVE_HEAD + CRANK.replace("60 mm", "nan mm") + WHEEL.format(1, "inf", "-inf"), 3),
    "a thousand pulleys": (DRIVE_HEAD + CRANK + "".join(WHEEL.format(n, 90 * n, 0) for n in range(1_000)), 1),
    "all in one place": (DRIVE_HEAD + CRANK + "".join(WHEEL.format(n, 0, 0) for n in range(11)), 60),
    "a clear screen": (DRIVE_HEAD + CRANK.replace("  c:", '  "\\e[2J":'), 1),
    "a route without end": (DRIVE_HEAD + CRANK + WHEEL.format(1, 90, 0) + "route: [" + "c, " * 9_000 + "]\n", 1),
    "a name like a route": (DRIVE_HEAD + CRANK + "laid: ['" + "c, 1 rib off " * 300 + "']\n", 2),
}  # fmt: skip


@pytest.mark.parametrize("name", DRIVES)
def test_a_hostile_drive_ends_in_sentences(place, name):
    """Each with its place, exit status 2; and by the check as well, with 1."""
    text, most = DRIVES[name]
    (place / "f.yaml").write_text(text, encoding="utf-8")
    done, checked = run("belt", "f.yaml"), run("check", "f.yaml")

    assert (done.returncode, done.stdout, checked.returncode) == (2, b"", 1)
    assert 1 <= len(told(done)) == len(told(checked)) <= most
    assert all(line.startswith("f.yaml:") for line in told(done))


@pytest.mark.parametrize("arm", ["", ARM + "}\n"])
def test_a_drive_of_which_hardly_anything_is_known_ends_in_time(place, arm):
    """Twelve small pulleys anyhow: more routes are thinkable than can be tried, and that is said."""
    rng = random.Random(3)
    places = [(90 * (n % 4), 90 * (n // 4) + rng.randint(0, 9)) for n in range(1, 12 - bool(arm))]
    wheels = "".join(WHEEL.format(n, *place) for n, place in enumerate(places))
    (place / "f.yaml").write_text(DRIVE_HEAD + CRANK + wheels + arm, encoding="utf-8")
    done = run("belt", "f.yaml")

    assert done.returncode in (0, 1)
    assert any("not all were tried" in line for line in told(done))


CORES = {
    "nothing": b"",
    "noise": random.Random(1).randbytes(100_000),
    "lists without end": b"[" * 1_000_000,
    "mappings without end": b'{"a":' * 500_000,
    "50 MB": b'{"core": 2, "items": [' + b"{}," * 16_000_000 + b"{}]}",
    "7 MB": b'{"core": 2, "items": [' + b"{}," * 2_300_000 + b"{}]}",
    "a long number": b'{"core": 2, "rate": ' + b"1" * 5_000 + b"}",
    "half a pair": b'{"core": 2, "name": "\\ud800\\u001b[2J", "items": "\\u202e"}',
    "UTF-16": '{"core": 2}'.encode("utf-16"),
    "a key again, late": b"{" + b",".join(b'"k%d":1' % n for n in range(200_000)) + b',"k199999":2}',
}


@pytest.mark.parametrize("name", CORES)
def test_a_hostile_core_problem_ends_in_one_sentence(place, name):
    """Exit status 2."""
    (place / "core.json").write_bytes(CORES[name])
    done = run("way", "--core", "core.json")

    assert (done.returncode, done.stdout, len(told(done))) == (2, b"", 1)


def test_an_endless_standard_input_is_not_read_to_its_end():
    """As much as a problem may have, and one byte more."""
    with Path("/dev/zero").open("rb") as endless:
        done = run("way", "--core", "-", stdin=endless)

    assert (done.returncode, told(done)) == (2, ["-: this is larger than 8 MB; no problem of a car needs that much"])


def test_names_of_a_core_problem_cannot_steer_a_terminal(place):
    """What a terminal would obey is written out; JSON stays JSON."""
    core = (SOURCE.parent / "docs" / "examples" / "box.json").read_text().replace("lid: off", "lid\\u001b[2J\\u202e")
    (place / "core.json").write_text(core)

    assert any("\\u001b[2J\\u202e" in line for line in told(run("way", "--core", "core.json")))
    assert any("\\u001b[2J\\u202e" in line for line in told(run("way", "--core", "core.json", "--json")))


@pytest.mark.parametrize("words", [("quote",), ("torque", "table"), ("way",), ("way", AREA, "--shop"), ("way", AREA, "--state"), ("way", "--core")])
def test_a_pipe_that_nobody_writes_to_is_told_at_once(place, words):
    """By every way in which a file is named."""
    os.mkfifo("pipe")
    done = run(*words, "pipe")

    assert (done.returncode, done.stdout, len(told(done))) == (2, b"", 1)


def test_what_is_no_file_is_told_at_once(place):
    """Folders, pipes, devices, and names with escape codes in them."""
    os.mkfifo("pipe")
    (place / "folder").mkdir()
    (place / "loop").symlink_to("loop")
    for name, said in {
        "folder": "folder: this is a folder",
        "pipe": "pipe: this is a pipe or a device",
        "/dev/zero": "/dev/zero: this is a pipe or a device",
        "/dev/tty0 \x1b[2J": "/dev/tty0 \\u001b[2J: there is no such file",
        "gone": "gone: there is no such file",
        "loop": "loop: Too many levels",
    }.items():
        done = run("check", name)
        lines = told(done)
        assert (done.returncode, done.stdout, len(lines)) == (2, b"", 1)
        assert lines[0].startswith(said)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read_is_told(place):
    """By its name, with what to do."""
    (place / "f.yaml").write_text(PUMP)
    (place / "f.yaml").chmod(0)

    assert told(run("check", "f.yaml")) == ["f.yaml: this file may not be read by you; look at its permissions"]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
def test_an_output_that_is_full_is_told():
    """With exit status 2, and no traceback."""
    with Path("/dev/full").open("wb") as full:
        done = run("check", AREA, stdout=full)

    assert done.returncode == 2
    assert told(done) == ["the output: No space left on device"]


def test_a_file_that_changes_while_it_is_read_does_no_harm(place):
    """It is read once, and judged as it was read."""
    path, stop = place / "f.yaml", threading.Event()

    def rewrite() -> None:
        while not stop.is_set():
            path.write_text(PUMP * random.Random(1).randrange(3))
            path.unlink()

    writer = threading.Thread(target=rewrite)
    writer.start()
    try:
        for _ in range(3):
            assert run("check", "f.yaml").returncode in (0, 1, 2)
    finally:
        stop.set()
        writer.join()
