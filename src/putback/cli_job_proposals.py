"""`putback job proposals`: what this job found that the area file does not know, and what the file says by now."""

from putback.cli_job_common import add_common, bench


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--file", metavar="FILE", help="the area file as it is now: tell what differs from the job's own copy")
    add_common(parser)


def run(args) -> int:
    """Print the proposals."""
    from dataclasses import asdict

    from putback.desk.proposals import proposals
    from putback.desk.view import look
    from putback.job_text import folded
    from putback.terminal import print_json, visible

    with bench(args, over=True) as at:
        view = look(at.ledger, at.job)
    found = proposals(view)
    edited = _edited(view, args.file) if args.file else []
    if args.json:
        print_json({"proposals": [asdict(one) for one in found], "edited": edited})
        return 0
    if edited:
        print("SINCE THE JOB WAS OPENED THE FILE HAS CHANGED; THE JOB KEEPS ITS OWN COPY")
    print(visible("\n".join([line for text in edited for line in folded(text, "  ", "    ")])), end="\n" if edited else "")
    for one in found:
        print(visible("\n".join([*folded(f"# {one.sentence}", "", "# "), one.yaml, ""])))
    if not found and not edited:
        print("nothing that the area file does not know")
    return 0


def _edited(view, file: str) -> list[str]:
    from functools import partial

    from putback.cli_job_open import beside
    from putback.cli_planning import read_bytes
    from putback.desk.edited import drives_edited, edited_since

    return [*edited_since(view, read_bytes(file), file), *drives_edited(view, partial(beside, file))]
