"""A disk that is really full: a small one is mounted, where the tests may do that."""

import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest
from ledger_samples import JOB, event

from putback.errors import LedgerError
from putback.job.ledger import Ledger, open_ledger


@pytest.fixture
def small_disk() -> Iterator[Path]:
    """A disk of one megabyte, in memory."""
    with tempfile.TemporaryDirectory(dir="/tmp") as folder:
        Path(folder).chmod(0o755)
        disk = Path(folder, "disk")
        disk.mkdir()
        mounting = ["mount", "-t", "tmpfs", "-o", "size=1m,mode=0777,uid=65534", "tmpfs", str(disk)]
        if subprocess.run(mounting, capture_output=True).returncode != 0:
            pytest.skip("no small disk can be mounted here")
        yield disk
        subprocess.run(["umount", "--lazy", str(disk)], check=True)


def log_until_full(ledger: Ledger) -> tuple[int, str]:
    """How many events were acknowledged, and the sentence that ended it."""
    for number in range(0, 10_000, 2):
        try:
            noise = Random(number).randbytes(3000).hex()  # a server would press anything plainer together
            ledger.append([event(number, text=noise), event(number + 1)])
        except LedgerError as error:
            return number, str(error)
    raise AssertionError("the disk was never full")


def is_whole(ledger: Ledger, number: int) -> bool:
    """All that was acknowledged is there and nothing else; the chain holds."""
    logged = [int(one.event.id) for one in ledger.events(JOB)]
    return logged == list(range(number)) and ledger.verify(JOB) is None


def test_sqlite_on_a_full_disk(small_disk):
    """Once something else is removed the same events are taken, without a new start."""
    with open_ledger(str(small_disk / "ledger.db")) as ledger:
        other = small_disk / "something else"
        other.write_bytes(bytes(400_000))
        number, sentence = log_until_full(ledger)
        assert number > 10
        assert "ledger.db: the disk is full, so nothing was written; make room and try again" in sentence
        assert is_whole(ledger, number)

        other.unlink()
        ledger.append([event(number)])
        assert is_whole(ledger, number + 1)
    with open_ledger(str(small_disk / "ledger.db"), create=False) as ledger:
        assert is_whole(ledger, number + 1)


def test_a_new_ledger_on_a_full_disk(small_disk):
    """It is not made, and the next start with room finds nothing half made."""
    other = small_disk / "something else"
    with pytest.raises(OSError, match="No space"), other.open("wb", buffering=0) as file:
        while True:
            file.write(bytes(1024))
    with pytest.raises(LedgerError, match="the disk is full"):
        open_ledger(str(small_disk / "ledger.db"))
    other.unlink()
    with open_ledger(str(small_disk / "ledger.db")) as ledger:
        assert ledger.append([event(1)])[0].number == 1


def test_postgresql_on_a_full_disk(server, small_disk):
    """The ledger's tables lie on the small disk."""
    import psycopg

    url = server.new_database("small_one")
    with psycopg.connect(server.url(), autocommit=True) as admin:
        admin.execute(f"CREATE TABLESPACE small LOCATION '{small_disk}'")
        admin.execute("ALTER DATABASE small_one SET default_tablespace = small")
        try:
            with open_ledger(url) as ledger:
                number, sentence = log_until_full(ledger)
                assert number > 10
                assert "the server's disk is full, so nothing was written; make room and try again" in sentence
                assert is_whole(ledger, number)
        finally:
            admin.execute("DROP DATABASE small_one WITH (FORCE)")
            admin.execute("DROP TABLESPACE small")
