"""`putback job photo`: a photo or a file kept with the job, and shown again when its item goes back."""

from putback.cli_job_common import add_common, bench
from putback.errors import InputError


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("file", metavar="FILE", help="a JPEG, PNG or PDF file, at most 20 MB")
    parser.add_argument("--item", metavar="ITEM", help="what it shows")
    add_common(parser)


def run(args) -> int:
    """Keep the file, and log that it was added."""
    from pathlib import Path

    from putback.cli_job_saying import say
    from putback.desk.file_type import file_type
    from putback.job.ledger import LARGEST_FILE
    from putback.reading import read_file

    data = read_file(args.file, LARGEST_FILE)
    kind = file_type(data)
    if kind is None:
        raise InputError(f"{args.file}: this is no JPEG, PNG or PDF file; take the photo again or convert it")
    with bench(args) as at:
        said = {"hash": at.ledger.put_file(data), "name": Path(args.file).name, "type": kind}
        return say(at, "file added", said | ({"item": args.item} if args.item else {}), args)
