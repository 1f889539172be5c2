"""`putback job undo`: take an event back; it stays in the log and counts no more."""

from putback.cli_job_common import add_common, bench
from putback.errors import InputError


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("number", nargs="?", type=int, metavar="NUMBER", help="of the event, as the log has it; your last step when left out")
    parser.add_argument("--reason", metavar="TEXT", help="why")
    parser.add_argument("--anyway", metavar="REASON", help="do it though the program holds you back, and why")
    add_common(parser)


def run(args) -> int:
    """Log that an event is taken back."""
    from putback.cli_job_saying import keep
    from putback.desk.view import look

    with bench(args) as at:
        view = look(at.ledger, at.job)
        event = _event(view, args.number, at.stamp.person)
        return keep(at, view, [("event undone", {"event": event.id} | ({"reason": args.reason} if args.reason else {}))], args)


def _event(view, number: int | None, person: str):
    undone = {row.event.data["event"] for row in view.logged if row.event.kind == "event undone"}
    if number is not None:
        row = next((row for row in view.logged if row.number == number), None)
        if row is None or row.event.kind in ("event undone", "job opened", "hand-over signed"):
            raise InputError(f"{view.state.name}: event {number} cannot be taken back; `putback job log` lists them")
        return row.event
    steps = {report.id for report in view.state.steps}
    mine = [row.event for row in view.logged if row.event.person == person and row.event.id in steps - undone]
    if not mine:
        raise InputError(f"{view.state.name}: {person} has logged no step that could be taken back")
    return mine[-1]
