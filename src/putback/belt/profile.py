"""Profiles of ribbed belts, and the mark that a belt bears."""

import re
from typing import NamedTuple

from putback.belt.tables import table
from putback.errors import InputError

LEAST, MOST = 0.2, 10.0  # m; effective lengths of belts that are made for engines, with room to spare
MOST_RIBS = 30
_MARK = re.compile(r"([0-9]{1,3})\s*-?\s*(D?)([A-Z]{2})\s*-?\s*([0-9]{3,5}(?:[.,][0-9])?)", re.IGNORECASE)


class Profile(NamedTuple):
    """The profile of a ribbed belt.

    `pitch` is the distance from rib to rib, `line_differential` how far the cord lies outside the effective diameter
    of a pulley, `least_diameter` the least effective diameter of a pulley [m].
    """

    name: str
    pitch: float
    line_differential: float
    least_diameter: float


class Mark(NamedTuple):
    """What a belt's mark says: ribs, profile, effective length [m], and whether its back has ribs as well."""

    ribs: int
    profile: Profile
    length: float
    is_double: bool = False

    def __str__(self) -> str:
        return f"{self.ribs}{'D' if self.is_double else ''}{self.profile.name}{1000 * self.length:g}"


def profile(name: str) -> Profile:
    """A profile by its letters.

    Parameters
    ----------
    name : str
        ``PK``; capitals do not matter

    Raises
    ------
    InputError
        There is no such profile.

    References
    ----------
    .. [1] ISO 9981:2020 and ISO 9982; see the data file for what was read and what is from memory.
    """
    rows = table("iso-9981-9982-profiles")
    row = rows.get(name.upper())
    if row is None:
        raise InputError(f'"{name}" is no profile of a ribbed belt; there are: {", ".join(rows)}')
    return Profile(name.upper(), row["pitch"] / 1000, row["be"] / 1000, row["least"] / 1000)


def read_mark(text: str) -> Mark:
    """Read the mark of a belt: ribs, profile, effective length in millimetres.

    Parameters
    ----------
    text : str
        ``7PK1538``, ``6 PK 2120``; ``6DPK1195`` has ribs on both sides (that this is how it is marked: from memory)

    Raises
    ------
    InputError
        No such mark, no such profile, or a length or a number of ribs that no engine has.

    Examples
    --------
    >>> mark = read_mark("6PK2120")
    >>> mark.ribs, mark.profile.name, mark.length
    (6, 'PK', 2.12)
    """
    found = _MARK.fullmatch(text.strip())
    if not found:
        raise InputError(f'"{text}" is no mark of a ribbed belt; write ribs, profile and length in mm, as in "7PK1538"')
    length = float(found[4].replace(",", ".")) / 1000
    return Mark(checked_ribs(int(found[1]), text), profile(found[3]), checked_length(length, text), bool(found[2]))


def checked_ribs(ribs: int, text: str) -> int:
    """A number of ribs that a belt may have.

    Parameters
    ----------
    ribs : int
    text : str
        As it was typed

    Raises
    ------
    InputError
        Fewer or more than any has.
    """
    if not 1 <= ribs <= MOST_RIBS:
        raise InputError(f'"{text}": a belt has 1 to {MOST_RIBS} ribs, not {ribs}')
    return ribs


def checked_length(length: float, text: str) -> float:
    """An effective length [m] that a belt may have.

    Parameters
    ----------
    length : float
        [m]
    text : str
        As it was typed

    Raises
    ------
    InputError
        It is shorter or longer than any.
    """
    if not LEAST <= length <= MOST:
        raise InputError(f'"{text}": belts are {LEAST * 1000:g} to {MOST * 1000:g} mm long; look at the unit')
    return length


def width(ribs: int, of: Profile) -> float:
    """How wide a belt is: its ribs times their pitch [m].

    Parameters
    ----------
    ribs : int
    of : Profile
    """
    return ribs * of.pitch
