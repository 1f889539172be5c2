"""`putback job settled`: how something seized, broken or otherwise different was put right; plan again."""

from putback.cli_job_common import add_common, bench, thinking


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("item", metavar="ITEM", help="what differed")
    parser.add_argument("how", metavar="HOW", help="what was done about it")
    add_common(parser)


def run(args) -> int:
    """Log it, plan again and tell what changed; 1 where there is no way from here."""
    from putback.cli_job_differs import tell
    from putback.desk.differs import settle

    with bench(args) as at:
        told = settle(at.ledger, at.job, at.stamp, args.item, args.how, thinking())
        tell(args, told, at.stamp.now())
    return 1 if told.no_way else 0
