"""The tables of this room: data files named by standard and edition, with a note on where the figures are from."""

import csv
from functools import cache
from importlib import resources


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """The rows of a data file, in its order.

    Parameters
    ----------
    name : str
        Of the file, without its ending
    """
    text = resources.files(__package__).joinpath("data").joinpath(f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
