"""Readings that must add up: what the machine gives, less what the battery gets, is lost on the way."""

AGREES = 0.05  # V by which the sums may differ: common practice, no source


def unexplained(stud: float, battery: float, positive: float, ground: float) -> float:
    """What of stud less battery the two drops do not explain [V].

    Parameters
    ----------
    stud : float
        Charging stud to the machine's case, under load [V]
    battery : float
        Post to post, at the same time [V]
    positive : float
        Lost from the stud to the positive post [V]
    ground : float
        Lost from the negative post to the machine's case [V]

    Examples
    --------
    >>> round(unexplained(14.4, 13.5, 0.10, 0.05), 2)
    0.75
    """
    return stud - battery - positive - ground


def agree(stud: float, battery: float, positive: float, ground: float) -> bool:
    """Whether they go together within 0.05 V; see `unexplained` for `stud`, `battery`, `positive` and `ground`."""
    return abs(unexplained(stud, battery, positive, ground)) <= AGREES + 1e-9


def other_drop(stud: float, battery: float, drop: float) -> float:
    """The drop on the side that was not measured, by the one that was [V].

    Parameters
    ----------
    stud : float
        Charging stud to the machine's case, under load [V]
    battery : float
        Post to post, at the same time [V]
    drop : float
        Lost on the side that was measured [V]
    """
    return stud - battery - drop
