"""The shop's own folder of area files and shop files; only what lies in it by name is ever opened."""

import re
from pathlib import Path
from typing import NamedTuple

from putback.desk.opening import File
from putback.errors import InputError

AREA, SHOP = "area", "shop"
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 _-]{0,80}\.yaml")
_KIND = re.compile(rb"^(area|shop)\s*:", re.MULTILINE)
_TITLE = re.compile(rb"^name\s*:\s*(.+)$", re.MULTILINE)
_HEAD = 20_000  # bytes in which a file says what it is


class Shelved(NamedTuple):
    """A file of the folder: what it is called, and what it is about."""

    file: str
    title: str


def shelved(folder: Path, kind: str) -> list[Shelved]:
    """The files of one kind, by title.

    Parameters
    ----------
    folder : Path
    kind : "area" or "shop"
    """
    found = ((path.name, path.read_bytes()[:_HEAD]) for path in _files(folder))
    rows = [Shelved(name, _title(head, name)) for name, head in found if _is(head, kind)]
    return sorted(rows, key=lambda row: (row.title, row.file))


def take(folder: Path, name: str) -> File:
    """A file of the folder.

    Parameters
    ----------
    folder : Path
    name : str
        One of its own names; a path is none.

    Raises
    ------
    InputError
        There is no such file in the folder.
    """
    path = next((path for path in _files(folder) if path.name == name), None)
    if path is None:
        raise InputError(f'there is no "{name}" among the files of this shop; the list of areas has them')
    return File(name, path.read_bytes())


def new_name(text: str) -> str:
    """A name for a new file, if it may be one.

    Parameters
    ----------
    text : str

    Raises
    ------
    InputError
        It could lead elsewhere, or is none.
    """
    name = text.strip() if text.strip().endswith(".yaml") else f"{text.strip()}.yaml"
    if not _NAME.fullmatch(name):
        raise InputError(f'"{text}" is no name for a file; take letters, figures, blanks, - and _, as in "starter.yaml"')
    return name


def _files(folder: Path) -> list[Path]:
    return sorted(path for path in folder.iterdir() if _NAME.fullmatch(path.name) and path.is_file() and not path.is_symlink())


def _is(head: bytes, kind: str) -> bool:
    found = _KIND.search(head)
    return found is not None and found[1].decode() == kind


def _title(head: bytes, name: str) -> str:
    found = _TITLE.search(head)
    return found[1].decode("utf-8", "replace").strip().strip("'\"") if found else name
