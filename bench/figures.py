"""Figures and tables as they are printed: a row at a time, as soon as it is known."""

from collections.abc import Iterable, Sequence
from math import inf
from statistics import median

UNKNOWN = "-"
LEAST = 6  # characters in a column


def seconds(value: float | None, limit: float | None = None) -> str:
    """A time to three figures at most; `>limit` where the limit came first."""
    if value is None or value == inf:
        return UNKNOWN if limit is None else f">{limit:g}"
    return f"{value:.3f}" if value < 0.9995 else f"{value:.2f}" if value < 9.995 else f"{value:.1f}"


def whole(value: float | None) -> str:
    """A count, with thin groups of thousands; unknown where it depends on the machine."""
    return UNKNOWN if value is None or value == inf else f"{value:,.0f}".replace(",", " ")


def percent(share: float | None) -> str:
    """A share in percent to one place; never 0.0 for what is not nothing."""
    if share is None:
        return UNKNOWN
    return "0" if share == 0 else "<0.1" if share < 0.0005 else f"{100 * share:.1f}"


def middle(values: Iterable[float]) -> float:
    """The median: what others do on the machine at the same time moves it least."""
    return median(values)


class Table:
    """Columns of a fixed width under headings, the first (so wide) to the left and the others to the right."""

    def __init__(self, title: str, headings: Sequence[str], first: int):
        self.widths = [first, *(max(LEAST, len(heading)) for heading in headings[1:])]
        print(f"\n{title}\n")
        self.row(headings)
        self.row(["-" * width for width in self.widths])

    def row(self, cells: Sequence[object]) -> None:
        """Print one row at once."""
        texts = [str(cell) for cell in cells]
        first = texts[0].ljust(self.widths[0])
        others = [text.rjust(width) for text, width in zip(texts[1:], self.widths[1:], strict=True)]
        print("  ".join([first, *others]).rstrip(), flush=True)
