"""What must be there before the car is lifted: each thing with its number, what it is, and how it stands.

    needed -> in stock -> wrong -> returned
    needed -> ordered -> here -> wrong -> returned
              ordered -> needed
    core owed -> returned

What is wrong or returned is needed anew by itself: needed is whatever is not there and not on its way.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from putback.area.charges import CONSUMABLES, FASTENERS, FLUIDS, PARTS, SUBLETS
from putback.area.model import Equipment
from putback.errors import InputError
from putback.estimate.goods import Good, swapped
from putback.way import lay_out
from putback.way.sheet import Sheet

NEEDED, IN_STOCK, ORDERED, HERE, WRONG, RETURNED, CORE_OWED = STATUSES = (
    "needed", "in stock", "ordered", "here", "wrong", "returned", "core owed",
)  # fmt: skip
MOVES = {
    NEEDED: (IN_STOCK, ORDERED),
    IN_STOCK: (WRONG,),
    ORDERED: (HERE, NEEDED),
    HERE: (WRONG,),
    WRONG: (RETURNED,),
    RETURNED: (),
    CORE_OWED: (RETURNED,),
}
NEW_PART, ONE_TIME, USED_UP, FLUID, TOOL, EQUIPMENT, CORE = KINDS = (
    "new part", "one-time fastener", "used up", "fluid", "tool", "equipment", "core",
)  # fmt: skip
Standings = Mapping[str, Mapping[str, int | None]]
_KIND_OF = {PARTS: NEW_PART, FASTENERS: ONE_TIME, CONSUMABLES: USED_UP, FLUIDS: FLUID}


@dataclass(frozen=True)
class Ordered:
    """One thing on the list.

    Attributes
    ----------
    name : str
    kind : str
        One of `KINDS`.
    count : int
        How many the job takes.
    about : str
        What to ask for.
    each : Fraction or None
        What the shop pays for one, in cents; None where nobody has said.
    match : tuple of (feature, value)
        What the new part must have, to be compared before the car is opened.
    pieces : dict of str to int
        How many stand where, by their status; needed is not kept, it follows.
    """

    name: str
    kind: str
    count: int
    about: str = ""
    each: Fraction | None = None
    match: tuple[tuple[str, str], ...] = ()
    pieces: Mapping[str, int] | None = None

    def at(self, status: str) -> int:
        """How many pieces have a status.

        Parameters
        ----------
        status : str
            One of `STATUSES`.
        """
        known = dict(self.pieces or {})
        if status != NEEDED:
            return known.get(status, 0)
        if self.kind == CORE:
            return 0
        return max(0, self.count - sum(known.get(one, 0) for one in (IN_STOCK, ORDERED, HERE)))

    @property
    def missing(self) -> int:
        """How many are not in the house; an old part that goes back is never missed."""
        return 0 if self.kind == CORE else max(0, self.count - self.at(IN_STOCK) - self.at(HERE))

    @property
    def standing(self) -> str:
        """How it stands, in words: "1 here, 1 ordered"."""
        found = [(self.at(status), status) for status in STATUSES if self.at(status)]
        if len(found) == 1 and found[0][0] == self.count:
            return found[0][1]
        return ", ".join(f"{pieces} {status}" for pieces, status in found)


def to_order(sheet: Sheet, bought: Iterable[Good], stood: Standings | None = None) -> tuple[Ordered, ...]:
    """The list for a plan: new parts, one-time fasteners, what is used up, fluids, tools, equipment, old parts to return.

    Parameters
    ----------
    sheet : Sheet
    bought : iterable of Good
    stood : mapping of str to (mapping of str to (int or None)), optional
        How many pieces of a thing have which status, by its name; None stands for all.

    Raises
    ------
    InputError
        A name is not on the list, or a status is not one that the thing can have.
    """
    found = sorted(_all(sheet, bought), key=lambda one: KINDS.index(one.kind))
    return tuple(with_standing(found, stood or {}))


def _all(sheet: Sheet, bought: Iterable[Good]) -> Iterator[Ordered]:
    targets = {target.name.name for target in sheet.area.targets}
    for good in bought:
        if good.kind != SUBLETS:
            match = sheet.area.match if good.kind == PARTS and good.name in targets else ()
            yield Ordered(good.name, _KIND_OF[good.kind], good.count, good.about, good.each, match)
    for tool in lay_out.tools(sheet):
        yield _own(tool, TOOL, 1, tool in sheet.shop.tools)
    for one in lay_out.equipment(sheet):
        rated = str(Equipment(one.name, 1, one.rating)) if one.rating else ""
        yield replace(_own(one.name, EQUIPMENT, one.count, sheet.shop.has(one)), about=rated.removeprefix(one.name).strip())
    for target in sheet.area.targets:
        if target.deposit and target.name.name in swapped(sheet):
            yield Ordered(f"old {target.name.name}", CORE, 1, "", target.deposit, pieces={CORE_OWED: 1})


def _own(name: str, kind: str, count: int, has: bool) -> Ordered:
    return Ordered(name, kind, count, pieces={IN_STOCK: count} if has else None)


def with_standing(lines: Iterable[Ordered], stood: Standings) -> Iterator[Ordered]:
    """A list with how its things stand, said by their names.

    Parameters
    ----------
    lines : iterable of Ordered
    stood : mapping of str to (mapping of str to (int or None))
        How many pieces have which status; None stands for all that the job takes.

    Raises
    ------
    InputError
        A name is not on the list, or a status is not one that the thing can have.
    """
    lines = tuple(lines)
    for name in stood:
        if name not in {line.name for line in lines}:
            known = ", ".join(line.name for line in lines if line.kind not in (TOOL, EQUIPMENT))
            raise InputError(f'nothing to order is called "{name}"; this job takes {known or "nothing new"}')
    for line in lines:
        pieces = stood.get(line.name)
        yield line if pieces is None else replace(line, pieces=dict(_checked(line, pieces)))


def _checked(line: Ordered, pieces: Mapping[str, int | None]) -> Iterator[tuple[str, int]]:
    allowed = (CORE_OWED, RETURNED) if line.kind == CORE else tuple(one for one in STATUSES if one != CORE_OWED)
    for status, count in pieces.items():
        if status not in allowed:
            raise InputError(f'{line.name} cannot be "{status}"; it can be {", ".join(allowed)}')
        if status != NEEDED:
            yield status, line.count if count is None else count


def move(line: Ordered, pieces: int, old: str, new: str) -> Ordered:
    """A thing after some pieces of it have changed their status.

    Parameters
    ----------
    line : Ordered
    pieces : int
        From 1.
    old, new : str
        Two of `STATUSES`.

    Raises
    ------
    InputError
        No piece goes from the one to the other, or there are not so many.
    """
    if new not in MOVES.get(old, ()):
        after = " or ".join(MOVES.get(old, ())) or "nothing further"
        raise InputError(f'{line.name}: after "{old}" comes {after}, not "{new}"')
    if not 1 <= pieces <= line.at(old):
        raise InputError(f"{line.name}: {pieces} cannot go from {old} to {new}; {line.at(old)} of {line.count} are {old}")
    changed = dict(line.pieces or {})
    for status, by in ((old, -pieces), (new, pieces)):
        if status != NEEDED:
            changed[status] = changed.get(status, 0) + by
    return replace(line, pieces={status: count for status, count in changed.items() if count})


def all_here(lines: Iterable[Ordered]) -> tuple[str, ...]:
    """The gate before the teardown: what is not in the house, in words; empty when the car may be opened.

    Parameters
    ----------
    lines : iterable of Ordered
    """
    return tuple(_missing(line) for line in lines if line.missing)


def _missing(line: Ordered) -> str:
    plain = line.at(NEEDED) == line.missing
    return f"{line.missing} x {line.name}{'' if plain else f' ({line.standing})'}"
