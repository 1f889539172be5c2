"""What can go wrong, as one family.

PutbackError            anything a person should read as one sentence
├── InputError          a value or a file that cannot be used
│   └── Advice          a file that can be used, and would be better otherwise; told, never raised
├── NoWay               nothing leads to the goal with what there is
│   └── NotYet          nothing was found in the time given
├── Findings            several things to put right, found in one go
└── LedgerError         the ledger's database does not do its part; what was asked can be asked again

The core raises these; the edge shows them. Each keeps its parts as attributes and builds its text
from them, so that a page, a terminal and a test can each take what they need.
"""

from collections.abc import Iterable
from typing import NamedTuple


class Place(NamedTuple):
    """Where in a file something stands; lines and columns count from 1, None where not known."""

    file: str
    line: int | None = None
    column: int | None = None

    def __str__(self) -> str:
        return ":".join(str(part) for part in self if part is not None)


LONGEST = 600  # characters of one sentence


def shortened(text: str) -> str:
    """A sentence of bearable length: of one that quotes too much, its beginning and its end, where the advice stands."""
    return text if len(text) <= LONGEST else f"{text[: LONGEST // 3]} ... {text[-LONGEST // 2 :]}"


class PutbackError(Exception):
    """Anything that a person should read as one sentence."""


class InputError(PutbackError):
    """A value or a file that cannot be used.

    Parameters
    ----------
    message : str
        What was expected, what was found, and what to do.
    place : tuple of (file, line, column), optional
        Where it stands; the text then begins with ``file:line:column:``.
    """

    def __init__(self, message: str, place: tuple | None = None):
        super().__init__(message, place)
        self.message = shortened(message)
        self.place = None if place is None else Place(*place)

    def __str__(self) -> str:
        return self.message if self.place is None else f"{self.place}: {self.message}"


class Advice(InputError):
    """What would make a file better that can be used as it is.

    Parameters
    ----------
    message : str
        What may go wrong, and what to write.
    place : tuple of (file, line, column), optional
        Where it stands.
    """

    def __str__(self) -> str:
        return f"advice: {self.message}" if self.place is None else f"{self.place}: advice: {self.message}"


class NoWay(PutbackError):
    """Nothing leads to the goal with what there is: an honest "no", not a fault in the input.

    Parameters
    ----------
    reason : str
        What stands in the way.
    missing : iterable of str
        What would open a way, if it were there.
    """

    def __init__(self, reason: str, missing: Iterable[str] = ()):
        self.reason = reason
        self.missing = tuple(missing)
        super().__init__(reason, self.missing)

    def __str__(self) -> str:
        if not self.missing:
            return self.reason
        return f"{self.reason}; it would take: {', '.join(self.missing)}"


class NotYet(NoWay):
    """Nothing was found in the time given; that says nothing about whether there is a way."""


class Findings(PutbackError):
    """Several things to put right, found in one go.

    Parameters
    ----------
    findings : iterable of InputError
        At least one, in the order in which they stand in the file.
    """

    def __init__(self, findings: Iterable[InputError]):
        self.findings = tuple(findings)
        super().__init__(self.findings)

    def __str__(self) -> str:
        return "\n".join(str(finding) for finding in self.findings)


class LedgerError(PutbackError):
    """The database of the ledger cannot be reached, read or written. The events asked for are sound: send them again."""
