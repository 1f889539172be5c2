"""`putback job confirm`: the last steps before a pause were looked at again."""

from putback.cli_job_common import add_common, bench
from putback.errors import InputError


def add(parser) -> None:
    """Declare the arguments."""
    add_common(parser)


def run(args) -> int:
    """Show the steps that are asked about, and log that they were looked at."""
    from putback.cli_job_saying import keep
    from putback.desk.view import look
    from putback.event_text import event_words
    from putback.terminal import visible

    with bench(args) as at:
        view = look(at.ledger, at.job)
        if not view.state.unconfirmed:
            raise InputError(f"{view.state.name}: there is nothing to confirm again")
        if not args.json:
            for row in view.logged:
                if row.event.id in view.state.unconfirmed:
                    print(visible(f"looked at again: {event_words(row.event)}"))
        return keep(at, view, [("steps confirmed", {"events": list(view.state.unconfirmed)})], args)
