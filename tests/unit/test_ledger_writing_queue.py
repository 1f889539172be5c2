"""Turns are handed on in the order in which they were asked for."""

import time
from threading import Thread

from putback.job.writing_queue import Turns


def asked(turns: Turns, name: int, order: list[int], timeout: float = 10) -> Thread:
    """A thread that waits for its turn; it is in the queue when this returns."""

    def wait() -> None:
        order.append(name if turns.acquire(timeout) else -name)

    waiting = len(turns._waiting)
    thread = Thread(target=wait)
    thread.start()
    while len(turns._waiting) == waiting:
        time.sleep(0.001)
    return thread


def test_who_asks_first_is_first():
    """Also where whoever gives the turn back asks again at once."""
    turns, order = Turns(), []
    assert turns.acquire(0)
    threads = [asked(turns, name, order) for name in (1, 2, 3)]
    for thread in threads:
        turns.release()
        assert not turns.acquire(0)  # others come first
        thread.join()

    assert order == [1, 2, 3]


def test_who_does_not_wait_any_longer_is_passed_over():
    """The turn goes to the next, and in the end nobody has it."""
    turns, order = Turns(), []
    assert turns.acquire(0)
    asked(turns, 1, order, timeout=0.02).join()
    next_one = asked(turns, 2, order)
    turns.release()
    next_one.join()

    assert order == [-1, 2]
    turns.release()
    assert turns.acquire(0)
