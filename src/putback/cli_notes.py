"""`putback notes`: what dictated or typed notes say was done, their audit, and a draft of an area file."""

LARGEST = 400_000  # bytes of one note; an hour of talk is some 60 000


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("files", nargs="+", metavar="FILE", help='notes as plain text; "-" reads the standard input')
    parser.add_argument("--json", action="store_true", help="print JSON for other programs")
    parser.add_argument("--area", metavar="FILE", help="write a draft of an area file; several notes are merged")
    parser.add_argument("--order", metavar="FILE", help="write the note's own order, for putback way --order")


def run(args) -> int:
    """Read the notes and show what they say; what is left over is told, and is no failure."""
    texts = [(name, _text(name)) for name in args.files]
    from putback.capture import report

    reports = [(name, report(text)) for name, text in texts]
    _write(args, reports)
    _print(args, reports)
    return 0


def _text(name: str) -> str:
    from putback import reading
    from putback.errors import InputError

    data = reading.read_standard_input(LARGEST) if name == "-" else reading.read_file(name, LARGEST)
    if len(data) > LARGEST:
        raise InputError(f"{name}: this note is larger than {LARGEST // 1000} kB; cut it in several")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise InputError("the note is not UTF-8 text; save it as UTF-8", (name, line)) from None


def _write(args, reports) -> None:
    from putback.writing import write_whole

    heard = [told.heard for _, told in reports]
    if args.area:
        write_whole(args.area, _area(heard, args.files))
    if args.order:
        write_whole(args.order, _order(heard[0], args.files))


def _area(heard, files) -> str:
    from putback.capture.draft import draft_area
    from putback.errors import InputError

    text = draft_area(heard, " and ".join(_title(name) for name in files))
    if not text:
        raise InputError(f"{files[0]}: nothing comes off in this note, so there is no area to draft")
    return text


def _order(heard, files) -> str:
    from putback.capture.draft import order_text

    return order_text(heard, _title(files[0]))


def _title(name: str) -> str:
    """What a note is called: its file's name without folder and ending."""
    from pathlib import Path

    return " ".join(Path(name).stem.replace("_", " ").split()) or "note"


def _print(args, reports) -> None:
    from putback.terminal import print_json, visible

    if args.json:
        from putback.capture import as_json

        told = [as_json(one) for _, one in reports]
        print_json(
            told[0] if len(told) == 1 else [one | {"file": name} for (name, _), one in zip(reports, told, strict=True)]
        )
        return
    from putback.notes_text import notes_text

    for n, (name, one) in enumerate(reports):
        print(visible(("\n" if n else "") + notes_text(one, name)))
