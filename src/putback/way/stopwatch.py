"""One time for several searches."""

from collections.abc import Callable

from putback.way.solve import Solved, solve_core


class Stopwatch:
    """What is left of a time that several searches share.

    Parameters
    ----------
    clock : callable, optional
        Tells seconds; needed with ``seconds``.
    seconds : float, optional
        Time for all of them together; without it they take what they need.
    """

    def __init__(self, clock: Callable[[], float] | None, seconds: float | None):
        self.clock = clock
        self.end = None if clock is None or seconds is None else clock() + seconds

    def left(self) -> float | None:
        """Seconds that are left, None where there is no limit."""
        return None if self.end is None else max(0.0, self.end - self.clock())

    def solve(self, core: dict, below: int | None = None) -> Solved:
        """As :func:`putback.way.solve.solve_core`, in the time that is left.

        Parameters
        ----------
        core : dict
        below : int, optional
        """
        return solve_core(core, clock=self.clock, seconds=self.left(), below=below)
