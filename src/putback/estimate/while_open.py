"""What else could be replaced while the car is open, and how little more that costs than alone."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from putback.area.charges import PARTS
from putback.area.model import BELT, CABLE, LINE, OUT, PART, Item
from putback.area.state_file import State
from putback.errors import NotYet, NoWay
from putback.estimate.bill import Bill
from putback.estimate.goods import Good
from putback.estimate.quote import Pricing
from putback.estimate.terms import NO_TERMS, Terms
from putback.way.from_area import OFF
from putback.way.from_area_described import Description
from putback.way.no_way import ways_taken
from putback.way.sheet import Sheet, sheet_of
from putback.way.stopwatch import Stopwatch
from putback.way.task import Task, make_task

SECONDS = 2.0


@dataclass(frozen=True)
class Besides:
    """One more part in the same job.

    Attributes
    ----------
    name : str
    minutes : Fraction
        What it takes more in this job.
    cents : int
        What it costs more in this job, before tax.
    alone : tuple of (minutes, cents), or None
        What it would take and cost as a job of its own, work that every job has included; None where there is no
        way to it, or no time was left to plan one.
    is_off : bool
        Whether it comes off anyway.
    has_price : bool
        Whether the price of a new one is known; if not, it is in none of these figures.
    is_proved : bool
        Whether nothing costs less; else both are at most so much.
    other_way : str
        The way to the targets, where it is another one than without this part.
    """

    name: str
    minutes: Fraction
    cents: int
    alone: tuple[Fraction, int] | None
    is_off: bool
    has_price: bool
    is_proved: bool
    other_way: str = ""


@dataclass(frozen=True)
class Open:
    """What there is to offer, the least dear first, and what there was no time to look at."""

    found: tuple[Besides, ...]
    unseen: tuple[str, ...]


def while_open(
    task: Task,
    sheet: Sheet,
    terms: Terms = NO_TERMS,
    *,
    clock: Callable[[], float] | None = None,
    seconds: float | None = SECONDS,
) -> Open:
    """Every other part of the area that can be replaced: its price in this job, and alone.

    Parameters
    ----------
    task : Task
    sheet : Sheet
        Its plan.
    terms : Terms
        What holds for the job.
    clock : callable, optional
        Tells seconds; needed with ``seconds``.
    seconds : float, optional
        Time for all of them together.

    Notes
    -----
    A part that comes off anyway costs its own price more, and nothing else: the plan that exists replaces it as
    well, and no plan for both is cheaper than the cheapest for one. Any other is planned together with the targets.
    """
    return _Offer(task, sheet, terms, Stopwatch(clock, seconds)).all()


class _Offer:
    """Works through the other parts of one plan."""

    def __init__(self, task: Task, sheet: Sheet, terms: Terms, watch: Stopwatch):
        self.task, self.sheet, self.terms, self.watch = task, sheet, terms, watch
        self.pricing = Pricing(task, sheet, terms)
        self.bill = self.pricing.bill()
        self.untouched = State("", {}, {}, variants=task.state.variants) if task.state else None  # the same car, closed
        self.items = Description(task.area, task.state, tuple(task.options.get("avoid", ()))).items
        self.prices = {target.name.name: target.new for target in task.area.targets} | dict(terms.prices)

    def all(self) -> Open:
        off, found, unseen = self._off(), [], []
        for name in sorted(self._others(), key=lambda name: self._turn(name, name in off)):
            try:
                one = self._off_anyway(name) if name in off else self._with(name)
            except NotYet:
                unseen.append(name)
            else:
                found += [one] if one else []
        return Open(tuple(sorted(found, key=lambda one: (one.cents, one.minutes, one.name))), tuple(unseen))

    def _turn(self, name: str, is_off: bool) -> int:
        """Who is looked at first: what is off anyway has its price without a plan, so that it can wait for the one alone."""
        return (0 if name in self.prices else 2) if is_off else 1

    def _others(self) -> list[str]:
        """What could be replaced and is not already; what must not be opened is left out."""
        new = {good.name for good in self.pricing.goods if good.kind == PARTS} | set(self.task.targets)
        shut = {*self.task.options.get("avoid", ()), *(self.task.state.shut if self.task.state else ())}
        return [name for name, item in self.items.items() if _is_replaceable(item) and name not in new | shut]

    def _off(self) -> set[str]:
        """What is off the car at the swap."""
        at = self.task.state.at if self.task.state else {}
        found = {name for name, where in at.items() if where.level == self.task.area.items[name].levels}
        moved = (step.operation for step in self.sheet.steps if step.operation)
        return found | {one.name for one in moved if one.direction == OUT and one.state == self.items[one.name].states[-1]}

    def _off_anyway(self, name: str) -> Besides:
        """The plan that there is, and the price of the part."""
        together = self.pricing.bill(more=(Good(name, PARTS, 1, self.prices.get(name)),))
        try:
            alone = self._alone(name)
        except NotYet:
            alone = None
        return self._besides(name, together, self.sheet, alone, is_off=True)

    def _with(self, name: str) -> Besides | None:
        """A plan for the targets and one more part; none once the targets are swapped, or if it saves nothing."""
        if self.task.state and self.task.state.swapped:
            return None
        alone = self._alone(name)
        most = self.sheet.worth + alone.worth if alone else None
        both = self._planned((*self.task.targets, name), self.task.state, most)
        return both and self._besides(name, self._bill(both), both, alone)

    def _alone(self, name: str) -> Sheet | None:
        return self._planned((name,), self.untouched)

    def _besides(self, name: str, together: Bill, both: Sheet, alone: Sheet | None, is_off: bool = False) -> Besides:
        return Besides(
            name=name,
            minutes=both.minutes - self.sheet.minutes,
            cents=together.net - self.bill.net,
            alone=alone and (alone.minutes, self._bill(alone).net),
            is_off=is_off,
            has_price=name not in together.unpriced,
            is_proved=both.proved and self.sheet.proved,
            other_way=self._other_way(both),
        )

    def _other_way(self, both: Sheet) -> str:
        taken, before = ways_taken(both), ways_taken(self.sheet)
        return "" if set(before) <= set(taken) else "; ".join(taken)

    def _planned(self, targets: tuple[str, ...], state: State | None, most: Fraction | None = None) -> Sheet | None:
        """The cheapest plan for some targets, below so much where that is said; None where there is none."""
        if self.watch.left() == 0:
            raise NotYet("no time is left")
        try:
            task = make_task(self.task.area, self.task.shop, targets, state, by=self.task.by, **self.task.options)
            below = None if most is None else ceil(most * task.per_worth)
            return sheet_of(task, self.watch.solve(task.told.core, below))
        except NotYet:
            raise
        except NoWay:
            return None

    def _bill(self, sheet: Sheet) -> Bill:
        return Pricing(self.task, sheet, self.terms).bill()


def _is_replaceable(item: Item) -> bool:
    """A thing by itself that leaves the car; what only goes aside, is lowered or put in for the work is none."""
    return item.owner is None and (item.kind in (BELT, CABLE, LINE) or (item.kind == PART and item.states[-1] == OFF))


def nearly_free(found: Iterable[Besides]) -> list[Besides]:
    """Those of some offers that save something against a job of their own, or come off anyway.

    Parameters
    ----------
    found : iterable of Besides
    """
    return [one for one in found if one.is_off or (one.alone and one.cents < one.alone[1])]
