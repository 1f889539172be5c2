"""`putback job hand-on` and `take-over`: the sheet for a colleague, and the job in his hands."""

from putback.cli_job_common import add_common, bench


def add(parser) -> None:
    """Declare the arguments of the word that the parser is for."""
    if parser.prog.endswith("hand-on"):
        parser.add_argument("--to", metavar="PERSON", help="hand the job on to him; only the sheet is shown when left out")
    else:
        parser.add_argument("facts", nargs="*", metavar="FACT", help="the letters of the facts that you looked at, such as a b c")
    add_common(parser)


def run(args) -> int:
    """Print the sheet and hand the job on, or take it over."""
    from putback.desk.passing_on import hand_on, hand_on_of
    from putback.desk.view import look

    with bench(args) as at:
        if hasattr(args, "facts"):
            return _take_over(args, at)
        view = look(at.ledger, at.job)
        sheet = hand_on(at.ledger, at.job, at.stamp, args.to) if args.to else hand_on_of(view, at.stamp.now())
    _show(args, sheet)
    if args.to and not args.json:
        print(f"\nhanded on to {args.to}; he goes on with `putback job take-over a b c --by {args.to!r}`")
    return 0


def _show(args, sheet) -> None:
    from dataclasses import asdict

    from putback.hand_on_text import hand_on_lines
    from putback.terminal import print_json, visible

    if args.json:
        print_json(asdict(sheet))
    else:
        print(visible("\n".join(hand_on_lines(sheet))))


def _take_over(args, at) -> int:
    from putback.desk.passing_on import hand_on_of, take_over
    from putback.desk.view import look
    from putback.hand_on_text import lettered
    from putback.job_text import next_lines
    from putback.terminal import print_json, visible

    sheet = hand_on_of(look(at.ledger, at.job), at.stamp.now())
    letters = lettered(sheet.facts)
    view = take_over(at.ledger, at.job, at.stamp, [letters[one].key for one in args.facts if one in letters])
    if args.json:
        print_json({"job": at.job, "taken_over_by": at.stamp.person})
    else:
        print(visible("\n".join(["taken over", *next_lines(view, at.stamp.now(), 2)])))
    return 0
