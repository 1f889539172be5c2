"""`putback job suspects`: what the readings speak for, whether the part may come off, and what to test next."""

from putback.cli_job_common import add_common, bench, thinking


def add(parser) -> None:
    """Declare the arguments."""
    about = "charging, starter or blower; the one for what the car came for when left out"
    parser.add_argument("--model", metavar="MODEL", help=about)
    add_common(parser)


def run(args) -> int:
    """Weigh, log what is news, and print; 1 while the part may not come off, or the repair is not proved."""
    from putback.desk.concluding import weigh_and_keep
    from putback.job_text import folded
    from putback.terminal import print_json, visible
    from putback.weighed_text import weighed_lines, weighed_object

    with bench(args, over=True) as at:
        found = weigh_and_keep(at.ledger, at.job, at.stamp, thinking(), args.model)
    if args.json:
        print_json(weighed_object(found))
    else:
        print(visible("\n".join(line for text in weighed_lines(found) for line in folded(text, "", "    ") or [""])))
    return 0 if found.settled else 1
