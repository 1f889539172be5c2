"""`putback job hand-over`: hand the car over; refused while anything stands open."""

from putback.cli_job_common import add_common, bench, thinking


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--to", metavar="PERSON", help="who takes the car")
    add_common(parser)


def run(args) -> int:
    """Hand over, or tell why not; 1 where it is refused."""
    from putback.desk.handing_over import hand_over

    with bench(args) as at:
        told = hand_over(at.ledger, at.job, at.stamp, thinking(), at.stamp.person, args.to)
    _tell(args, told)
    return 1 if told.barred else 0


def _tell(args, told) -> None:
    from putback.desk_json import reach_object
    from putback.job_json import point_object
    from putback.job_text import point_lines
    from putback.terminal import complain, print_json, visible

    if args.json:
        reasons = [point_object(one.point) | {"reach": reach_object(one.reach) if one.reach else None} for one in told.barred]
        print_json({"signed": told.record is not None, "reasons": reasons, "record": told.record})
        return
    words = {one.point.key: one.reach.words.removeprefix(f"{one.reach.item}: ") for one in told.barred if one.reach}
    print(visible("\n".join(point_lines([one.point for one in told.barred] or told.view.points, words))))
    if told.barred:
        complain(f"REFUSED: {len(told.barred)} points stand open")
        return
    signed = told.view.state.signed
    print(visible(f"handed over{f' to {args.to}' if args.to else ''}, signed by {signed['by']}; `putback job record` shows the record"))
