"""Files and streams as they come from outside: read once, never more than is wanted, and never waited for."""

import os
import stat
import sys

from putback.errors import InputError


def read_file(name: str, most: int) -> bytes:
    """What a file holds, or just enough of one that is too large.

    Parameters
    ----------
    name : str
        Its path.
    most : int
        The most bytes that are wanted; of a larger file one byte more is read, so that it can be told.

    Returns
    -------
    data : bytes

    Raises
    ------
    InputError
        There is no such file, it is no plain file (a folder, a pipe, a device), or it may not be read.
    """
    descriptor = _opened(name)
    try:
        _must_be_plain(name, os.fstat(descriptor).st_mode)
        return _read(descriptor, most + 1)
    finally:
        os.close(descriptor)


def _opened(name: str) -> int:
    try:
        return os.open(name, os.O_RDONLY | os.O_NONBLOCK)  # a pipe that nobody writes to must not hold us up
    except (FileNotFoundError, NotADirectoryError):
        raise InputError(f"{name}: there is no such file" if name else "the name of a file is empty") from None
    except PermissionError:
        raise InputError(f"{name}: this file may not be read by you; look at its permissions") from None


def _read(descriptor: int, wanted: int) -> bytes:
    pieces = []
    while wanted and (piece := os.read(descriptor, wanted)):
        pieces.append(piece)
        wanted -= len(piece)
    return b"".join(pieces)


def _must_be_plain(name: str, mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise InputError(f"{name}: this is a folder; name a file in it")
    if not stat.S_ISREG(mode):
        raise InputError(f"{name}: this is a pipe or a device, not a file; save what it holds to a file and name that")


def read_standard_input(most: int) -> bytes:
    """What comes by the standard input, or just enough of what is too large; see `read_file` for `most`."""
    return sys.stdin.buffer.read(most + 1) if sys.stdin is not None else b""
