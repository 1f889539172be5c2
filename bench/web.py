"""How quickly the pages come with many jobs in the ledger, and how many devices can tap at once; loopback only."""

import json
import sys
import tempfile
from collections.abc import Iterator
from datetime import UTC, datetime
from http.client import HTTPConnection, HTTPException
from itertools import count
from pathlib import Path
from threading import Barrier, Thread
from time import perf_counter, sleep
from urllib.parse import urlsplit

from bench.figures import Table, middle, whole
from bench.options import Options
from putback import demo
from putback.desk.opening import File, open_job
from putback.desk.planning import Thinking, keep_plan, plan_on
from putback.desk.stamp import Stamp, utc
from putback.desk.view import View, look
from putback.job.events import Event
from putback.job.ledger import Ledger, open_ledger
from putback.job.next_step import next_steps
from web_addresses import pages
from web_server import serving

JOBS, DEVICES, SECONDS = 200, 50, 30
STEPS = 40  # of a job that are done at most


def web(options: Options) -> None:
    """Pages with many jobs, and devices that tap at once."""
    with tempfile.TemporaryDirectory() as folder:
        jobs = fill(Path(folder), JOBS)
        with serving(Path(folder)) as server:
            _warm(server.address)
            _pages(server.address, jobs, options)
            _loads(server.address, jobs)


# --- many jobs ------------------------------------------------------------------------------------


def fill(folder: Path, many: int) -> list[str]:
    """A ledger with jobs on demo car A, each a little further than the one before; their ids."""
    numbers = (f"{n:026d}" for n in count())
    stamp = Stamp("technician 1", "bay 2", lambda: datetime.now(UTC), lambda: next(numbers))
    files = {kind: File(name, demo.text(name)) for kind, name in (("area", "demo-a.yaml"), ("shop", "demo-shop.yaml"))}
    with open_ledger(str(folder / "ledger.db")) as ledger:
        jobs = [open_job(ledger, stamp, f"alternator {n}", vehicle=f"demo car {n}", **files) for n in range(many)]
        sheet = plan_on(look(ledger, jobs[0]), stamp.now(), Thinking(perf_counter, 20))
        for n, job in enumerate(jobs):
            view = keep_plan(ledger, job, sheet, stamp)
            _do(ledger, stamp, view, n % STEPS)
    return jobs


def _do(ledger: Ledger, stamp: Stamp, view: View, many: int) -> None:
    """The first steps of a job as they were planned."""
    said = [one for step in next_steps(view.state, view.car, view.plan, stamp.now())[:many] for one in step.closes]
    if said:
        ledger.append(
            [Event(stamp.new_id(), view.id, kind, stamp.now(), "technician 1", "bay 2", data) for kind, data in said]
        )


def _warm(address: str) -> None:
    """Until the server has looked through all its jobs, as it does by itself when it starts."""
    with _line(address) as line:
        line.ask("GET", "/?all=1")


# --- pages ----------------------------------------------------------------------------------------


def _pages(address: str, jobs: list[str], options: Options) -> None:
    table = Table(
        f"web: pages with {len(jobs)} jobs of demo A, a request and its answer",
        ["page", "median ms", "worst ms", "kB"],
        first=40,
    )
    job = jobs[STEPS // 2]
    with _line(address) as line:
        for path in [*pages(job), f"/api/jobs/{job}", f"/api/jobs/{job}?after=9999"]:
            line.ask("GET", path)
            answers = [line.ask("GET", path) for _ in range(4 * options.runs)]
            times, size = [took for took, _, _ in answers], answers[0][2]
            table.row([path.replace(job, "JOB"), f"{middle(times):.1f}", f"{max(times):.1f}", f"{size / 1000:.1f}"])


class _line:
    """One connection that is kept open."""

    def __init__(self, address: str):
        parts = urlsplit(address)
        self._host, self._connection = parts.netloc, HTTPConnection(parts.hostname, parts.port, timeout=30)

    def __enter__(self) -> "_line":
        return self

    def __exit__(self, *_) -> None:
        self._connection.close()

    def ask(self, method: str, path: str, said: dict | None = None) -> tuple[float, int, int]:
        """Milliseconds until the answer was here, its status, and its bytes."""
        body = None if said is None else json.dumps(said)
        begun = perf_counter()
        self._connection.request(method, path, body, {"content-type": "application/json"} if body else {})
        answer = self._connection.getresponse()
        size = len(answer.read())
        return 1000 * (perf_counter() - begun), answer.status, size


# --- taps -----------------------------------------------------------------------------------------


def _loads(address: str, jobs: list[str]) -> None:
    title = f"web: {DEVICES} devices, each taps once a second for {SECONDS} s, two on a car"
    table = Table(title, ["what is sent", "taps", "errors", "median ms", "95 in 100", "worst ms"], first=40)
    for words, whole_page in (
        ("the tap: until it is acknowledged", False),
        ("asked before, tap, the job after: tap", True),
    ):
        table.row([words, *row(load(address, jobs, DEVICES, SECONDS, whole_page))])


def row(taps: list[tuple[float, bool]]) -> list[str]:
    """A row of the table: how many, how many of them failed, and the times of the others."""
    times = sorted(took for took, good in taps if good)
    bad = sum(1 for _, good in taps if not good)
    return [
        whole(len(taps)),
        whole(bad),
        f"{middle(times):.1f}",
        f"{times[int(0.95 * len(times))]:.1f}",
        f"{times[-1]:.1f}",
    ]


def load(address: str, jobs: list[str], devices: int, seconds: int, whole_page: bool) -> list[tuple[float, bool]]:
    """Devices that tap once a second: the milliseconds of each tap, and whether it was acknowledged.

    Parameters
    ----------
    address : str
        Of the server.
    jobs : list of str
    devices, seconds : int
    whole_page : bool
        Whether each asks before its tap what speaks against it and takes the job anew after it, as the page does.
    """
    taps: list[tuple[float, bool]] = []
    ready = Barrier(devices)
    work = [
        Thread(target=_device, args=(address, jobs[n // 2], n, devices, seconds, whole_page, ready, taps))
        for n in range(devices)
    ]
    for thread in work:
        thread.start()
    for thread in work:
        thread.join()
    return taps


def _device(
    address: str, job: str, number: int, devices: int, seconds: int, whole_page: bool, ready: Barrier, taps: list
) -> None:
    with _line(address) as line:
        line.ask("GET", f"/jobs/{job}")
        ready.wait()
        begun = perf_counter() + number / devices  # as people are: not all at the same moment
        for event, at in zip(_events(job, number, whole_page), range(seconds), strict=False):
            sleep(max(0.0, begun + at - perf_counter()))
            taps.append(_tap(line, job, event, whole_page))


def _tap(line: _line, job: str, event: dict, whole_page: bool) -> tuple[float, bool]:
    try:
        if whole_page:
            line.ask("POST", f"/api/jobs/{job}/stops", {"events": [{"kind": event["kind"], "data": event["data"]}]})
        took, status, _ = line.ask("POST", f"/api/jobs/{job}/events", {"events": [event]})
        if whole_page:
            line.ask("GET", f"/api/jobs/{job}?after=1")
        return took, status == 200
    except (OSError, HTTPException) as error:
        print(f"bench: {error!r}", file=sys.stderr)
        return 0.0, False


def _events(job: str, number: int, whole_page: bool) -> Iterator[dict]:
    for n in count():
        own = f"D{number:04d}{'P' if whole_page else 'T'}{n:020d}"
        data = {"item": f"clips {n % 4}", "count": 2, "to": "tray", "tray position": "A2"}
        at = utc(datetime.now(UTC))
        yield {
            "id": own,
            "job": job,
            "kind": "fasteners off",
            "at": at,
            "person": "technician 1",
            "device": f"tablet {number}",
            "data": data,
        }
