"""A measured job runs in a process of its own: memory and caches are fresh, and whatever hangs can be ended."""

import json
import os
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[1]


class Failed(Exception):
    """The job came to no answer: it broke off, or ran out of memory."""


def apart(job: str, task: dict, seconds: float) -> dict | None:
    """What a job of bench/jobs.py answers; None when it had to be ended after so many seconds."""
    with TemporaryDirectory() as folder:  # some solvers leave files where they are started
        worker = _start(job, folder)
        try:
            printed, _ = worker.communicate(json.dumps(task), timeout=seconds)
        except subprocess.TimeoutExpired:
            return None
        finally:
            _end(worker)
    if worker.returncode:
        raise Failed(f"{job} ended with status {worker.returncode}")
    return json.loads(printed.splitlines()[-1])


def _start(job: str, folder: str) -> subprocess.Popen:
    paths = os.pathsep.join(str(ROOT / name) for name in ("", "src", "tests"))
    return subprocess.Popen(
        [sys.executable, "-m", "bench.jobs", job],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": paths},
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )


def _end(worker: subprocess.Popen) -> None:
    """End the job with all that it started, which lives in a group of its own."""
    with suppress(ProcessLookupError):
        os.killpg(worker.pid, signal.SIGKILL)
    worker.wait()
    for pipe in (worker.stdin, worker.stdout):
        pipe.close()
