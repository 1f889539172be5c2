"""`putback job log`: all events of a job, and whether any was changed since it was logged."""

from putback.cli_job_common import add_common, bench
from putback.errors import InputError

CHANGED = 1


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--last", type=int, metavar="N", help="only the last N")
    add_common(parser)


def run(args) -> int:
    """Print the log; 1 where the chain does not hold."""
    from putback.event_text import event_words
    from putback.job.fold import taken_back
    from putback.job_json import event_object
    from putback.terminal import print_json, visible

    if args.last is not None and args.last < 1:
        raise InputError(f"--last {args.last}: give a number from 1")
    with bench(args, over=True) as at:
        rows, broken = at.ledger.events(at.job), at.ledger.verify(at.job)
    shown = rows[-args.last :] if args.last else rows
    if args.json:
        print_json({"job": at.job, "whole": broken is None, "changed_at": broken, "events": [event_object(row) for row in shown]})
        return CHANGED if broken else 0
    undone = taken_back(rows)
    for row in shown:
        event = row.event
        back = "  (taken back)" if event.id in undone else ""
        print(visible(f"{row.number:4}  {event.at[5:16].replace('T', ' ')}  {event.person}: {event_words(event)}{back}"))
    last = rows[-1]
    if broken:
        print(f"CHANGED: event {broken} is not what was logged, or what stood before it is not")
        return CHANGED
    print(f"whole: {last.number} events, the last one's hash is {last.hash}")
    return 0
