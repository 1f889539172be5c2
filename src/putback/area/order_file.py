"""An order to work in, as a manual or a person gives it. docs/command-line.md explains the file.

order: 1
name: as the book has it
way in: [left front wheel, undertray, wheel bolts loose, alternator by the wheel arch]
way back: in reverse
"""

from dataclasses import dataclass

from putback.area import needs
from putback.area.model import PUT_IN, Area, Ref
from putback.area.needs import Need
from putback.area.nodes import Node, Text
from putback.area.notes import Notes, bounded
from putback.area.shape import Named, Record, Report, Row, Several, Word, read_row, version
from putback.errors import Findings, InputError, Place

IN_REVERSE = "in reverse"
MOST_ENTRIES = 2_000  # of either way


@dataclass(frozen=True)
class Entry:
    """One entry of an order: an item, how far it goes, and by which of its ways if that is said."""

    text: str
    need: Need
    place: Place


@dataclass(frozen=True)
class Order:
    """An order to work in; the way back is None where it is the way in reversed."""

    name: str
    file: str
    out: tuple[Entry, ...]
    back: tuple[Entry, ...] | None


class _Back:
    """`in reverse`, or a list like that of the way in."""

    entries = Several(Named("what goes back", "alternator"), MOST_ENTRIES)

    def read(self, node: Node, report: Report) -> tuple[Ref, ...] | str:
        if not isinstance(node, Text):
            return self.entries.read(node, report)
        if node.value != IN_REVERSE and "revers" in node.value:
            report(InputError(f'expected "{IN_REVERSE}" or a list of what goes back, got "{node.value}"', node.place))
        return IN_REVERSE if "revers" in node.value else self.entries.read(node, report)

    def schema(self, defs: dict) -> dict:
        return {"anyOf": [{"const": IN_REVERSE}, self.entries.schema(defs)]}


ORDER = Record(
    "an order file",
    {
        "order": version("1"),
        "name": Word(str.strip, "a name", "as the book has it"),
        "way in": Several(Named("what comes off", "left front wheel"), MOST_ENTRIES),
        "way back": _Back(),
    },
    required=("order", "way in"),
)


def read_order(data: bytes | str, file: str, area: Area) -> Order:
    """Read an order file against the area it belongs to.

    Parameters
    ----------
    data : bytes or str
        What the file holds.
    file : str
        Its name, for messages.
    area : Area

    Raises
    ------
    Findings
        Everything that is wrong with it.
    """
    order, findings = bounded(lambda notes: _scanned(data, file, area, notes), file)
    if findings:
        raise Findings(findings)
    return order


def _scanned(data: bytes | str, file: str, area: Area, notes: Notes) -> Order | None:
    row = read_row(ORDER, data, file, notes)
    return None if row is None else _order(row, file, area, notes)


def _order(row: Row, file: str, area: Area, findings: Notes) -> Order:
    back = row.get("way back", IN_REVERSE)
    entries = None if back == IN_REVERSE else _entries(back, area, findings)
    return Order(row.get("name", "the order given"), file, _entries(row.get("way in", ()), area, findings), entries)


def _entries(refs: tuple[Ref, ...], area: Area, findings: Notes) -> tuple[Entry, ...]:
    found: dict[str, Entry] = {}
    for ref in refs:
        try:
            entry = Entry(ref.name, _need(area, ref), ref.place)
        except InputError as error:
            findings.append(error)
            continue
        if ref.name in found:
            findings.append(InputError(f'"{ref.name}" stands in this list twice; once is enough', ref.place))
        found[ref.name] = entry
    return tuple(found.values())


def _need(area: Area, ref: Ref) -> Need:
    need = needs.find(area, ref)
    item = area.items[need.item]
    if item.kind == PUT_IN and len(item.ways) > 1 and need.way is None:
        ways = " or ".join(f'"{item.name} by {way.name}"' for way in item.ways)
        raise InputError(f'"{item.name}" may be put in in several ways; write {ways}', ref.place)
    return need
