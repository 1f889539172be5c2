"""Fluids that run out, and what fills them again: the step back itself, a follow-up, or work of its own."""

from collections.abc import Iterator
from dataclasses import dataclass

from putback.area.model import Fluid
from putback.way.sheet import Sheet, SheetStep


@dataclass(frozen=True)
class Fill:
    """A fluid to be filled in again.

    Attributes
    ----------
    part : str
        The part that lost it.
    step : int or None
        The step that fills it: the way back of what was drained.
    follow_up : str or None
        The follow-up that fills it. Where neither does, filling is work of its own behind the last step.
    """

    fluid: Fluid
    part: str
    step: int | None = None
    follow_up: str | None = None

    @property
    def words(self) -> str:
        """How much of what: `0.7 l gearbox oil`."""
        return f"{float(self.fluid.litres):g} l {self.fluid.name}"

    @property
    def is_work_of_its_own(self) -> bool:
        """Whether no step and no follow-up fills it."""
        return self.step is None and self.follow_up is None


def fills(sheet: Sheet) -> tuple[Fill, ...]:
    """What a plan's steps lose and is filled again before the engine starts, in the order of the steps."""
    return tuple(_fills(sheet))


def _fills(sheet: Sheet) -> Iterator[Fill]:
    for step in sheet.steps:
        if step.operation and step.operation.fluid:
            fluid = step.operation.fluid
            follow_up = fluid.filled_by.name if fluid.filled_by else None
            itself = step.number if follow_up is None and _is_drained(sheet, step) else None
            yield Fill(fluid, step.operation.part, itself, follow_up)


def _is_drained(sheet: Sheet, step: SheetStep) -> bool:
    """Whether the way back is the filling itself."""
    return sheet.area.items[step.operation.name].states[-1].split()[0] == "drained"
