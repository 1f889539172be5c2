"""A process in which several threads write to one job at once: `python -m integration.ledger_writers PLACE NAME`.

Prints what was acknowledged, one line for each event: writer, id, number, hash.
"""

import sys
from random import Random
from threading import Thread

from ledger_samples import event

from putback.job.ledger import Ledger, open_ledger

THREADS, BATCHES, SHARED = 4, 20, 10


def batches(writer: str) -> list[list]:
    """The same for the same writer: its own events in batches of 1 to 3, and now and then one that all writers send."""
    random = Random(writer)
    first = 1_000_000 * (1 + int(writer))
    own = [[event(first + 10 * n + k, writer=writer) for k in range(random.randint(1, 3))] for n in range(BATCHES)]
    for number in range(SHARED):
        random.choice(own).append(event(number, shared=True))
    return own


def write(ledger: Ledger, writer: str, told: list[str]) -> None:
    """Logs all batches of a writer."""
    for batch in batches(writer):
        told += [f"{writer} {one.event.id} {one.number} {one.hash}" for one in ledger.append(batch)]


def main(where: str, process: str) -> None:
    """Writes with all threads, then tells."""
    told = []
    with open_ledger(where) as ledger:
        threads = [Thread(target=write, args=(ledger, f"{process}{n}", told)) for n in range(THREADS)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    print("\n".join(told))


if __name__ == "__main__":
    main(*sys.argv[1:])
