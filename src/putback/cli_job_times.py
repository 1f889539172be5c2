"""`putback job times`: time per person, and how long each part really takes here beside what its file says."""

from putback.cli_job_common import add_common, opened


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--area", metavar="FILE", help="what its parts take here, from all jobs that were handed over")
    add_common(parser)


def run(args) -> int:
    """Print the times."""
    from putback.desk.find import find_job
    from putback.desk.history import own_times, time_of_people

    with opened(args) as (ledger, _):
        if args.area:
            area = _area(args.area)
            return _tell_parts(args, area, own_times(ledger, area))
        people = time_of_people(ledger, find_job(ledger, args.job) if args.job else None)
    return _tell_people(args, people)


def _area(name: str):
    from putback.area.area_file import read_area
    from putback.cli_planning import read_bytes

    return read_area(read_bytes(name), name)


def _tell_people(args, people: dict[str, float]) -> int:
    from putback.terminal import print_json, visible

    if args.json:
        print_json([{"person": person, "minutes": round(minutes, 1)} for person, minutes in people.items()])
        return 0
    for person, minutes in people.items():
        print(visible(f"  {person:40.40} {minutes:8.1f} min"))
    if not people:
        print("nobody's time is known yet")
    return 0


def _tell_parts(args, area, learned: list) -> int:
    from putback.terminal import print_json, visible

    if args.json:
        print_json([_object(area, one) for one in learned])
        return 0
    print(f"{'':34}   file      own   sure 9 in 10   jobs")
    for one in learned:
        print(visible(_row(area, one)))
    if not learned:
        print(visible(f"no job on {area.name} was handed over yet"))
    return 0


def _row(area, one) -> str:
    words = f"{one.part}, {'off' if one.direction == 'out' else 'on'}"
    filed = _filed(area, one)
    sure = "too few yet" if one.interval is None else f"{one.interval[0]:.0f} to {one.interval[1]:.0f}"
    return f"{words:34.34} {'by way' if filed is None else format(filed, '.0f'):>6} {one.median:8.1f}   {sure:>12} {len(one.values):6}"


def _filed(area, one) -> float | None:
    """What the file says; None where it depends on the way."""
    minutes = area.items[one.part].minutes
    return None if minutes is None else float(minutes.towards(one.direction).likely)


def _object(area, one) -> dict:
    sure = None if one.interval is None else list(one.interval)
    told = {"part": one.part, "direction": "off" if one.direction == "out" else "on", "file": _filed(area, one)}
    return told | {"median": one.median, "sure": sure, "jobs": len(one.values), "minutes": list(one.values)}
