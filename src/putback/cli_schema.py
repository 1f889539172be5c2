"""`putback schema`: the JSON Schema of the files that people write."""

from putback.check import KINDS


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("kind", choices=KINDS, help="the kind of file")


def run(args) -> int:
    """Print the schema."""
    from putback.schema import text

    print(text(args.kind), end="")
    return 0
