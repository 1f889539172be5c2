"""A record judged: cranking or running, and what it says of either."""

from dataclasses import dataclass

from putback.charging.cranking import Cranking, judge_cranking
from putback.charging.record import Record
from putback.charging.ripple import CANNOT_TELL, Ripple, judge_ripple


@dataclass(frozen=True)
class Evidence:
    """What a record says.

    Parameters
    ----------
    record : Record
    ripple : Ripple
    cranking : Cranking or None
        None where the engine was not cranked
    """

    record: Record
    ripple: Ripple
    cranking: Cranking | None

    @property
    def said(self) -> Ripple | Cranking:
        """The one that the record is about."""
        return self.cranking or self.ripple


def judge(
    record: Record, at: str | None = None, rpm: float | None = None, pole_pairs: int | None = None
) -> Evidence:
    """Judge a record; which kind it is shows from the record itself.

    Parameters
    ----------
    record : Record
    at : str, optional
        Where it was measured: posts or stud
    rpm : float, optional
        Engine speed [1/min]
    pole_pairs : int, optional
        Of the alternator
    """
    cranking = judge_cranking(record)
    if cranking is not None:
        return Evidence(record, Ripple(CANNOT_TELL, 0.0, (), None, None, "the starter turns in this record"), cranking)
    return Evidence(record, judge_ripple(record, at, rpm, pole_pairs), None)
