"""`putback serve`, as far as it goes without serving: what it refuses, its devices, and the names it answers under."""

import argparse
import socket
from datetime import UTC, datetime

import pytest

from putback import cli_serve, demo
from putback.cli import main
from putback.web.access import Access

NOW = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    """Whoever is logged in has his data in the folder of the test."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.delenv("PUTBACK_LEDGER", raising=False)
    return tmp_path / "putback"


def said(capsys, *words: str) -> tuple[int, str]:
    """Exit status, and all that was printed."""
    status = main(["serve", *words])
    told = capsys.readouterr()
    return status, told.out + told.err


@pytest.mark.parametrize("port", ["x", "-1", "65536", "8e3", "", "\u0663"])
def test_a_port_that_is_none_is_refused(capsys, port):
    """Before anything is opened or made."""
    status, told = said(capsys, f"--port={port}")

    assert (status, "is no port" in told) == (2, True), told


def test_a_port_that_is_taken_is_told(capsys):
    """With what to do."""
    with socket.create_server(("127.0.0.1", 0)) as other:
        status, told = said(capsys, "--port", str(other.getsockname()[1]))

    assert (status, "name another with --port" in told) == (2, True), told


def test_a_folder_of_areas_that_cannot_be_is_told(capsys, tmp_path):
    """Such as one that is a file."""
    (tmp_path / "file").write_text("x")
    status, told = said(capsys, "--areas", str(tmp_path / "file"))

    assert (status, "this folder cannot be used" in told) == (2, True), told


@pytest.mark.parametrize(("certificate", "key"), [("gone.pem", "gone.pem"), ("text.pem", "text.pem")])
def test_a_certificate_that_is_none_is_told(capsys, tmp_path, certificate, key):
    """One that is not there, and one that is something else."""
    (tmp_path / "text.pem").write_text("no certificate")
    status, told = said(capsys, "--port", "0", "--tls", str(tmp_path / certificate), str(tmp_path / key))

    assert (status, "no certificate with its key in PEM form" in told) == (2, True), told


def test_devices_are_listed_and_locked_out(capsys, home):
    """The ledger of whoever is logged in when none is named; a number that is none is told."""
    home.mkdir(parents=True)
    access = Access(home / "ledger.db.access.db")
    token = access.pair("tablet 1", NOW)

    assert said(capsys, "--devices") == (
        0,
        "  1  tablet 1, paired 2026-03-02, last here 2026-03-02, until 2026-05-31\n",
    )
    assert said(capsys, "--revoke", "2")[0] == said(capsys, "--revoke", "all")[0] == 2
    assert said(capsys, "--revoke", "1") == (0, "no device is paired\n")
    assert access.device(token, NOW) is None


def test_the_demo_is_put_beside_what_is_there_and_never_over_it(tmp_path):
    """A file of the same name stays as it is."""
    folder = tmp_path / "areas"
    args = argparse.Namespace(areas=str(folder), demo=True)
    folder.mkdir()
    (folder / "demo-b.yaml").write_text("mine")
    cli_serve._areas(args)

    assert (folder / "demo-b.yaml").read_text() == "mine"
    assert {path.name for path in folder.iterdir()} == set(demo.SHELVED)


def test_only_this_computer_is_listened_to_unless_the_network_is_let_in():
    """The loopback address, or all; and answers are sent at once."""
    for lan, address in ((False, "127.0.0.1"), (True, "0.0.0.0")):
        with cli_serve._listening(argparse.Namespace(lan=lan, port="0")) as listening:
            assert listening.getsockname()[0] == address
            assert listening.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)


def test_the_names_in_the_network_begin_with_those_that_were_given():
    """Then the number, then this computer's own name with and without what networks put behind it; each once, in small
    letters."""
    names = cli_serve._names(["Shop.Example", "shop.example"])

    assert names[0] == "shop.example"
    assert len(set(names)) == len(names)
    assert socket.gethostname().lower() in names
    assert all(name == name.lower() for name in names)
