"""What an order costs that somebody gives: a manual's sequence, or "refit in reverse"."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

from putback.area.model import BACK, MARKS, OUT
from putback.area.order_file import Entry, Order
from putback.errors import InputError, NotYet, NoWay
from putback.way.forced import Ways, force, restored
from putback.way.given_order import Listed, Point, Walk
from putback.way.order_entries import check_ways, expand, nothing, open_already, ways_of
from putback.way.plan import plan
from putback.way.reverse import not_said_by_reverse
from putback.way.sheet import Sheet, SheetStep, sheet_of
from putback.way.solve import Solved
from putback.way.stopwatch import Stopwatch
from putback.way.task import Task

Move = tuple[str, int]  # an item, and the level that it is taken to


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
    done_already : tuple of str
        Entries of what is off already where the job stands.
    left_out : tuple of SheetStep
        What it does not name and is done all the same.
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
    done_already: tuple[str, ...]
    left_out: tuple[SheetStep, ...]
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
        given = self._way_in()
        on_the_way_back = _ways(expand(self.task, self.order.back or (), BACK))
        opening = self._sheet([], [], self._whole(given), _ways(given) | on_the_way_back)
        out = self._walk(OUT, self.start, given, self._besides(opening, given))
        opened = self._opened(self._sheet(out.kept, [], ways=_ways(out.kept) | on_the_way_back))
        back = self._walk(BACK, self.start | dict(opened), *self._way_back(out.kept, opened))
        sheet = self._sheet(out.kept, back.kept)
        same = self._sheet([], [], self._moved(sheet), _ways([*out.kept, *back.kept]))
        dearer, looked_at_all = self._dearer(sheet, out.kept, back.kept) if sheet.worth > same.worth else ((), True)
        sequence = max([sheet.worth - same.worth, *(saves for _, saves in dearer)])  # `same` may be unproved
        return Priced(
            order=self.order,
            sheet=sheet,
            best=self.best,
            route=sheet.worth - sequence - self.best.worth,
            sequence=sequence,
            points=(*out.points, *back.points),
            done_already=tuple(entry.text for entry in self.order.out if open_already(self.task, entry)),
            left_out=self._left_out(sheet, {*out.entry_of, *back.entry_of}),
            dearer=dearer,
            looked_at_all=looked_at_all,
            reverse=not_said_by_reverse(sheet) if self.order.back is None else (),
        )

    def _left_out(self, sheet: Sheet, listed: set[str]) -> tuple[SheetStep, ...]:
        directions = (OUT,) if self.order.back is None else (OUT, BACK)  # "in reverse" leaves nothing out
        return tuple(step for step in sheet.moves(*directions) if step.id not in listed)

    # -- the way in --------------------------------------------------------------------------

    def _way_in(self) -> list[Listed]:
        found = expand(self.task, self.order.out, OUT)
        named = {one.entry for one in found}
        for entry in self.order.out:
            if entry.text not in named and not open_already(self.task, entry):
                raise nothing(self.task, entry, found)
        check_ways(self.task, (*self.order.out, *(self.order.back or ())))
        return found

    def _besides(self, sheet: Sheet, given: list[Listed]) -> list[Listed]:
        """What a plan opens besides what was given."""
        named = {one.op for one in given}
        return [_added(step) for step in sheet.moves(OUT) if step.id not in named]

    def _opened(self, sheet: Sheet) -> list[Move]:
        """All that is off when the new part goes in, in the order in which it came off."""
        off_before = [(name, level) for name, at in self.start.items() for level in range(1, at + 1)]
        return [*off_before, *(self._move(step.id) for step in sheet.moves(OUT))]

    # -- the way back ------------------------------------------------------------------------

    def _way_back(self, out: list[Listed], opened: list[Move]) -> tuple[list[Listed], list[Listed]]:
        """What goes back as it was given, and what goes back besides."""
        due = self._due(opened)
        if self.order.back is None:
            given = [self._undone(due[move], one) for one in reversed(out) if (move := self._move(one.op)) in due]
        else:
            ops = {one.op for one in due.values()}
            given = [one for one in expand(self.task, self.order.back, BACK) if one.op in ops]
            self._check_back(self.order.back, {one.entry for one in given})
        named = {one.op for one in given}
        return given, [one for one in due.values() if one.op not in named]

    def _undone(self, back: Listed, out: Listed) -> Listed:
        """What undoes an operation, by the way that its entry insists on."""
        entry = next(entry for entry in self.order.out if entry.text == out.entry)
        return Listed(out.entry, back.op, ways_of(self.operations[back.op], entry, self.task.area))

    def _due(self, opened: list[Move]) -> dict[Move, Listed]:
        """What must go back, by the move that it undoes; marks and the like stay."""
        back = {self._move(op["id"]): op for op in self.ops.values() if op["dir"] == BACK}
        return {move: _freely(back[move]) for move in opened if move in back}

    def _check_back(self, entries: Iterable[Entry], named: set[str]) -> None:
        for entry in entries:
            stays = self.task.area.items[entry.need.item].kind == MARKS or not self.core["swaps"]
            if entry.text not in named and not stays:
                raise InputError(f'"{entry.text}" on the way back: the way in leaves that as it is', entry.place)

    def _move(self, op: str) -> Move:
        return self.ops[op]["item"], self.ops[op]["level"]

    # -- both --------------------------------------------------------------------------------

    def _walk(self, direction: str, levels: dict[str, int], listed: list[Listed], others: list[Listed]) -> Walk:
        walk = Walk(self.core, self.operations, direction, levels, listed, others).run()
        if walk.pending:
            stuck = ", ".join(dict.fromkeys(self.operations[one.op].text for one in walk.pending))
            raise NoWay(f"{self.order.name} cannot be kept to: whatever is done first, one can then not {stuck}")
        return walk

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
        solved = self._solved(force(core, ways, [*off, *self._whole(out)]), below)
        return sheet_of(self.task, replace(solved, plan=restored(solved.plan, ways)))

    def _solved(self, core: dict, below: int | None) -> Solved:
        try:
            return self.watch.solve(core, below)
        except NotYet:
            raise
        except NoWay as no_way:
            raise NoWay(f"{self.order.name} cannot be kept to: {no_way.reason}") from None

    def _whole(self, out: list[Listed]) -> list[str]:
        """The items that are taken as far as they go."""
        ops = [self.ops[one.op] for one in out]
        return [op["item"] for op in ops if op["level"] == self.core["items"][op["item"]]["levels"]]

    def _moved(self, sheet: Sheet) -> list[str]:
        return self._whole([_added(step) for step in sheet.moves(OUT)])

    def _dearer(
        self, sheet: Sheet, out: list[Listed], back: list[Listed]
    ) -> tuple[tuple[tuple[str, Fraction], ...], bool]:
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


def _added(step: SheetStep) -> Listed:
    """An operation that no entry names."""
    return Listed(step.operation.part, step.id, tuple(range(len(step.operation.ways))))


def _freely(op: Mapping[str, Any]) -> Listed:
    """An operation that may be done in any of its ways."""
    return Listed("", op["id"], tuple(range(len(op["ways"]))))


def _ways(listed: list[Listed]) -> Ways:
    return {one.op: one.ways for one in listed}


def _one_after_the_other(core: Mapping[str, Any], ops: list[Mapping]) -> dict[str, tuple[str, tuple[int, int]]]:
    """For each operation but the first, where the item that moves just before it stands by then."""
    return {
        op["id"]: (before["item"], _reached(core, before))
        for before, op in pairwise(ops)
        if before["item"] != op["item"]
    }


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
