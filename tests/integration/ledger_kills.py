"""Kills a writing process again and again, and looks at what it leaves.

    PYTHONPATH=src:tests:tests/unit .venv-test/bin/python -m integration.ledger_kills PLACE ROUNDS

Each round a new process opens the ledger and logs batches, telling each one that was acknowledged; after a random time
it is killed (SIGKILL, which no program can catch). Then the ledger is opened as at any start and must hold each
acknowledged batch and file, no part of a batch, no gap, chains that hold, and a list of jobs and a state that are what
the events add up to. A `{}` in the place stands for a number that changes with every fifth round, so that making a
ledger is interrupted as well.
"""

import hashlib
import os
import signal
import sys
import time
from functools import reduce
from random import Random
from select import select

from sqlalchemy import text

from putback.job.events import Event
from putback.job.fold import fold
from putback.job.ledger import Ledger, open_ledger
from putback.job.rows import job_after

LONGEST = 0.15  # seconds a process is left to write
JOBS = 3  # each round logs to so many jobs of its own


def batch(turn: int, number: int) -> list[Event]:
    """What a process logs in one go: the same for the same round and number."""
    random = Random(f"{turn}/{number}")
    if number == 0:
        return [event(turn, 0, k, k, "job opened", name=f"job {k}") for k in range(JOBS)]
    return [fact(random, turn, number, k) for k in range(random.randint(1, 5))]


def fact(random: Random, turn: int, number: int, k: int) -> Event:
    job = random.randrange(JOBS)
    count = random.randint(1, 4)
    if random.random() < 0.3:
        return event(turn, number, k, job, "fluid drained", fluid="coolant", litres=random.random() * 6)
    to = {"to": "tray", "tray position": f"A{number}"}
    return event(turn, number, k, job, "fasteners off", item=f"bolt {number % 20}", count=count, **to)


def event(turn: int, number: int, k: int, job: int, kind: str, **data) -> Event:
    time = f"2026-01-31T09:{number // 60 % 60:02d}:{number % 60:02d}.{k:03d}Z"
    own = f"{turn:010d}{number:010d}{k:06d}"
    return Event(id=own, job=job_id(turn, job), kind=kind, at=time, person="technician 1", device="bay 2", data=data)


def job_id(turn: int, job: int) -> str:
    return f"{turn:020d}{job:06d}"


def photo(turn: int, number: int) -> bytes:
    return Random(f"photo {turn}/{number}").randbytes(50_000)


# --- the process that is killed -------------------------------------------------------------------


def write(where: str, turn: int, pipe: int) -> None:
    """Logs until it is killed; a line goes into the pipe for what was acknowledged, and none before."""
    with open_ledger(where) as ledger:
        for number in range(1_000_000):
            for one in ledger.append(batch(turn, number)):
                os.write(pipe, f"{one.event.id} {one.number} {one.hash}\n".encode())
            if number % 5 == 4:
                os.write(pipe, f"photo {number} {ledger.put_file(photo(turn, number))}\n".encode())


def killed(where: str, turn: int, random: Random) -> list[list[str]]:
    """What a process told before it was killed: some time after its first word, or in a quarter of the rounds after
    its start, so that opening the ledger is interrupted as well."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            write(where, turn, writing)
        finally:
            os._exit(1)
    os.close(writing)
    if random.random() < 0.75:
        select([reading], [], [], 30)
    time.sleep(random.uniform(0, LONGEST))
    os.kill(child, signal.SIGKILL)
    with os.fdopen(reading) as pipe:
        told = pipe.read().splitlines(keepends=True)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL, "the process ended by itself"
    return [line.split() for line in told if line.endswith("\n")]


# --- what it leaves -------------------------------------------------------------------------------


def checked(ledger: Ledger, turn: int, told: list[list[str]]) -> tuple[int, int]:
    """How many events are there, and how many of them had not been acknowledged; anything lost or half is an error."""
    settle(ledger)
    logged = [one for job in range(JOBS) for one in ledger.events(job_id(turn, job))]
    there = {one.event.id: [one.event.id, str(one.number), one.hash] for one in logged}
    events = [line for line in told if line[0] != "photo"]
    assert [there.get(line[0]) for line in events] == events, "an acknowledged event is not there as it was told"
    for _, number, own in (line for line in told if line[0] == "photo"):
        assert ledger.file(own) == photo(turn, int(number)), "an acknowledged file is not there"
    sent = batches_up_to(turn, max((int(own[10:20]) for own in there), default=-1))
    assert {one.event.id: one.event for one in logged} == sent, "half a batch, or one left out"
    for job in range(JOBS):
        job_sound(ledger, job_id(turn, job), sent)
    return len(there), len(there) - len(events)


def batches_up_to(turn: int, last: int) -> dict[str, Event]:
    return {one.id: one for number in range(last + 1) for one in batch(turn, number)}


def job_sound(ledger: Ledger, job: str, sent: dict[str, Event]) -> None:
    """Numbers, chain, the job's line, and the state."""
    logged = ledger.events(job)
    assert [one.number for one in logged] == list(range(1, len(logged) + 1)), "a gap"
    assert ledger.verify(job) is None, "the chain does not hold"
    line = next((row for row in ledger.jobs() if row.id == job), None)
    assert line == reduce(job_after, logged, None), "the list of jobs is not what the events add up to"
    again = [one._replace(event=sent[one.event.id]) for one in logged]
    assert repr(fold(logged)) == repr(fold(again)), "the state is not the fold of what was sent"  # lots are no values


def settle(ledger: Ledger) -> None:
    """A server may still be ending the work of a process that is gone."""
    busy = "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()"
    while ledger.place.startswith("postgresql") and _scalar(ledger, busy):
        time.sleep(0.005)


def _scalar(ledger: Ledger, sql: str) -> int:
    with ledger.atomic() as connection:
        return connection.scalar(text(sql))


def rounds(where: str, count: int) -> dict[str, int]:
    """Kills so many processes, and tells what was seen; a broken promise is an AssertionError."""
    random = Random(hashlib.sha256(where.encode()).hexdigest())
    seen = {"rounds": count, "acknowledged": 0, "kept before it could be told": 0, "killed before the first": 0}
    everything = {}
    for turn in range(count):
        place = where.format(turn // 5)
        told = killed(place, turn, random)
        with open_ledger(place) as ledger:
            there, untold = checked(ledger, turn, told)
        everything[turn] = (place, told)
        seen["acknowledged"] += there - untold
        seen["kept before it could be told"] += untold > 0
        seen["killed before the first"] += not told
    for turn, (place, told) in everything.items():  # nothing that came later took any of it away
        with open_ledger(place, create=False) as ledger:
            checked(ledger, turn, told)
    return seen


if __name__ == "__main__":
    print(rounds(sys.argv[1], int(sys.argv[2])))
