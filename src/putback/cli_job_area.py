"""`putback job area`: an area file drafted from a job on a car that nobody had described."""

from putback.cli_job_common import add_common, bench

MERGED = "another job on the same sort of car; both are merged"


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("file", metavar="FILE", help="the area file to write")
    parser.add_argument("--and", dest="more", action="append", default=[], metavar="JOB", help=MERGED)
    parser.add_argument("--order", metavar="FILE", help="write the job's own order as well, for putback way --order")
    parser.add_argument("--name", metavar="TEXT", help="what the area is called; as the job when left out")
    add_common(parser)


def run(args) -> int:
    """Write the files and tell what they hold."""
    from putback.desk.drafting import area_of_jobs, order_of_job
    from putback.desk.find import find_job
    from putback.desk.view import look
    from putback.terminal import print_json, visible
    from putback.writing import write_whole

    with bench(args, over=True) as at:
        views = [
            look(at.ledger, job) for job in (at.job, *(find_job(at.ledger, name, over=True) for name in args.more))
        ]
    name = args.name or views[0].state.name
    write_whole(args.file, area_of_jobs(views, name))
    if args.order:
        write_whole(args.order, order_of_job(views[0], name))
    if args.json:
        print_json({"area": args.file, "order": args.order, "jobs": [view.id for view in views]})
    else:
        jobs = "one job" if len(views) == 1 else f"{len(views)} jobs"
        print(visible(f"{args.file}: drafted from {jobs}; look at every line, then `putback check {args.file}`"))
    return 0
