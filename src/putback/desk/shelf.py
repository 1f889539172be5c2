"""The shop's own folder of area, shop and drive files; only what lies in it by name is ever opened."""

import hashlib
import re
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from putback.desk.opening import File
from putback.errors import InputError
from putback.writing import write_new, write_whole

AREA, SHOP, DRIVE = "area", "shop", "drive"
KINDS = (AREA, SHOP, DRIVE)  # an area names its drives by the key that a drive file begins with, so it comes first
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 _-]{0,80}\.yaml")
_KIND = re.compile(rb"^(area|shop|drive)\s*:", re.MULTILINE)
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
    kind : "area", "shop" or "drive"
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
    return File(name, _path(folder, name).read_bytes())


def beside(folder: Path) -> Callable[[str], File | None]:
    """What gives the files that lie in the folder, by name, and None for others.

    Parameters
    ----------
    folder : Path
    """

    def found(name: str) -> File | None:
        return take(folder, name) if any(path.name == name for path in _files(folder)) else None

    return found


def _path(folder: Path, name: str) -> Path:
    path = next((path for path in _files(folder) if path.name == name), None)
    if path is None:
        raise InputError(f'there is no "{name}" among the files of this shop; the list of areas has them')
    return path


def stamp_of(data: bytes) -> str:
    """What tells a text from any other, so that nobody writes over what he has not seen.

    Parameters
    ----------
    data : bytes
    """
    return hashlib.sha256(data).hexdigest()


def save(folder: Path, name: str, text: str, began: str) -> None:
    """Write a file of the folder anew; what stood there is kept beside it, as `NAME.before`.

    Parameters
    ----------
    folder : Path
    name : str
        One of its own names.
    text : str
    began : str
        The `stamp_of` what was there when somebody began to change it.

    Raises
    ------
    InputError
        There is no such file, it was changed meanwhile, or it cannot be written.
    """
    path = _path(folder, name)
    before = path.read_bytes()
    if stamp_of(before) != began:
        raise InputError(f"{name}: somebody else has saved it meanwhile; copy what you wrote, open it again and put it in there")
    write_whole(f"{path}.before", before.decode("utf-8", "replace"))
    write_whole(str(path), text)


def add(folder: Path, name: str, text: str) -> str:
    """Put a new file into the folder.

    Parameters
    ----------
    folder : Path
    name : str
        As somebody wrote it, with or without its ending.
    text : str

    Returns
    -------
    name : str
        As the folder has it.

    Raises
    ------
    InputError
        It is no name, there is such a file already, or it cannot be written.
    """
    name = new_name(name)
    if any(path.name.casefold() == name.casefold() for path in folder.iterdir()):
        raise InputError(f'there is a "{name}" already; open that one, or take another name')
    write_new(str(folder / name), text)
    return name


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
    found = {key.decode() for key in _KIND.findall(head)}
    return kind == next((one for one in KINDS if one in found), None)


def _title(head: bytes, name: str) -> str:
    found = _TITLE.search(head)
    return found[1].decode("utf-8", "replace").strip().strip("'\"") if found else name
