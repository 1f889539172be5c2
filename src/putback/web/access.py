"""Who may come in and who may sign: the devices that were paired and the PINs of persons, in a small file of their own.

It is a file beside the ledger and not a table in it, so that a copy of the ledger carries nobody's keys. Of a token and
of a PIN only a hash is kept.
"""

import hashlib
import hmac
import secrets
import sqlite3
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path
from threading import Lock
from typing import NamedTuple

from putback.desk.stamp import utc
from putback.errors import InputError, LedgerError

FORM = 1
LASTS = timedelta(days=90)
SEEN_EVERY = timedelta(hours=1)
LONGEST_NAME = 60
_BITS_OF_A_TOKEN = 256
# RFC 7914: cost, block size and parallelism; about a tenth of a second and 32 MiB for each look at a PIN.
_COST, _BLOCK, _PARALLEL = 2**15, 8, 1
_TABLES = f"""
CREATE TABLE IF NOT EXISTS devices (
  number INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL, token TEXT NOT NULL UNIQUE,
  paired_at TEXT NOT NULL, until TEXT NOT NULL, seen_at TEXT NOT NULL);
CREATE TABLE IF NOT EXISTS pins (person TEXT PRIMARY KEY, name TEXT NOT NULL, salt BLOB NOT NULL, hash BLOB NOT NULL);
PRAGMA user_version = {FORM};
"""


class Device(NamedTuple):
    """A device that was paired; times in UTC."""

    number: int
    name: str
    paired_at: str
    until: str
    seen_at: str


class Access:
    """The file of devices and PINs; several threads and programs may use it at once.

    Parameters
    ----------
    path : Path
        It is made where there is none, readable by its owner alone.
    """

    def __init__(self, path: Path):
        self.path = path
        self._one_at_a_time = Lock()  # each look at a PIN takes memory
        with self._plainly():
            path.touch(mode=0o600)
        with self._open() as db:
            if db.execute("PRAGMA user_version").fetchone()[0] > FORM:
                raise InputError(f"{path}: a newer Putback wrote this file; start that one")
            db.executescript(_TABLES)

    @contextmanager
    def _open(self) -> Iterator[sqlite3.Connection]:
        with self._plainly():
            db = sqlite3.connect(self.path, timeout=10)
            try:
                with db:
                    yield db
            finally:
                db.close()

    @contextmanager
    def _plainly(self) -> Iterator[None]:
        try:
            yield
        except (sqlite3.Error, OSError) as error:
            raise LedgerError(f"{self.path}: the file of devices and PINs cannot be used ({error})") from None

    # --- devices ---

    def pair(self, name: str, now: datetime) -> str:
        """Let a device in; its token, which is told this once and kept nowhere.

        Parameters
        ----------
        name : str
            What people call it.
        now : datetime

        Raises
        ------
        InputError
            The name is none.
        """
        name, token = one_line("device", name), secrets.token_urlsafe(_BITS_OF_A_TOKEN // 8)
        row = (name, _hashed(token), utc(now), utc(now + LASTS), utc(now))
        with self._open() as db:
            db.execute("INSERT INTO devices (name, token, paired_at, until, seen_at) VALUES (?, ?, ?, ?, ?)", row)
        return token

    def device(self, token: str, now: datetime) -> Device | None:
        """The device that a token was given to; None where it is over, was revoked, or never was.

        Parameters
        ----------
        token : str
        now : datetime
        """
        with self._open() as db:
            asked = "SELECT number, name, paired_at, until, seen_at FROM devices WHERE token = ? AND until > ?"
            row = db.execute(asked, (_hashed(token), utc(now))).fetchone()
            if row and row[4] < utc(now - SEEN_EVERY):
                db.execute("UPDATE devices SET seen_at = ? WHERE number = ?", (utc(now), row[0]))
        return Device(*row) if row else None

    def devices(self) -> list[Device]:
        """All devices that were paired and not revoked, the latest first; those whose time is over as well."""
        with self._open() as db:
            rows = db.execute(
                "SELECT number, name, paired_at, until, seen_at FROM devices ORDER BY number DESC"
            ).fetchall()
        return [Device(*row) for row in rows]

    def revoke(self, number: int) -> bool:
        """Lock a device out at once; whether there was one of this number.

        Parameters
        ----------
        number : int
        """
        with self._open() as db:
            return db.execute("DELETE FROM devices WHERE number = ?", (number,)).rowcount == 1

    # --- PINs ---

    def set_pin(self, person: str, pin: str) -> None:
        """Give a person a PIN, in place of the one he had.

        Parameters
        ----------
        person : str
        pin : str
            4 to 12 figures.

        Raises
        ------
        InputError
            It is no PIN, or no name.
        """
        if not (pin.isascii() and pin.isdigit() and 4 <= len(pin) <= 12):
            raise InputError("a PIN has 4 to 12 figures")
        salt = secrets.token_bytes(16)
        row = (person_key(person), one_line("person", person), salt, self._stretched(pin, salt))
        with self._open() as db:
            db.execute("INSERT OR REPLACE INTO pins VALUES (?, ?, ?, ?)", row)

    def drop_pin(self, person: str) -> None:
        """Take a person's PIN away.

        Parameters
        ----------
        person : str
        """
        with self._open() as db:
            db.execute("DELETE FROM pins WHERE person = ?", (person_key(person),))

    def with_pin(self) -> list[str]:
        """The persons who have a PIN, by name."""
        with self._open() as db:
            return [row[0] for row in db.execute("SELECT name FROM pins ORDER BY name")]

    def has_pin(self, person: str) -> bool:
        """Whether a person has a PIN.

        Parameters
        ----------
        person : str
        """
        with self._open() as db:
            return db.execute("SELECT 1 FROM pins WHERE person = ?", (person_key(person),)).fetchone() is not None

    def is_pin(self, person: str, pin: str) -> bool:
        """Whether this is the person's PIN.

        Parameters
        ----------
        person, pin : str
        """
        with self._open() as db:
            row = db.execute("SELECT salt, hash FROM pins WHERE person = ?", (person_key(person),)).fetchone()
        return row is not None and hmac.compare_digest(row[1], self._stretched(pin[:100], row[0]))

    def _stretched(self, pin: str, salt: bytes) -> bytes:
        with self._one_at_a_time:
            data = pin.encode("utf-8", "replace")
            return hashlib.scrypt(data, salt=salt, n=_COST, r=_BLOCK, p=_PARALLEL, maxmem=2**26)


def one_line(what: str, text: str) -> str:
    """A name as it is kept.

    Parameters
    ----------
    what : str
        What it is of, for the sentence.
    text : str

    Raises
    ------
    InputError
        It is empty, too long, or holds signs that nobody sees.
    """
    name = " ".join(text.split())
    if not name or len(name) > LONGEST_NAME or not name.isprintable():
        raise InputError(f"the name of the {what} must be one line of at most {LONGEST_NAME} signs")
    return name


def person_key(person: str) -> str:
    """One key for all spellings of a name that read alike.

    Parameters
    ----------
    person : str
    """
    return unicodedata.normalize("NFKC", " ".join(person.split())).casefold()


def _hashed(token: str) -> str:
    """A token has 256 bits of chance, so a plain hash of it can be kept (FIPS 180-4)."""
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()


def access_beside(where: str, home: Path) -> Path:
    """Where the devices and PINs of a ledger are kept.

    Parameters
    ----------
    where : str
        The ledger: a file, or the address of a database.
    home : Path
        For a database.
    """
    return home / "access.db" if "://" in where else Path(f"{where}.access.db")
