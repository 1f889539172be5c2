"""The tables of this room: data files named by standard and edition, with a note on where the figures are from."""

import csv
from functools import cache
from importlib import resources


@cache
def table(name: str) -> dict[str, dict[str, float]]:
    """The rows of a data file by their first column, every other column a number.

    Parameters
    ----------
    name : str
        Of the file, without its ending
    """
    text = resources.files(__package__).joinpath("data").joinpath(f"{name}.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return dict(_row(list(row.items())) for row in rows)


def _row(cells: list[tuple[str, str]]) -> tuple[str, dict[str, float]]:
    (_, key), *others = cells
    return key, {name: float(text) for name, text in others}
