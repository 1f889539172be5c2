"""One step of a plan in the words of people."""

from dataclasses import dataclass
from fractions import Fraction

from putback.way.from_area_operation import Operation, OperationWay


@dataclass(frozen=True)
class SheetStep:
    """One step as the technician meets it.

    Attributes
    ----------
    operation : Operation or None
        What is done; None for the swap itself.
    way : OperationWay or None
        Which way of doing it.
    context : dict of str to str
        Tool, vantage, posture and whatever else is set, by the name of the dimension.
    changes : tuple of str
        Dimensions that change before the step.
    set_up, wait : Fraction
        Minutes for those changes, and minutes of waiting.
    reason : tuple of str
        The chain of parts from this one to the target, on the way in.
    not_before : tuple of (Fraction, int)
        Minutes that must be over first, each since the end of a step of this number; 0 for the start of the plan. Told
        at the first step that has to wait, even where other work fills the time: who works fast must wait all the same.
    then_wait : Fraction
        Minutes to wait right after the step, where waits are counted in full.
    cautions : tuple of str
        All that there is to beware of, each once. What is said of a part stands at the first step, in each direction,
        that moves the part itself or opens what carries it; that a part hangs on nothing, where that begins.
    """

    number: int
    id: str
    text: str
    operation: Operation | None
    way: OperationWay | None
    context: dict[str, str]
    changes: tuple[str, ...]
    set_up: Fraction
    wait: Fraction
    reason: tuple[str, ...]
    not_before: tuple[tuple[Fraction, int], ...] = ()
    then_wait: Fraction = Fraction(0)
    cautions: tuple[str, ...] = ()
