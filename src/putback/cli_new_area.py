"""`putback new-area`: an area file to begin with."""


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("file", metavar="FILE", help="the file to write, which must not be there yet; - for the standard output")
    parser.add_argument("--name", default="new area", help="what the area is called")
    parser.add_argument("--target", default="part to replace", metavar="PART", help="the part to be replaced")


def run(args) -> int:
    """Write the file."""
    from putback import starters

    give(args.file, starters.area(args.name, args.target))
    return 0


def give(file: str, text: str) -> None:
    """Write a file to begin with, or print it where its name is a dash.

    Parameters
    ----------
    file : str
    text : str
    """
    if file == "-":
        print(text, end="")
        return
    from putback.terminal import visible
    from putback.writing import write_new

    write_new(file, text)
    print(visible(f"{file} is there; fill it in, and see what is wrong with it by: putback check {file}"))
