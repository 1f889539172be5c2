"""What is done behind the last step, in its order: fluids filled in, follow-ups, then the last job work."""

from dataclasses import dataclass
from fractions import Fraction

from putback.area import late
from putback.way.fills import Fill, fills
from putback.way.sheet import Sheet

FILL, FOLLOW_UP, JOB_WORK = "fill", "follow-up", "job work"


@dataclass(frozen=True)
class Late:
    """One piece of work behind the last step.

    Attributes
    ----------
    kind : str
        `FILL`, `FOLLOW_UP` or `JOB_WORK`.
    minutes : Fraction
        0 for filling, whose minutes are those of what was opened, and for work that is given out.
    fills : tuple of Fill
        Fluids that are filled in with it.
    """

    kind: str
    name: str
    minutes: Fraction = Fraction(0)
    fills: tuple[Fill, ...] = ()


def afterwards(sheet: Sheet) -> tuple[Late, ...]:
    """Everything behind the last step, but for what is told at the hand-over.

    Filling comes first, then follow-ups, those that fill ahead of others, repairs that were added to the job, and job
    work, each kind in the order of the file; what names something that it comes after waits for that.
    """
    filled = fills(sheet)
    alone = [_filling(fill) for fill in filled if fill.is_work_of_its_own]
    owed = [
        Late(FOLLOW_UP, name, minutes, tuple(fill for fill in filled if fill.follow_up == name))
        for name, minutes in sheet.due
        if not is_for_later(sheet, name)
    ]
    work = [Late(JOB_WORK, one.name, one.minutes.likely) for one in sheet.job_work if one.when == "after"]
    owed.sort(key=lambda one: not one.fills)
    by_name = {one.name: one for one in (*owed, *work)}
    return (*alone, *(by_name[name] for name in late.in_order(sheet.area, by_name)))


def _filling(fill: Fill) -> Late:
    return Late(FILL, f"fill in again: {fill.words} ({fill.part})", fills=(fill,))


def is_for_later(sheet: Sheet, name: str) -> bool:
    """Whether a follow-up is told at the hand-over, and not done in the job."""
    follow_up = sheet.area.follow_ups.get(name)
    return follow_up is None or follow_up.at_hand_over
