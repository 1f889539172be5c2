"""`putback schema`: the JSON Schema of the files that people write."""

from putback.schema import KINDS, text


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("kind", choices=KINDS, help="the kind of file")


def run(args) -> int:
    """Print the schema."""
    print(text(args.kind), end="")
    return 0
