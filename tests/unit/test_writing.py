"""Files are written whole or not at all."""

import os
import stat
from pathlib import Path

import pytest

from putback.errors import InputError
from putback.writing import write_whole


def test_a_new_file_holds_the_text_and_nothing_is_left_beside_it(tmp_path):
    """In UTF-8, with the line ends as they are."""
    write_whole(str(tmp_path / "new.svg"), "25 N·m\n")

    assert (tmp_path / "new.svg").read_bytes() == "25 N·m\n".encode()
    assert [path.name for path in tmp_path.iterdir()] == ["new.svg"]


def test_a_new_file_may_be_read_by_whom_any_new_file_may(tmp_path):
    """Not by its owner alone."""
    (tmp_path / "other").touch()
    write_whole(str(tmp_path / "new.svg"), "")

    assert (tmp_path / "new.svg").stat().st_mode == (tmp_path / "other").stat().st_mode


def test_an_old_file_is_replaced_and_keeps_its_mode(tmp_path):
    """A longer text before leaves no rest."""
    path = tmp_path / "old.svg"
    path.write_text("longer than what comes")
    path.chmod(0o640)
    write_whole(str(path), "new")

    assert path.read_text() == "new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_link_stays_a_link(tmp_path):
    """The file that it leads to is written."""
    (tmp_path / "link.svg").symlink_to(tmp_path / "file.svg")
    write_whole(str(tmp_path / "link.svg"), "new")

    assert (tmp_path / "link.svg").is_symlink()
    assert (tmp_path / "file.svg").read_text() == "new"


def test_a_device_takes_no_file_in_its_place():
    """What is written there goes where it goes."""
    write_whole(os.devnull, "gone")

    assert not Path(os.devnull).is_file()


def test_what_cannot_be_written_is_told_and_the_old_file_stays(tmp_path):
    """A text that cannot be encoded fails half-way."""
    path = tmp_path / "old.svg"
    path.write_text("old")
    with pytest.raises(InputError, match=r"old\.svg: cannot be written: "):
        write_whole(str(path), "new \ud800")

    assert path.read_text() == "old"
    assert [one.name for one in tmp_path.iterdir()] == ["old.svg"]


@pytest.mark.parametrize("name", ["missing/new.svg", ".", "a\0b", "x" * 300, "link.svg"])
def test_a_name_that_will_not_do_ends_in_one_sentence(tmp_path, monkeypatch, name):
    """No such folder, a folder itself, no name at all, one too long, a link to itself."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "link.svg").symlink_to("link.svg")
    with pytest.raises(InputError, match=r": cannot be written: .*; name a file in a folder that you may write to$"):
        write_whole(name, "new")
