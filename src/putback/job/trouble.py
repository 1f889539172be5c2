"""What a database complains of, as one sentence: where, what, and what to do."""

from putback.errors import LedgerError

SAFE = "nothing logged before is lost"
UNSURE = f"so it is not sure that this was logged; send it again, it counts once; {SAFE}"

# By the first letters of SQLite's own result codes; the first that fits counts.
SQLITE = {
    "SQLITE_FULL": f"the disk is full, so nothing was written; make room and try again; {SAFE}",
    "SQLITE_READONLY": f"the file or its folder is read-only, so nothing was written; allow writing to both; {SAFE}",
    "SQLITE_BUSY": f"another program keeps the ledger locked, so nothing was written; close it and try again; {SAFE}",
    "SQLITE_CANTOPEN": "the file cannot be opened; it and its folder must be there, and allow reading and writing",
    "SQLITE_NOTADB": "this file is no database; name another file",
    "SQLITE_CORRUPT": "the file is damaged; keep it as it is, and go on with the last backup",
    "SQLITE_CONSTRAINT": "events and list of jobs do not agree, so nothing was written; go on with the last backup",
    "SQLITE_IOERR": f"the disk refuses, so nothing was written; see whether it is full or failing; {SAFE}",
}

# By the first signs of SQLSTATE (PostgreSQL, appendix A: error codes).
POSTGRESQL = {
    "53100": f"the server's disk is full, so nothing was written; make room and try again; {SAFE}",
    "53300": "the server has too many connections; wait a little and try again",
    "25006": f"the server is read-only now, so nothing was written; ask whoever runs it; {SAFE}",
    "55P03": SQLITE["SQLITE_BUSY"],
    "42501": "this user may not read or write the ledger's tables; ask whoever runs the server for the rights",
    "23": SQLITE["SQLITE_CONSTRAINT"],
    "57": f"the server broke off, {UNSURE}",
    "08": f"the connection was lost, {UNSURE}",
}

# A connection that never came to be has no SQLSTATE: the server's words tell.
CONNECTING = {
    "password": "the server does not let this user in; look at the user and the password",
    "does not exist": "there is no such user or database on the server; have it created first",
    "": "no server answers there; see whether it runs, and whether host and port are right",
}
AGAIN = ("40001", "40P01")  # serialization failure, deadlock: the server itself says to try again


def trouble(place: str, error: Exception, lost: bool = False) -> LedgerError:
    """The sentence for what a database driver raised.

    Parameters
    ----------
    place : str
        The file, or the server's address without the password.
    error : Exception
        As the driver raised it.
    lost : bool
        Whether a connection that once worked is gone.
    """
    return LedgerError(f"{place}: {_meaning(error, lost)}")


def locked(place: str) -> LedgerError:
    """The sentence for a ledger on which another writer sits too long.

    Parameters
    ----------
    place : str
        The file, or the server's address without the password.
    """
    return LedgerError(f"{place}: {SQLITE['SQLITE_BUSY']}")


def _meaning(error: Exception, lost: bool) -> str:
    own = _own_words(error)
    code = getattr(error, "sqlite_errorname", None) or getattr(error, "sqlstate", None)
    if code or not type(error).__module__.startswith("psycopg"):
        return _first(SQLITE | POSTGRESQL, code or "") or f"the database refuses ({own}); see that it is sound"
    if lost:
        return POSTGRESQL["08"]
    return f"{next(text for word, text in CONNECTING.items() if word in own)} ({own})"


def _first(meanings: dict[str, str], code: str) -> str | None:
    return next((text for begin, text in meanings.items() if code.startswith(begin)), None)


def _own_words(error: Exception) -> str:
    """The driver's own words on one line, without what it adds below the first."""
    lines = str(error).splitlines() or [type(error).__name__]
    return lines[0].strip()
