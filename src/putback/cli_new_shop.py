"""`putback new-shop`: a shop file to begin with."""


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("file", metavar="FILE", help="the file to write, which must not be there yet; - for the standard output")
    parser.add_argument("--name", default="new shop", help="what the shop is called")


def run(args) -> int:
    """Write the file."""
    from putback import starters
    from putback.cli_new_area import give

    give(args.file, starters.shop(args.name))
    return 0
