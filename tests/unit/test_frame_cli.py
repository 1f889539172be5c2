"""The front: exit status, one sentence for each trouble, no traceback, and help at once."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from frame_fake import COMMANDS, FAMILY
from frame_fake import __file__ as FAKE

from putback import __version__
from putback.cli import COMMANDS as REAL
from putback.cli import main
from putback.terminal import visible


def run(*words):
    return main(list(words), COMMANDS)


def start(*words, code=None, **kwargs):
    """Start the fake front as a process of its own."""
    command = [sys.executable, *(["-c", code] if code else [FAKE]), *words]
    return subprocess.run(command, capture_output=True, text=True, encoding="utf-8", timeout=60, **kwargs)


def test_fine_ends_with_zero(capsys):
    """What a command prints goes to stdout, and nothing else does."""
    assert run("fake", "fine") == 0
    assert capsys.readouterr() == ("25 N·m\n", "")


@pytest.mark.parametrize(
    ("outcome", "status", "said"),
    [
        ("input_error", 2, 'car.yaml:41:7: torque "25 lb" has no clear unit\n'),
        ("other_error", 2, "something a person should read\n"),
        ("no_way", 1, "every way lowers the subframe; it would take: support bar\n"),
        ("findings", 2, "car.yaml:1: first\ncar.yaml:2: second\n"),
        ("missing_file", 2, "no such file.yaml: No such file or directory\n"),
    ],
)
def test_trouble_ends_as_its_sentence(capsys, outcome, status, said):
    """Each kind of trouble has its exit status; its text stands alone on stderr."""
    assert run("fake", outcome) == status
    assert capsys.readouterr() == ("", said)


def test_a_fault_is_one_sentence_and_a_file(capsys, tmp_path, monkeypatch):
    """Who meets a fault sees one line; the traceback is in the file that it names."""
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))

    assert run("fake", "fault") == 70
    [report] = tmp_path.iterdir()
    said = capsys.readouterr().err
    assert said == (
        "putback has a fault of its own (ZeroDivisionError: division by zero); "
        f"please report it: the details are in {report}\n"
    )
    assert "Traceback" in report.read_text()
    assert "arguments: ['fake', 'fault']" in report.read_text()


def test_a_fault_without_room_for_a_file_names_the_switch(capsys, tmp_path, monkeypatch):
    """Where no file can be written, the sentence says how to see more."""
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "gone"))

    assert run("fake", "fault") == 70
    assert "PUTBACK_DEBUG=1" in capsys.readouterr().err


def test_debugging_lets_the_fault_through(monkeypatch):
    """Whoever asks for the traceback gets it."""
    monkeypatch.setenv("PUTBACK_DEBUG", "1")

    with pytest.raises(ZeroDivisionError):
        run("fake", "fault")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["fkae"], 'there is no command "fkae"; there are: fake, absent\n'),
        (["fake"], "the following arguments are required: outcome; see putback fake --help\n"),
        (["fake", "fine", "--tork", "3"], "unrecognized arguments: --tork 3; see putback fake --help\n"),
        (["--vers"], "unrecognized arguments: --vers; see putback --help\n"),
    ],
)
def test_a_wrong_command_line_is_one_sentence(capsys, words, said):
    """No usage dump: what is wrong, and where to read on."""
    assert main(words, COMMANDS) == 2
    assert capsys.readouterr() == ("", said)


def test_options_are_not_guessed_from_their_first_letters(capsys):
    """A shortened option is refused, so that a new option never changes what an old script does."""
    assert run("fake", "fine", "--tor", "3") == 2


@pytest.mark.parametrize("words", [[], ["--help"]])
def test_help_lists_every_command(capsys, words):
    """Without a command, or on request, the list of commands appears, and all is well."""
    assert main(words) == 0
    out = capsys.readouterr().out
    assert all(f"\n    {name} " in out and text in " ".join(out.split()) for name, (_, text) in REAL.items())


def test_help_of_a_command_begins_with_what_it_is_for(capsys):
    """The command's own help has its arguments."""
    assert run("fake", "--help") == 0
    out = capsys.readouterr().out
    assert "End as told." in out and "--torque" in out


def test_version(capsys):
    """The version is the package's."""
    assert run("--version") == 0
    assert capsys.readouterr().out == f"putback {__version__}\n"


def test_a_family_of_commands_runs_its_own_words(capsys):
    """The word after the command is looked up in the family's own table; only that word's module is imported."""
    assert main(["family", "fake", "fine"], FAMILY) == 0
    assert capsys.readouterr() == ("25 N·m\n", "")


@pytest.mark.parametrize("words", [["family"], ["family", "--help"]])
def test_a_family_lists_its_words(capsys, words):
    """Without a word, or on request, all is well and each word is told of."""
    assert main(words, FAMILY) == 0
    out = capsys.readouterr().out
    assert "usage: putback family" in out
    assert "fake end as told absent never asked for" in " ".join(out.split())


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["family", "fkae"], '"putback family" has no command "fkae"; there are: fake, absent\n'),
        (["family", "--x"], "unrecognized arguments: --x; see putback family --help\n"),
        (["family", "fake"], "the following arguments are required: outcome; see putback family fake --help\n"),
    ],
)
def test_a_wrong_word_of_a_family_is_one_sentence(capsys, words, said):
    """It names the family, and where to read on."""
    assert main(words, FAMILY) == 2
    assert capsys.readouterr() == ("", said)


def test_only_the_module_of_the_command_is_imported():
    """Help must come at once: no room, no YAML, no numpy behind it."""
    code = "import sys, putback.cli; putback.cli.main(['--help']); print(*sorted(sys.modules), file=sys.stderr)"

    loaded = start(code=code).stderr.split()
    ours = [name for name in loaded if name.startswith("putback")]
    assert ours == ["putback", "putback.cli", "putback.errors", "putback.terminal"]
    assert not {"yaml", "numpy", "json", "tempfile", "traceback", "shutil"} & set(loaded)


def test_interrupting_is_quiet():
    """Ctrl-C ends with the status shells expect, without a word."""
    done = start("fake", "interrupted")
    assert (done.returncode, done.stdout, done.stderr) == (130, "", "")


def test_a_reader_that_leaves_early_is_no_trouble():
    """`putback ... | head -1` prints its line and nothing on stderr."""
    pipe = f'"{sys.executable}" "{FAKE}" fake talkative | head -1; "{sys.executable}" "{FAKE}" --help | true'
    done = subprocess.run(["sh", "-c", pipe], capture_output=True, text=True, timeout=60)
    assert (done.stdout, done.stderr) == ("a line that nobody reads\n", "")


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="needs /dev/full")
def test_a_full_disk_is_said():
    """Output that cannot be written is a failure, said once."""
    with Path("/dev/full").open("w") as full:
        command = [sys.executable, FAKE, "fake", "fine"]
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, text=True, timeout=60)
    assert (done.returncode, done.stderr) == (2, "the output: No space left on device\n")


def test_a_closed_stdout_is_no_trouble():
    """A start without any stdout ends as if somebody read it."""
    code = "import sys; sys.stdout = None; from frame_fake import COMMANDS; from putback.cli import main\n"
    code += "sys.exit(main(['fake', 'fine'], COMMANDS))"
    done = start(code=code, env={"PYTHONPATH": ":".join(sys.path)})
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize(
    ("encoding", "out"),
    [("ascii", b"25 N.m\n"), ("latin-1", b"25 N\xb7m\n"), ("utf-8", "25 N·m\n".encode())],
)
def test_signs_of_the_trade_never_fail(encoding, out):
    """A terminal that lacks a sign gets a plain one in its place."""
    env = {"PYTHONIOENCODING": encoding, "PYTHONPATH": ":".join(sys.path)}
    done = subprocess.run([sys.executable, FAKE, "fake", "fine"], capture_output=True, env=env, timeout=60)
    assert (done.returncode, done.stdout) == (0, out)


def test_the_plain_locale_prints():
    """LANG=C on a terminal or in a pipe must not stop the work."""
    done = start("fake", "fine", env={"LC_ALL": "C", "PYTHONPATH": ":".join(sys.path)})
    assert (done.returncode, done.stdout) == (0, "25 N·m\n")


def test_what_a_terminal_would_obey_is_written_out():
    """Controls, marks of direction and signs without width; line ends and all that can be seen stay."""
    assert visible("a\x1b[2J\x9b\u202e\u200b\t\nÖ·🔧") == "a\\u001b[2J\\u009b\\u202e\\u200b\\u0009\nÖ·🔧"
    assert json.loads(f'"{visible(chr(0xE0001))}"') == "\U000e0001"


def test_a_complaint_cannot_steer_a_terminal(capsys):
    """Not even by the name of a file that is not there."""
    assert main(["check", "\x1b[2J.yaml"]) == 2
    assert capsys.readouterr().err == "\\u001b[2J.yaml: there is no such file\n"
