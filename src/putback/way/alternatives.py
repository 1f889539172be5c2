"""The other ways: what each would cost, what it needs, and why it lost.

best = plan_way(...)
for other in alternatives(task, best, clock=perf_counter, seconds=10):
    other.choices, other.sheet.money, other.reason
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from putback.area.model import OUT, Item
from putback.errors import NotYet, NoWay
from putback.way.compare import reason
from putback.way.forced import Ways, force, restored
from putback.way.from_area import Translated
from putback.way.from_area_missing import Chosen, Levels, having
from putback.way.from_area_reduce import can_hold
from putback.way.from_area_shop import by_name
from putback.way.sheet import Sheet, sheet_of
from putback.way.solve import Solved
from putback.way.stopwatch import Stopwatch
from putback.way.task import Task


@dataclass(frozen=True, order=True)
class Choice:
    """One of several ways in which something on the way can be done: a part, and the way's name."""

    part: str
    way: str

    def __str__(self) -> str:
        return f"{self.part}: {self.way}"


@dataclass(frozen=True)
class Alternative:
    """The cheapest plan that makes some choice, held against the cheapest of all.

    Attributes
    ----------
    choices : tuple of Choice
        All choices that lead to this plan.
    sheet : Sheet or None
        None where it cannot be done on this variant of the car, or no plan was found in the time given.
    lacks : tuple of Lack
        What this shop would have to get for it.
    chosen : bool
        Whether it is the cheapest plan itself.
    reason : str
        Why it lost, in words; empty for the one that is chosen.
    """

    choices: tuple[Choice, ...]
    sheet: Sheet | None
    lacks: Chosen
    chosen: bool
    reason: str


def alternatives(
    task: Task, best: Sheet, *, clock: Callable[[], float] | None = None, seconds: float | None = None
) -> list[Alternative]:
    """Every way of an operation that has several, each with the cheapest plan that takes it.

    Parameters
    ----------
    task : Task
    best : Sheet
        Its cheapest plan.
    clock : callable, optional
        Tells seconds; needed with ``seconds``.
    seconds : float, optional
        Time for all of them together.

    Returns
    -------
    found : list of Alternative
        The chosen one first, the others by what they cost (by minutes where that was asked), then by name; those
        that this shop lacks something for behind them.
    """
    return _Alternatives(task, best, Stopwatch(clock, seconds)).all()


class _Alternatives:
    """Works through all choices of a task."""

    def __init__(self, task: Task, best: Sheet, watch: Stopwatch):
        self.task, self.best, self.watch = task, best, watch
        self.missing = task.missing()
        self.found: list[Alternative] = [Alternative((), best, (), True, "")]

    def all(self) -> list[Alternative]:
        here = _choices(self.task.told)
        for choice in _several(self._with_everything().told):
            if choice in here:
                self._in_this_shop(choice, here[choice])
            else:
                self._elsewhere(choice)
        self.found += self._on_other_cars()
        first, *others = self.found
        return [first, *sorted(others, key=self._rank)]

    def _with_everything(self) -> Task:
        """The task in this shop, if it lacked nothing that any way asks for."""
        lacks = {lack for offer in self.missing.offers for one in offer.lacks for lack in one}
        return self.task.with_shop(having(self.task.shop, sorted(lacks, key=by_name))) if lacks else self.task

    def _on_other_cars(self) -> Iterator[Alternative]:
        """Ways of what may be moved here that there are only on another variant of the car."""
        described = self.missing.described
        items = [described.chains[chain].item for chain in self.task.told.core["items"]]
        ways = [(Choice(_part(item), way.name), way.only) for item in items for way in item.ways]
        for choice, only in dict(one for one in ways if not described.exists(one[1])).items():
            cars = " or ".join(ref.name for ref in only)
            yield Alternative((choice,), None, (), False, f"only for {cars}")

    def _rank(self, one: Alternative) -> tuple:
        return bool(one.lacks), one.sheet is None, one.sheet and one.sheet.worth, one.choices

    def _in_this_shop(self, choice: Choice, ways: Ways) -> None:
        if self.task.told.core["swaps"] == [] and not any(self._is_due(op) for op in ways):
            return
        used = [one for one in self.found if one.sheet and not one.lacks and _obeys(one.sheet.solved, ways)]
        if used and used[0].chosen:
            self._add_to(used[0], choice)
            return
        known = min(used, key=lambda one: one.sheet.solved.total, default=None)
        try:
            sheet = _forced(self.task, ways, self.watch, known and known.sheet.solved.total)
        except NotYet:
            self._not_yet(choice, known)
        except NoWay:
            if known:
                self._add_to(known, choice)
        else:
            self.found.append(Alternative((choice,), sheet, (), False, reason(sheet, self.best)))

    def _is_due(self, op: str) -> bool:
        """Whether an operation comes for certain: its item is off already, and goes back."""
        item = self.task.told.operations[op].item
        return self.task.told.core["items"][item].get("start", 0) > 0

    def _not_yet(self, choice: Choice, known: Alternative | None) -> None:
        if known:
            self._add_to(known, choice)
        else:
            self.found.append(Alternative((choice,), None, (), False, "no plan was found in the time given"))

    def _add_to(self, one: Alternative, choice: Choice) -> None:
        self.found[self.found.index(one)] = replace(one, choices=(*one.choices, choice))

    def _elsewhere(self, choice: Choice) -> None:
        """A choice that this shop lacks something for: the cheapest of the smallest sets that would open it."""
        plans = [plan for lacks in self._sets(choice) if (plan := self._having(lacks, choice))]
        if not plans:
            return
        sheet, lacks = min(plans, key=lambda plan: (plan[0].worth, list(map(by_name, plan[1]))))
        same = [one for one in self.found if one.lacks == lacks and one.sheet and one.sheet.worth == sheet.worth]
        if same:
            self._add_to(same[0], choice)
        else:
            self.found.append(Alternative((choice,), sheet, lacks, False, _lacking(self.task, lacks)))

    def _sets(self, choice: Choice) -> list[Chosen]:
        offers = [one for one in self.missing.offers if Choice(_part(one.step.chain.item), one.path.name) == choice]

        def opens(levels: Levels, chosen: Chosen) -> bool:
            usable = any(one.is_open(chosen) and can_hold(one.path.needs, levels) for one in offers)
            return usable and self.missing.reaches(levels, chosen)

        sets = list(self.missing.sets(opens))
        return [one for one in sets if len(one) == len(sets[0])]

    def _having(self, lacks: Chosen, choice: Choice) -> tuple[Sheet, Chosen] | None:
        other = self.task.with_shop(having(self.task.shop, lacks))
        ways = _choices(other.told).get(choice)
        try:
            return (_forced(other, ways, self.watch), lacks) if ways else None
        except NoWay:
            return None


def _part(item: Item) -> str:
    return item.owner or item.name


def _lacking(task: Task, lacks: Chosen) -> str:
    return f"{task.shop.name} lacks: {', '.join(map(str, lacks))}"


def _choices(told: Translated) -> dict[Choice, Ways]:
    """For every named way of a part, the operations that have it, and which of their ways it is."""
    found: dict[Choice, dict[str, tuple[int, ...]]] = {}
    for operation in told.operations.values():
        for number, way in enumerate(operation.ways):
            ways = found.setdefault(Choice(operation.part, way.name), {})
            ways[operation.id] = (*ways.get(operation.id, ()), number)
    return found


def _several(told: Translated) -> list[Choice]:
    """The choices that there are: ways of operations that have more than one."""
    open_to_choice = [one for one in told.operations.values() if len({way.name for way in one.ways}) > 1]
    return list(dict.fromkeys(Choice(one.part, way.name) for one in open_to_choice for way in one.ways))


def _obeys(solved: Solved, ways: Ways) -> bool:
    """Whether a plan does all of some operations, each in one of the ways allowed."""
    played = {name: way for name, way, _ in solved.plan}
    return all(played.get(op) in allowed for op, allowed in ways.items())


def _forced(task: Task, ways: Ways, watch: Stopwatch, below: int | None = None) -> Sheet:
    """The cheapest plan that does some operations, each in one of the ways allowed."""
    moved = [op["item"] for op in task.told.core["ops"] if op["id"] in ways and op["dir"] == OUT]
    solved = watch.solve(force(task.told.core, ways, moved), below)
    return sheet_of(task, replace(solved, plan=restored(solved.plan, ways)))
