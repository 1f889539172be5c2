"""Which tray a fastener goes to: one number for each part, one letter for each group, in the order of the plan."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import count, product
from string import ascii_uppercase

from putback.area.model import FASTENERS
from putback.job.car import Car
from putback.job.state import JobState

_POSITION = re.compile(r"([0-9]+)\s*([A-Za-z]*)")


@dataclass
class _Map:
    numbers: dict[str, int] = field(default_factory=dict)  # of parts
    positions: dict[str, str] = field(default_factory=dict)  # of groups

    def keep(self, part: str, group: str, position: str) -> None:
        self.positions[group] = position
        if found := _POSITION.fullmatch(position):
            self.numbers.setdefault(part, int(found[1]))

    def add(self, part: str, group: str) -> None:
        if group not in self.positions:
            number = self.numbers.setdefault(part, self._free_number())
            taken = {position.upper() for position in self.positions.values()}
            free = (one for letters in _letters() if (one := f"{number}{letters}") not in taken)
            self.positions[group] = next(free)

    def _free_number(self) -> int:
        found = (_POSITION.match(position) for position in self.positions.values())
        taken = {*self.numbers.values(), *(int(one[1]) for one in found if one)}
        return next(number for number in count(1) if number not in taken)


def tray_map(state: JobState, car: Car, plan: dict | None = None) -> dict[str, str]:
    """Tray positions by the name of the group: `2A`.

    Parameters
    ----------
    state : JobState
    car : Car
    plan : dict, optional
        The plan in force, as JSON has it.

    Returns
    -------
    positions : dict of str to str
        What has lain in a tray keeps its position whatever plan comes after; the others get the lowest numbers that are
        free, in the order in which the plan takes their parts off. No two groups share a position, so neither do two
        lengths.
    """
    found = _Map()
    for group in sorted(state.groups.values(), key=lambda one: one.left):
        if group.position:
            found.keep(_part(group.name, state, car), group.name, group.position)
    for name in _coming_off(state, car, plan):
        found.add(_part(name, state, car), name)
    return found.positions


def _part(name: str, state: JobState, car: Car) -> str:
    described = car.items.get(name)
    owner = described.owner if described else None
    return owner or (state.groups[name].belongs_to if name in state.groups else "") or name


def _coming_off(state: JobState, car: Car, plan: dict | None) -> Iterator[str]:
    """Groups that the plan takes out, and those that are out though it does not."""
    for step in plan["steps"] if plan else ():
        if step["direction"] == "in" and car.kind(step["item"]) == FASTENERS:
            yield step["item"]
    yield from (group.name for group in sorted(state.groups.values(), key=lambda one: one.left) if group.out)


def _letters() -> Iterator[str]:
    """A to Z, then AA and on."""
    return ("".join(letters) for length in count(1) for letters in product(ascii_uppercase, repeat=length))


@dataclass(frozen=True)
class Label:
    """What to write on a tray position."""

    position: str
    group: str
    count: int
    text: str


def labels(state: JobState, car: Car, plan: dict | None = None) -> list[Label]:
    """The tray positions with what goes into them, in the order of the trays.

    Parameters
    ----------
    state : JobState
    car : Car
    plan : dict, optional
    """
    positions = tray_map(state, car, plan)
    found = [Label(position, name, _count(name, state, car), car.named(name)) for name, position in positions.items()]
    return sorted(found, key=_place)


def _count(name: str, state: JobState, car: Car) -> int:
    fastener = car.fastener(name)
    return fastener.count if fastener else state.groups[name].total


def _place(label: Label) -> tuple:
    found = _POSITION.fullmatch(label.position)
    return (int(found[1]), len(found[2]), found[2].upper()) if found else (10**9, 0, label.position)
