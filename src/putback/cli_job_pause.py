"""`putback job pause` and `resume`: work stops for a while, and goes on with what has to be looked at again."""

from putback.cli_job_common import add_common, bench


def add(parser) -> None:
    """Declare the arguments of the word that the parser is for."""
    if parser.prog.endswith("pause"):
        parser.add_argument("reason", nargs="?", metavar="REASON", help="why")
    add_common(parser)


def run(args) -> int:
    """Log it, and tell what to look at again."""
    from putback.desk.passing_on import pause, resume
    from putback.terminal import print_json, visible

    with bench(args) as at:
        if hasattr(args, "reason"):
            view = pause(at.ledger, at.job, at.stamp, args.reason)
            lines, told = ["paused"], {"job": view.id, "paused": True}
        else:
            gone = resume(at.ledger, at.job, at.stamp)
            lines = _resumed(gone)
            told = {"job": at.job, "minutes": round(gone.minutes, 1), "confirm": list(gone.confirm), "loose": list(gone.loose)}
    if args.json:
        print_json(told)
    else:
        print(visible("\n".join(lines)))
    return 0


def _resumed(gone) -> list[str]:
    lines = [f"work goes on after {gone.minutes:.0f} min"]
    lines += [f"not tight: {words}" for words in gone.loose]
    lines += [f"look at it again: {words}" for words in gone.confirm]
    return [*lines, "then `putback job confirm`"] if gone.confirm else lines
