"""How a set of records is judged: who is called what, and the two counts that matter most."""

import argparse
import json
from collections import Counter
from contextlib import redirect_stdout
from io import StringIO
from itertools import pairwise
from pathlib import Path

from bench.apart import Failed
from bench.cranks import CLASSES as CRANKING
from bench.figures import Table, percent
from bench.machines import CLASSES as RIPPLE
from bench.machines import DIODE_OPEN, DIODE_SHORTED, PHASE_LOST, SIX_PULSE
from bench.records import labels
from putback.cli import main as putback

CANNOT_TELL, NOT_JUDGED, REFUSED = "cannot tell", "none", "refused"
BRIDGE_FAULTS = (DIODE_OPEN, DIODE_SHORTED, PHASE_LOST)
SURE = (0.0, 0.5, 0.7, 0.8, 0.9, 0.95, 1.01)  # borders of the table of confidence


def score(words: list[str]) -> int:
    """Judge a set of records and count: `scripts/bench records FOLDER`."""
    parser = argparse.ArgumentParser("scripts/bench records", description=score.__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--bare", action="store_true", help="tell neither where the leads were nor the engine's speed")
    parser.add_argument("--list", action="store_true", help="name the records that were judged wrongly")
    args = parser.parse_args(words)
    judged = [(label, verdict(args.folder / label["file"], label, args.bare)) for label in labels(args.folder)]
    if not judged:
        raise Failed(f"{args.folder} holds no labels")
    for kind, classes in (("ripple", RIPPLE), ("cranking", CRANKING)):
        report(kind, classes, [(label, said) for label, said in judged if label["kind"] == kind], args.list)
    return 0


def verdict(file: Path, label: dict, bare: bool = False) -> dict:
    """What `putback evidence` says of a file, or that it was refused.

    Parameters
    ----------
    file : Path
    label : dict
        Where the leads were and how fast the engine ran.
    bare : bool
        Do not tell it either.
    """
    told = [] if bare else ["--at", "stud" if label["at"] == "stud" else "posts"]
    told += ["--rpm", str(label["rpm"])] if "rpm" in label and not bare else []
    with redirect_stdout(StringIO()) as printed:
        status = putback(["evidence", str(file), *told, "--json"])
    if status > 1:  # 1 is an honest "cannot tell"
        return {"ripple": REFUSED, "cranking": REFUSED, "confidence": 0.0}
    return json.loads(printed.getvalue())


def report(kind: str, classes: tuple[str, ...], judged: list[tuple[dict, dict]], name_wrong: bool = False) -> None:
    """Print the table of who was called what, and the counts.

    Parameters
    ----------
    kind : str
        ripple or cranking: the key of the verdict.
    classes : tuple of str
        In the order of the rows.
    judged : list of (dict, dict)
        Labels and what was said.
    name_wrong : bool
        Name the records that were judged wrongly too.
    """
    told = [(label, said[kind] or NOT_JUDGED) for label, said in judged if label["decidable"]]
    others = [(label, said[kind] or NOT_JUDGED) for label, said in judged if not label["decidable"]]
    _confusion(f"{kind}: {len(told)} records that can be told; rows are true, columns what was said", classes, told)
    right, wrong = right_and_wrong(told)
    print(f"\nright: {right} of {len(told)}, {percent(share(right, len(told)))} %; called another name: {wrong}")
    if kind == "ripple":
        print(f"bridge faults called on six-pulse records: {false_alarms([*told, *others])}")
    _confusion(f"{kind}: {len(others)} records that an expert could not tell", classes, others)
    _confidence(kind, judged)
    for label, said in told if name_wrong else ():
        if said != label["truth"]:
            print(f"{label['file']}: {label['truth']}, called {said}")


def right_and_wrong(told: list[tuple[dict, str]]) -> tuple[int, int]:
    """How many were called by their name, and how many by another; "cannot tell" is neither.

    Parameters
    ----------
    told : list of (dict, str)
        Labels and verdicts.
    """
    right = sum(said == label["truth"] for label, said in told)
    return right, len(told) - right - sum(said in (CANNOT_TELL, NOT_JUDGED) for _, said in told)


def false_alarms(told: list[tuple[dict, str]]) -> int:
    """How many six-pulse records were called a fault of the bridge; see `right_and_wrong` for `told`."""
    return sum(label["truth"] == SIX_PULSE and said in BRIDGE_FAULTS for label, said in told)


def share(part: int, whole: int) -> float | None:
    """A part of a whole, None of nothing."""
    return part / whole if whole else None


def _confusion(title: str, classes: tuple[str, ...], told: list[tuple[dict, str]]) -> None:
    counts = Counter((label["truth"], said) for label, said in told)
    said = [*classes, CANNOT_TELL, NOT_JUDGED, REFUSED]
    table = Table(title, ["true class", *said, "right %"], first=max(len(one) for one in classes))
    for true in classes:
        row = [counts[true, one] for one in said]
        table.row([true, *(count or "." for count in row), percent(share(counts[true, true], sum(row)))])


def _confidence(kind: str, judged: list[tuple[dict, dict]]) -> None:
    """Whether confidence is honest: of what was said with so much of it, how much was right."""
    named = [(said["confidence"], said[kind] == label["truth"]) for label, said in judged
             if said[kind] not in (None, CANNOT_TELL, REFUSED)]  # fmt: skip
    title = f"{kind}: confidence of all names given, and how many were right"
    table = Table(title, ["from", "names", "right %"], first=6)
    for low, high in pairwise(SURE):
        hits = [right for sure, right in named if low <= sure < high]
        table.row([low, len(hits), percent(share(sum(hits), len(hits)))])
