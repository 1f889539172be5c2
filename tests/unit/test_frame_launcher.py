"""The launcher: starts from anywhere, never takes a half-made environment for a whole one, says what is missing.

All of it happens in a copy of the project whose lock names no package, so that nothing is fetched.
"""

import importlib.util
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from putback import __version__

VERSION = f"putback {__version__}\n"
ROOT = Path(__file__).resolve().parents[2]
LOCK = "# nothing is needed\n"


def copy_project(target: Path) -> Path:
    """The launcher with all that it needs, and the lock that names nothing."""
    target.mkdir(parents=True)
    for folder in ("src", "scripts"):
        shutil.copytree(ROOT / folder, target / folder, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "putback", target / "putback")
    (target / "requirements.txt").write_text(LOCK)
    return target


def start(launcher, *words, **kwargs):
    """Start the launcher with the Python that runs the tests."""
    env = {**os.environ, "PUTBACK_PYTHON": sys.executable, **kwargs.pop("env", {})}
    return subprocess.run(
        [launcher, *words], capture_output=True, text=True, encoding="utf-8", env=env, timeout=120, **kwargs
    )


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A project in a path with spaces, started once."""
    project = copy_project(tmp_path_factory.mktemp("launcher") / "a path, with spaces" / "put back")
    done = start(project / "putback", "--version")
    assert (done.returncode, done.stdout) == (0, VERSION), done.stderr
    return project


@pytest.fixture
def project(made, tmp_path):
    """A copy of the started project, to be spoiled at will."""
    return Path(shutil.copytree(made, tmp_path / "project", symlinks=True))


@pytest.fixture
def tools(tmp_path):
    """A PATH that holds what the launcher calls, and no Python."""
    folder = tmp_path / "tools"
    folder.mkdir()
    for name in ("cmp", "dirname", "readlink", "sh"):
        (folder / name).symlink_to(shutil.which(name))
    return folder


def fake_python(folder: Path, name: str, status: int) -> None:
    """A Python that ends the launcher's probe with this status."""
    (folder / name).write_text(f"#!/bin/sh\nexit {status}\n")
    (folder / name).chmod(0o755)


def test_a_start_says_nothing_of_its_own(made):
    """Once set up, only the program speaks."""
    done = start(made / "putback", "--version")
    assert (done.returncode, done.stdout, done.stderr) == (0, VERSION, "")


def test_it_starts_without_looking_for_python(made, tools):
    """The usual start needs no Python on the PATH: it asks nothing of any but its own."""
    done = start(made / "putback", "--version", env={"PATH": str(tools)})
    assert (done.returncode, done.stdout, done.stderr) == (0, VERSION, "")


def test_it_starts_from_any_folder(made, tmp_path):
    """What lies in the caller's folder, or in the caller's Python settings, does not get in."""
    for module in ("argparse.py", "putback.py"):
        (tmp_path / module).write_text("raise SystemExit('the wrong module')\n")

    env = {"PYTHONPATH": str(tmp_path), "PYTHONHOME": str(tmp_path), "CDPATH": str(made)}
    done = start(made / "putback", "--version", cwd=tmp_path, env=env)
    assert (done.returncode, done.stdout, done.stderr) == (0, VERSION, "")


def test_it_starts_by_a_relative_path(made):
    """From its own folder and from the one above."""
    assert start("./putback", "--version", cwd=made).stdout == VERSION
    assert start(f"{made.name}/putback", "--version", cwd=made.parent).stdout == VERSION
    assert start("sh", "putback", "--version", cwd=made).stdout == VERSION


def test_it_starts_through_links(made, tmp_path):
    """A link, and a link to a link by a relative path, lead to the same program."""
    (tmp_path / "one").symlink_to(made / "putback")
    (tmp_path / "bin").mkdir()
    (tmp_path / "bin" / "two").symlink_to("../one")

    assert start(tmp_path / "bin" / "two", "--version").stdout == VERSION
    assert start("./two", "--version", cwd=tmp_path / "bin").stdout == VERSION


def test_it_starts_after_a_move(project, tools):
    """The whole folder may be moved; nothing is made anew."""
    done = start(project / "putback", "--version", env={"PATH": str(tools)})
    assert (done.returncode, done.stdout, done.stderr) == (0, VERSION, "")


def test_words_and_status_pass_through(made):
    """Arguments arrive whole, and the exit status comes back."""
    done = start(made / "putback", "no such command")
    assert done.returncode == 2
    assert done.stderr.startswith('there is no command "no such command"')


@pytest.mark.slow
def test_another_lock_makes_the_environment_anew(project):
    """One line of progress, then the program; the next start is quiet again."""
    (project / "requirements.txt").write_text(LOCK + "# and still nothing\n")
    (project / ".venv" / "of the old one").touch()

    done = start(project / "putback", "--version")
    assert (done.returncode, done.stdout) == (0, VERSION)
    assert done.stderr.count("\n") == 1 and "setting up" in done.stderr
    assert not (project / ".venv" / "of the old one").exists()
    assert start(project / "putback", "--version").stderr == ""


@pytest.mark.slow
@pytest.mark.parametrize("harm", ["unfinished", "python gone", "interrupted"])
def test_a_spoiled_environment_is_made_anew(project, harm):
    """Unfinished, without its Python, or broken off in the making: it is replaced, and the leavings go."""
    if harm == "unfinished":
        (project / ".venv" / "requirements.txt").unlink()
    elif harm == "python gone":
        (project / ".venv" / "bin" / "python").unlink()
        (project / ".venv" / "bin" / "python").symlink_to("/nowhere/python3")
    else:
        (project / ".venv").rename(project / ".venv.new")

    assert start(project / "putback", "--version").stdout == VERSION
    assert sorted(path.name for path in project.glob(".venv*")) == [".venv", ".venv.lock"]


@pytest.mark.slow
def test_two_starts_at_once_make_it_once(project):
    """One makes the environment, the other waits for it and uses it."""
    shutil.rmtree(project / ".venv")
    env = {**os.environ, "PUTBACK_PYTHON": sys.executable}
    command = [project / "putback", "--version"]
    both = [
        subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=env)
        for _ in range(2)
    ]
    said = [process.communicate(timeout=120) for process in both]

    assert [out for out, _ in said] == [VERSION, VERSION]
    assert "".join(err for _, err in said).count("setting up, once") == 1


@pytest.mark.slow
def test_without_network_it_says_so(project):
    """An index that cannot be reached is one sentence; what was there is not taken for the new one."""
    hashed = f"numpy==2.0.0 --hash=sha256:{'0' * 64}\n"
    (project / "requirements.txt").write_text(hashed)
    env = {"PIP_INDEX_URL": "http://127.0.0.1:9/", "PIP_CONFIG_FILE": os.devnull, "PIP_FIND_LINKS": ""}

    done = start(project / "putback", "--version", env=env)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.splitlines()[1:] == [
        "putback: cannot install requirements.txt: the package index cannot be reached; go online and start again"
    ]


@pytest.mark.parametrize(
    ("pythons", "said"),
    [
        ({}, "putback: needs Python 3.11 or newer, and found none"),
        ({"python3": 3, "python": 3}, "putback: needs Python 3.11 or newer, and found only older ones: python3 python"),
        ({"python3": 127}, "putback: needs Python 3.11 or newer, and found none"),
        (
            {"python3": 4, "python3.11": 4, "python": 3},
            "putback: python3 python3.11 cannot make virtual environments: "
            "install the venv module (Debian: apt install python3-venv)",
        ),
    ],
)
def test_without_a_fit_python_it_says_what_is_missing(project, tools, pythons, said):
    """None, only old ones, a shim with nothing behind it, one without the venv module: one sentence each."""
    shutil.rmtree(project / ".venv")
    for name, status in pythons.items():
        fake_python(tools, name, status)

    done = start(project / "putback", "--version", env={"PATH": str(tools), "PUTBACK_PYTHON": ""})
    assert (done.returncode, done.stdout, done.stderr) == (1, "", said + "\n")


def test_an_unfit_python_is_passed_over(made, tools):
    """A shim that does not run and an old Python do not hide the good one behind them."""
    fake_python(tools, "python3", 3)
    fake_python(tools, "python3.13", 127)
    (tools / "python3.12").symlink_to(sys.executable)

    done = start(made / "scripts" / "find-python", env={"PATH": str(tools), "PUTBACK_PYTHON": ""})
    assert done.returncode == 0
    assert Path(done.stdout.strip()) == Path(sys.executable).resolve()


@pytest.fixture(scope="module")
def maker():
    """scripts/venv.py as a module."""
    spec = importlib.util.spec_from_file_location("venv_maker", ROOT / "scripts" / "venv.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="needs a folder that even root cannot write")
def test_a_read_only_folder_is_named(maker):
    """The sentence names the folder and what to do."""
    with pytest.raises(maker.Trouble, match=r"^/proc cannot be written .*; start once as its owner$"):
        maker.bring_up_to_date(Path("/proc/.venv"), [])


@pytest.mark.parametrize(
    ("output", "said"),
    [
        ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE. If", "do not use it"),
        ("WARNING: Retrying\nERROR: No matching distribution found for numpy==9", "ready-made for this Python"),
        ("WARNING: NewConnectionError\nMax retries exceeded\nERROR: No matching distribution", "cannot be reached"),
        ("connection broken by 'SSLError([SSL: CERTIFICATE_VERIFY_FAILED]'\nERROR: No matching", "is not trusted here"),
        ("ERROR: Could not install packages: [Errno 28] No space left on device\n\n", "the disk is full"),
        ("first\nERROR: something new\n\n", "ERROR: something new"),
        ("", "pip said nothing"),
    ],
)
def test_what_pip_says_is_put_into_words(maker, output, said):
    """The usual troubles have a sentence of ours; of others pip's last line stays."""
    assert said in maker.meaning(output)


def test_help_comes_at_once(made):
    """The whole of `./putback --help` takes less than 0.15 s (the best of a few, since others use the machine too)."""
    took = []
    for _ in range(10):
        begun = time.perf_counter()
        assert start(made / "putback", "--help").returncode == 0
        took.append(time.perf_counter() - begun)

    assert min(took) < 0.15
