"""`putback paper`: estimate, job sheet, lay-out list, labels, sheet for a colleague, tag, record; as PDF, CSV or JSON."""

from putback.cli_job_common import opened, thinking
from putback.errors import InputError
from putback.terminal import print_json, visible

ALL = "all"


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument(
        "kind",
        metavar="KIND",
        help="estimate, job-sheet, lay-out, labels, hand-on, tag or record; all of them into a folder",
    )
    parser.add_argument(
        "job", nargs="?", metavar="JOB", help="its name, its id or how that begins; the only open one when left out"
    )
    parser.add_argument("-o", "--output", metavar="FILE", help="the PDF; a folder for all of them")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print what the paper says as JSON")
    form.add_argument("--csv", action="store_true", help="print it as CSV")
    parser.add_argument("--sheet", choices=("a4", "letter"), default="a4", help="the paper's size (a4)")
    parser.add_argument(
        "--units", choices=("metric", "us"), default="metric", help="whether foot-pounds, miles and quarts stand beside"
    )
    parser.add_argument("--language", default="en", metavar="WORD", help="of what is printed (en)")
    parser.add_argument("--address", default="", metavar="URL", help="of the pages at the car, for the codes on labels")
    parser.add_argument("--ledger", metavar="WHERE", help="a file, or postgresql://...; PUTBACK_LEDGER when left out")
    _add_area(parser)


def _add_area(parser) -> None:
    """What a paper is made from before there is a job."""
    parser.add_argument(
        "--area", metavar="AREA", help="an area file in place of a job: estimate, job sheet, lay-out list, labels"
    )
    parser.add_argument(
        "--target", dest="targets", action="append", default=[], metavar="PART", help="what to replace there"
    )
    parser.add_argument("--shop", metavar="FILE", help="the shop's file for it")
    parser.add_argument("--variant", action="append", default=[], metavar="NAME", help="what that car is")
    parser.set_defaults(by=None, state=None, own_times=None, rust=None)


def run(args) -> int:
    """Make the paper, and print or write it."""
    if not (args.output or args.json or args.csv):
        raise InputError("say where the paper goes, as in: -o estimate.pdf; --json and --csv print what it says")
    if args.area:
        return _from_area(args)
    from putback.desk.find import find_job

    with opened(args) as (ledger, stamp):
        return _give(args, _of_job(args, ledger, find_job(ledger, args.job, over=True), stamp.now()))


def _of_job(args, ledger, job: str, now: str):
    from putback.paper.matter import matter_of

    return matter_of(ledger, job, _look(args), now, thinking())


def _look(args):
    from putback.paper.look import Look

    return Look(args.sheet, args.units, args.language, args.address)


def _from_area(args) -> int:
    from putback.paper.kinds import paper
    from putback.paper.matter import matter_planned

    if args.job or args.kind == ALL or paper(args.kind).logged:
        raise InputError("--area stands in place of a job, and gives one of: estimate, job-sheet, lay-out, labels")
    task, assumed = _task(args)
    return _give(args, matter_planned(task, _look(args), thinking(), assumed))


def _task(args):
    from putback.cli_planning import read_files, refuse_circles
    from putback.estimate.assumed import assumed
    from putback.way.task import make_task

    files = read_files(args)
    refuse_circles(files.area)
    shop, words = assumed(files.area, files.shop, args.targets, files.state)
    by = "money" if shop.labour else "minutes"
    return make_task(files.area, shop, args.targets, files.state, by=by, rust=shop.rust), words


def _give(args, matter) -> int:
    """Print or write what was asked for."""
    from putback.paper.kinds import made, pdf
    from putback.paper.rows import paper_csv

    if args.kind == ALL:
        return _all(args, matter)
    if args.json:
        print_json(made(args.kind, matter).data)
    elif args.csv:
        _print_csv(paper_csv(made(args.kind, matter).data))
    else:
        _write(args.output, pdf(args.kind, matter))
    return 0


def _all(args, matter) -> int:
    """Every paper there is something for, into a folder; why one is left out is said."""
    from putback.paper.folder import write_all

    if not args.output:
        raise InputError("all papers go into a folder; say which, as in: -o papers")
    for kind, words in write_all(args.output, matter):
        print(visible(f"{kind}: {words}"))
    return 0


def _write(name: str, content: bytes) -> None:
    from putback.writing import write_whole

    write_whole(name, content)
    print(visible(f"{name}, {len(content) / 1000:.0f} kB"))


def _print_csv(text: str) -> None:
    import sys

    if hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(newline="")  # CR LF on every system
    sys.stdout.write(text)
