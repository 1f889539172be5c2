"""A step of a job as it stands now: what to do, with what, and what one tap on it logs."""

from dataclasses import dataclass
from typing import NamedTuple

FIRST, BEFORE, WAY_IN, AT_THE_SWAP, WAY_BACK, AFTER, HAND_OVER = (
    "first", "before", "way in", "swap", "way back", "after", "hand-over",
)  # fmt: skip


class Said(NamedTuple):
    """An event to be logged: its kind and what it says."""

    kind: str
    data: dict


@dataclass(frozen=True)
class Step:
    """Something that is still to do.

    Attributes
    ----------
    key : str
        A name of its own, the same as long as it is the same step.
    phase : str
        FIRST for what has to be settled before anything goes on, then in the order of a job.
    text : str
        What to do, as one reads it at the car.
    item, part : str
        What it is about and the part that this belongs to; empty where it is about no thing.
    kind : str
        The area's kind of the item; empty where nobody has described it.
    left, of : int
        How many of a group are left to do, and how many there are; 0 for what is no group.
    minutes : float or None
        Likely minutes, as the plan has them.
    tools, equipment, vantage, posture, settings
        As the plan has them; settings are texts such as `steering: full left`.
    torque : str
        As the source has it; empty where nothing is tightened.
    wrench : tuple of str
        The wrench with its setting, for each stage.
    order : tuple of int
        Which of the group after which.
    turn : str
        The direction for a left-hand thread.
    where : str
        Where it sits.
    tray : str
        Tray position that the fasteners go to, or lie in.
    notes : tuple of dict
        Notes and files from its removal, each with number, at and person.
    reason : tuple of str
        The chain of parts from this one to the target, on the way in.
    not_before : float
        Minutes that are left to wait; 0 when it may begin.
    optional : bool
        Whether the job goes on without it.
    asks : str
        Kind of the event that the person has to give figures or words for; one tap is not enough. What `closes` then
        has is only what the figures or words are put into.
    closes : tuple of Said
        What one tap logs.
    """

    key: str
    phase: str
    text: str
    item: str = ""
    part: str = ""
    kind: str = ""
    left: int = 0
    of: int = 0
    minutes: float | None = None
    tools: tuple[str, ...] = ()
    equipment: tuple[str, ...] = ()
    vantage: str = ""
    posture: str = ""
    settings: tuple[str, ...] = ()
    torque: str = ""
    wrench: tuple[str, ...] = ()
    order: tuple[int, ...] = ()
    turn: str = ""
    where: str = ""
    tray: str = ""
    cautions: tuple[str, ...] = ()
    notes: tuple[dict, ...] = ()
    reason: tuple[str, ...] = ()
    not_before: float = 0.0
    optional: bool = False
    asks: str = ""
    closes: tuple[Said, ...] = ()
