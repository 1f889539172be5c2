"""What all tests share."""

from pathlib import Path

import pytest
from hypothesis import settings

# The same examples on every machine and every run; a slow machine is no failure.
settings.register_profile("putback", derandomize=True, deadline=None)
settings.load_profile("putback")


@pytest.fixture(scope="session")
def root() -> Path:
    """The folder of the whole project."""
    return Path(__file__).resolve().parent.parent
