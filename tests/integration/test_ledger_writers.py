"""Two processes with four writers each on one job: the log has no gap, no duplicate and one order."""

import os
import subprocess
import sys
from threading import Thread

from integration.ledger_writers import BATCHES, SHARED, THREADS, batches
from ledger_samples import JOB, event

from putback.job.ledger import open_ledger


def started(where: str, process: str) -> subprocess.Popen:
    command = [sys.executable, "-m", "integration.ledger_writers", where, process]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment)


def test_eight_writers_in_two_processes(where):
    """Both make the ledger at once; what each was told is what stands there; each writer's events keep their order."""
    processes = [started(where, process) for process in "12"]
    told = [line.split() for process in processes for line in process.communicate(timeout=120)[0].splitlines()]
    assert [process.returncode for process in processes] == [0, 0]
    writers = [f"{process}{n}" for process in "12" for n in range(THREADS)]
    sent = {one.id for writer in writers for batch in batches(writer) for one in batch}

    with open_ledger(where, create=False) as ledger:
        logged = ledger.events(JOB)
        assert ledger.verify(JOB) is None
    assert [one.number for one in logged] == list(range(1, len(sent) + 1))
    assert {one.event.id for one in logged} == sent
    known = {(one.event.id, str(one.number), one.hash) for one in logged}
    assert {tuple(line[1:]) for line in told} == known
    assert len(told) == len(sent) + SHARED * (len(writers) - 1) > 8 * BATCHES
    for writer in writers:
        own = [one.event.id for one in logged if one.event.data.get("writer") == writer]
        assert own == sorted(own)


def test_a_check_while_others_write_raises_no_false_alarm(where):
    """The log and the line that tells how far it goes are read as of one moment."""
    with open_ledger(where) as ledger:
        writer = Thread(target=lambda: [ledger.append([event(number)]) for number in range(100)])
        writer.start()
        checks = 0
        while writer.is_alive():
            assert ledger.verify(JOB) is None
            checks += 1
        writer.join()
        assert ledger.verify(JOB) is None
        assert checks > 3
        assert len(ledger.events(JOB)) == 100
