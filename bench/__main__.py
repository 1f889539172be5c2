"""`scripts/bench`: measures, and prints plain tables."""

import argparse
import os
import platform
import sys
from datetime import date

from bench.apart import Failed
from bench.belts import belts
from bench.growth import levels, parts
from bench.ledger import ledger
from bench.meters_score import score as score_readings
from bench.options import Options
from bench.peers import peers
from bench.records import make
from bench.scores import score
from bench.suspects import suspects
from bench.web import web
from bench.whole import area, start

TABLES = {table.__name__: table for table in (peers, levels, parts, start, area, ledger, belts, suspects, web)}
SETS = {"make-records": make, "records": score, "readings": score_readings}  # of records; each has words of its own


def main(words: list[str] | None = None) -> int:
    """Print the tables asked for, all of them when none is named; or see to a set of records."""
    words = sys.argv[1:] if words is None else words
    try:
        return SETS[words[0]](words[1:]) if words and words[0] in SETS else _tables(words)
    except (Failed, KeyboardInterrupt) as broken_off:
        print(f"bench: {str(broken_off) or 'interrupted'}", file=sys.stderr)
        return 1


def _tables(words: list[str]) -> int:
    args = _parser().parse_args(words)
    options = Options(seeds=args.seeds, limit=args.limit, think=args.think, runs=args.runs)
    print(f"{date.today()}, Python {platform.python_version()}, {os.cpu_count()} cores, {platform.machine()}")
    for name in args.tables or TABLES:
        TABLES[name](options)
    return 0


def _parser() -> argparse.ArgumentParser:
    usual = Options()
    about = "; ".join(f"{name}: {table.__doc__.splitlines()[0].rstrip('.')}" for name, table in TABLES.items())
    about += f". In place of tables: {', '.join(SETS)}, with a folder of records"
    parser = argparse.ArgumentParser("scripts/bench", description="Measures, and prints plain tables.", epilog=about)
    parser.add_argument("tables", nargs="*", metavar="TABLE", type=_table, help=f"of {', '.join(TABLES)} (all)")
    for name, kind, text in (
        ("seeds", _positive(int), "problems of each size"),
        ("limit", _positive(float), "seconds that a peer may take over a problem"),
        ("think", _positive(float), "seconds that our planner may take over a problem"),
        ("runs", _positive(int), "runs of which a median is told"),
    ):
        default = getattr(usual, name)
        parser.add_argument(f"--{name}", type=kind, default=default, metavar="N", help=f"{text} ({default:g})")
    return parser


def _table(name: str) -> str:
    if name not in TABLES:
        raise argparse.ArgumentTypeError(f'there is no table "{name}"; there are: {", ".join(TABLES)}')
    return name


def _positive(kind: type):
    def number(text: str):
        value = kind(text)
        if not value > 0:
            raise argparse.ArgumentTypeError(f"{text}: give a number above 0")
        return value

    return number


if __name__ == "__main__":
    sys.exit(main())
