"""Makes one virtual environment from hash-locked requirements, whole or not at all.

    python scripts/venv.py .venv requirements.txt [--apart requirements-apart.txt]

The new environment grows beside the old one and takes its place by one rename, so a half-made one is
never taken for a whole one. A file lock keeps two starts from building at once; the system lets go
of it when its holder ends, however it ends.
"""

import argparse
import ensurepip
import fcntl
import os
import shutil
import subprocess
import sys
import sysconfig
import venv
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent

UNREACHED = "the package index cannot be reached; go online and start again"
# What pip prints, and what it means to the person who waits. The first that occurs counts.
MEANINGS = {
    "DO NOT MATCH THE HASHES": "a package fetched is not the one that was locked; do not use it, and report this",
    "No space left on device": "the disk is full; make room and start again",
    "CERTIFICATE_VERIFY_FAILED": (
        "the package index's certificate is not trusted here; look at the clock, and at the network's own certificate"
    ),
    "Failed to establish a new connection": UNREACHED,
    "Temporary failure in name resolution": UNREACHED,
    "connection broken by": UNREACHED,
    "Max retries exceeded": UNREACHED,
    "Read timed out": UNREACHED,
    "No matching distribution": (
        "a package is not to be had ready-made for this Python or this kind of machine; "
        "name another Python, for instance PUTBACK_PYTHON=python3.12"
    ),
}


class Trouble(Exception):
    """One sentence for the person who waits."""


def main(argv: list[str] | None = None) -> int:
    """Bring the environment up to date; 0 when it is, 1 with one sentence when it cannot be."""
    parser = argparse.ArgumentParser(description="Make a virtual environment from locked requirements.")
    parser.add_argument("dest", help="its folder, inside the project")
    parser.add_argument("lock", help="the requirements with hashes")
    parser.add_argument("--apart", help="requirements that come without what they ask for in turn")
    options = parser.parse_args(argv)
    locks = [ROOT / name for name in (options.lock, options.apart) if name]
    try:
        bring_up_to_date(ROOT / options.dest, locks)
    except Trouble as trouble:
        print(f"putback: {trouble}", file=sys.stderr)
        return 1
    return 0


def bring_up_to_date(dest: Path, locks: list[Path]) -> None:
    """Make `dest` anew unless it is whole and from these very locks."""
    with only_one(dest):
        if not is_current(dest, locks):
            say("setting up, once (under a minute with a good connection) ...")
            fresh = dest.with_name(dest.name + ".new")
            build(fresh, locks)
            put_in_place(fresh, dest)


def is_current(dest: Path, locks: list[Path]) -> bool:
    """Whether the environment has a Python and keeps copies of these very locks."""
    kept = [dest / lock.name for lock in locks]
    return (dest / "bin" / "python").exists() and all(
        copy.is_file() and copy.read_bytes() == lock.read_bytes() for copy, lock in zip(kept, locks, strict=True)
    )


@contextmanager
def only_one(dest: Path):
    """Hold the file lock of this environment; wait for another start that holds it."""
    try:
        handle = dest.with_name(dest.name + ".lock").open("w")
    except OSError as error:
        raise Trouble(f"{dest.parent} cannot be written ({error.strerror}); start once as its owner") from None
    with handle:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say("another start is setting up; waiting for it ...")
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield


def build(fresh: Path, locks: list[Path]) -> None:
    """Fill a new folder: Python, packages, the way to our own source, and last the copies of the locks."""
    try:
        shutil.rmtree(fresh, ignore_errors=True)
        venv.create(fresh, symlinks=True)
        for lock in locks:
            install(fresh, lock)
        compile_packages(fresh)
        link_source(fresh)
        for lock in locks:
            shutil.copyfile(lock, fresh / lock.name)
    except OSError as error:
        raise Trouble(f"{error.filename or fresh}: {error.strerror}") from None


def install(fresh: Path, lock: Path) -> None:
    """Let pip install exactly what the lock names; only what is built already, nobody should wait for a compiler."""
    command = [*pip(fresh), "install", "--quiet", "--no-input", "--retries", "3", "--disable-pip-version-check",
               "--no-deps", "--no-compile", "--only-binary", ":all:", "--require-hashes", "-r", lock]  # fmt: skip
    done = subprocess.run(command, capture_output=True, text=True, errors="replace", check=False)
    if done.returncode:
        raise Trouble(f"cannot install {lock.name}: {meaning(done.stderr)}")


def pip(fresh: Path) -> list[str | Path]:
    """How to call pip for this environment: from the very file that Python brings along.

    To install pip first, as is usual, would take longer than all the rest, and nothing needs it later.
    """
    python = fresh / "bin" / "python"
    folder = sysconfig.get_config_var("WHEEL_PKG_DIR") or Path(ensurepip.__file__).with_name("_bundled")
    wheels = sorted(Path(folder).glob("pip-*.whl"))
    if wheels:
        return [python, "-I", wheels[-1] / "pip"]
    subprocess.run([python, "-I", "-m", "ensurepip"], capture_output=True, check=False)
    return [python, "-I", "-m", "pip"]


def compile_packages(fresh: Path) -> None:
    """Compile what will be imported, on all cores, so that a read-only folder is quick as well."""
    command = [fresh / "bin" / "python", "-I", "-m", "compileall", "-q", "-j", "0", "-x", "site-packages/.*/tests/",
               fresh / "lib"]  # fmt: skip
    subprocess.run(command, capture_output=True, check=False)


def meaning(output: str) -> str:
    """What pip's complaint comes down to; its own last line when it is none that we know."""
    known = [said for sign, said in MEANINGS.items() if sign in output]
    lines = [line for line in output.splitlines() if line.strip()] or ["pip said nothing"]
    return known[0] if known else lines[-1].strip()


def link_source(fresh: Path) -> None:
    """Let this Python find src/, by a path that still holds when the whole project is moved."""
    [packages] = fresh.glob("lib/python*/site-packages")
    source = os.path.relpath(ROOT / "src", packages)
    (packages / "putback-source.pth").write_text(source + "\n")


def put_in_place(fresh: Path, dest: Path) -> None:
    """Swap the new environment in; what was there before goes away."""
    old = dest.with_name(dest.name + ".old")
    shutil.rmtree(old, ignore_errors=True)
    if dest.exists() or dest.is_symlink():
        dest.rename(old)
    fresh.rename(dest)
    shutil.rmtree(old, ignore_errors=True)


def say(line: str) -> None:
    """One line of progress, out of the way of what the command prints."""
    print(f"putback: {line}", file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main())
