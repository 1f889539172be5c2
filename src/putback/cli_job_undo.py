"""`putback job undo`: take an event back; it stays in the log and counts no more."""

from putback.cli_job_common import add_common, bench
from putback.errors import InputError

FOR_EVER = ("event undone", "job opened", "hand-over signed", "hand-over refused")
WITH_ANOTHER = (  # said along with the event before them
    "point accepted", "plan made", "suspects weighed", "readings judged",
)  # fmt: skip


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("number", nargs="?", type=int, metavar="NUMBER", help="of the event, as the log has it; the last thing you said when left out")
    parser.add_argument("--reason", metavar="TEXT", help="why")
    parser.add_argument("--anyway", metavar="REASON", help="do it though the program holds you back, and why")
    add_common(parser)


def run(args) -> int:
    """Log that an event is taken back, with what belongs to it, and say which it was."""
    from putback.cli_job_saying import keep
    from putback.desk.view import look
    from putback.event_text import event_words
    from putback.terminal import visible

    with bench(args) as at:
        view = look(at.ledger, at.job)
        taken = _taken(view, _row(view, args.number, at.stamp.person))
        reason = {"reason": args.reason} if args.reason else {}
        status = keep(at, view, [("event undone", {"event": row.event.id} | reason) for row in taken], args)
        if status == 0 and not args.json:
            print(visible("\n".join(f"taken back: {row.number}  {event_words(row.event)}" for row in taken)))
        return status


def _row(view, number: int | None, person: str):
    """The event that is meant: the one of that number, or the last that the person said."""
    from putback.job.fold import taken_back

    undone = taken_back(view.logged)
    if number is not None:
        row = next((row for row in view.logged if row.number == number), None)
        if row is None or row.event.kind in FOR_EVER or row.event.id in undone:
            raise InputError(f"{view.state.name}: event {number} cannot be taken back; `putback job log` lists them")
        return row
    mine = [row for row in view.logged if row.event.person == person and row.event.id not in undone]
    mine = [row for row in mine if row.event.kind not in (*FOR_EVER, *WITH_ANOTHER)]
    if not mine:
        raise InputError(f"{view.state.name}: {person} has said nothing that could be taken back")
    return mine[-1]


def _taken(view, row) -> list:
    """An event and what was said along with it: the answer to what held it back, the plan that it caused, the same words."""
    from putback.job.fold import taken_back

    undone, found = taken_back(view.logged), [row]
    if row.event.kind == "note heard":
        told = {row.event.data["note"], *row.event.data["events"]}
        found += [one for one in view.logged if one.event.id in told and one.event.id not in undone]
    for one in view.logged[row.number :]:
        if one.event.kind not in WITH_ANOTHER or one.event.person != row.event.person:
            break
        if one.event.id not in undone:
            found.append(one)
    return found
