"""`putback job history`: what was done to a vehicle before."""

from putback.cli_job_common import add_common, opened


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("vehicle", metavar="VEHICLE", help="as its jobs name it, or a part of that")
    add_common(parser, job=False)


def run(args) -> int:
    """Print the jobs of a vehicle, the latest first; 1 where there is none."""
    from dataclasses import asdict

    from putback.desk.history import vehicle_history
    from putback.terminal import complain, print_json, visible

    with opened(args) as (ledger, _):
        found = vehicle_history(ledger, args.vehicle)
    if args.json:
        print_json([asdict(one) for one in found])
    elif found:
        print(visible("\n".join(line for one in found for line in _lines(one))))
    if not found:
        complain(f'no job names a vehicle "{args.vehicle}"')
    return 0 if found else 1


def _lines(one):
    from putback.job_text import folded

    distance = f" at {one.kilometres:g} km" if one.kilometres is not None else ""
    yield f"{one.opened_at[:10]}{distance}  {one.name}{'' if one.signed_at else '  (not handed over)'}"
    told = [
        one.complaint and f"complaint: {one.complaint}",
        one.swapped and f"replaced: {', '.join(one.swapped)}",
        one.opened and f"opened: {', '.join(one.opened)}",
        *one.differences,
        one.good is not None and f"readings afterwards: {'good' if one.good else 'NOT GOOD'}",
    ]
    for text in filter(None, told):
        yield from folded(text, "    ", "      ")
