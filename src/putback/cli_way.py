"""`putback way`: the cheapest way in and the way back."""

import json

from putback.errors import InputError
from putback.terminal import visible

SECONDS = 10.0


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("area", nargs="?", metavar="AREA", help="the area file")
    parser.add_argument("targets", nargs="*", metavar="TARGET", help="what to replace; the area's own targets when left out")
    parser.add_argument("--shop", metavar="FILE", help="the shop's file; without it a shop that lacks nothing, minutes only")
    parser.add_argument("--state", metavar="FILE", help="where a job under way stands")
    parser.add_argument("--variant", action="append", default=[], metavar="NAME", help="what the car is, such as all-wheel drive")
    parser.add_argument("--avoid", action="append", default=[], metavar="PART", help="do not open this part")
    parser.add_argument("--without", action="append", default=[], metavar="THING", help="plan without this equipment, tool or certificate")
    parser.add_argument("--rust", choices=("clean", "usual", "heavy"), help="how rusty the car is")
    parser.add_argument("--by", choices=("money", "minutes"), help="what to save (money; minutes without --shop)")
    parser.add_argument("--no-setup", action="store_true", help="count no time for changing tools, vantage and posture")
    parser.add_argument("--no-overlap", action="store_true", help="let no work run inside waits")
    parser.add_argument("--seconds", type=float, default=SECONDS, metavar="N", help=f"think no longer than this ({SECONDS:g})")
    parser.add_argument("--json", action="store_true", help="the plan as JSON")
    parser.add_argument("--others", action="store_true", help="also what the other ways cost, and what one more tool would save")
    parser.add_argument("--order", metavar="FILE", help="price this order of work in place of looking for the cheapest")
    parser.add_argument("--svg", metavar="FILE", help="also draw the out-and-back chart into this file")
    parser.add_argument("--core", metavar="FILE", help="plan a core problem (docs/core-problem.md) in place of an area")


def run(args) -> int:
    """Plan and print."""
    if args.core:
        from putback import cli_core

        return cli_core.run(args)
    if not args.area:
        raise InputError("name an area file, as in: putback way my-area.yaml --shop my-shop.yaml")
    from putback.way.no_way import NoSafeWay

    if args.order and args.others:
        raise InputError("--order prices one order; leave --others out, or ask for it in a run of its own")
    task = _task(args)
    try:
        return _order(args, task) if args.order else _plan(args, task)
    except NoSafeWay as no_way:
        _no_circles(task.area)
        return _no_way(args, no_way)


def _plan(args, task) -> int:
    from putback.plan_json import others_object, plan_object
    from putback.plan_text import plan_lines
    from putback.way.plan import plan

    limits = limits_of(args)
    sheet = plan(task, **limits)
    _draw(args, sheet)
    if args.json:
        others = others_object(*_others(task, sheet, limits)) if args.others else {}
        print_json(plan_object(sheet) | others)
        return 0
    print("\n".join(plan_lines(sheet)), flush=True)  # the plan is there to be read while the other ways are looked at
    if args.others:
        from putback.others_text import others_lines

        print("\n".join(others_lines(*_others(task, sheet, limits))))
    return 0


def _others(task, sheet, limits: dict):
    """What there is besides the plan; both together take no longer than the plan may."""
    from putback.way.alternatives import alternatives
    from putback.way.one_more import savings
    from putback.way.stopwatch import Stopwatch

    watch = Stopwatch(**limits)
    return [find(task, sheet, clock=watch.clock, seconds=watch.left()) for find in (alternatives, savings)]


def _order(args, task) -> int:
    """The price of an order that somebody gives, and the steps in that order."""
    from putback.area.order_file import read_order
    from putback.others_text import priced_lines
    from putback.plan_json import plan_object, priced_object
    from putback.plan_text import plan_lines
    from putback.way.price_order import price_order

    order = read_order(_bytes(args.order), args.order, task.area)
    priced = price_order(task, order, **limits_of(args))
    _draw(args, priced.sheet)
    if args.json:
        print_json(plan_object(priced.sheet) | priced_object(priced))
    else:
        print("\n".join([*priced_lines(priced), "", *plan_lines(priced.sheet, proof=False)]))
    return 0


def _no_circles(area) -> None:
    """What waits for itself is wrong in the description, whatever the shop may lack."""
    from putback.errors import Findings
    from putback.way.from_area_circles import findings

    found = findings(area)
    if found:
        raise Findings(found)


def _no_way(args, no_way) -> int:
    """Why there is none, and what would open one."""
    from putback import terminal
    from putback.others_text import no_way_lines
    from putback.plan_json import no_way_object

    if args.json:
        print_json(no_way_object(no_way))
    terminal.complain("\n".join(no_way_lines(no_way)))
    return 1


def _draw(args, sheet) -> None:
    if args.svg:
        from putback.chart import chart_svg
        from putback.writing import write_whole

        write_whole(args.svg, chart_svg(sheet))


def _task(args):
    from putback.area.area_file import read_area
    from putback.area.shop_file import read_shop
    from putback.area.state_file import read_state, with_variants
    from putback.way.full_shop import full_shop
    from putback.way.task import make_task

    if args.by == "money" and not args.shop:
        raise InputError("--by money needs the shop's labour rate; name its file with --shop")
    area = read_area(_bytes(args.area), args.area)
    state = read_state(_bytes(args.state), args.state, area) if args.state else None
    state = with_variants(area, state, args.variant) if args.variant else state
    shop = read_shop(_bytes(args.shop), args.shop) if args.shop else full_shop(area, args.targets, state)
    return make_task(
        area,
        shop,
        args.targets,
        state,
        by=args.by or ("money" if shop.labour else "minutes"),
        avoid=args.avoid,
        without=args.without,
        no_setup=args.no_setup,
        no_overlap=args.no_overlap,
        rust=args.rust,
    )


def limits_of(args) -> dict:
    """The clock and the time to think in, as the planner takes them."""
    from time import perf_counter

    if not args.seconds > 0:
        raise InputError(f"--seconds {args.seconds:g}: give a time above 0")
    return {"clock": perf_counter, "seconds": args.seconds}


def _bytes(name: str) -> bytes:
    from putback.area.nodes import LARGEST
    from putback.reading import read_file

    return read_file(name, LARGEST)


def print_json(value) -> None:
    """Print a value as JSON that people can read."""
    print(visible(json.dumps(value, ensure_ascii=False, indent=1)))
