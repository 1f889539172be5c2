"""`putback job whose`: which fastener of this job a loose one can be."""

from putback.cli_job_common import add_common, bench

NOT_FOUND = 1


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("seen", metavar="SEEN", help='what you see of it, as in "M8x30, 13 mm" or "T30"')
    add_common(parser)


def run(args) -> int:
    """Print the groups that fit; 1 where none does."""
    from dataclasses import asdict

    from putback.desk.view import look
    from putback.job.whose import whose
    from putback.job_text import folded
    from putback.terminal import complain, print_json, visible

    with bench(args) as at:
        view = look(at.ledger, at.job)
    found = whose(args.seen, view.state, view.car)
    if args.json:
        print_json([asdict(one) for one in found])
    for one in found if not args.json else ():
        out = f"; {one.out} out, {', '.join(one.trays)}" if one.out else ""
        print(visible("\n".join(folded(f"{one.words}{f' ({one.part})' if one.part else ''}{out}", "  ", "    "))))
    if not found:
        complain(f'nothing on this car fits "{args.seen}"; look whether it is ours at all')
    return 0 if found else NOT_FOUND
