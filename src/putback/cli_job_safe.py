"""`putback job safe`: the cheapest steps from here to a car that can be lowered, or rolled away."""

from putback.cli_job_common import add_common, bench, thinking


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--rolled", action="store_true", help="it is to be pushed out of the bay as well")
    add_common(parser)


def run(args) -> int:
    """Print the steps; 1 where there is no way to them."""
    from putback.desk.safe import make_safe
    from putback.desk.view import look
    from putback.desk_json import safe_object
    from putback.desk_text import safe_lines
    from putback.job_text import folded
    from putback.terminal import print_json, visible

    with bench(args) as at:
        safe = make_safe(look(at.ledger, at.job), at.stamp.now(), thinking(), args.rolled)
    if args.json:
        print_json(safe_object(safe))
    else:
        print(visible("\n".join(line for text in safe_lines(safe) for line in folded(text, "", "    "))))
    return 1 if safe.no_way else 0
