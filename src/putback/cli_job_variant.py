"""`putback job variant`: the car turned out to be another variant of what the area describes; plan again."""

from putback.cli_job_common import add_common, bench, thinking


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("variant", metavar="NAME", help="what the car has or is, as the area names it")
    add_common(parser)


def run(args) -> int:
    """Log it, plan again and tell what changed; 1 where there is no way from here."""
    from putback.cli_job_differs import tell
    from putback.desk.differs import vary

    with bench(args) as at:
        told = vary(at.ledger, at.job, at.stamp, args.variant, thinking())
        tell(args, told, at.stamp.now())
    return 1 if told.no_way else 0
