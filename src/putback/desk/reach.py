"""What it costs to get at an open point again, from the car as it stands now."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from putback.area.model import BACK, CABLE, FASTENERS, MARKS, OUT, PLUG, PUT_IN, Area
from putback.area.state_file import At, State
from putback.desk.change import Opened
from putback.desk.planning import Thinking, Total, task_on, total
from putback.desk.safe import sheet_to
from putback.desk.view import View
from putback.errors import InputError, NoWay
from putback.job.points import Point
from putback.job.refit import left, part_of
from putback.job.state import JobState
from putback.way.from_area_described import Description
from putback.way.from_area_reach import can_hold
from putback.way.from_area_steps import all_steps
from putback.way.sheet import Sheet
from putback.way.stopwatch import Stopwatch
from putback.way.task import make_task

AWAY = ("item moved", "fasteners off", "fasteners loosened")


@dataclass(frozen=True)
class Reach:
    """The way back to one thing.

    Attributes
    ----------
    item : str
    parts : tuple of Opened
        What has to come off again, each with its minutes off.
    off, on : Fraction or None
        Minutes for all of that, off and on again; None where they are not known.
    cost : Total or None
        All of it with raising the car, changes of tool and place, and the thing itself.
    guessed : bool
        Whether it goes by the order of the log, for want of a description.
    words : str
        One sentence.
    cautions : tuple of str
    """

    item: str
    parts: tuple[Opened, ...]
    off: Fraction | None
    on: Fraction | None
    cost: Total | None
    guessed: bool
    words: str
    cautions: tuple[str, ...] = ()


def reaches(view: View, now: str, thinking: Thinking, points: Iterable[Point] | None = None) -> dict[str, Reach]:
    """What each open point costs to reach.

    Parameters
    ----------
    view : View
    now : str
        The time in UTC.
    thinking : Thinking
        For all of them together.
    points : iterable of Point, optional
        All points of the job that somebody has to get at again when left out.

    Returns
    -------
    found : dict of str to Reach
        By the key of the point.
    """
    asked = [point for point in (view.points if points is None else points) if point.reach]
    if not asked:
        return {}
    finder = _Finder(view, now, thinking)
    known = {item: finder.reach(item) for item in dict.fromkeys(point.item for point in asked)}
    return {point.key: known[point.item] for point in asked}


class _Finder:
    """Looks for the ways back in one job."""

    def __init__(self, view: View, now: str, thinking: Thinking):
        self.view, self.watch = view, Stopwatch(thinking.clock, thinking.seconds)
        self.task = task_on(view, now, home=()) if view.area and view.shop else None
        self.in_hand = self._in_hand() if self.task else set()

    def _in_hand(self) -> set[str]:
        """What is away, with everything that lies before it away as well: at most something has to go home first."""
        described = Description(self.task.area, self.task.state)
        levels = {name: chain.start for name, chain in described.chains.items()}
        now = [one for one in all_steps(described) if one.direction == BACK and one.level == one.chain.start]
        return {one.chain.item.name for one in now if any(can_hold(path.needs, levels) for path in one.paths)}

    def reach(self, item: str) -> Reach:
        if self.task is None or item not in self.view.car.items:
            return _by_the_log(item, self.view)
        if item in self.in_hand:
            return Reach(item, (), Fraction(0), Fraction(0), None, False, f"{item}: nothing has to be opened for it")
        try:
            return self._planned(item)
        except (NoWay, InputError):
            words = f"{item}: what it takes to reach it again could not be worked out"
            return Reach(item, (), None, None, None, False, words)

    def _planned(self, item: str) -> Reach:
        area, cautions = _connections_stay(self.task.area, item, self.task.state)
        state = undone(area, item, self.task.state)
        task = make_task(area, self.task.shop, self.task.targets, state, home=[item])
        sheet = sheet_to(task, Thinking(self.watch.clock, self.watch.left()))
        return _of_sheet(item, sheet, cautions)


def undone(area: Area, item: str, state: State) -> State:
    """The same state with a thing undone that is done: so far that it has to be done again.

    Parameters
    ----------
    area : Area
    item : str
    state : State
    """
    if item in state.at:
        return state
    described = area.items[item]
    level = 1 if described.kind == FASTENERS else described.levels
    way = described.ways[0].name if described.kind == PUT_IN and described.ways else None
    return replace(state, at={**state.at, item: At(level, way=way)})


def _connections_stay(area: Area, item: str, state: State) -> tuple[Area, tuple[str, ...]]:
    """For a fastener of a part that stays where it is, the plugs and cables of that part stay on."""
    described = area.items[item]
    part = area.items.get(described.owner or "")
    if described.kind != FASTENERS or part is None or part.name in state.at:
        return area, ()
    on = [ref for ref in part.base.behind if _is_connection(area, ref.name) and ref.name not in state.at]
    behind = tuple(ref for ref in part.base.behind if ref not in on)
    items = {**area.items, part.name: replace(part, base=replace(part.base, behind=behind))}
    return replace(area, items=items), tuple(_of_live(area, [ref.name for ref in on], state))


def _is_connection(area: Area, name: str) -> bool:
    return name in area.items and area.items[name].kind in (PLUG, CABLE)


def _of_live(area: Area, on: list[str], state: State) -> Iterator[str]:
    live = [name for name in on if any(ref.name == "live" for ref in area.items[name].hazards)]
    if live and area.battery and area.battery.name not in state.at:
        yield f"the {' and the '.join(live)} is on and live: disconnect the battery before a tool comes near it"


def _of_sheet(item: str, sheet: Sheet, cautions: tuple[str, ...]) -> Reach:
    opened = [step for step in sheet.moves(OUT) if step.operation.name != item]
    names = {step.operation.part for step in opened}
    closed = [step for step in sheet.moves(BACK) if step.operation.part in names and step.operation.name != item]
    parts: dict[str, Fraction] = {}
    for step in opened:
        if sheet.area.items[step.operation.part].kind not in (PUT_IN, MARKS):
            parts[step.operation.part] = parts.get(step.operation.part, Fraction(0)) + step.way.minutes.likely
    off, on = _minutes(opened), _minutes(closed)
    shown = tuple(Opened(part, time) for part, time in parts.items())
    return Reach(item, shown, off, on, total(sheet), False, _words(item, shown, off, on), cautions)


def _minutes(steps) -> Fraction:
    return sum((step.way.minutes.likely for step in steps), Fraction(0))


def _words(item: str, parts: tuple[Opened, ...], off: Fraction | None, on: Fraction | None) -> str:
    if not parts:
        return f"{item}: nothing has to be opened for it"
    names = ", ".join(one.part for one in parts)
    times = f" = {float(off):.0f} min off + {float(on):.0f} min on" if off is not None and on is not None else ""
    return f"{item}: to reach it again: {names}{times}"


def _by_the_log(item: str, view: View) -> Reach:
    """Where nobody has described it: whatever came off before it, and is home again, may lie over it."""
    by_order = sorted(view.state.order, key=view.state.order.__getitem__)
    over = [name for name in by_order if left(name, view.state) < left(item, view.state)]
    over = [name for name in over if _is_home(name, view.state) and part_of(name, view.state, view.car) != item]
    if not over:
        return Reach(item, (), Fraction(0), Fraction(0), None, True, _words(item, (), None, None))
    spent = _logged(view)
    off, on = (_sum_of(spent, over, which) for which in (0, 1))
    parts = tuple(Opened(name, spent[name][0] if name in spent else None) for name in over)
    words = f"{_words(item, parts, off, on)}; by the order in which things came off, for nobody has described this"
    return Reach(item, parts, off, on, None, True, words)


def _sum_of(spent: dict, names: list[str], which: int) -> Fraction | None:
    return sum((spent[name][which] for name in names), Fraction(0)) if all(name in spent for name in names) else None


def _is_home(name: str, state: JobState) -> bool:
    thing = state.groups.get(name) or state.items.get(name)
    return thing is not None and thing.home


def _logged(view: View) -> dict[str, tuple[Fraction, Fraction]]:
    """Minutes off and on that people logged for things, where they said any."""
    found: dict[str, tuple[Fraction, Fraction]] = {}
    for row in view.logged:
        data = row.event.data
        if "minutes" in data and "item" in data:
            off, on = found.get(data["item"], (Fraction(0), Fraction(0)))
            minutes = Fraction(data["minutes"]).limit_denominator(100)
            away = row.event.kind in AWAY and row.number <= left(data["item"], view.state)
            found[data["item"]] = (off + minutes, on) if away else (off, on + minutes)
    return found
