"""`putback job differs`: the car differs from its description; plan again from here, and what that costs."""

from putback.cli_job_common import add_common, bench, thinking

WHAT = ("seized", "broken", "not-fitted", "extra", "wrong-part", "other-tool")
_KINDS = {"not-fitted": "not fitted", "extra": "extra found", "wrong-part": "wrong part", "other-tool": "other tool"}


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("item", metavar="ITEM", help="what differs")
    parser.add_argument("what", metavar="HOW", choices=WHAT, help=", ".join(WHAT))
    parser.add_argument("--count", metavar="N", help="how many of them, if not all")
    parser.add_argument("--note", metavar="TEXT", help="how it looks")
    parser.add_argument("--tool", metavar="TOOL", help="the tool that it really takes")
    parser.add_argument("--price", metavar="MONEY", help="of a new one, where it broke")
    add_common(parser)


def run(args) -> int:
    """Log the difference, plan again and tell what changed; 1 where there is no way from here."""
    from putback.cli_job_say import read_cents, read_count
    from putback.desk.differs import Found, differs

    found = Found(
        item=args.item,
        what=_KINDS.get(args.what, args.what),
        count=read_count(args.count) if args.count else None,
        note=args.note,
        tool=args.tool,
        price=read_cents(args.price) if args.price else None,
    )
    with bench(args) as at:
        told = differs(at.ledger, at.job, at.stamp, found, thinking())
        tell(args, told, at.stamp.now())
    return 1 if told.no_way else 0


def tell(args, told, now: str) -> None:
    """Print what a difference means, or what it means that one was settled.

    Parameters
    ----------
    args : argparse.Namespace
        `json` counts.
    told : Differs
    now : str
        The time in UTC.
    """
    from putback.desk_json import differs_object
    from putback.desk_text import differs_sentences, ladder_lines, safe_lines, variant_words
    from putback.job_text import folded, next_lines
    from putback.terminal import print_json, visible

    if args.json:
        print_json(differs_object(told))
        return
    lines = [line for text in differs_sentences(told) for line in folded(text, "", "  ")]
    if told.ladder:
        lines += ["", "WHAT MAY FREE IT, AND WHAT THEN IS STILL TO DO"]
        lines += [line for text in ladder_lines(told.ladder) for line in folded(text, "  ", "    ")]
    if told.no_way:
        lines += folded(f"NO WAY FROM HERE: {told.no_way}", "", "  ")
        lines += [line for one in told.variants for line in folded(f"{variant_words(one)}; say: putback job variant \"{one.variant}\"", "", "  ")]
    if told.meanwhile:
        lines += ["", "TO MAKE THE CAR SAFE", *safe_lines(told.meanwhile)]
    print(visible("\n".join([*lines, "", *next_lines(told.view, now, 2)])))
