"""`putback way --core`: the planner alone, a core problem in, a plan with its bounds out."""

import json

from putback.cli_planning import limits_of
from putback.errors import InputError
from putback.reading import read_file, read_standard_input
from putback.terminal import print_json, visible

LARGEST = 8_000_000  # bytes; a problem of a thousand parts has some two million


def run(args) -> int:
    """Plan and print."""
    from time import perf_counter

    from putback.way.solve import solve_core

    begun = perf_counter()
    _refuse_others(args)
    core = _json(args.core)
    solved = solve_core(core, **limits_of(args))
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
        print_json(found)
    else:
        proof = "proved cheapest" if solved.proved else f"not proved; nothing below {solved.lower}"
        print(f"total {solved.total}, {proof}, {found['seconds']:.2f} s")
        for name, way, where in solved.plan:
            place = where if isinstance(where, str) else ", ".join(where.values())
            print(visible(f"  {name}  (way {way}; {place})"))
    return 0


def _refuse_others(args) -> None:
    """A core problem holds all there is to know, so that what is said besides would go unheard."""
    besides = [args.area, args.shop, args.state, args.by, args.rust, args.svg, args.order, *args.variant, *args.avoid, *args.without]
    if any(besides) or args.no_setup or args.no_overlap or args.others:
        raise InputError("--core takes no area and no options but --seconds and --json")


def _json(name: str):
    data = read_standard_input(LARGEST) if name == "-" else read_file(name, LARGEST)
    if len(data) > LARGEST:
        raise InputError(f"{name}: this is larger than {LARGEST // 1_000_000} MB; no problem of a car needs that much")
    try:
        return json.loads(data.decode("utf-8-sig"), object_pairs_hook=_once_each)
    except json.JSONDecodeError as error:
        raise InputError(f"this is no JSON: {error.msg}", (name, error.lineno, error.colno)) from None
    except (ValueError, RecursionError):  # other bytes than UTF-8, a number of thousands of digits, lists in lists without end
        raise InputError(f"{name}: this is no JSON text in UTF-8 that can be read") from None


def _once_each(pairs: list) -> dict:
    """A JSON mapping, if no key stands there twice."""
    read = dict(pairs)
    if len(read) != len(pairs):
        seen = set()
        twice = next(name for name, _ in pairs if name in seen or seen.add(name))
        raise InputError(f"the key {twice[:60]!r} stands twice in one mapping; once is enough")
    return read
