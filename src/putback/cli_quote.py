"""`putback quote`: time and money with their spread, what to order, and what is nearly free while the car is open."""

from putback.cli_planning import add_job, limits_of, options_of, read_bytes, read_files, refuse_circles, tell_no
from putback.errors import InputError
from putback.terminal import print_json

BESIDE = 2.0  # seconds for what else could be done while it is open


def add(parser) -> None:
    """Declare the arguments."""
    add_job(parser, "without it a shop that lacks nothing, and no labour")
    parser.add_argument("--terms", metavar="FILE", help="what is agreed for this job, and how its parts stand")
    parser.add_argument("--hours", metavar="TIME", help="bill this time, as in 4.5, \"4 h 30 min\" or \"4.5 h, own time\"")
    parser.add_argument("--cap", metavar="AMOUNT", help="the most that was agreed, before tax, or \"912.00 with tax\"")
    parser.add_argument("--short", action="store_true", help="leave out the other ways and what is nearly free while it is open")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="the quote as JSON")
    form.add_argument("--csv", action="store_true", help="the quote as CSV")


def run(args) -> int:
    """Plan, price and print."""
    from putback.way.no_way import NoSafeWay

    if not args.area:
        raise InputError("name an area file, as in: putback quote my-area.yaml --shop my-shop.yaml")
    try:
        _quote(args)
    except NoSafeWay as no_way:
        return tell_no(args, no_way)
    return 0


def _quote(args) -> None:
    from putback.estimate.quote import make_quote
    from putback.way.plan import plan

    task, assumed = _task(args)
    terms = _terms(args)
    sheet = plan(task, **limits_of(args))
    quote = make_quote(task, sheet, terms, assumed=assumed)
    if args.csv:
        _print_csv(quote)
    elif args.json:
        _print_json(args, task, sheet, terms, quote)
    else:
        _print_text(args, task, sheet, terms, quote)


def _print_csv(quote) -> None:
    import sys

    from putback.quote_data import quote_csv

    text = quote_csv(quote)
    if hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(newline="")  # CR LF on every system
    sys.stdout.write(text)


def _print_json(args, task, sheet, terms, quote) -> None:
    from putback.quote_data import beside_object, quote_object

    found = quote_object(quote)
    if not args.short:
        found |= beside_object(_ways(args, task, sheet, terms), _open(args, task, sheet, terms))
    print_json(found)


def _print_text(args, task, sheet, terms, quote) -> None:
    from putback.quote_text import other_ways_lines, quote_lines, while_open_lines

    print("\n".join(quote_lines(quote)), flush=True)  # to be read while the rest is worked out
    if not args.short:
        print("\n".join(while_open_lines(_open(args, task, sheet, terms))), flush=True)
        print("\n".join(other_ways_lines(_ways(args, task, sheet, terms))))


def _open(args, task, sheet, terms):
    from putback.estimate.while_open import while_open

    limits = limits_of(args)
    return while_open(task, sheet, terms, clock=limits["clock"], seconds=min(BESIDE, limits["seconds"]))


def _ways(args, task, sheet, terms) -> list:
    """Every way that leads to the target, each with its name and its quote; things stand as they do for the first."""
    from dataclasses import replace

    from putback.estimate.quote import make_quote
    from putback.way.alternatives import alternatives

    others = [one for one in alternatives(task, sheet, **limits_of(args)) if one.sheet]
    return [(_name(one), make_quote(task, one.sheet, replace(terms, parts={}))) for one in others]


def _name(one) -> str:
    if one.chosen:
        return "as planned"
    words = "; ".join(map(str, one.choices))
    return f"{words} (not here: {one.reason})" if one.lacks else words


def _task(args):
    """The job, and what was taken for granted in it."""
    from putback.estimate.assumed import assumed
    from putback.way.task import make_task

    files = read_files(args)
    refuse_circles(files.area)
    shop, words = assumed(files.area, files.shop, args.targets, files.state, args.rust)
    by = "money" if shop.labour else "minutes"
    task = make_task(files.area, shop, args.targets, files.state, by=by, rust=shop.rust, **options_of(args))
    return task, words


def _terms(args):
    """What is agreed for this job: the file's, and over it what the command line says."""
    from dataclasses import replace

    from putback.area.charges import billed
    from putback.estimate.agreed import Consent, read_cap
    from putback.estimate.terms import NO_TERMS, read_terms

    terms = read_terms(read_bytes(args.terms), args.terms) if args.terms else NO_TERMS
    if args.hours is not None:
        text = f"{args.hours} h" if args.hours.strip().replace(".", "", 1).isdecimal() else args.hours
        terms = replace(terms, hours=billed(text))
    if args.cap is not None:
        if terms.consents:
            raise InputError("--cap says what the terms file says under agreed; leave one of them out")
        terms = replace(terms, consents=(Consent(read_cap(args.cap)),))
    return terms
