"""`putback job done`: the step now is done, as planned or as said."""

from putback.cli_job_common import add_common, bench
from putback.errors import InputError


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--step", metavar="TEXT", help="another step than the one now: its text, or how that begins")
    parser.add_argument("--count", metavar="N", help="not all of them, but so many")
    parser.add_argument("--torque", metavar="TORQUE", help='another torque than asked for, as in "24 N·m"')
    parser.add_argument("--angle", metavar="DEGREES", help="turned so far after the torque")
    parser.add_argument("--read", action="store_true", help="the torque was read off the wrench, not clicked")
    parser.add_argument("--by-feel", metavar="REASON", help="tightened without a wrench, and why")
    parser.add_argument("--old", action="store_true", help="the old ones went back in")
    parser.add_argument("--tray", metavar="PLACE", help="another tray than the one proposed")
    parser.add_argument("--wrench", metavar="NAME", help="another torque wrench")
    parser.add_argument("--note", metavar="TEXT", help="what is worth knowing later")
    parser.add_argument("--result", metavar="TEXT", help="what came of it")
    parser.add_argument("--anyway", metavar="REASON", help="say it though the program holds you back, and why")
    add_common(parser)


def run(args) -> int:
    """Log what closes the step; 1 where something holds it back."""
    from putback.cli_job_saying import keep
    from putback.desk.view import look
    from putback.job.next_step import next_steps
    from putback.job_text import how

    with bench(args) as at:
        view = look(at.ledger, at.job)
        step = _step(next_steps(view.state, view.car, view.plan, at.stamp.now()), args.step, view.state.name)
        if not step.closes or (step.asks == "fasteners on" and not _says_how_tight(args)):
            raise InputError(f'"{step.text}" needs more than a tap; {how(step.asks)}')
        changes = _changes(args)
        said = [(one.kind, _changed(one.kind, dict(one.data), changes)) for one in step.closes]
        _check_used(changes, said, step.text)
        return keep(at, view, said, args)


def _says_how_tight(args) -> bool:
    return bool(args.torque or args.by_feel)


def _step(steps: list, wanted: str | None, job: str):
    if not steps:
        raise InputError(f"{job}: nothing is left to do")
    if wanted is None:
        return next((step for step in steps if step.closes or not step.optional), steps[0])
    found = [step for step in steps if step.text.casefold().startswith(wanted.casefold())]
    exact = [step for step in found if step.text.casefold() == wanted.casefold()]
    if len(exact or found) != 1:
        which = f"there are: {', '.join(step.text for step in found[:5])}" if found else "`putback job next --all` lists them"
        raise InputError(f'{job}: "{wanted}" is {"no step" if not found else "several steps"}; {which}')
    return (exact or found)[0]


def _changes(args) -> dict:
    """What was done otherwise, by the fields of events."""
    from putback.cli_job_say import read_count, read_degrees, read_torque

    changes = {
        "count": args.count and read_count(args.count),
        "torque": args.torque and read_torque(args.torque),
        "angle": args.angle and read_degrees(args.angle),
        "evidence": "value read" if args.read else None,
        "by feel": args.by_feel,
        "new": False if args.old else None,
        "tray position": args.tray,
        "wrench": args.wrench,
        "note": args.note,
        "result": args.result,
    }
    return {name: value for name, value in changes.items() if value is not None}


def _changed(kind: str, data: dict, changes: dict) -> dict:
    """An event with what was done otherwise, as far as it can say it."""
    from putback.job.kinds import KINDS

    fields = {name.rstrip("?") for name in KINDS[kind]}
    data |= {name: value for name, value in changes.items() if name in fields}
    if "torque" in changes and "evidence" in fields:
        data.pop("reason", None)
        if "angle" not in changes:  # nobody has said that it was turned
            data.pop("angle", None)
        data["evidence"] = changes.get("evidence", "clicked at the setting")
    if "by feel" in changes and "evidence" in fields:
        data = {name: value for name, value in data.items() if name not in ("torque", "angle", "wrench")}
        data |= {"evidence": "by feel", "reason": changes["by feel"]}
    if "tray position" in changes and "to" in fields:
        data |= {"to": "tray"}
    return data


def _check_used(changes: dict, said: list[tuple[str, dict]], step: str) -> None:
    """Refuse what no event of the step can say, rather than lose it."""
    for name, value in changes.items():
        field, wanted = ("reason", value) if name == "by feel" else (name, value)
        if not any(data.get(field) == wanted for _, data in said):
            option = "--old" if name == "new" else f"--{name.removesuffix(' position').replace(' ', '-')}"
            raise InputError(f'"{step}" takes no {option}; leave that out, or log it with the word that fits')
