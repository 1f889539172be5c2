"""Which threads the head under a spanner may have, and which spanners to lay out for a thread.

A head's size does not tell its thread: the same thread has had different heads in different standards and
years. So the answer is a set, each with its standard, and every standard that differs is named.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from putback.errors import InputError
from putback.torque.tables import table
from putback.torque.threads import INCH, Thread, metric, pitches, read_thread

SAME = 0.02  # mm; the same size
NEAR = 0.25  # mm; near enough that the tool goes on: 19 mm and 3/4 in, 22 mm and 7/8 in
SPANNER, KEY = "spanner or socket", "hex key"

# Data file: what it is a table of, the standard, and the tool.
SERIES = (
    ("iso-4014-2011-bolt-heads", "hexagon bolt", "ISO 4014:2011, ISO 4017:2014", SPANNER),
    ("iso-4032-2012-nuts", "hexagon nut", "ISO 4032:2012", SPANNER),
    ("din-931-1987-bolt-heads", "hexagon bolt or nut", "older: DIN 931, 933, 934", SPANNER),
    ("jis-b-1180-small-bolt-heads", "hexagon bolt, small head", "JIS B 1180 annex, from memory", SPANNER),
    ("iso-4162-2012-flange-bolt-heads", "flange bolt, small", "ISO 4162:2012, JIS B 1189", SPANNER),
    ("en-1662-1998-flange-bolt-heads", "flange bolt, small", "older: EN 1662:1998", SPANNER),
    ("iso-4162-1990-flange-bolt-heads", "flange bolt", "older: ISO 4162:1990", SPANNER),
    ("en-1665-1998-flange-bolt-heads", "flange bolt, heavy", "EN 1665:1998", SPANNER),
    ("iso-4161-2012-flange-nuts", "flange nut", "ISO 4161:2012, DIN 6923", SPANNER),
    ("en-1661-1998-flange-nuts", "flange nut", "older: EN 1661:1998", SPANNER),
    ("wheel-nuts-common-practice", "wheel nut or wheel bolt", "common practice, no source", SPANNER),
    ("asme-b18-2-1-2012-bolt-heads", "hexagon cap screw", "ASME B18.2.1-2012, from memory", SPANNER),
    ("asme-b18-2-2-2015-nuts", "hexagon nut", "ASME B18.2.2-2015, from memory", SPANNER),
    ("iso-4762-2004-keys", "socket head cap screw", "ISO 4762:2004", KEY),
    ("iso-10642-2004-keys", "countersunk or button head", "ISO 10642:2004, ISO 7380-1:2011", KEY),
    ("asme-b18-3-2012-keys", "socket head cap screw", "ASME B18.3-2012", KEY),
)  # fmt: skip


@dataclass(frozen=True)
class Head:
    """One head that a standard has for a size of thread.

    Parameters
    ----------
    size : str
        Of the thread, with its pitch only where the table has one: ``M10``, ``3/8``, ``M12x1.5``
    diameter : float
        Of the thread [mm]
    kind : str
        What it is, such as ``flange nut``
    standard : str
        With its edition, or that there is none
    tool : str
        `SPANNER` or `KEY`
    across : float
        Width across flats [mm]
    text : str
        The same with its unit, as stamped on the tool: ``15 mm``, ``9/16 in``
    """

    size: str
    diameter: float
    kind: str
    standard: str
    tool: str
    across: float
    text: str

    def threads(self) -> tuple[Thread, ...]:
        """The threads that it may have: one for each pitch that is in the tables."""
        if "x" in self.size or "-" in self.size:
            return (read_thread(self.size),)
        if self.size.startswith("M"):
            return tuple(metric(self.diameter, pitch) for pitch in pitches(self.diameter))
        row = next(row for row in table("asme-b1-1-2003-sizes") if row["size"] == self.size)
        return tuple(read_thread(f"{self.size}-{row[series]}") for series in ("UNC", "UNF", "UNEF") if row[series])


def read_across(text: str) -> float:
    """Read a size across flats or of a key.

    Parameters
    ----------
    text : str
        ``15 mm``, ``9/16 in``; a bare number counts in mm and a bare fraction in inches, as tools are stamped

    Returns
    -------
    across : float
        [mm]

    Raises
    ------
    InputError
        No size of a tool.

    Examples
    --------
    >>> read_across("15"), round(read_across("9/16"), 2)
    (15.0, 14.29)
    """
    words = " ".join(text.replace("″", '"').replace(",", ".").split()).lower()
    found = re.fullmatch(
        r"(?:(\d{1,2})[ -])?(\d{1,2})/(\d{1,2})\s*(?:\"|in\.?|inch)?|(\d{1,2}(?:\.\d{1,2})?)\s*(mm|\"|in\.?|inch)?",
        words,
    )
    if not found or (found[3] and int(found[3]) == 0):
        raise InputError(f'"{text}" is no size of a spanner or key; write it as in "15 mm" or "9/16 in"')
    if found[4]:
        across = float(found[4]) * (INCH if found[5] and found[5] != "mm" else 1)
    else:
        across = float(int(found[1] or 0) + Fraction(int(found[2]), int(found[3]))) * INCH
    if not 0 < across <= 100:
        raise InputError(f'"{text}" is no size of a spanner or key; write it as in "15 mm" or "9/16 in"')
    return across


def heads_for_tool(across: float, within: float = SAME) -> tuple[Head, ...]:
    """The heads that a spanner, socket or key of a size fits.

    Parameters
    ----------
    across : float
        [mm]
    within : float
        How far head and tool may differ [mm]

    Returns
    -------
    heads : tuple of Head
        By thread, the smallest first; then as the standards stand in `SERIES`
    """
    return tuple(
        sorted((head for head in _heads() if abs(head.across - across) <= within), key=lambda head: head.diameter)
    )


def heads_for_thread(thread: Thread) -> tuple[Head, ...]:
    """The heads that the standards have for a thread: what to lay out spanners and keys for.

    Parameters
    ----------
    thread : Thread

    Returns
    -------
    heads : tuple of Head
        As the standards stand in `SERIES`
    """
    bare = thread.name.split("-")[0] if thread.inch else f"M{thread.diameter:g}"
    return tuple(head for head in _heads() if head.size == bare or _pitched(head, thread))


def _pitched(head: Head, thread: Thread) -> bool:
    return ("x" in head.size or "-" in head.size) and read_thread(head.size).name == thread.name


@cache
def _heads() -> tuple[Head, ...]:
    return tuple(_head(row, *series) for name, *series in SERIES for row in table(name))


def _head(row: dict[str, str], kind: str, standard: str, tool: str) -> Head:
    unit = "in" if "/" in row["across"] else "mm"
    across = row["across"]
    return Head(
        row["size"], _diameter(row["size"]), kind, standard, tool, read_across(f"{across} {unit}"), f"{across} {unit}"
    )


def _diameter(size: str) -> float:
    if size.startswith("M"):
        return float(size[1:].split("x")[0])
    bare = size.split("-")[0]
    return next(float(row["diameter"]) * INCH for row in table("asme-b1-1-2003-sizes") if row["size"] == bare)
