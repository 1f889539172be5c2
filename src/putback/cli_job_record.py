"""`putback job record`: the record of a job as it was signed, or as it is so far."""

from putback.cli_job_common import add_common, bench


def add(parser) -> None:
    """Declare the arguments."""
    add_common(parser)


def run(args) -> int:
    """Print the record."""
    from putback.desk.handing_over import record_of
    from putback.desk.view import look
    from putback.record_text import record_lines
    from putback.terminal import print_json, visible

    with bench(args, over=True) as at:
        told = record_of(look(at.ledger, at.job))
    if args.json:
        print_json(told)
    else:
        print(visible("\n".join(record_lines(told))))
    return 0
