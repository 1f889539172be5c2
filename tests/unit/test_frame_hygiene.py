"""Nothing of the workplace gets into the tree, and the locks stay clean."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
LOCKS = sorted(ROOT.glob("requirements*.txt"))

# Written in halves, or this very file would be found.
HOSTS = ["pypi" ".org", "python" "hosted.org", "npm" "js.org", "deb.debian" ".org", "crates" ".io"]
MACHINE = re.compile(r"(?<![\w.~$}/-])/(?:" r"root|work|Users/\w+|home/\w+" r")/\w")


def tracked() -> list[Path]:
    """The text files that git knows of."""
    if not (shutil.which("git") and (ROOT / ".git").exists()):
        pytest.skip("not a git checkout")
    listed = subprocess.run(["git", "-C", ROOT, "ls-files", "-z"], capture_output=True, text=True, check=True)
    paths = [ROOT / name for name in listed.stdout.split("\0") if name]
    return [path for path in paths if path.is_file() and b"\0" not in path.read_bytes()[:1024]]


def lines(path: Path):
    return enumerate(path.read_text(encoding="utf-8").splitlines(), 1)


def test_no_registry_is_named():
    """Where packages come from is set on each machine, not in the tree."""
    found = [f"{path}:{n}" for path in tracked() for n, line in lines(path) if any(host in line for host in HOSTS)]
    assert found == []


def test_no_path_of_a_machine():
    """No absolute path that exists on one machine only."""
    here = str(ROOT)
    found = [f"{path}:{n}" for path in tracked() for n, line in lines(path) if MACHINE.search(line) or here in line]
    assert found == []


def test_files_end_their_last_line_and_no_line_ends_in_blanks():
    """Plain text as every tool expects it."""
    sources = [path for path in tracked() if path.suffix in {".py", ".md", ".sh", ".toml", ".yaml", ".yml", ".svg", ""}]
    texts = {path: path.read_text(encoding="utf-8") for path in sources}
    assert [str(path) for path, text in texts.items() if text and not text.endswith("\n")] == []
    assert [str(path) for path, text in texts.items() if re.search(r"[ \t]+$", text, re.MULTILINE)] == []


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_locks_name_versions_and_hashes_and_nothing_else(lock):
    """Each entry is one version with hashes: no index, no address, no option."""
    entries = re.sub(r"\\\n\s*", "", lock.read_text()).splitlines()
    entry = re.compile(r"[a-z0-9-]+==[\w.]+( ; [^;]+?)?( --hash=sha256:[0-9a-f]{64})+")
    assert entries
    assert [line for line in entries if not entry.fullmatch(line)] == []


def test_what_runs_is_what_was_tested():
    """Every package that runs stands in the lock of the tests, with the same version and hashes."""
    run, test = ((ROOT / name).read_text().splitlines() for name in ("requirements.txt", "requirements-test.txt"))
    assert [line for line in run if line.rstrip(" \\") not in {other.rstrip(" \\") for other in test}] == []
