"""What may stand open at the end of a job: a point, and how much it weighs."""

from dataclasses import dataclass

STOP, ASK, REMARK = "stop", "ask", "remark"


@dataclass(frozen=True)
class Point:
    """Something that is not as it should be when the car is handed over.

    Attributes
    ----------
    key : str
        A name of its own, the same as long as the point is the same one; `accepted` events name it.
    kind : str
        What sort of point, one of a few plain words.
    item : str
        What it is about.
    text : str
        One sentence.
    weight : "stop", "ask" or "remark"
        A stop bars the hand-over whatever anybody says. What asks bars it until a named person takes it on himself with a
        reason. A remark goes on the record.
    reach : bool
        Whether somebody has to get at the item again to put it right.
    """

    key: str
    kind: str
    item: str
    text: str
    weight: str = STOP
    reach: bool = False
