"""`scripts/try-jobs`: whole jobs with omissions held against the audit, and a table of what was found."""

import argparse
import sys
import time

from jobs.hand_over import many


def main() -> int:
    """Make so many jobs and print the table."""
    parser = argparse.ArgumentParser("scripts/try-jobs", description=__doc__)
    parser.add_argument("--jobs", type=int, default=2000, help="how many (2000)")
    parser.add_argument("--seed", type=int, default=0, help="of the first job of each sort (0)")
    args = parser.parse_args()
    began = time.perf_counter()
    tally = many(args.jobs, args.seed)
    print(*tally.lines(), sep="\n")
    print(f"{time.perf_counter() - began:.0f} s, seeds from {args.seed}")
    return 1 if tally.failures else 0


if __name__ == "__main__":
    sys.exit(main())
