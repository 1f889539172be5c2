"""The demo areas beside A, and questions to a plan that their tests share."""

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import cache

from putback import demo
from putback.area.area_file import read_area
from putback.area.model import BACK, OUT, Area
from putback.area.state_file import State, read_state, with_variants
from putback.way.from_area import Translated, core_problem
from putback.way.from_area_operation import Operation, OperationWay
from reference.demo_a import Planned, plan, shop


@cache
def area(letter: str) -> Area:
    name = f"demo-{letter}.yaml"
    return read_area(demo.text(name), name)


def state(letter: str, name: str) -> State:
    return read_state(demo.text(name), name, area(letter))


def translated(letter: str, variant: str | None = None, **options) -> Translated:
    """The area for the demo shop, by money."""
    started = options.pop("state", None)
    given = with_variants(area(letter), started, [variant]) if variant else started
    return core_problem(area(letter), options.pop("shop", shop()), state=given, **options)


def planned(letter: str, variant: str | None = None, **options) -> Planned:
    """A proved plan that the replay finds nothing wrong with."""
    return plan(translated(letter, variant, **options))


def steps(found: Planned) -> Iterator[tuple[Operation, OperationWay]]:
    """The operations of a plan, each with the way that was taken."""
    for name, way, _ in found.plan:
        if name in found.translated.operations:
            operation = found.translated.operations[name]
            yield operation, operation.ways[way]


def through(found: Planned, target: str) -> str:
    """The way by which the target comes off."""
    return next(way.name for one, way in steps(found) if one.name == target and one.direction == OUT)


def used_up(found: Planned) -> dict[str, int]:
    """New parts and one-time fasteners that a plan takes, with their numbers."""
    return {part.name: part.count for one, _ in steps(found) for part in one.uses_up}


def owed(found: Planned) -> set[str]:
    """Follow-ups that the steps of a plan oblige to."""
    return {name for _, way in steps(found) for name in way.follow_ups}


def row(letter: str, *names: str) -> tuple[Fraction, Fraction]:
    """Minutes off and on of some things with all that counts in them, by the least of their ways."""
    described, sums = area(letter), [Fraction(0), Fraction(0)]
    for operation in core_problem(described, shop()).operations.values():
        counted_in = described.items[operation.name].counted_in
        if (counted_in.name if counted_in else operation.part) in names:
            sums[operation.direction == BACK] += operation.minutes.likely
    return sums[0], sums[1]


def before(found: Planned, *operations: str) -> bool:
    """Whether all these are done, in this order."""
    places = [found.position(name) for name in operations]
    return places[0] >= 0 and places == sorted(places)


def groups(letter: str) -> dict[str, tuple]:
    """Each group of fasteners as (number, thread, class, torque in N·m, one-time)."""
    made = {name: item.fastener for name, item in area(letter).items.items() if item.fastener}
    return {
        name: (
            one.count,
            one.thread.text if one.thread else one.noun,
            one.property_class,
            one.torque.final if one.torque else None,
            one.one_time,
        )
        for name, one in made.items()
    }


def levels_at(found: Planned) -> Iterator[tuple[dict[str, int], Operation]]:
    """The levels of all items before each step, with its operation."""
    levels = {name: item.get("start", 0) for name, item in found.translated.core["items"].items()}
    for operation, _ in steps(found):
        yield dict(levels), operation
        levels[operation.item] += 1 if operation.direction == OUT else -1


def closed(levels: dict[str, int], names: Iterable[str]) -> bool:
    """Whether these are all where they belong; what a plan does not move is."""
    return not any(levels.get(name, 0) for name in names)
