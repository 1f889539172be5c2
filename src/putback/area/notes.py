"""What is wrong with a file, up to as much as anybody mends in one go."""

from collections.abc import Callable, Iterable

from putback.errors import InputError

MOST = 50


class Enough(Exception):
    """So much is wrong that the reading ends here."""


class Notes(list):
    """A list of findings that refuses to grow beyond `MOST`."""

    def append(self, finding: InputError) -> None:
        if len(self) >= MOST:
            raise Enough
        super().append(finding)

    def extend(self, findings: Iterable[InputError]) -> None:
        for finding in findings:
            self.append(finding)

    def __iadd__(self, findings: Iterable[InputError]) -> "Notes":
        self.extend(findings)
        return self


def bounded(read: Callable[[Notes], object], file: str) -> tuple[object, list[InputError]]:
    """Read something, and end the reading when enough is found wrong.

    Parameters
    ----------
    read : callable
        Takes Notes, writes there what is wrong, and gives a value.
    file : str
        The file's name, for the word that says that there is more.

    Returns
    -------
    value : object
        None where the reading was ended.
    findings : list of InputError
        Sorted by place, each said once.
    """
    notes = Notes()
    try:
        return read(notes), in_order(notes)
    except InputError as stop:
        return None, in_order([*notes, stop])
    except Enough:
        return None, [*in_order(notes), InputError("there is more; it is told when these are put right", (file,))]


def in_order(findings: Iterable[InputError]) -> list[InputError]:
    """Sorted by place, each said once."""
    unique = {(finding.place, finding.message): finding for finding in findings}
    return sorted(unique.values(), key=_order)


def _order(finding: InputError) -> tuple:
    return (*(part or 0 for part in finding.place[1:]), finding.message)
