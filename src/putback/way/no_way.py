"""An honest "no", told so that somebody can do something about it."""

from collections.abc import Callable

from putback.area.model import OUT
from putback.errors import NotYet, NoWay
from putback.way.from_area_missing import in_words
from putback.way.from_area_stuck import Stuck, stuck
from putback.way.openings import Opening, openings
from putback.way.sheet import Sheet
from putback.way.task import Task


class NoSafeWay(NoWay):
    """A job that cannot be done with what the shop has.

    Parameters
    ----------
    task : Task
    stuck : list of Stuck
        The operations that no plan gets past; none where there is too little of something to do it all at once.
    openings : list of Opening
        What would open a way, the cheapest one first.
    reason : str
        What the planner itself found.
    """

    def __init__(self, task: Task, stuck: list[Stuck], openings: list[Opening], reason: str):
        self.task, self.stuck, self.openings, self.found = task, tuple(stuck), tuple(openings), reason
        why = "; ".join(map(str, stuck)) or reason
        missing = " or ".join(in_words(one.lacks) for one in openings)
        super().__init__(
            f"no safe way to the {' and the '.join(task.targets)} in {task.shop.name}: {why}",
            [missing] if missing else [],
        )


def explained(
    no_way: NoWay, task: Task, *, clock: Callable[[], float] | None = None, seconds: float | None = None
) -> NoWay:
    """The same "no", with the operation that is stuck and the smallest sets of things that would make it a "yes".

    Parameters
    ----------
    no_way : NoWay
        What the planner said; that there was too little time stays as it is.
    task : Task
    clock : callable, optional
        Tells seconds; needed with ``seconds``.
    seconds : float, optional
        Time for the plans with what is missing.
    """
    if isinstance(no_way, NotYet):
        return no_way
    return NoSafeWay(task, stuck(task.missing()), openings(task, clock=clock, seconds=seconds), no_way.reason)


def ways_taken(sheet: Sheet) -> list[str]:
    """Which of several ways a plan takes to its targets, in words."""
    steps = [step for step in sheet.moves(OUT) if step.way.name]
    themselves = [step.way.name for step in steps if step.operation.name in sheet.targets]
    of_targets = [step.way.name for step in steps if step.operation.part in sheet.targets]
    return list(dict.fromkeys(themselves or of_targets or [f"{step.operation.part} {step.way.name}" for step in steps]))
