"""A writing process is killed at random moments: nothing that was acknowledged is lost, and nothing is half there.

`integration.ledger_kills` says what is looked at. The normal run kills 30 processes on each database; with
`PUTBACK_KILLS=500` it kills as many as that.
"""

import ast
import os
import subprocess
import sys

import pytest

KILLS = int(os.environ.get("PUTBACK_KILLS", "30"))


@pytest.mark.slow
def test_a_killed_writer_loses_nothing(where):
    """In a process of its own with one thread, from which others can safely be forked."""
    place = where.replace("ledger.db", "ledger {}.db")
    command = [sys.executable, "-m", "integration.ledger_kills", place, str(KILLS)]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    ended = subprocess.run(command, capture_output=True, text=True, env=environment)
    assert ended.returncode == 0, ended.stderr

    seen = ast.literal_eval(ended.stdout)
    assert seen["rounds"] == KILLS
    assert seen["acknowledged"] > 5 * KILLS
    assert seen["killed before the first"] < KILLS / 2
