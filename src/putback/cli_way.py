"""`putback way`: the cheapest way in and the way back."""

from putback.cli_planning import add_job, limits_of, options_of, read_bytes, read_files, tell_no
from putback.errors import InputError
from putback.terminal import print_json


def add(parser) -> None:
    """Declare the arguments."""
    add_job(parser, "without it a shop that lacks nothing, minutes only")
    parser.add_argument("--by", choices=("money", "minutes"), help="what to save (money; minutes without --shop)")
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
        return tell_no(args, no_way)


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

    order = read_order(read_bytes(args.order), args.order, task.area)
    priced = price_order(task, order, **limits_of(args))
    _draw(args, priced.sheet)
    if args.json:
        print_json(plan_object(priced.sheet) | priced_object(priced))
    else:
        print("\n".join([*priced_lines(priced), "", *plan_lines(priced.sheet, proof=False)]))
    return 0


def _draw(args, sheet) -> None:
    if args.svg:
        from putback.chart import chart_svg
        from putback.writing import write_whole

        write_whole(args.svg, chart_svg(sheet))


def _task(args):
    from putback.way.full_shop import full_shop
    from putback.way.task import make_task

    if args.by == "money" and not args.shop:
        raise InputError("--by money needs the shop's labour rate; name its file with --shop")
    files = read_files(args)
    shop = files.shop or full_shop(files.area, args.targets, files.state)
    by = args.by or ("money" if shop.labour else "minutes")
    return make_task(files.area, shop, args.targets, files.state, by=by, rust=args.rust, **options_of(args))
