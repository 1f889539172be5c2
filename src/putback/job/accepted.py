"""What somebody has taken on himself by name and with a reason."""

from putback.job.state import JobState


def is_accepted(key: str, state: JobState, since: int = 0) -> bool:
    """Whether a point or a stop was accepted after what brought it about.

    Parameters
    ----------
    key : str
        Of the point or the stop.
    state : JobState
    since : int, optional
        Number of the event that brought it about: nobody has accepted what came later.
    """
    taken = state.accepted.get(key)
    return taken is not None and taken["number"] > since
