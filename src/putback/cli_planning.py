"""What the commands share that plan a job: their arguments, the files these name, and the honest no."""

from dataclasses import dataclass

from putback.errors import Findings, InputError
from putback.terminal import print_json

SECONDS = 10.0


def add_job(parser, without_shop: str) -> None:
    """Declare the arguments that say which job is to be planned, and for whom."""
    parser.add_argument("area", nargs="?", metavar="AREA", help="the area file")
    parser.add_argument("targets", nargs="*", metavar="TARGET", help="what to replace; the area's own targets when left out")
    parser.add_argument("--shop", metavar="FILE", help=f"the shop's file; {without_shop}")
    parser.add_argument("--state", metavar="FILE", help="where a job under way stands")
    parser.add_argument("--variant", action="append", default=[], metavar="NAME", help="what the car is, such as all-wheel drive")
    parser.add_argument("--avoid", action="append", default=[], metavar="PART", help="do not open this part")
    parser.add_argument("--without", action="append", default=[], metavar="THING", help="plan without this equipment, tool or certificate")
    parser.add_argument("--rust", choices=("clean", "usual", "heavy"), help="how rusty the car is")
    parser.add_argument("--own-times", metavar="LEDGER", help="take the shop's own minutes where enough of its jobs speak for them")
    parser.add_argument("--no-setup", action="store_true", help="count no time for changing tools, vantage and posture")
    parser.add_argument("--no-overlap", action="store_true", help="let no work run inside waits")
    parser.add_argument("--seconds", type=float, default=SECONDS, metavar="N", help=f"think no longer than this ({SECONDS:g})")


@dataclass(frozen=True)
class Files:
    """What the files of a command line hold; the shop is None where none is named."""

    area: object
    state: object
    shop: object


def read_files(args) -> Files:
    """Read the area, and the state and the shop where they are named."""
    from putback.area.area_file import read_area
    from putback.area.shop_file import read_shop
    from putback.area.state_file import read_state, with_variants

    area = _with_own_times(read_area(read_bytes(args.area), args.area), args.own_times)
    state = read_state(read_bytes(args.state), args.state, area) if args.state else None
    state = with_variants(area, state, args.variant) if args.variant else state
    return Files(area, state, read_shop(read_bytes(args.shop), args.shop) if args.shop else None)


def _with_own_times(area, where: str | None):
    """The area with what its parts take here, as far as a ledger knows; the area as it is where none is named."""
    if where is None:
        return area
    from putback.desk.history import own_times
    from putback.job.learning import with_own_times
    from putback.job.ledger import open_ledger

    with open_ledger(where, create=False) as ledger:
        return with_own_times(area, own_times(ledger, area))


def read_bytes(name: str) -> bytes:
    """What a file holds, as far as any file of the program may go."""
    from putback.area.nodes import LARGEST
    from putback.reading import read_file

    return read_file(name, LARGEST)


def options_of(args) -> dict:
    """What a command line says of the plan, as the planner takes it."""
    return {"avoid": args.avoid, "without": args.without, "no_setup": args.no_setup, "no_overlap": args.no_overlap}


def limits_of(args) -> dict:
    """The clock and the time to think in, as the planner takes them."""
    from time import perf_counter

    if not args.seconds > 0:
        raise InputError(f"--seconds {args.seconds:g}: give a time above 0")
    return {"clock": perf_counter, "seconds": args.seconds}


def tell_no(args, no_way) -> int:
    """Why there is no way, and what would open one; the exit status."""
    from putback import terminal
    from putback.others_text import no_way_lines
    from putback.plan_json import no_way_object

    refuse_circles(no_way.task.area)
    if args.json:
        print_json(no_way_object(no_way))
    terminal.complain("\n".join(no_way_lines(no_way)))
    return 1


def refuse_circles(area) -> None:
    """What waits for itself is wrong in the description, whatever the shop may lack."""
    from putback.way.from_area_circles import findings

    if found := findings(area):
        raise Findings(found)
