"""`putback quote`: time and money with their spread, what to order, and what is nearly free while the car is open."""

from putback.cli_way import SECONDS, limits_of, print_json
from putback.errors import Findings, InputError

BESIDE = 2.0  # seconds for what else could be done while it is open


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("area", nargs="?", metavar="AREA", help="the area file")
    parser.add_argument("targets", nargs="*", metavar="TARGET", help="what to replace; the area's own targets when left out")
    parser.add_argument("--shop", metavar="FILE", help="the shop's file; without it a shop that lacks nothing, and no labour")
    parser.add_argument("--terms", metavar="FILE", help="what is agreed for this job, and how its parts stand")
    parser.add_argument("--state", metavar="FILE", help="where a job under way stands")
    parser.add_argument("--variant", action="append", default=[], metavar="NAME", help="what the car is, such as all-wheel drive")
    parser.add_argument("--avoid", action="append", default=[], metavar="PART", help="do not open this part")
    parser.add_argument("--without", action="append", default=[], metavar="THING", help="plan without this equipment, tool or certificate")
    parser.add_argument("--rust", choices=("clean", "usual", "heavy"), help="how rusty the car is")
    parser.add_argument("--hours", metavar="TIME", help="bill this time, as in 4.5, \"4 h 30 min\" or \"4.5 h, own time\"")
    parser.add_argument("--cap", metavar="AMOUNT", help="the most that was agreed, before tax, or \"912.00 with tax\"")
    parser.add_argument("--no-setup", action="store_true", help="count no time for changing tools, vantage and posture")
    parser.add_argument("--no-overlap", action="store_true", help="let no work run inside waits")
    parser.add_argument("--seconds", type=float, default=SECONDS, metavar="N", help=f"plan no longer than this ({SECONDS:g})")
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
        return _no_way(args, no_way)
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


def _no_way(args, no_way) -> int:
    """Why there is none, and what would open one."""
    from putback import terminal
    from putback.others_text import no_way_lines
    from putback.plan_json import no_way_object

    if args.json:
        print_json(no_way_object(no_way))
    terminal.complain("\n".join(no_way_lines(no_way)))
    return 1


def _task(args):
    """The job, and what was taken for granted in it."""
    from putback.area.area_file import read_area
    from putback.area.shop_file import read_shop
    from putback.area.state_file import read_state, with_variants
    from putback.estimate.assumed import assumed
    from putback.way.from_area_circles import findings
    from putback.way.task import make_task

    area = read_area(_bytes(args.area), args.area)
    if found := findings(area):
        raise Findings(found)
    state = read_state(_bytes(args.state), args.state, area) if args.state else None
    state = with_variants(area, state, args.variant) if args.variant else state
    shop = read_shop(_bytes(args.shop), args.shop) if args.shop else None
    shop, words = assumed(area, shop, args.targets, state, args.rust)
    options = {"avoid": args.avoid, "without": args.without, "no_setup": args.no_setup, "no_overlap": args.no_overlap}
    task = make_task(area, shop, args.targets, state, by="money" if shop.labour else "minutes", rust=shop.rust, **options)
    return task, words


def _terms(args):
    """What is agreed for this job: the file's, and over it what the command line says."""
    from dataclasses import replace

    from putback.area.charges import billed
    from putback.estimate.agreed import Consent, read_cap
    from putback.estimate.terms import NO_TERMS, read_terms

    terms = read_terms(_bytes(args.terms), args.terms) if args.terms else NO_TERMS
    if args.hours is not None:
        text = f"{args.hours} h" if args.hours.strip().replace(".", "", 1).isdecimal() else args.hours
        terms = replace(terms, hours=billed(text))
    if args.cap is not None:
        if terms.consents:
            raise InputError("--cap says what the terms file says under agreed; leave one of them out")
        terms = replace(terms, consents=(Consent(read_cap(args.cap)),))
    return terms


def _bytes(name: str) -> bytes:
    from putback.area.nodes import LARGEST
    from putback.reading import read_file

    return read_file(name, LARGEST)
