"""What to beware of around a car that is left half apart."""

from collections.abc import Container, Iterable, Iterator

from putback.area.model import BACK, LINE, MARKS, PUT_IN, Item
from putback.job.car import Car
from putback.job.running_gear import BRAKES, ROLLS, SEATS, is_named
from putback.job.state import JobState
from putback.way.sheet import SheetStep

CHOCKS = "chock the wheels that stay on the ground before the car comes down, and as long as it stands"
NEVER_DRIVEN = "the car may be lowered and pushed, never driven; put a sign where the driver sees it"
PEDAL = ("pedal", "brake held")  # of what only a brake that is whole can do


def cautions_of(state: JobState, car: Car, closed: Container[str], steps: Iterable[SheetStep]) -> tuple[str, ...]:
    """What to beware of on the way to a car that can be left, and while it stands there.

    Parameters
    ----------
    state : JobState
        Before the first of the steps.
    car : Car
    closed : container of str
        What those steps bring home.
    steps : iterable of SheetStep
    """
    names = [one.name for one in (*state.away(), *state.open_groups()) if one.name not in closed]
    stay = [name for name in names if car.kind(name) not in (PUT_IN, MARKS)]
    brakes = brakes_in(stay)
    said = (*_of_steps(steps, brakes), *_of_brakes(brakes), *_of_what_stays(state, car, closed))
    return tuple(dict.fromkeys((CHOCKS, *said, left_how(stay))))


def brakes_in(names: Iterable[str]) -> list[str]:
    """What of some things a brake needs to hold.

    Parameters
    ----------
    names : iterable of str
    """
    return [name for name in names if is_named(name, BRAKES)]


def _of_brakes(brakes: list[str]) -> Iterator[str]:
    if brakes:
        yield f"nobody steps on the brake pedal: the {' and the '.join(brakes)} is not home; a sign on the wheel says so"


def left_how(names: Iterable[str]) -> str:
    """What may be done with a car of which some things stay off: without its brakes or steering it is not pushed.

    Parameters
    ----------
    names : iterable of str
        What stays off.
    """
    missing = [name for name in names if is_named(name, (*SEATS, *ROLLS))]
    words = f"the car is not pushed and never driven: the {' and the '.join(missing)} is not home"
    return f"{words}; put a sign where the driver sees it" if missing else NEVER_DRIVEN


def _of_steps(steps: Iterable[SheetStep], brakes: list[str]) -> Iterator[str]:
    for step in steps:
        operation = step.operation
        yield from (one for one in step.cautions if not (brakes and any(word in one.casefold() for word in PEDAL)))
        if operation.direction == BACK and operation.fastener and operation.fastener.one_time:
            yield f"{operation.name}: old ones let the car stand and no more; new ones go in before it is driven"


def _of_what_stays(state: JobState, car: Car, closed: Container[str]) -> Iterator[str]:
    battery = car.area.battery.name if car.area and car.area.battery else ""
    for one in state.away():
        item = car.items.get(one.name)
        if item is None or one.name in closed:
            continue
        if any(ref.name == "live" for ref in item.hazards):
            on = "" if is_away(battery, state) else "; the battery is on: take it off first"
            yield f"{one.name}: cover its bare end{on or ', and leave the battery off'}"
        if item.kind == LINE:
            yield f"{one.name}: cap both ends"
        yield from _of_a_load(one.name, item, state, car)
    if any(one.name not in closed for one in state.away()):
        yield "the engine is not started: not everything is on"


def _of_a_load(name: str, item: Item, state: JobState, car: Car) -> Iterator[str]:
    if item.kind == PUT_IN:
        held = [ref.name for ref in item.secures if is_away(ref.name, state)]
        if held:
            load = any(_is_load(car.items[one]) for one in held if one in car.items)
            keep = "; nobody goes under, and the car is not rocked" if load else ""
            yield f"{name}: stays in, for it holds the {' and the '.join(held)}{keep}"
    elif _securing(item, car) and not supports(item, state, car):
        them = " or the ".join(_securing(item, car))
        yield f"{name}: hangs free as far as was logged; put the {them} in, or refit it"


def _is_load(item: Item) -> bool:
    return any(ref.name in ("supported", "heavy") for ref in item.hazards)


def supports(item: Item, state: JobState, car: Car) -> list[str]:
    """What is in now and secures an item.

    Parameters
    ----------
    item : Item
    state : JobState
    car : Car
    """
    return [name for name in _securing(item, car) if is_away(name, state)]


def _securing(item: Item, car: Car) -> list[str]:
    return [one.name for one in car.items.values() if any(ref.name == item.name for ref in one.secures)]


def is_away(name: str, state: JobState) -> bool:
    """Whether a thing is not where it belongs, or a group not whole.

    Parameters
    ----------
    name : str
    state : JobState
    """
    item, group = state.items.get(name), state.groups.get(name)
    return (item is not None and not item.home) or (group is not None and not group.home)
