"""`putback way --core`: the planner alone, a core problem in, a plan with its bounds out."""

import json
import sys
from pathlib import Path

from putback.cli_way import limits_of, print_json
from putback.errors import InputError


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
            print(f"  {name}  (way {way}; {place})")
    return 0


def _refuse_others(args) -> None:
    """A core problem holds all there is to know, so that what is said besides would go unheard."""
    besides = [args.area, args.shop, args.state, args.by, args.rust, args.svg, args.order, *args.variant, *args.avoid, *args.without]
    if any(besides) or args.no_setup or args.no_overlap or args.others:
        raise InputError("--core takes no area and no options but --seconds and --json")


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
