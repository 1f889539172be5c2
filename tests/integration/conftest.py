"""Databases for the tests of the ledger."""

import pytest
from integration.postgres import Server, is_there, running


@pytest.fixture(scope="session")
def server() -> Server:
    """A PostgreSQL server of the tests' own."""
    if not is_there():
        pytest.skip("no PostgreSQL here: initdb and pg_ctl were not found")
    with running() as started:
        yield started


@pytest.fixture(params=["sqlite", "postgresql"])
def where(request, tmp_path) -> str:
    """A place for a new ledger, on each kind of database."""
    if request.param == "sqlite":
        return str(tmp_path / "ledger.db")
    return request.getfixturevalue("server").new_database("new")
