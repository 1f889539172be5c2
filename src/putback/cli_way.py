"""`putback way`: the cheapest way in and the way back."""

import json
import sys
from pathlib import Path

from putback.errors import InputError

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
    parser.add_argument("--svg", metavar="FILE", help="also draw the out-and-back chart into this file")
    parser.add_argument("--core", metavar="FILE", help="plan a core problem (docs/core-problem.md) in place of an area")


def run(args) -> int:
    """Plan and print."""
    if args.core:
        return _run_core(args)
    if not args.area:
        raise InputError("name an area file, as in: putback way my-area.yaml --shop my-shop.yaml")
    sheet = _sheet(args)
    _draw(args, sheet)
    if args.json:
        from putback.plan_json import plan_object

        _print_json(plan_object(sheet))
    else:
        from putback.plan_text import plan_lines

        print("\n".join(plan_lines(sheet)))
    return 0


def _draw(args, sheet) -> None:
    if args.svg:
        from putback.chart import chart_svg
        from putback.writing import write_whole

        write_whole(args.svg, chart_svg(sheet))


def _sheet(args):
    from time import perf_counter

    from putback.area.area_file import read_area
    from putback.area.shop_file import read_shop
    from putback.area.state_file import read_state, with_variants
    from putback.way.full_shop import full_shop
    from putback.way.sheet import plan_way

    if args.by == "money" and not args.shop:
        raise InputError("--by money needs the shop's labour rate; name its file with --shop")
    area = read_area(_bytes(args.area), args.area)
    state = read_state(_bytes(args.state), args.state, area) if args.state else None
    state = with_variants(area, state, args.variant) if args.variant else state
    shop = read_shop(_bytes(args.shop), args.shop) if args.shop else full_shop(area, args.targets, state)
    return plan_way(
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
        clock=perf_counter,
        seconds=_limit(args.seconds),
    )


def _run_core(args) -> int:
    """The planner alone: a core problem in, a plan with its bounds out."""
    from time import perf_counter

    from putback.way.solve import solve_core

    begun = perf_counter()
    _refuse_others(args)
    core = _json(args.core)
    solved = solve_core(core, clock=perf_counter, seconds=_limit(args.seconds))
    lead = perf_counter() - begun - solved.seconds  # reading counts: what is stated is what was waited for
    found = {
        "total": solved.total,
        "lower": solved.lower,
        "proved": solved.proved,
        "first_plan_s": round(lead + solved.first_seconds, 4),
        "seconds": round(lead + solved.seconds, 4),
        "plan": solved.plan,
    }
    if args.json:
        _print_json(found)
    else:
        proof = "proved cheapest" if solved.proved else f"not proved; nothing below {solved.lower}"
        print(f"total {solved.total}, {proof}, {found['seconds']:.2f} s")
        for name, way, where in solved.plan:
            place = where if isinstance(where, str) else ", ".join(where.values())
            print(f"  {name}  (way {way}; {place})")
    return 0


def _refuse_others(args) -> None:
    """A core problem holds all there is to know, so that what is said besides would go unheard."""
    besides = [args.area, args.shop, args.state, args.by, args.rust, args.svg, *args.variant, *args.avoid, *args.without]
    if any(besides) or args.no_setup or args.no_overlap:
        raise InputError("--core takes no area and no options but --seconds and --json")


def _limit(seconds: float) -> float:
    if not seconds > 0:
        raise InputError(f"--seconds {seconds:g}: give a time above 0")
    return seconds


def _bytes(name: str) -> bytes:
    from putback.area.nodes import LARGEST

    if not Path(name).is_file():
        raise InputError(f"{name}: there is no such file")
    with Path(name).open("rb") as file:
        return file.read(LARGEST + 1)


def _json(name: str):
    try:
        text = (sys.stdin.buffer.read() if name == "-" else Path(name).read_bytes()).decode("utf-8-sig")
        return json.loads(text, object_pairs_hook=_once_each)
    except json.JSONDecodeError as error:
        raise InputError(f"this is no JSON: {error.msg}", (name, error.lineno, error.colno)) from None
    except (ValueError, RecursionError):  # other bytes than UTF-8, a number of thousands of digits, lists in lists without end
        raise InputError(f"{name}: this is no JSON text in UTF-8 that can be read") from None


def _once_each(pairs: list) -> dict:
    """A JSON mapping, if no key stands there twice."""
    read = dict(pairs)
    if len(read) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise InputError(f"the key {twice[:60]!r} stands twice in one mapping; once is enough")
    return read


def _print_json(value) -> None:
    print(json.dumps(value, ensure_ascii=False, indent=1))
