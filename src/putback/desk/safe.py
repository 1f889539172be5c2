"""Make safe: the cheapest steps from here to a car that can be lowered, or rolled away, and what to beware of."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from putback.area.model import BACK, MARKS, ON_A_LIFT, ON_STANDS, ON_THE_GROUND, PUT_IN, Item
from putback.desk.planning import Thinking, task_on
from putback.desk.safe_cautions import CHOCKS, PEDAL, cautions_of, is_away, left_how, supports
from putback.desk.view import View
from putback.errors import NoWay
from putback.job.car import Car
from putback.job.refit import part_of, refit_steps
from putback.job.running_gear import BRAKES, ROLLS, SEATS, carries, is_named
from putback.job.state import JobState
from putback.way.sheet import Sheet, sheet_of
from putback.way.solve import solve_core
from putback.way.task import Task

MOVED = {
    ON_THE_GROUND: "bring the car down onto its wheels",
    ON_A_LIFT: "raise the car on the lift",
    ON_STANDS: "set the car on its stands",
}
PUT_IN_STATE = "in"  # of what was put in for the work on a car that nobody described
UNDESCRIBED = "nobody has described this car: look what it stands on before it comes down"


@dataclass(frozen=True)
class Safe:
    """The way to a car that can be left.

    Attributes
    ----------
    steps : tuple of str
        In words and in order, how the car comes down among them; none where nothing has to be done.
    minutes : Fraction or None
        Expected, the lowering included; None where nobody has described the car.
    stays : tuple of str
        What stays as it is, each with how it stands.
    cautions : tuple of str
    sheet : Sheet or None
        The plan behind it.
    no_way : NoWay or None
        Why there is none.
    """

    steps: tuple[str, ...]
    minutes: Fraction | None
    stays: tuple[str, ...]
    cautions: tuple[str, ...]
    sheet: Sheet | None = None
    no_way: NoWay | None = None


def make_safe(view: View, now: str, thinking: Thinking, rolled: bool = False) -> Safe:
    """The cheapest steps to a car that can be lowered; to be rolled it has its steering and brakes whole as well.

    Parameters
    ----------
    view : View
    now : str
        The time in UTC.
    thinking : Thinking
    rolled : bool
        Whether it is to be pushed out of the bay.
    """
    if view.area is None or view.shop is None:
        return _by_the_log(view.state, view.car, rolled)
    home = must_be_home(view.state, view.car, rolled)
    try:
        sheet = sheet_to(task_on(view, now, home=home), thinking)
    except NoWay as no_way:
        cautions = cautions_of(view.state, view.car, (), ())
        return Safe((), None, _stays(view.state, (), view.car), cautions, no_way=no_way)
    closed = {step.operation.name for step in sheet.moves(BACK)}
    stays = _stays(view.state, closed, view.car)
    cautions = cautions_of(view.state, view.car, closed, sheet.steps)
    return Safe(tuple(_in_words(sheet)), sheet.minutes, stays, cautions, sheet)


def _in_words(sheet: Sheet) -> Iterator[str]:
    """The steps, and between them how the car comes down or goes up."""
    for step in sheet.steps:
        if "posture" in step.changes:
            yield MOVED[step.context["posture"]]
        yield step.text
    yield from (MOVED[value] for name, value, _ in sheet.ending if name == "posture")


def sheet_to(task: Task, thinking: Thinking) -> Sheet:
    """The plan of a task that only brings some things home.

    Parameters
    ----------
    task : Task
    thinking : Thinking

    Raises
    ------
    NoWay
        There is none; what would open one is not looked for.
    """
    return sheet_of(task, solve_core(task.told.core, clock=thinking.clock, seconds=thinking.seconds))


def must_be_home(state: JobState, car: Car, rolled: bool = False) -> tuple[str, ...]:
    """What must be where it belongs before a described car comes down, in the order of the file.

    Parameters
    ----------
    state : JobState
    car : Car
    rolled : bool
        Steering, brakes and whatever hangs on a support as well.
    """
    stands = {ref.name for ref in car.area.stands_on}
    return tuple(name for name, item in car.items.items() if name in stands or _bars(item, state, car, rolled))


def _bars(item: Item, state: JobState, car: Car, rolled: bool) -> bool:
    """Whether an item as it stands now keeps the car where it is."""
    if not is_away(item.name, state) or item.kind == MARKS:
        return False
    if item.kind == PUT_IN:
        return _keeps_raised(item, state)
    carried = any(ref.name == "supported" for ref in item.hazards)
    named = is_named(f"{item.name} {item.owner or ''}", _by_name(state, car, rolled))
    return named or (carried and (rolled or not supports(item, state, car)))


def _by_name(state: JobState, car: Car, rolled: bool) -> tuple[str, ...]:
    """What a wheel sits on; the brakes too where it rolls, or where something is closed that takes a foot on the pedal."""
    if rolled:
        return (*SEATS, *ROLLS)
    stands = {ref.name for ref in car.area.stands_on}
    away = {name for name in stands if any(is_away(one, state) for one in (name, *_belonging(name, car)))}
    closed = [one for one in car.items.values() if {one.name, one.owner} & away]
    manners = [manner for one in closed for manner in (one.base, *one.ways)]
    asked = " ".join(caution.text for manner in manners for caution in manner.cautions).casefold()
    return (*SEATS, *BRAKES) if any(word in asked for word in PEDAL) else SEATS


def _belonging(part: str, car: Car) -> Iterator[str]:
    return (own.name for own in car.area.belonging_to(part))


def _keeps_raised(item: Item, state: JobState) -> bool:
    ways = state.items[item.name].ways
    return any(manner.keeps_raised for manner in (item.base, *(way for way in item.ways if way.name in ways)))


def _stays(state: JobState, closed, car: Car) -> tuple[str, ...]:
    """What is not where it belongs and stays so; what belongs to a part that is told of is not told again."""
    items = [one for one in state.away() if one.name not in closed and car.kind(one.name) != MARKS]
    groups = [one for one in state.open_groups() if one.name not in closed]
    parts = {one.name for one in items}
    told = [(one.name, one.state) for one in items]
    told += [(one.name, f"{one.out + one.hand_tight} of {one.total} open") for one in groups]
    return tuple(f"{name}: {stands}" for name, stands in told if part_of(name, state, car) not in parts - {name})


def _by_the_log(state: JobState, car: Car, rolled: bool) -> Safe:
    """For a car that nobody has described: what it stands on by its name, what came off last first."""
    away = [one.name for one in (*state.away(), *state.open_groups())]
    carrying = [name for name in away if name in state.items and state.items[name].state.split()[0] == PUT_IN_STATE]
    named = [name for name in away if _is_wanted(_words(name, state), rolled)]
    wanted = [name for name in named if name not in carrying]
    cautions = (*(f"{name}: is in; what it carries goes home before it comes out" for name in carrying), CHOCKS, UNDESCRIBED, left_how([name for name in away if name not in wanted]))
    steps = tuple(step.text for step in refit_steps(wanted, state, car))
    return Safe(steps, None, _stays(state, wanted, car), cautions)


def _is_wanted(words: str, rolled: bool) -> bool:
    return carries(words) or is_named(words, (*SEATS, *ROLLS) if rolled else SEATS)


def _words(name: str, state: JobState) -> str:
    group = state.groups.get(name)
    return f"{name} {group.belongs_to if group else ''}".casefold()
