"""`putback serve` as a process of its own, on a free port, over a ledger in a folder of the test."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from threading import Thread
from time import monotonic, sleep
from uuid import uuid4

import httpx

ROOT = Path(__file__).resolve().parent.parent
PATIENCE = 40  # seconds for a start on a busy machine


class Served:
    """A server that runs."""

    def __init__(self, folder: Path, options: tuple[str, ...], port: int):
        self.folder = folder
        self.ledger = folder / "ledger.db"
        words = ["serve", "--ledger", str(self.ledger), "--areas", str(folder / "areas"), "--demo", "--port", str(port)]
        env = os.environ | {"PYTHONPATH": str(ROOT / "src"), "XDG_DATA_HOME": str(folder), "PYTHONUNBUFFERED": "1"}
        line = [sys.executable, "-m", "putback", *words, *options]
        self.process = subprocess.Popen(line, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
        self._lines: list[str] = []
        Thread(target=self._read, daemon=True).start()
        self.address = self._said(r"the pages are at (\S+?)/ ")

    def _read(self) -> None:
        for line in self.process.stdout:
            self._lines.append(line)

    @property
    def output(self) -> str:
        """All that it has printed so far, troubles too."""
        return "".join(self._lines)

    def _said(self, pattern: str) -> str:
        until = monotonic() + PATIENCE
        while monotonic() < until and self.process.poll() is None:
            if found := re.search(pattern, self.output):
                return found[1]
            sleep(0.02)
        raise AssertionError(f"the server does not say what it should:\n{self.output}")

    @property
    def port(self) -> int:
        """Where it listens."""
        return int(self.address.rpartition(":")[2])

    @property
    def network(self) -> str:
        """Where devices of the network find it."""
        return self._said(r"find them at (\S+)/")

    @property
    def code(self) -> str:
        """The code that it showed at its start."""
        return self._said(r"code (\S+ \S+)\n")

    def stop(self) -> None:
        """Ends it, as Ctrl-C does, or by force where it does not go."""
        self.process.terminate()
        try:
            self.process.wait(15)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()


@contextmanager
def serving(folder: Path, *options: str, port: int = 0) -> Iterator[Served]:
    """A server for as long as the block lasts.

    Parameters
    ----------
    folder : Path
        For its ledger and its areas; the same folder again has the same jobs.
    options : str
        For the command line, such as `--lan`.
    port : int
        Any that is free when left out.
    """
    served = Served(folder, options, port)
    try:
        yield served
    finally:
        served.stop()


class Device:
    """A program that speaks for a person with the server, as the page of the step now does."""

    def __init__(self, address: str, **more):
        self.asking = httpx.Client(base_url=address, timeout=60, **more)
        self._numbers = count(1)
        self._own = uuid4().hex[:12]

    def __enter__(self) -> "Device":
        return self

    def __exit__(self, *_) -> None:
        self.asking.close()

    def open(self, name: str, **more) -> str:
        """Open a job; its id."""
        answer = self.asking.post("/api/jobs", json={"name": name, **more})
        assert answer.status_code == 200, answer.text
        return answer.json()["job"]

    def event(self, job: str, kind: str, **data) -> dict:
        """An event of now; `_` stands for a blank in a name."""
        at = datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
        said = {name.replace("_", " "): value for name, value in data.items()}
        own = f"{self._own}{next(self._numbers):014d}"
        return {"id": own, "job": job, "kind": kind, "at": at, "person": "technician 1", "device": "test", "data": said}

    def say(self, job: str, *events: dict) -> httpx.Response:
        """Send events."""
        return self.asking.post(f"/api/jobs/{job}/events", json={"events": list(events)})

    def log(self, job: str) -> dict:
        """All that the server knows of a job."""
        return self.asking.get(f"/api/jobs/{job}/events").json()
