"""Files are read once, never more than is wanted, and never waited for."""

import io
import os
import sys
from types import SimpleNamespace

import pytest

from putback.errors import InputError
from putback.reading import read_file, read_standard_input


def test_a_file_is_read(tmp_path):
    """All of it, up to the limit; of a larger one a byte more."""
    (tmp_path / "f").write_bytes(b"abcdef")

    assert read_file(str(tmp_path / "f"), 6) == b"abcdef"  # at
    assert read_file(str(tmp_path / "f"), 7) == b"abcdef"  # below
    assert read_file(str(tmp_path / "f"), 4) == b"abcde"  # above


@pytest.mark.parametrize(("name", "words"), [("", "is empty"), ("gone", "no such file"), ("f/g", "no such file"), (".", "folder"), ("pipe", "a pipe or a device")])
def test_what_is_no_file_is_told(tmp_path, monkeypatch, name, words):
    """In a sentence that begins with its name; a pipe that nobody writes to is not waited for."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "f").touch()
    os.mkfifo("pipe")
    with pytest.raises(InputError, match=words) as told:
        read_file(name, 10)

    assert str(told.value).startswith(name)


def test_the_standard_input_is_read_as_far_as_it_is_wanted(monkeypatch):
    """A byte more than the limit tells that it is too much."""
    monkeypatch.setattr(sys, "stdin", SimpleNamespace(buffer=io.BytesIO(b"abcdef")))

    assert read_standard_input(3) == b"abcd"
