"""Names that a slip of the pen may have meant."""

from collections.abc import Iterable
from difflib import get_close_matches
from functools import lru_cache
from heapq import nlargest

LONGEST = 100  # characters of a name that is compared
COMPARED = 20  # names compared in full: enough to hold the nearest, few enough to be quick among thousands


def nearest(name: str, known: Iterable[str], cutoff: float = 0.6) -> str | None:
    """The known name that comes nearest to another.

    Parameters
    ----------
    name : str
        What was written.
    known : iterable of str
        What it may have been meant to be.
    cutoff : float
        How alike they must be, from 0 to 1: difflib's ratio.

    Returns
    -------
    nearest : str or None
        None where nothing is alike enough.
    """
    if len(name) > LONGEST:
        return None
    likely = nlargest(COMPARED, (one for one in known if len(one) <= LONGEST), key=_shared_with(name))
    return next(iter(get_close_matches(name, likely, 1, cutoff)), None)


def _shared_with(name: str):
    pairs = _pairs(name)
    return lambda other: 2 * len(pairs & _pairs(other)) - abs(len(name) - len(other))


@lru_cache(10_000)
def _pairs(name: str) -> frozenset[str]:
    """The pairs of neighbouring letters, and the last letter."""
    return frozenset(name[at : at + 2] for at in range(len(name)))
