"""From plain values to a PDF: the template of a paper, its values and its texts go to the typesetter.

Nothing but the values changes from paper to paper, and no text is markup: all of them come as one JSON file. The same
values give the same bytes on every machine, for the fonts are the typesetter's own and the date is the log's.
"""

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from putback.errors import InputError
from putback.paper.look import Look
from putback.paper.signs import has_stand_in, printable
from putback.paper.words import words


def typeset(
    template: str, data: Mapping[str, Any], look: Look, at: str = "", files: Mapping[str, bytes] | None = None
) -> bytes:
    """A paper as PDF.

    Parameters
    ----------
    template : str
        As in `estimate`.
    data : mapping
        Plain values.
    look : Look
    at : str
        The time in UTC that the paper tells of; it becomes the date of the PDF. None is given where it is empty.
    files : mapping of str to bytes, optional
        Pictures, by the names under which the values speak of them.

    Raises
    ------
    InputError
        The typesetter cannot do it.
    """
    import typst

    shown = printable(dict(data))
    told = {"data": shown, "words": words(look.language), "look": {"sheet": look.sheet, "language": look.language}}
    told |= {"at": at, "stand_in": has_stand_in(shown)}
    with TemporaryDirectory(prefix="putback-paper-") as folder:
        main = _laid_out(Path(folder), template, told, files or {})
        try:
            compiler = typst.Compiler(str(main), root=folder, ignore_system_fonts=True)
            return compiler.compile(format="pdf", timestamp=_moment(at))
        except typst.TypstError as error:
            raise InputError(
                f"this paper cannot be set: {str(error).splitlines()[0][:200]}; please report it"
            ) from error


def _laid_out(folder: Path, template: str, told: dict, files: Mapping[str, bytes]) -> Path:
    """The template that is compiled, with all that it reads beside it."""
    for name in ("common.typ", f"{template}.typ"):
        (folder / name).write_bytes(resources.files(__package__).joinpath("templates", name).read_bytes())
    for name, content in files.items():
        (folder / name).write_bytes(content)
    (folder / "paper.json").write_text(json.dumps(told, ensure_ascii=False), encoding="utf-8")
    return folder / f"{template}.typ"


def _moment(at: str) -> datetime:
    return datetime.fromisoformat(at).astimezone(UTC).replace(microsecond=0) if at else datetime(1970, 1, 1, tzinfo=UTC)
