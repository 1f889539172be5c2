"""The terms of one job: what is billed and agreed, and where its parts stand. docs/quote.md explains the file.

    terms: 1
    hours billed: 4.5 h, own time
    agreed: {most: 760.00, by: the owner, at: 2026-11-25 09:10, how: by phone}
    parts: {alternator: here, left mount nuts: "1 here, 1 ordered"}
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from fractions import Fraction

from putback.area import quantity
from putback.area.charges import BILLED, DEPOSIT, DISCOUNT, Billed, Portion
from putback.area.notes import Notes, bounded
from putback.area.shape import Names, Record, Row, Several, Word, read_row, version
from putback.errors import Findings, InputError
from putback.estimate.agreed import Consent, read_cap
from putback.estimate.to_order import STATUSES, Standings


@dataclass(frozen=True)
class Terms:
    """What holds for one job; None and empty where the shop's own holds.

    Attributes
    ----------
    hours : Billed or None
        What is billed in place of what is planned.
    discount, deposit : Portion or None
    prices : mapping of str to Fraction
        What the shop pays today, in cents, by name.
    consents : tuple of Consent
    parts : mapping of str to (mapping of str to (int or None))
        How many pieces of a thing have which status; None stands for all.
    """

    hours: Billed | None = None
    discount: Portion | None = None
    deposit: Portion | None = None
    prices: Mapping[str, Fraction] = field(default_factory=dict)
    consents: tuple[Consent, ...] = ()
    parts: Standings = field(default_factory=dict)


NO_TERMS = Terms()


def read_terms(data: bytes | str, file: str) -> Terms:
    """Read a terms file.

    Parameters
    ----------
    data : bytes or str
        What the file holds.
    file : str
        Its name, for messages.

    Raises
    ------
    Findings
        Everything that is wrong with it.
    """
    terms, findings = bounded(lambda notes: _scanned(data, file, notes), file)
    if findings:
        raise Findings(findings)
    return terms


def _scanned(data: bytes | str, file: str, notes: Notes) -> Terms | None:
    row = read_row(TERMS, data, file, notes)
    return None if row is None or notes else _terms(row)


def _terms(row: Row) -> Terms:
    return Terms(
        hours=row.get("hours billed"),
        discount=row.get("discount"),
        deposit=row.get("deposit"),
        prices={name.name: cents for name, cents in row.get("prices", ())},
        consents=tuple(Consent(said["most"], said["by"], said["at"], said["how"]) for said in row.get("agreed", ())),
        parts={name.name: pieces for name, pieces in row.get("parts", ())},
    )


def moment(text: str) -> str:
    """A day and a time of day by the shop's clock, as 2026-11-25 09:10.

    Parameters
    ----------
    text : str
    """
    try:
        read = datetime.fromisoformat(text.strip())
    except ValueError:
        read = None
    if read is None or read.tzinfo or not re.search(r"\d:\d\d", text):
        raise InputError(f'"{text}" is no day and time; write it as "2026-11-25 09:10"')
    return read.isoformat(" ", "minutes")


def standing(text: str) -> dict[str, int | None]:
    """`here` for all of them, or `1 here, 1 ordered`.

    Parameters
    ----------
    text : str
    """
    if text.strip() in STATUSES:
        return {text.strip(): None}
    found: dict[str, int | None] = {}
    for part in text.split(","):
        count, _, status = part.strip().partition(" ")
        if not count.isdecimal() or status not in STATUSES or status in found:
            raise InputError(f'"{text}" is not understood; write "here" or "1 here, 1 ordered"; there are: {", ".join(STATUSES)}')
        found[status] = quantity.pieces(count)
    return found


_TEXT = Word(str.strip, "words", "by phone")
AGREED = Record(
    "what was agreed",
    {
        "most": Word(read_cap, "the most that may be asked", "760.00 before tax", number=True),
        "by": _TEXT,
        "at": Word(moment, "a day and a time", "2026-11-25 09:10"),
        "how": _TEXT,
    },
    required=("most", "by", "at", "how"),
)
TERMS = Record(
    "a terms file",
    {
        "terms": version("1"),
        "hours billed": BILLED,
        "discount": DISCOUNT,
        "deposit": DEPOSIT,
        "prices": Names(Word(quantity.money, "a price", "48.00", number=True), "prices"),
        "agreed": Several(AGREED),
        "parts": Names(Word(standing, "how it stands", "1 here, 1 ordered"), "things to order"),
    },
    required=("terms",),
)
