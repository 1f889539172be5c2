"""How often something may be tried: so many times within some minutes, then no more until the first of them is old."""

from collections import deque
from collections.abc import Callable
from threading import Lock

MOST_KEYS = 2000  # of those who tried; beyond that the eldest is forgotten, and the limit for all together still holds


class Tries:
    """Wrong tries, counted by whoever made them.

    Parameters
    ----------
    most : int
        As many are let through.
    seconds : float
        Within this time.
    clock : function
        Seconds that only grow.
    """

    def __init__(self, most: int, seconds: float, clock: Callable[[], float]):
        self._most, self._seconds, self._clock = most, seconds, clock
        self._made: dict[str, deque[float]] = {}
        self._lock = Lock()

    def take(self, key: str) -> bool:
        """Count one try; whether it is let through.

        Parameters
        ----------
        key : str
            Who tries.
        """
        with self._lock:
            made, now = self._made.setdefault(key, deque()), self._clock()
            while made and made[0] <= now - self._seconds:
                made.popleft()
            if len(made) >= self._most:
                return False
            made.append(now)
            if len(self._made) > MOST_KEYS:
                self._made.pop(next(iter(self._made)))
            return True

    def forget(self, key: str) -> None:
        """It went well: what was tried before counts no more.

        Parameters
        ----------
        key : str
        """
        with self._lock:
            self._made.pop(key, None)
