"""All papers of a job in one folder."""

from collections.abc import Iterator
from pathlib import Path

from putback.errors import InputError
from putback.paper.kinds import PAPERS, Matter, pdf
from putback.paper.matter import file_name
from putback.writing import write_whole


def write_all(folder: str, matter: Matter) -> Iterator[tuple[str, str]]:
    """Write every paper that there is something for.

    Parameters
    ----------
    folder : str
        It is made where it is not there.
    matter : Matter

    Returns
    -------
    written : iterator of (str, str)
        Each kind, with the name of its file and how large that is, or why there is none.

    Raises
    ------
    InputError
        The folder cannot be made, or a file in it not written.
    """
    _make(folder)
    for kind in PAPERS:
        try:
            content = pdf(kind, matter)
        except InputError as why:
            yield kind, str(why)
            continue
        name = str(Path(folder) / file_name(kind, matter.view))
        write_whole(name, content)
        yield kind, f"{name}, {len(content) / 1000:.0f} kB"


def _make(folder: str) -> None:
    try:
        Path(folder).mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise InputError(f"{folder}: this cannot be a folder: {reason}; name another") from None
