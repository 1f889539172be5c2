"""Files are written whole or not at all."""

import os
import tempfile
from pathlib import Path

from putback.errors import InputError


def write_whole(name: str, content: str | bytes) -> None:
    """Write a file, a text in UTF-8; until all of it is there, what stood there before stays.

    Parameters
    ----------
    name : str
        The file; where it is a link, what it leads to.
    content : str or bytes

    Raises
    ------
    InputError
        The file cannot be written.
    """
    path = Path(name)
    try:
        if path.exists() and not path.is_file():
            path.write_bytes(_as_bytes(content))  # a pipe or a device takes no other's place
        else:
            _replace(path.resolve(), _as_bytes(content))
    except (OSError, RuntimeError, ValueError) as error:  # the latter two: links in a circle, a name with a NUL
        raise _unwritable(name, error) from None


def _as_bytes(content: str | bytes) -> bytes:
    return content.encode("utf-8") if isinstance(content, str) else content


def _replace(path: Path, content: bytes) -> None:
    handle, beside = tempfile.mkstemp(prefix=f".{path.name[:40]}-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(handle)
        Path(beside).chmod(_mode(path))
        Path(beside).replace(path)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise


def _mode(path: Path) -> int:
    """That of the file that was there, or what any new file gets."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def write_new(name: str, text: str) -> None:
    """Write a text file in UTF-8 where there is none yet.

    Parameters
    ----------
    name : str
        The file.
    text : str

    Raises
    ------
    InputError
        There is something of that name already, or it cannot be written.
    """
    try:
        with Path(name).open("x", encoding="utf-8", newline="\n") as file:
            _fill(file, Path(name), text)
    except FileExistsError:
        raise InputError(f"{name}: this is there already and stays as it is; name a file that is not there") from None
    except (OSError, ValueError) as error:
        raise _unwritable(name, error) from None


def _fill(file, path: Path, text: str) -> None:
    """Write all of it, or leave no file behind."""
    try:
        file.write(text)
        file.flush()
    except BaseException:
        path.unlink(missing_ok=True)
        raise


def _unwritable(name: str, error: Exception) -> InputError:
    reason = getattr(error, "strerror", None) or error
    return InputError(f"{name}: cannot be written: {reason}; name a file in a folder that you may write to")
