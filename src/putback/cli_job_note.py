"""`putback job note`: free words; in a job without description what they tell is logged."""

from putback.cli_job_common import add_common, bench


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("note", metavar="WORDS", help="what was done, or what is worth knowing later")
    parser.add_argument("--item", metavar="ITEM", help="what it is about: the words are kept for it and nothing more")
    parser.add_argument("--tray", metavar="PLACE", default="", help="where the fasteners are that came off")
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--keep", action="store_true", help="keep the words only, whatever they tell")
    which.add_argument("--log", action="store_true", help="log what they tell, though this car is described")
    add_common(parser)


def run(args) -> int:
    """Keep the words, log what they tell, and show what was understood; 1 where something was held back."""
    from putback.desk.hearing import say_words
    from putback.desk.view import look

    with bench(args) as at:
        view = look(at.ledger, at.job)
        if args.item or args.keep or (view.area and not args.log):
            return _keep(at, args)
        answer = say_words(at.ledger, at.job, at.stamp, args.note, args.tray)
        _show(args, answer, at.stamp.now())
    return 1 if answer.held else 0


def _keep(at, args) -> int:
    from putback.cli_job_saying import say

    about = {"item": args.item} if args.item else {}
    return say(at, "note added", {"note": args.note} | about, args)


def _show(args, answer, now: str) -> None:
    from putback.desk.hearing import later
    from putback.hearing_json import answer_object
    from putback.job_text import folded, next_lines, said_line
    from putback.terminal import print_json, visible

    if args.json:
        print_json(answer_object(answer))
        return
    lines = [line for row, _ in answer.logged for line in folded(said_line(row), "", "    ")]
    lines = lines or ["kept as a note; nothing was logged"]
    if answer.logged:
        lines.append("not so: `putback job undo NUMBER`, and say it again")
    lines += [line for text in later(answer) for line in folded(text, "? ", "  ")]
    print(visible("\n".join([*lines, "", *next_lines(answer.view, now, 1)])))
