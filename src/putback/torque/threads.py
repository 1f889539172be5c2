r"""Threads, metric and inch: their names, pitch and stress area.

References
----------
.. [1] ISO 68-1:1998 and ISO 724:1993, basic profile and dimensions of metric screw threads.
.. [2] ISO 261:1998, general plan of metric screw threads.
.. [3] ISO 898-1:2013, clause 9.1.6 (nominal stress area).
.. [4] ASME B1.1-2003, unified inch screw threads; FED-STD-H28/2B, formula 1b (tensile stress area).
"""

import re
from dataclasses import dataclass
from functools import cache
from math import pi

from putback.errors import InputError
from putback.torque.tables import table

INCH = 25.4  # mm, by definition
FLANK = 3**0.5 / 2  # height of the sharp 60-degree triangle over its base, H / P

_NUMBER = r"[0-9]{1,3}(?:[.,][0-9]{1,3})?"
_METRIC = re.compile(rf"M\s*({_NUMBER})(?:\s*[x×*]\s*({_NUMBER}))?(?:\s*[x×*]\s*({_NUMBER}))?", re.IGNORECASE)
_INCH = re.compile(
    r"(#\s*[0-9]{1,2}|No\.?\s*[0-9]{1,2}|(?:1[ -])?[0-9]{1,2}/[0-9]{1,2}|1)\s*(?:\"|″|''|in\.?)?"
    r"(?:\s*-\s*([0-9]{1,2})(?![0-9/]))?\s*-?\s*(UNC|UNF|UNEF|UNS|UN|NC|NF|NEF)?",
    re.IGNORECASE,
)
_TAIL = re.compile(r"(?:\s*-?\s*(?:[1-9][a-hG-H](?:[1-9][a-hG-H])?|[123][AB]))?(\s*-?\s*LH)?", re.IGNORECASE)
_SERIES = {"NC": "UNC", "NF": "UNF", "NEF": "UNEF"}


@dataclass(frozen=True)
class Thread:
    """A thread.

    Parameters
    ----------
    name : str
        As the trade writes it, such as ``M8x1.25`` or ``3/8-16 UNC``
    diameter : float
        Nominal (basic major) diameter [mm]
    pitch : float
        [mm], below the diameter
    inch : bool
        Whether it is a unified inch thread
    listed : bool
        Whether the standard's table has it
    left_hand : bool
    """

    name: str
    diameter: float
    pitch: float
    inch: bool = False
    listed: bool = True
    left_hand: bool = False

    @property
    def pitch_diameter(self) -> float:
        """d2 = d - 0.649519 P [mm]; ISO 724."""
        return self.diameter - 0.75 * FLANK * self.pitch

    @property
    def root_diameter(self) -> float:
        """Of the bolt, d3 = d - 1.226869 P [mm]; ISO 724."""
        return self.diameter - 17 / 12 * FLANK * self.pitch

    @property
    def minor_diameter(self) -> float:
        """Of the nut, D1 = d - 1.082532 P [mm]; ISO 724."""
        return self.diameter - 1.25 * FLANK * self.pitch

    @property
    def stress_area(self) -> float:
        """[mm2]; by the formula of the thread's own system."""
        return (inch_stress_area if self.inch else stress_area)(self.diameter, self.pitch)


def stress_area(diameter: float, pitch: float) -> float:
    r"""Nominal stress area of a metric thread.

    .. math:: A_s = \frac{\pi}{4} (d - 0.9382 P)^2

    Parameters
    ----------
    diameter : float
        Nominal diameter [mm]
    pitch : float
        Pitch [mm], below the diameter

    Returns
    -------
    area : float
        [mm2]

    Raises
    ------
    InputError
        A pitch or diameter that no thread can have.

    Examples
    --------
    >>> round(stress_area(10, 1.5), 1)
    58.0
    """
    _possible(diameter, pitch)
    return pi / 4 * (diameter - 0.9382 * pitch) ** 2


def inch_stress_area(diameter: float, pitch: float) -> float:
    r"""Tensile stress area of a unified inch thread.

    .. math:: A_s = \frac{\pi}{4} (d - 0.9743 P)^2

    Parameters
    ----------
    diameter : float
        Basic major diameter [mm]
    pitch : float
        Pitch [mm], below the diameter

    Returns
    -------
    area : float
        [mm2]

    Raises
    ------
    InputError
        A pitch or diameter that no thread can have.

    Examples
    --------
    >>> round(inch_stress_area(12.7, 25.4 / 13) / 25.4**2, 4)
    0.1419
    """
    _possible(diameter, pitch)
    return pi / 4 * (diameter - 9 / 8 * FLANK * pitch) ** 2


def _possible(diameter: float, pitch: float) -> None:
    # A triangle of 60 degrees cut deeper than this leaves no core.
    if not 0 < 17 / 12 * FLANK * pitch < diameter:
        raise InputError(f"no thread has a diameter of {diameter:g} mm and a pitch of {pitch:g} mm")


def metric(diameter: float, pitch: float | None = None) -> Thread:
    """A metric thread.

    Parameters
    ----------
    diameter : float
        Nominal diameter [mm]
    pitch : float, optional
        [mm]; the coarse one when left out

    Returns
    -------
    thread : Thread

    Raises
    ------
    InputError
        No coarse pitch in the table, or a pitch that no thread can have.
    """
    if pitch is None:
        pitch = coarse_pitch(diameter)
    if pitch is None:
        example = next(iter(pitches(diameter)), 1)
        raise InputError(
            f"M{diameter:g} has no coarse pitch in the table; write the pitch, as in M{diameter:g}x{example:g}"
        )
    _possible(diameter, pitch)
    return Thread(f"M{diameter:g}x{pitch:g}", float(diameter), float(pitch), listed=pitch in pitches(diameter))


def pitches(diameter: float) -> tuple[float, ...]:
    """The pitches of ISO 261 for a diameter [mm], the coarse one first; empty where the table has no such thread."""
    coarse, fine = _pitches().get(float(diameter), (None, ()))
    return fine if coarse is None else (coarse, *fine)


def coarse_pitch(diameter: float) -> float | None:
    """The coarse pitch of ISO 261 for a diameter [mm]; None where the table has none."""
    return _pitches().get(float(diameter), (None, ()))[0]


def read_thread(text: str) -> Thread:
    """Read a thread as it is written.

    Parameters
    ----------
    text : str
        ``M8``, ``M8x1.25``, ``M10 x 1,25 x 42``, ``3/8-16 UNC``, ``#10-24``, ``1/4 UNF``; ``LH`` behind for left-hand

    Returns
    -------
    thread : Thread

    Raises
    ------
    InputError
        No thread, or one whose pitch cannot be told.

    Examples
    --------
    >>> read_thread("M10").name, read_thread('3/8"-16').name
    ('M10x1.5', '3/8-16 UNC')
    """
    words = " ".join(text.split())
    for pattern, make in ((_METRIC, _metric_read), (_INCH, _inch_read)):
        found = pattern.match(words)
        tail = _TAIL.fullmatch(words[found.end() :]) if found else None
        if tail:
            return make(found, text.strip(), bool(tail[1]))
    raise InputError(f'"{text}" is no thread; write it as in "M8x1.25", "3/8-16 UNC" or "#10-24"')


def _metric_read(found: re.Match, text: str, left_hand: bool) -> Thread:
    diameter, second, third = (float(part.replace(",", ".")) if part else None for part in found.groups())
    # No thread is as coarse as a quarter of its diameter, and no bolt is shorter: "M8x30" names a length.
    pitch = second if third or (second and second < max(diameter / 4, 0.5)) else None
    if diameter == 0 or pitch == 0:
        raise InputError(f'"{text}" is no thread; write it as in "M8x1.25"')
    if pitch is None and second and second < diameter / 2:  # too coarse for a pitch, too short for a bolt
        known = ", ".join(f"{one:g}" for one in pitches(diameter)) or "not in the table"
        raise InputError(f'"{text}": {second:g} mm is no pitch of M{diameter:g}; its pitches are {known}')
    thread = metric(diameter, pitch)
    return Thread(thread.name, thread.diameter, thread.pitch, listed=thread.listed, left_hand=left_hand)


def _inch_read(found: re.Match, text: str, left_hand: bool) -> Thread:
    size = _inch_size(found[1])
    row = next((row for row in table("asme-b1-1-2003-sizes") if row["size"] == size), None)
    if row is None:
        raise InputError(f'"{text}": {size} is no size of the unified inch threads')
    per_inch, series = _per_inch(row, found[2], found[3], text)
    known = bool(series)
    name = f"{size}-{per_inch} {series or (found[3] or 'UNS').upper()}"
    diameter = float(row["diameter"]) * INCH
    _possible(diameter, INCH / per_inch)
    return Thread(name, diameter, INCH / per_inch, inch=True, listed=known, left_hand=left_hand)


def _inch_size(text: str) -> str:
    if found := re.fullmatch(r"(?:#|No\.?)\s*([0-9]+)", text, re.IGNORECASE):
        return f"#{int(found[1])}"
    return text.replace("-", " ")


def _per_inch(row: dict[str, str], written: str | None, series: str | None, text: str) -> tuple[int, str | None]:
    """Threads per inch, and the series that they belong to."""
    known = {name: int(row[name]) for name in ("UNC", "UNF", "UNEF") if row[name]}
    series = _SERIES.get((series or "").upper(), (series or "").upper()) or None
    if written is None and series not in known:
        names = " or ".join(f"{row['size']}-{number} {name}" for name, number in known.items())
        raise InputError(f'"{text}" does not say how many threads there are to an inch; write {names}')
    if written is None:
        return known[series], series
    if int(written) == 0 or (series in known and known[series] != int(written)):
        raise InputError(
            f'"{text}": {row["size"]} {series or ""} has {known.get(series, "no such")} threads to an inch'
        )
    return int(written), next((name for name, number in known.items() if number == int(written)), None)


@cache
def _pitches() -> dict[float, tuple[float | None, tuple[float, ...]]]:
    return {
        float(row["diameter"]): (
            float(row["coarse"]) if row["coarse"] else None,
            tuple(map(float, row["fine"].split())),
        )
        for row in table("iso-261-1998-pitches")
    }
