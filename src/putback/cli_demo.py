"""`putback demo`: whole jobs on invented cars, and again when the car or the shop differs."""

from dataclasses import dataclass

from putback.errors import InputError

SECONDS = 10.0
PLAYED = "a"  # the job that is played to its hand-over


@dataclass(frozen=True)
class Turn:
    """What turns out to be different, in words and in what it changes."""

    words: str
    state: str | None = None  # a demo file
    variants: tuple[str, ...] = ()
    without: tuple[str, ...] = ()


TURNS = {
    "a": (
        Turn(
            "THE CAR DIFFERS: one left mount nut turns with its stud. What is off stays off;\nthe way goes on from there.",
            state="demo-a-mount-nut-seized.yaml",
        ),
    ),
    "b": (
        Turn(
            "THE CAR DIFFERS: it has all-wheel drive, and the transfer shaft runs where the\nstarter would come out.",
            variants=("all-wheel drive",),
        ),
    ),
    "c": (
        Turn(
            "THE SHOP DIFFERS: nobody here is certified for airbags.",
            without=("airbags",),
        ),
        Turn(
            "THE CAR DIFFERS AS WELL: its filter housing is in one piece. There is no safe\nway then, and that is said:",
            variants=("one-piece filter housing",),
            without=("airbags",),
        ),
    ),
    "d": (
        Turn(
            "THE CAR DIFFERS: the hub bolts are seized. What is off stays off; the way goes\non from there.",
            state="demo-d-hub-bolts-seized.yaml",
        ),
    ),
}


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--papers", metavar="FOLDER", help="where the papers of the job that is played go; among the programs' own data when left out")
    parser.add_argument("job", nargs="?", default="a", metavar="JOB", help="alternator (a), starter (b), heater blower (c) or wheel bearing (d)")


def run(args) -> int:
    """Plan a demo job, plan again when something differs, and play the first one to its hand-over."""
    from putback.plan_text import plan_lines

    if args.job not in TURNS:
        raise InputError(f'there is no demo "{args.job}"; there are: {", ".join(TURNS)}')
    area, shop = _files(args.job)
    print("An invented car in an invented shop. No figure here may be used on a real car.\n")
    task, sheet = _plan(area, shop)
    print("\n".join(plan_lines(sheet)))
    print("\n".join(["\n", *_quote(task, sheet)]))
    for turn in TURNS[args.job]:
        print(f"\n\n{turn.words}\n")
        print("\n".join(_way_in(area, shop, turn)))
    if args.job == PLAYED:
        from putback.demo_job import job_lines

        print("\n")
        for line in job_lines(args.papers or _own_folder()):
            print(line, flush=True)
    print("\nWith your own files: putback way (or putback quote) AREA --shop SHOP\ndocs/area-files.md and docs/shop-files.md tell how to write them.")
    return 0


def _own_folder() -> str:
    """Where papers go that nobody asked to have elsewhere; a later demo writes over them."""
    from putback.cli_job_common import own_ledger

    return str(own_ledger(create=True).with_name("demo-papers"))


def _files(job: str):
    from putback import demo
    from putback.area.area_file import read_area
    from putback.area.shop_file import read_shop

    name = f"demo-{job}.yaml"
    return read_area(demo.text(name), name), read_shop(demo.text("demo-shop.yaml"), "demo-shop.yaml")


def _way_in(area, shop, turn: Turn) -> list[str]:
    from putback.others_text import no_way_lines
    from putback.plan_text import way_in_lines
    from putback.way.no_way import NoSafeWay

    try:
        return list(way_in_lines(_plan(area, shop, turn)[1]))
    except NoSafeWay as no_way:
        return list(no_way_lines(no_way))


def _quote(task, sheet) -> list[str]:
    from putback.estimate.quote import make_quote
    from putback.quote_text import short_lines

    return list(short_lines(make_quote(task, sheet)))


def _plan(area, shop, turn: Turn = Turn("")):
    """The job and its plan."""
    from time import perf_counter

    from putback import demo
    from putback.area.state_file import read_state, with_variants
    from putback.way.plan import plan
    from putback.way.task import make_task

    state = read_state(demo.text(turn.state), turn.state, area) if turn.state else None
    state = with_variants(area, state, turn.variants)
    task = make_task(area, shop, state=state, without=turn.without)
    return task, plan(task, clock=perf_counter, seconds=SECONDS)
