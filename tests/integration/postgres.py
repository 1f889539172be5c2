"""A PostgreSQL server for the tests alone: in a temporary folder, reached by a socket there, gone when they end."""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

USER = "ledger"
# The user of the tests is let in as it comes; any other has to give a password.
ACCESS = f"local all {USER} trust\nlocal all all scram-sha-256\n"


def program(name: str) -> str | None:
    """Where a program of the server is; Debian keeps them off the path."""
    found = [str(path) for path in Path("/usr/lib/postgresql").glob(f"*/bin/{name}")]
    return shutil.which(name) or max(found, default=None)


def is_there() -> bool:
    """Whether this machine can start a server."""
    return program("initdb") is not None and program("pg_ctl") is not None


class Server:
    """A server that can be started and stopped; as root, by somebody else, for it refuses to run as root."""

    def __init__(self, folder: Path):
        self.folder = folder
        self.who = {"user": "nobody", "group": 65534, "extra_groups": []} if os.geteuid() == 0 else {}
        if self.who:
            shutil.chown(folder, "nobody", 65534)

    def _run(self, name: str, *words: str) -> None:
        command = [program(name), "-D", f"{self.folder}/data", *words]
        subprocess.run(command, check=True, cwd=self.folder, stdout=subprocess.DEVNULL, **self.who)

    def make(self) -> None:
        self._run("initdb", "-U", USER, "-A", "trust", "--no-sync", "-E", "UTF8", "--locale=C.UTF-8")
        (self.folder / "data" / "pg_hba.conf").write_text(ACCESS)

    def start(self) -> None:
        options = f"-k {self.folder} -c listen_addresses="
        self._run("pg_ctl", "-w", "-l", f"{self.folder}/log", "-o", options, "start")

    def stop(self, mode: str = "fast") -> None:
        self._run("pg_ctl", "-w", "-m", mode, "stop")

    def url(self, database: str = "postgres", user: str = USER) -> str:
        return f"postgresql://{user}@/{database}?host={self.folder}"

    def new_database(self, name: str) -> str:
        """An empty database of that name; one that was there is dropped."""
        import psycopg

        with psycopg.connect(self.url(), autocommit=True) as connection:
            connection.execute(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)')
            connection.execute(f'CREATE DATABASE "{name}"')
        return self.url(name)


# Waits for the end of its input, which comes when the tests end or are killed, and clears up.
GUARD = 'cat >/dev/null; "$1" -D "$2/data" -m immediate stop >/dev/null 2>&1; rm -rf "$2"'


@contextmanager
def running() -> Iterator[Server]:
    """A new server, started; stopped and removed at the end, however the tests end."""
    folder = Path(tempfile.mkdtemp(prefix="putback-", dir="/tmp"))  # the path of a socket must be short
    server = Server(folder)
    guard = subprocess.Popen(
        ["sh", "-c", GUARD, "sh", program("pg_ctl"), folder],
        stdin=subprocess.PIPE, cwd="/tmp", start_new_session=True, **server.who,
    )  # fmt: skip
    try:
        server.make()
        server.start()
        yield server
    finally:
        guard.communicate()
