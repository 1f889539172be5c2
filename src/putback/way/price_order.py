"""What an order costs that somebody gives: a manual's sequence, or "refit in reverse"."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

from putback.area.model import BACK, OUT
from putback.area.order_file import Entry, Order
from putback.errors import InputError, NotYet, NoWay
from putback.way.forced import Ways, force, restored
from putback.way.given_order import Listed, Point, Walk, expand
from putback.way.plan import plan
from putback.way.reverse import not_said_by_reverse
from putback.way.sheet import Sheet, SheetStep, sheet_of
from putback.way.stopwatch import Stopwatch
from putback.way.task import Task


@dataclass(frozen=True)
class Priced:
    """An order with its price, held against the cheapest plan; cents, or minutes where those are saved.

    Attributes
    ----------
    sheet : Sheet
        The plan that keeps to the order as far as it is allowed.
    best : Sheet
        The cheapest plan of all.
    route : Fraction
        What it costs more that other things are opened, in the best order for them.
    sequence : Fraction
        What the order itself costs more.
    points : tuple of Point
        Where it is not allowed as it was given.
    left_out : tuple of str
        Operations that it does not name and that are done all the same.
    dearer : tuple of (entry, cents or minutes)
        What each entry alone would save at its best place, the most first.
    looked_at_all : bool
        Whether there was time to look for the best place of every entry.
    reverse : tuple of str
        What "refit in reverse" does not say; empty where the way back was given.
    """

    order: Order
    sheet: Sheet
    best: Sheet
    route: Fraction
    sequence: Fraction
    points: tuple[Point, ...]
    left_out: tuple[str, ...]
    dearer: tuple[tuple[str, Fraction], ...]
    looked_at_all: bool
    reverse: tuple[str, ...]


def price_order(
    task: Task, order: Order, *, clock: Callable[[], float] | None = None, seconds: float | None = None
) -> Priced:
    """Price an order: as it was given where that is allowed, and as near to it as can be where it is not.

    Parameters
    ----------
    task : Task
    order : Order
    clock : callable, optional
        Tells seconds; needed with ``seconds``.
    seconds : float, optional
        Time for all plans together.

    Raises
    ------
    NoWay
        The job cannot be done at all, or not in this order.
    InputError
        The order names something that this car or this shop has no way to open.
    """
    return _Pricing(task, order, Stopwatch(clock, seconds)).price()


class _Pricing:
    def __init__(self, task: Task, order: Order, watch: Stopwatch):
        entries = (*order.out, *(order.back or ()))
        self.order, self.watch = order, watch
        self.best = plan(task, clock=watch.clock, seconds=watch.left())
        self.task = task.keeping(dict.fromkeys(entry.need.item for entry in entries))
        self.core, self.operations = self.task.told.core, self.task.told.operations
        self.start = {name: item.get("start", 0) for name, item in self.core["items"].items()}
        self.ops = {op["id"]: op for op in self.core["ops"]}

    def price(self) -> Priced:
        given = self._listed(self.order.out, OUT)
        out = self._walk(OUT, self.start, given)
        done = self._as_done(self._sheet(out.done, []), out.done)
        back = self._walk(BACK, self._displaced(done), self._way_back(done))
        sheet = self._sheet(done, back.done)
        same = self._sheet([], [], self._moved(sheet), _ways(done))
        listed = {one.op for one in (*given, *back.listed)}
        dearer, looked_at_all = self._dearer(sheet, done, back.done) if sheet.worth > same.worth else ((), True)
        return Priced(
            order=self.order,
            sheet=sheet,
            best=self.best,
            route=same.worth - self.best.worth,
            sequence=sheet.worth - same.worth,
            points=(*out.points, *back.points),
            left_out=tuple(step.text for step in sheet.steps if step.operation and step.id not in listed),
            dearer=dearer,
            looked_at_all=looked_at_all,
            reverse=not_said_by_reverse(sheet) if self.order.back is None else (),
        )

    # -- the order as operations -------------------------------------------------------------

    def _listed(self, entries: Iterable[Entry], direction: str) -> list[Listed]:
        found = expand(self.core, self.operations, self.task.area, entries, direction)
        for entry in entries:
            if not any(one.entry == entry.text for one in found):
                raise InputError(f'"{entry.text}": nothing is there to be done with it on this car in this shop', entry.place)
        return found

    def _way_back(self, done: list[Listed]) -> list[Listed]:
        if self.order.back is not None:
            return self._listed(self.order.back, BACK)
        back = {(op["item"], op["level"]): op for op in self.ops.values() if op["dir"] == BACK}
        ops = [(one.entry, back.get((self.ops[one.op]["item"], self.ops[one.op]["level"]))) for one in reversed(done)]
        return [Listed(entry, op["id"], tuple(range(len(op["ways"])))) for entry, op in ops if op]

    def _walk(self, direction: str, levels: dict[str, int], listed: list[Listed]) -> Walk:
        walk = Walk(self.core, self.operations, direction, dict(levels), listed).run()
        if walk.pending:
            stuck = ", ".join(dict.fromkeys(self.operations[one.op].text for one in walk.pending))
            raise NoWay(f"{self.order.name} cannot be kept to: whatever is done first, one can then not {stuck}")
        return walk

    def _as_done(self, sheet: Sheet, listed: list[Listed]) -> list[Listed]:
        """The whole way in as it was planned, with what the order had left out."""
        known = {one.op: one for one in listed}
        out = [step for step in sheet.steps if step.operation and step.operation.direction == OUT]
        return [known.get(step.id) or self._added(step) for step in out]

    def _added(self, step: SheetStep) -> Listed:
        return Listed(step.operation.part, step.id, tuple(range(len(step.operation.ways))))

    def _displaced(self, done: list[Listed]) -> dict[str, int]:
        return self.start | {self.ops[one.op]["item"]: self.ops[one.op]["level"] for one in done}

    # -- plans -------------------------------------------------------------------------------

    def _sheet(
        self,
        out: list[Listed],
        back: list[Listed],
        off: Iterable[str] = (),
        ways: Ways | None = None,
        below: int | None = None,
    ) -> Sheet:
        """The cheapest plan that does some operations in their order."""
        after = _one_after_the_other(self.core, [self.ops[one.op] for one in out])
        after |= _one_after_the_other(self.core, [self.ops[one.op] for one in back])
        core = {**self.core, "ops": [_behind(op, after.get(op["id"])) for op in self.core["ops"]]}
        ways = _ways([*out, *back]) if ways is None else ways
        solved = self.watch.solve(force(core, ways, [*off, *self._whole(out)]), below)
        return sheet_of(self.task, replace(solved, plan=restored(solved.plan, ways)))

    def _whole(self, out: list[Listed]) -> list[str]:
        """The items that are taken as far as they go."""
        ops = [self.ops[one.op] for one in out]
        return [op["item"] for op in ops if op["level"] == self.core["items"][op["item"]]["levels"]]

    def _moved(self, sheet: Sheet) -> list[str]:
        return self._whole([Listed("", step.id, ()) for step in sheet.steps if step.operation and step.operation.direction == OUT])

    def _dearer(self, sheet: Sheet, out: list[Listed], back: list[Listed]) -> tuple[tuple[tuple[str, Fraction], ...], bool]:
        """What each entry alone would save if it might stand where it is best, and whether all were looked at."""
        found: list[tuple[str, Fraction]] = []
        looked_at_all = True
        for entry in dict.fromkeys(one.entry for one in (*out, *back)):
            others = [[one for one in listed if one.entry != entry] for listed in (out, back)]
            try:
                freed = self._sheet(*others, self._moved(sheet), _ways([*out, *back]), sheet.solved.total)
            except NotYet:
                looked_at_all = False
            except NoWay:
                continue
            else:
                found.append((entry, sheet.worth - freed.worth))
        return tuple(sorted((one for one in found if one[1] > 0), key=lambda one: -one[1])), looked_at_all


def _ways(listed: list[Listed]) -> Ways:
    return {one.op: one.ways for one in listed}


def _one_after_the_other(core: Mapping[str, Any], ops: list[Mapping]) -> dict[str, tuple[str, tuple[int, int]]]:
    """For each operation but the first, where the item that moves just before it stands by then."""
    return {op["id"]: (before["item"], _reached(core, before)) for before, op in pairwise(ops) if before["item"] != op["item"]}


def _reached(core: Mapping[str, Any], op: Mapping) -> tuple[int, int]:
    return (op["level"], core["items"][op["item"]]["levels"]) if op["dir"] == OUT else (0, op["level"] - 1)


def _behind(op: Mapping[str, Any], after: tuple[str, tuple[int, int]] | None) -> Mapping[str, Any]:
    """An operation that waits for another item to have moved."""
    if after is None:
        return op
    item, (low, high) = after
    ways = []
    for way in op["ways"]:
        old = way.get("needs", {}).get(item, (low, high))
        ways.append({**way, "needs": {**way.get("needs", {}), item: [max(low, old[0]), min(high, old[1])]}})
    return {**op, "ways": ways}
