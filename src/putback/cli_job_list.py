"""`putback job list`: the jobs of this ledger, and what each waits for."""

from putback.cli_job_common import add_common, opened


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--all", action="store_true", help="those handed over as well")
    add_common(parser, job=False)


def run(args) -> int:
    """Print the list."""
    from putback.desk.jobs import open_jobs
    from putback.terminal import print_json, visible

    with opened(args) as (ledger, _):
        rows = open_jobs(ledger, signed=args.all)
    if args.json:
        print_json([row._asdict() for row in rows])
        return 0
    waits = dict.fromkeys(row.waits_for for row in rows)
    for group in waits:
        print(group.upper())
        for row in rows:
            if row.waits_for == group:
                print(visible(f"  {row.name}{f' ({row.vehicle})' if row.vehicle else ''}, since {row.opened_at[:10]}  {row.id[:8]}"))
                print(visible(f"       {row.words}"))
    if not rows:
        print("no job is open; `putback job open NAME` opens one")
    return 0
