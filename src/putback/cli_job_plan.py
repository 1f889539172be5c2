"""`putback job plan`: plan again from where the job stands."""

from putback.cli_job_common import add_common, bench, thinking


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--avoid", action="append", default=[], metavar="PART", help="do not open this part")
    parser.add_argument("--without", action="append", default=[], metavar="THING", help="plan without this equipment, tool or certificate")
    parser.add_argument("--why", metavar="TEXT", help="what made it necessary")
    parser.add_argument("--keep", action="store_true", help="put it in force; it is only shown when left out")
    add_common(parser)


def run(args) -> int:
    """Plan, show the plan, and keep it where that is asked."""
    from putback.desk.planning import keep_plan, plan_on, spent_by
    from putback.desk.view import look
    from putback.plan_json import plan_object
    from putback.plan_text import plan_lines
    from putback.terminal import print_json, visible

    with bench(args) as at:
        view = look(at.ledger, at.job)
        sheet = plan_on(view, at.stamp.now(), thinking(), avoid=args.avoid, without=args.without)
        if args.keep:
            # What a wish makes dearer is no work that was done: that is told by the plan without the wish.
            wished = args.avoid or args.without
            rest = plan_on(view, at.stamp.now(), thinking()) if wished else sheet
            keep_plan(at.ledger, at.job, sheet, at.stamp, args.why, spent_by(view.state, rest))
    if args.json:
        print_json(plan_object(sheet))
    else:
        print(visible("\n".join(plan_lines(sheet))))
        print("\nthis plan is in force now" if args.keep else "\nthis plan is only shown; --keep puts it in force")
    return 0
