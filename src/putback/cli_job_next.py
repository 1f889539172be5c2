"""`putback job next`: the step now and those after it."""

from putback.cli_job_common import add_common, bench

SHOWN = 4


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--all", action="store_true", help="everything that is still to do")
    add_common(parser)


def run(args) -> int:
    """Print the step now, large, and the ones after it."""
    from putback.desk.view import look
    from putback.job.next_step import next_steps
    from putback.job_json import belt_of_step, step_object
    from putback.job_text import next_lines
    from putback.terminal import print_json, visible

    with bench(args) as at:
        view, now = look(at.ledger, at.job), at.stamp.now()
    if args.json:
        print_json([step_object(step) | belt_of_step(view, step) for step in next_steps(view.state, view.car, view.plan, now)])
        return 0
    print(visible("\n".join(next_lines(view, now, 10_000 if args.all else SHOWN))))
    return 0
