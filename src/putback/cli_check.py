"""`putback check`: everything that is wrong with some files, at once."""


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("files", nargs="+", metavar="FILE", help="area, shop and state files")
    parser.add_argument("--shop", metavar="FILE", help="a shop file: can this shop reach the targets?")


def run(args) -> int:
    """Check the files; 0 when nothing is wrong, 1 when something is."""
    from putback import check
    from putback.area.nodes import LARGEST
    from putback.reading import read_file
    from putback.terminal import visible

    read = {name: read_file(name, LARGEST) for name in dict.fromkeys([*args.files, *([args.shop] if args.shop else [])])}
    found = check.check_files(read, args.shop)
    for finding in found:
        print(visible(str(finding)))
    is_wrong = bool(check.wrong(found))
    if not is_wrong:
        print(f"{_files(len(read))} checked, nothing wrong")
    return 1 if is_wrong else 0


def _files(count: int) -> str:
    return "1 file" if count == 1 else f"{count} files"
