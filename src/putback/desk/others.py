"""The other ways from where a job stands: what each would cost, what it opens besides, and why it lost."""

from dataclasses import dataclass
from fractions import Fraction

from putback.desk.change import Opened, opened
from putback.desk.planning import Thinking, Total, task_on, total
from putback.desk.view import View
from putback.way.alternatives import Alternative, alternatives
from putback.way.plan import plan
from putback.way.stopwatch import Stopwatch


@dataclass(frozen=True)
class OtherWay:
    """One way on.

    Attributes
    ----------
    name : str
        Which of several ways is taken, in words.
    total : Total
        What is still to do.
    opens : tuple of Opened
        What it opens, the targets apart.
    owed : tuple of (str, Fraction)
        What it obliges to, with the minutes.
    reason : str
        Why it lost; empty for the cheapest one.
    """

    name: str
    total: Total
    opens: tuple[Opened, ...]
    owed: tuple[tuple[str, Fraction], ...]
    reason: str

    @property
    def off(self) -> Fraction:
        """Minutes for opening what it opens."""
        return sum((one.minutes for one in self.opens), Fraction(0))


def other_ways(view: View, now: str, thinking: Thinking, **options) -> list[OtherWay]:
    """The ways on that this shop can take, the cheapest first.

    Parameters
    ----------
    view : View
    now : str
        The time in UTC.
    thinking : Thinking
        For all of them together.
    options
        As for `putback.way.plan.plan_way`: avoid, without.

    Raises
    ------
    InputError
        Nobody has described this car.
    NoWay
        There is none.
    """
    watch, task = Stopwatch(thinking.clock, thinking.seconds), task_on(view, now, **options)
    best = plan(task, clock=watch.clock, seconds=watch.left())
    found = alternatives(task, best, clock=watch.clock, seconds=watch.left())
    return [_way(one) for one in found if one.sheet is not None and not one.lacks]


def _way(one: Alternative) -> OtherWay:
    names = dict.fromkeys(str(choice) for choice in one.choices)
    return OtherWay("; ".join(names), total(one.sheet), opened(one.sheet), one.sheet.due, one.reason)
