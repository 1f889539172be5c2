"""What the entries of an order stand for: the operations of a job; and why some stand for none."""

from collections.abc import Iterable

from putback.area.model import OUT, PUT_IN, Area
from putback.area.order_file import Entry
from putback.errors import InputError
from putback.way.from_area_described import Description
from putback.way.from_area_missing import Missing
from putback.way.from_area_operation import Operation
from putback.way.from_area_stuck import stuck
from putback.way.given_order import Listed
from putback.way.task import Task


def expand(task: Task, entries: Iterable[Entry], direction: str) -> list[Listed]:
    """The operations that some entries stand for: a part's fasteners and plugs, and the part.

    What has an entry of its own does not belong to that of its part.

    Parameters
    ----------
    task : Task
    entries : iterable of Entry
    direction : "out" or "back"
    """
    entries, operations = list(entries), task.told.operations
    able = [operations[op["id"]] for op in task.told.core["ops"] if op["dir"] == direction]
    owners = {one.id: _owner(one, entries, task.area) for one in able}
    return [
        Listed(entry.text, one.id, ways_of(one, entry, task.area))
        for entry in entries
        for one in able
        if owners[one.id] is entry
    ]


def _owner(operation: Operation, entries: list[Entry], area: Area) -> Entry | None:
    """The entry that means an operation most closely, else the first that means its part with all that holds it."""
    by_itself = [entry for entry in entries if _is_meant(operation, entry, area)]
    with_its_part = (entry for entry in entries if _is_held_by(operation, entry, area))
    if by_itself:
        return min(by_itself, key=lambda entry: abs(_goes_to(operation, entry, area) - operation.level))
    return next(with_its_part, None)


def _is_meant(operation: Operation, entry: Entry, area: Area) -> bool:
    need, item = entry.need, area.items[entry.need.item]
    if operation.name != need.item:
        return False
    if need.way is not None and item.kind == PUT_IN and not operation.item.endswith(f"by {need.way}"):
        return False
    level = _goes_to(operation, entry, area)
    return operation.level <= level if operation.direction == OUT else operation.level > level


def _goes_to(operation: Operation, entry: Entry, area: Area) -> int:
    """The level to which an entry takes its item; back a name alone takes it all the way."""
    level = entry.need.level
    return 0 if operation.direction != OUT and level == area.items[entry.need.item].levels else level


def _is_held_by(operation: Operation, entry: Entry, area: Area) -> bool:
    whole = entry.need.level == area.items[entry.need.item].levels
    return whole and operation.part == entry.need.item != operation.name


def ways_of(operation: Operation, entry: Entry, area: Area) -> tuple[int, ...]:
    """The ways of an operation that an entry allows, counted from 0.

    Ways that differ in nothing but their names are one, so the name of one may be gone: then all are allowed.

    Parameters
    ----------
    operation : Operation
    entry : Entry
    area : Area
    """
    numbers = tuple(range(len(operation.ways)))
    return tuple(n for n in numbers if _is_called(operation.ways[n].name, entry, area)) or numbers


def _is_called(way: str, entry: Entry, area: Area) -> bool:
    """Whether it is the way that an entry insists on, or one of several that it falls into by what is put in for it."""
    wanted, others = entry.need.way, [one.name for one in area.items[entry.need.item].ways]
    return way == wanted or (wanted is not None and way.startswith(f"{wanted}, ") and way not in others)


def open_already(task: Task, entry: Entry) -> bool:
    """Whether what an entry takes off is as far off where the job stands now."""
    at = task.state.at.get(entry.need.item) if task.state else None
    return at is not None and at.level >= entry.need.level > 0


def check_ways(task: Task, entries: Iterable[Entry]) -> None:
    """Refuse an entry that insists on a way which this shop has not.

    Parameters
    ----------
    task : Task
    entries : iterable of Entry

    Raises
    ------
    InputError
        The entry with its place, and for want of what.
    """
    for entry in entries:
        for one in task.told.dropped:
            if one.step.chain.item.name == entry.need.item and _is_called(one.way, entry, task.area):
                raise InputError(f'"{entry.text}": not possible in {task.shop.name} {one.reason}', entry.place)


def nothing(task: Task, entry: Entry, listed: Iterable[Listed]) -> InputError:
    """Why an entry of the way in stands for no operation.

    Parameters
    ----------
    task : Task
    entry : Entry
    listed : iterable of Listed
        What the other entries stand for.
    """
    return InputError(f'"{entry.text}": {_why_nothing(task, entry, list(listed))}', entry.place)


def _why_nothing(task: Task, entry: Entry, listed: list[Listed]) -> str:
    name, described = entry.need.item, Description(task.area, task.state, task.options.get("avoid", ()))
    same = (one.entry for one in listed if task.told.operations[one.op].name == name)
    if entry.need.level == 0:
        return "that is how it stands before the work begins"
    if name not in described.items:
        return "this car has none"
    if not all(map(described.may_open, described.of_item[name])):
        return "it must not be opened"
    if other := next(same, None):
        return f'it stands in this list already, as "{other}"'
    missing = Missing(task.area, task.shop, (name,), task.state, task.options.get("avoid", ()))
    return f"not possible in {task.shop.name}: {'; '.join(map(str, stuck(missing)))}"
