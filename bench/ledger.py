"""What logging and reading events takes, on SQLite and on PostgreSQL."""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from itertools import count
from time import monotonic, perf_counter

from integration.postgres import is_there, running

from bench.apart import ROOT, Failed
from bench.figures import UNKNOWN, Table, middle, whole
from bench.options import Options
from putback.job.events import Event
from putback.job.ledger import Ledger, open_ledger

JOB = "J" * 26
LOG = 5000  # events of a long job
JOBS = 2000
ROWS = (
    "one event, acknowledged: median ms", "one event, acknowledged: worst ms", "20 events at once: median ms",
    "events/s, 1 writer", "events/s, 8 writers in 2 processes, one job", f"read {LOG} events: ms",
    f"check the chain of {LOG} events: ms", f"list {JOBS} jobs: ms",
)  # fmt: skip


def ledger(options: Options) -> None:
    """Logging and reading events."""
    table = Table(f"ledger: medians of {options.runs} runs", ["what", "SQLite", "PostgreSQL"], first=44)
    with tempfile.TemporaryDirectory() as folder:
        on_sqlite = _measured(f"{folder}/ledger.db", options)
    on_postgresql = [UNKNOWN] * len(ROWS)
    if is_there():
        with running() as server:
            on_postgresql = _measured(server.new_database("ledger"), options)
    for row in zip(ROWS, on_sqlite, on_postgresql, strict=True):
        table.row(row)


def _measured(where: str, options: Options) -> list[str]:
    numbers = count()
    with open_ledger(where) as kept:
        single = [_milliseconds(lambda: kept.append([_event(next(numbers))])) for _ in range(100 * options.runs)]
        batches = [_milliseconds(lambda: kept.append(_some(numbers, 20))) for _ in range(10 * options.runs)]
        eight = _eight_writers(where, 50 * options.runs)
        _fill(kept, numbers)
        reading = [_times(options, work) for work in (lambda: kept.events(JOB), lambda: kept.verify(JOB), kept.jobs)]
    alone = 1000 * len(single) / sum(single)
    logging = [f"{middle(single):.1f}", f"{max(single):.1f}", f"{middle(batches):.1f}", whole(alone), whole(eight)]
    return logging + [f"{middle(times):.0f}" for times in reading]


def _event(number: int, job: str = "K" * 26, kind: str = "fasteners off", **data) -> Event:
    data = data or {"item": "long tray screws", "count": 2, "to": "tray", "tray position": "A2"}
    at = "2026-01-31T09:05:00.000Z"
    return Event(id=f"{number:026d}", job=job, kind=kind, at=at, person="technician 1", device="bay 2", data=data)


def _some(numbers: Iterator[int], many: int, job: str = "K" * 26) -> list[Event]:
    return [_event(next(numbers), job) for _ in range(many)]


def _fill(kept: Ledger, numbers: Iterator[int]) -> None:
    kept.append(_some(numbers, LOG, JOB))
    kept.append([_event(next(numbers), f"{n:026d}", "job opened", name=f"job {n}") for n in range(JOBS)])


def _milliseconds(work: Callable) -> float:
    begun = perf_counter()
    work()
    return 1000 * (perf_counter() - begun)


def _times(options: Options, work: Callable) -> list[float]:
    return [_milliseconds(work) for _ in range(options.runs)]


# --- eight writers --------------------------------------------------------------------------------


def _eight_writers(where: str, each: int) -> float:
    """Events per second of four threads in each of two processes, from the first of them to the last."""
    processes = [_started(where, each, process) for process in "12"]
    if not all(process.stdout.readline() for process in processes):  # a line says that it is ready
        raise Failed("a writer of the ledger ended before it began")
    told = [json.loads(process.communicate()[0]) for process in _gone(processes)]
    return 8 * each / (max(end for _, end in told) - min(begin for begin, _ in told))


def _started(where: str, each: int, process: str) -> subprocess.Popen:
    line = [sys.executable, "-m", "bench.ledger", where, str(each), process]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT), *sys.path])}
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "text": True}
    return subprocess.Popen(line, env=environment, **pipes)


def _gone(processes: list[subprocess.Popen]) -> list[subprocess.Popen]:
    """All of them, let go at once."""
    for process in processes:
        process.stdin.write("\n")
        process.stdin.flush()
    return processes


def _write(where: str, each: int, process: int) -> None:
    with open_ledger(where) as kept, ThreadPoolExecutor(4) as threads:
        print(flush=True)
        sys.stdin.readline()
        begun = monotonic()
        list(threads.map(lambda n: _log(kept, each, 10**9 * (10 * process + n)), range(4)))  # all, or what went wrong
        print(json.dumps([begun, monotonic()]))


def _log(kept: Ledger, each: int, first: int) -> None:
    for number in range(first, first + each):
        kept.append([_event(number)])


if __name__ == "__main__":
    _write(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]))
