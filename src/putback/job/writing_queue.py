"""A lock that is handed on in the order in which it was asked for: a thread that is quick never starves a slow one."""

from collections import deque
from threading import Lock


class Turns:
    """Who may write now, and who waits."""

    def __init__(self):
        self._guard = Lock()
        self._taken = False
        self._waiting: deque[Lock] = deque()

    def acquire(self, timeout: float) -> bool:
        """Waits for one's turn; False where it did not come in time.

        Parameters
        ----------
        timeout : float
            Seconds.
        """
        own = Lock()
        own.acquire()
        with self._guard:
            if not self._taken:
                self._taken = True
                return True
            self._waiting.append(own)
        return own.acquire(timeout=timeout) or self._came_at_last(own)

    def _came_at_last(self, own: Lock) -> bool:
        """Whether the turn came just after the time was up; otherwise nobody waits any more."""
        with self._guard:
            if own not in self._waiting:
                return True
            self._waiting.remove(own)
            return False

    def release(self) -> None:
        """Hands the turn to who has waited longest."""
        with self._guard:
            if self._waiting:
                self._waiting.popleft().release()
            else:
                self._taken = False
