"""`putback job open`: open a job, for a described car or for one that nobody has described."""

from functools import partial

from putback.cli_job_common import add_common, opened, thinking


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("name", metavar="NAME", help="what people call it")
    parser.add_argument("--area", metavar="FILE", help="the area file; none for a car that nobody has described")
    parser.add_argument("--shop", metavar="FILE", help="the shop's file, with --area")
    parser.add_argument("--target", action="append", default=[], metavar="PART", help="what to replace; the area's own when left out")
    parser.add_argument("--variant", action="append", default=[], metavar="NAME", help="what the car is, such as all-wheel drive")
    parser.add_argument("--vehicle", metavar="TEXT", help="which car, in the shop's own words; its history is found by it")
    parser.add_argument("--complaint", metavar="TEXT", help="what it came for, in the customer's words")
    parser.add_argument("--cap", metavar="MONEY", help="what the customer has agreed to at most, before tax")
    add_common(parser, job=False)


def run(args) -> int:
    """Open the job, and plan it where the car is described."""
    from putback.desk.opening import open_job
    from putback.desk.planning import first_plan

    with opened(args, create=True) as (ledger, stamp):
        files = {"area": _file(args.area), "shop": _file(args.shop), "beside": partial(beside, args.area)}
        named = files | {"targets": args.target, "variants": args.variant}
        job = open_job(ledger, stamp, args.name, vehicle=args.vehicle, cap=_cents(args.cap), **named)
        if args.complaint:
            ledger.append([stamp.event(job, "intake noted", complaint=args.complaint)])
        _tell(args, first_plan(ledger, job, stamp, thinking()), ledger.place)
    return 0


def _file(name: str | None):
    from putback.cli_planning import read_bytes
    from putback.desk.opening import File

    return File(name, read_bytes(name)) if name else None


def beside(area: str, name: str):
    """The file of a name that lies in the folder of an area file; None where there is none.

    Parameters
    ----------
    area : str
        The area file
    name : str
        As the area has it; a path is none
    """
    from pathlib import Path

    from putback.desk.opening import File

    path = Path(area).parent / name
    return File(name, _file(str(path)).data) if Path(name).name == name and path.is_file() else None


def _cents(text: str | None) -> float | None:
    from putback.units import number

    return None if text is None else round(100 * number(text), 2)


def _tell(args, view, place: str) -> None:
    from putback.desk.belts import lacking
    from putback.terminal import print_json, visible

    plan = view.plan or {}
    if args.json:
        print_json({"job": view.id, "name": view.state.name, "minutes": plan.get("minutes"), "money": plan.get("money")})
        return
    print(visible(f"{view.state.name}: opened as {view.id}, in {place}"))
    for words in lacking(view):
        print(visible(words))
    if plan:
        money = f", {plan['money']:.2f} before tax" if plan.get("money") is not None else ""
        print(f"the plan: {len(plan['steps'])} steps, {plan['minutes']:.0f} min{money}; `putback job next` tells the first")
    else:
        print("nobody has described this car: log what comes off, and it leads the way back")
