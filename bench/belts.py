"""Belt drives: what it takes to lay, to judge and to find a thousand of them."""

from collections.abc import Callable, Iterator
from time import perf_counter

from bench.apart import ROOT
from bench.figures import Table, middle, seconds
from bench.options import Options

from putback.belt.drive import Drive
from putback.belt.judge import judge_route
from putback.belt.propose import propose
from putback.belt.route import lay, speed_ratio, window_lengths
from putback.drive_file import read_drive

COUNT = 1000


def belts(options: Options, count: int = COUNT) -> None:
    """A thousand belt drives: laid, judged, and their routes found."""
    drives = list(_drives(count))
    table = Table(f"belts: seconds for {count} drives, medians of {options.runs} runs", ["work", "median"], first=44)
    for name, work in WORK.items():
        table.row([name, seconds(middle(_time(work, drives) for _ in range(options.runs)))])


def _drives(count: int) -> Iterator[Drive]:
    """The drives of the tests in turn, two to eight pulleys each."""
    files = sorted((ROOT / "tests" / "data" / "belt").glob("*.yaml"))
    read = [read_drive(file.read_bytes(), file.name) for file in files]
    for n in range(count):
        yield read[n % len(read)]


def _time(work: Callable[[Drive], object], drives: list[Drive]) -> float:
    begun = perf_counter()
    for drive in drives:
        work(drive)
    return perf_counter() - begun


def solved(drive: Drive) -> tuple:
    """A drive's belt: length, runs, wraps, where the arm stands, and every pulley's speed."""
    laid = lay(drive, drive.route)
    return laid, [speed_ratio(laid, stop) for stop in laid.route]


WORK = {
    "solve: arm, runs, wraps, speeds": solved,
    "the same, with the lengths between the marks": lambda drive: window_lengths(solved(drive)[0]),
    "judge the route": lambda drive: judge_route(drive, drive.route),
    "find the routes from the pulleys alone": propose,
}
