"""What the words of `putback job` share: where the ledger is, which job is meant, who speaks."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path


def add_common(parser, job: bool = True) -> None:
    """Declare the arguments that every word takes.

    Parameters
    ----------
    parser : argparse.ArgumentParser
    job : bool
        Whether the word is about one job.
    """
    if job:
        parser.add_argument("--job", metavar="JOB", help="its name, its id or how that begins; the only open one when left out")
    parser.add_argument("--ledger", metavar="WHERE", help="a file, or postgresql://...; PUTBACK_LEDGER when left out")
    parser.add_argument("--by", metavar="PERSON", help="who says so; PUTBACK_PERSON or the one who is logged in when left out")
    parser.add_argument("--json", action="store_true", help="print JSON")


@dataclass(frozen=True)
class Bench:
    """An open ledger, the job that is meant, and who speaks."""

    ledger: object
    stamp: object
    job: str


@contextmanager
def bench(args, over: bool = False) -> Iterator[Bench]:
    """The ledger, the job and the stamp that a command line means.

    Parameters
    ----------
    args : argparse.Namespace
    over : bool
        With no open job the last one is meant, though it was handed over.
    """
    from putback.desk.find import find_job

    with opened(args) as (ledger, stamp):
        yield Bench(ledger, stamp, find_job(ledger, args.job or os.environ.get("PUTBACK_JOB"), over))


@contextmanager
def opened(args, create: bool = False) -> Iterator[tuple]:
    """The ledger and the stamp that a command line means."""
    from putback.job.ledger import open_ledger

    where = args.ledger or os.environ.get("PUTBACK_LEDGER") or str(own_ledger(create))
    with open_ledger(where, create=create) as ledger:
        yield ledger, stamp(args)


def stamp(args):
    """Who speaks, on what, and when."""
    import getpass
    import platform
    from datetime import UTC, datetime
    from uuid import uuid4

    from putback.desk.stamp import Stamp

    person = args.by or os.environ.get("PUTBACK_PERSON") or getpass.getuser()
    device = os.environ.get("PUTBACK_DEVICE") or platform.node() or "this computer"
    return Stamp(person, device, lambda: datetime.now(UTC), lambda: uuid4().hex)


def own_ledger(create: bool) -> Path:
    """The ledger of whoever is logged in, where data of programs belong.

    Parameters
    ----------
    create : bool
        Make its folder.
    """
    home = Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share") / "putback"
    if create:
        home.mkdir(parents=True, exist_ok=True)
    return home / "ledger.db"


def thinking(seconds: float = 5.0):
    """The clock and the time that the planner may take."""
    from time import perf_counter

    from putback.desk.planning import Thinking

    return Thinking(perf_counter, seconds)
