"""`putback job audit`: everything that stands open, with what it costs to reach it again."""

from putback.cli_job_common import add_common, bench, thinking


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--fast", action="store_true", help="without the costs")
    add_common(parser)


def run(args) -> int:
    """Print the open points; 1 where any bars the hand-over."""
    from putback.desk.reach import reaches
    from putback.desk.view import look
    from putback.job.audit import bars

    with bench(args, over=True) as at:
        view = look(at.ledger, at.job)
        found = {} if args.fast else reaches(view, at.stamp.now(), thinking())
    _tell(args, view, found)
    return 1 if any(bars(point) for point in view.points) else 0


def _tell(args, view, found: dict) -> None:
    from putback.desk_json import reach_object
    from putback.job_json import point_object
    from putback.job_text import point_lines
    from putback.terminal import print_json, visible

    if args.json:
        rows = [(point_object(point), found.get(point.key)) for point in view.points]
        print_json([row | {"reach": reach_object(reach) if reach else None} for row, reach in rows])
        return
    words = {key: reach.words.removeprefix(f"{reach.item}: ") for key, reach in found.items()}
    print(visible("\n".join(point_lines(view.points, words)) or "nothing stands open"))
