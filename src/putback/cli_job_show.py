"""`putback job show`: what is off, loose, in, drained and owed at this moment."""

from putback.cli_job_common import add_common, bench


def add(parser) -> None:
    """Declare the arguments."""
    add_common(parser)


def run(args) -> int:
    """Print where the job stands."""
    from putback.desk.view import look
    from putback.job_json import job_object
    from putback.job_text import stand_lines
    from putback.terminal import print_json, visible

    with bench(args, over=True) as at:
        view, now = look(at.ledger, at.job), at.stamp.now()
    if args.json:
        print_json(job_object(view, now))
    else:
        print(visible("\n".join(stand_lines(view))))
    return 0
