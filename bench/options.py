"""How much to measure."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Options:
    """How much to measure.

    Attributes
    ----------
    seeds : int
        Problems of each size.
    limit : float
        Seconds that a peer may take over a problem.
    think : float
        Seconds that our planner may take over a problem.
    runs : int
        Runs of which the median is told, where one problem is measured.
    """

    seeds: int = 3
    limit: float = 10.0
    think: float = 10.0
    runs: int = 5
