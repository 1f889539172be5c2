"""What a user waits for: whole processes from start to end, and the stages of the demo job."""

import subprocess
import sys
from time import perf_counter

from bench.apart import ROOT, Failed, apart
from bench.figures import Table, middle, seconds
from bench.options import Options

DEMO = "src/putback/demo"
LINES = {
    "an empty Python": (sys.executable, "-I", "-c", "pass"),
    "putback --help": ("./putback", "--help"),
    "putback way, demo A": ("./putback", "way", f"{DEMO}/demo-a.yaml", "--shop", f"{DEMO}/demo-shop.yaml"),
    "putback demo": ("./putback", "demo"),
}
STAGES_MAY_TAKE = 60.0  # seconds for each run of all stages


def start(options: Options) -> None:
    """Whole processes: the program starts, works and ends."""
    runs = 2 * options.runs + 1
    table = Table(f"start: seconds of a whole process, {runs} runs", ["command", "median", "least", "most"], first=20)
    for name, line in LINES.items():
        _process(line)  # the first start may have to set the program up
        times = [_process(line) for _ in range(runs)]
        table.row([name, seconds(middle(times)), seconds(min(times)), seconds(max(times))])


def _process(line: tuple[str, ...]) -> float:
    begun = perf_counter()
    subprocess.run(line, cwd=ROOT, stdout=subprocess.DEVNULL, check=True)
    return perf_counter() - begun


def area(options: Options) -> None:
    """The stages of demo A."""
    found = apart("area", {"runs": options.runs}, options.runs * STAGES_MAY_TAKE)
    if found is None:
        raise Failed("demo A took longer than it may")
    title = f"area: seconds of the stages of demo A, medians of {options.runs} runs"
    table = Table(title, ["stage", "median"], first=28)
    for name, time in found["times"].items():
        table.row([name, seconds(time)])
    for name, value in found["notes"].items():
        table.row([name, value])
