"""A plan in the words of people: what to do, from where, with what, and why.

    sheet = sheet_of(task, solve_core(task.told.core, clock=time.perf_counter, seconds=10))
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from putback.area.model import FASTENERS, MARKS, NO_TIME, OUT, PUT_IN, Area, Item, JobWork, Spread
from putback.area.shop_file import Shop
from putback.area.state_file import State
from putback.way.from_area import MINUTES, MONEY, Translated
from putback.way.from_area_described import Description
from putback.way.from_area_moves import Dropped
from putback.way.from_area_operation import Operation, OperationWay
from putback.way.reasons import reasons
from putback.way.replay import Change, Step, replay
from putback.way.sheet_step import SheetStep
from putback.way.solve import Solved
from putback.way.task import Task, parts
from putback.way.unheld import unheld


@dataclass(frozen=True)
class Sheet:
    """A plan, what it costs, and how sure that is.

    Attributes
    ----------
    minutes, money : Fraction or None
        Expected minutes; expected money before tax in cents, None where the shop has no labour rate.
    likely : Spread
        Minutes without risks, least, likely and most.
    gap : Fraction
        At most this much dearer than the cheapest, as a share; 0 when proved.
    due : tuple of (name, minutes)
        Follow-ups that the plan owes, or that were owed when it was taken up, in the order of the file.
    job_work : tuple of JobWork
        What is still to do of what belongs to the job whichever way is taken, and what was added to it.
    dropped : tuple of Dropped
        Ways that this shop has not, and for want of what.
    ending : tuple of (dimension, value, minutes)
        What is still to be changed once the last step is done: the car lowered, the steering straight.
    stays_on : tuple of str
        Parts, plugs, belts and cables that nothing on this way touches, in the order of the file.
    """

    area: Area
    shop: Shop
    targets: tuple[str, ...]
    by: str
    minutes: Fraction
    money: Fraction | None
    likely: Spread
    proved: bool
    gap: Fraction
    steps: tuple[SheetStep, ...]
    job_work: tuple[JobWork, ...]
    due: tuple[tuple[str, Fraction], ...]
    dropped: tuple[Dropped, ...]
    solved: Solved
    core: dict
    ending: tuple[tuple[str, str, Fraction], ...] = ()
    stays_on: tuple[str, ...] = ()

    def moves(self, *directions: str) -> list[SheetStep]:
        """The steps that move something in one of some directions, without the swaps."""
        return [step for step in self.steps if step.operation and step.operation.direction in directions]

    @property
    def worth(self) -> Fraction:
        """What the plan is to save: cents, or minutes where that was asked or the shop has no labour rate."""
        return self.money if self.saves_money else self.minutes

    @property
    def saves_money(self) -> bool:
        """Whether it is money that the plan is to save, and the shop says what an hour costs."""
        return self.by == MONEY and self.money is not None


def sheet_of(task: Task, solved: Solved) -> Sheet:
    """A solved task in words, minutes and money.

    Parameters
    ----------
    task : Task
    solved : Solved
        A plan of the task's core problem.
    """
    core, area, by = task.told.core, task.area, task.by
    other = MINUTES if by == MONEY else MONEY
    totals = {by: _whole(core, solved.total), other: _whole(task.told.counted, replay(task.told.counted, solved.plan).total)}
    writer = _Writer(task.told, solved, reasons(core, task.told.operations, solved.plan, task.targets), area)
    steps = writer.steps()
    return Sheet(
        area=area,
        shop=task.shop,
        targets=task.targets,
        by=by,
        minutes=totals[MINUTES],
        money=totals[MONEY] if task.shop.labour else None,
        likely=_likely(steps),
        proved=solved.proved,
        gap=Fraction(solved.total - solved.lower, max(1, solved.total)),
        steps=steps,
        job_work=writer.job_work(),
        due=writer.due(_owed(area, task.state)),
        dropped=task.told.dropped,
        solved=solved,
        core=core,
        ending=writer.ending(),
        stays_on=_stays_on(task, steps),
    )


def _stays_on(task: Task, steps: tuple[SheetStep, ...]) -> tuple[str, ...]:
    at = task.state.at if task.state else {}
    touched = {name for step in steps if step.operation for name in (step.operation.part, step.operation.name)}
    there = Description(task.area, task.state).items.items()
    return tuple(name for name, item in there if _is_of_the_car(item) and name not in touched and name not in at)


def _is_of_the_car(item: Item) -> bool:
    """Whether an item is something by itself: not a fastener, not of another part, not put there for the work."""
    return item.owner is None and item.kind not in (FASTENERS, PUT_IN, MARKS)


def _whole(core: dict, total: int) -> Fraction:
    """A total of a core problem in minutes or cents."""
    return Fraction(total, parts(core["unit"]["cost"]))


class _Writer:
    """Puts a solved problem back into words."""

    def __init__(self, told: Translated, solved: Solved, reasons: dict[str, tuple[str, ...]], area: Area):
        self.told, self.core, self.reasons, self.follow_ups = told, told.core, reasons, area.follow_ups
        self.area, self.items = area, area.items
        self.replay = replay(told.core, solved.plan)
        self.per_minute = parts(told.core["unit"]["time"])
        self.changes = {dim["name"]: dim for dim in told.core["dims"]}
        self.waits = self._waits()
        self.said: set[tuple[str, str, str]] = set()  # direction, part, and what was said of it

    def steps(self) -> tuple[SheetStep, ...]:
        steps = [self._step(number, played) for number, played in enumerate(self.replay.steps, 1)]
        loose = unheld(self.area, steps)
        return tuple(replace(step, cautions=(*step.cautions, *loose.get(step.number, ()))) for step in steps)

    def _step(self, number: int, played: Step) -> SheetStep:
        operation = self.told.operations.get(played.id)
        return SheetStep(
            number=number,
            id=played.id,
            text=operation.text if operation else f"{played.id}: old and new side by side, then the new one",
            operation=operation,
            way=operation.ways[played.way] if operation else None,
            context=dict(played.context),
            changes=tuple(change.dim for change in played.changes),
            set_up=sum((self._change_minutes(change) for change in played.changes), Fraction(0)),
            wait=Fraction(played.idle, self.per_minute),
            reason=self.reasons.get(operation.part, ()) if operation else (),
            not_before=self.waits.get(number, ()),
            then_wait=self._then_wait(operation) if operation else Fraction(0),
            cautions=self._cautions(operation, operation.ways[played.way]) if operation else (),
        )

    def _cautions(self, operation: Operation, way: OperationWay) -> tuple[str, ...]:
        """Those of the operation and of the way taken, without what was said of a part before in this direction."""
        of_parts = {(operation.direction, *pair) for pair in operation.of_parts}
        again = {text for _, _, text in of_parts & self.said} - {text for _, _, text in of_parts - self.said}
        self.said |= of_parts
        return tuple(dict.fromkeys(text for text in (*operation.cautions, *way.cautions) if text not in again))

    def _then_wait(self, operation: Operation) -> Fraction:
        """The wait behind the last move out, where no step of the problem itself has to wait for it."""
        item = self.items[operation.name]
        ends = operation.direction == OUT and operation.state == item.states[-1]
        return item.wait or Fraction(0) if ends and not self.core.get("waits") else Fraction(0)

    def _waits(self) -> dict[int, tuple[tuple[Fraction, int], ...]]:
        """What has to be waited for, by the number of the first step that must wait."""
        number_of = {step.id: number for number, step in enumerate(self.replay.steps, 1)}
        found: dict[int, tuple[tuple[Fraction, int], ...]] = {}
        for wait in self.core.get("waits", ()):
            since = max((number_of[name] for name in wait["after"] if name in number_of), default=0)
            time = wait["time"] if since else wait.get("left", 0)
            first = min((n for name in wait["before"] if (n := number_of.get(name, 0)) > since), default=0)
            if time and first:
                found[first] = (*found.get(first, ()), (Fraction(time, self.per_minute), since))
        return found

    def _change_minutes(self, change: Change) -> Fraction:
        dim = self.changes[change.dim]
        time = dim["change"]
        if isinstance(time, list):
            time = time[dim["values"].index(change.old)][dim["values"].index(change.new)]
        return Fraction(time, self.per_minute)

    def ending(self) -> tuple[tuple[str, str, Fraction], ...]:
        """What the last step leaves to be changed; an area allows one value at the end, if it asks for one at all."""
        last = self.replay.steps[-1].context if self.replay.steps else {}
        standing = [(dim, last.get(dim["name"], dim["start"])) for dim in self.core["dims"] if "end" in dim]
        changes = [Change(dim["name"], old, dim["end"][0]) for dim, old in standing if old not in dim["end"]]
        return tuple((change.dim, change.new, self._change_minutes(change)) for change in changes)

    def job_work(self) -> tuple[JobWork, ...]:
        """Fixed work that takes time, which what is only bought does not; follow-ups are told of elsewhere."""
        return tuple(
            JobWork(work["id"], work["when"], _just(Fraction(work["time"], self.per_minute)))
            for work in self.core.get("fixed", ())
            if work.get("time") and work["id"] not in self.follow_ups
        )

    def due(self, owed: Iterable[str]) -> tuple[tuple[str, Fraction], ...]:
        """Follow-ups owed from before, and those that the steps of this plan owe, with their minutes."""
        ran = [self.told.operations[step.id].ways[step.way] for step in self.replay.steps if step.id in self.told.operations]
        names = {*owed, *(name for way in ran for name in way.follow_ups)}
        return tuple((name, self._due_minutes(name)) for name in self.follow_ups if name in names)

    def _due_minutes(self, name: str) -> Fraction:
        fixed = [work for work in self.core.get("fixed", ()) if work["id"] == name]
        offers = next((once["offers"] for once in self.core.get("once", ()) if once["id"] == name), fixed)
        costs = [(self.core["rate"] * offer["time"] + offer["cost"], offer["time"]) for offer in offers]
        return Fraction(min(costs)[1], self.per_minute) if costs else Fraction(0)


def _owed(area: Area, state: State | None) -> list[str]:
    """Follow-ups of what was off already when the job was taken up."""
    off = [area.items[name] for name, at in (state.at if state else {}).items() if at.level == area.items[name].levels]
    return list(dict.fromkeys(ref.name for item in off for ref in item.base.follow_ups))


def _just(minutes: Fraction) -> Spread:
    return Spread(minutes, minutes, minutes)


def _likely(steps: tuple[SheetStep, ...]) -> Spread:
    """Minutes of the steps themselves, without set-up and risks."""
    return sum((step.way.minutes for step in steps if step.way), NO_TIME)
