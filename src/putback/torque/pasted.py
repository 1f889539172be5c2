"""Tables of torques, typed off the maker's sheet or pasted from it.

Rows of a name and a torque, in whatever form they come: tabs, semicolons, bars, commas, aligned columns or
dots between; a heading line or none; the unit beside each figure, in a column of its own, over the column, or
said once for all. Every line becomes a row, a heading, or a refusal with its reason: nothing is lost, and
nothing is guessed.
"""

import csv
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise

from putback.errors import InputError
from putback.torque.classes import read_class
from putback.torque.threads import Thread, read_thread
from putback.units import Tightening, looks_like_torque, read_tightening, torque_unit


@dataclass(frozen=True)
class Row:
    """One row that was understood.

    Parameters
    ----------
    line : int
        Counted from 1
    name : str
        Of the fastener
    tightening : Tightening
    thread : Thread, optional
    property_class : str, optional
    note : str
        What else stood in the row
    """

    line: int
    name: str
    tightening: Tightening
    thread: Thread | None = None
    property_class: str | None = None
    note: str = ""


@dataclass(frozen=True)
class Refused:
    """One line that was not understood, and why."""

    line: int
    text: str
    reason: str


@dataclass(frozen=True)
class Pasted:
    """All lines of a table: rows, headings as (line, text), and what was refused."""

    rows: tuple[Row, ...]
    headings: tuple[tuple[int, str], ...]
    refused: tuple[Refused, ...]


# What the words over a column mean.
_ROLES = {
    "name": [
        "name",
        "fastener",
        "bolt",
        "screw",
        "nut",
        "item",
        "part",
        "component",
        "description",
        "application",
        "what",
    ],
    "torque": ["torque", "tightening torque", "value", "nominal", "specification", "spec", "setting", "tighten to"],
    "unit": ["unit", "units"],
    "thread": ["thread", "size", "thread size", "dimension", "dimensions"],
    "class": ["class", "grade", "property class", "strength", "strength class", "quality"],
    "angle": ["angle", "angle stage", "degrees", "deg", "°", "then"],
    "number": ["no", "no.", "#", "pos", "pos.", "item no.", "qty", "quantity", "count", "pcs"],
    "note": ["note", "notes", "remark", "remarks", "comment", "comments", "where", "position", "location"],
}
_ROLE = {word: role for role, words in _ROLES.items() for word in words}
_DECIMAL = "\N{ARABIC DECIMAL SEPARATOR}"  # stands for a decimal comma while columns are parted
_LONGEST = 400  # signs in a row; no sheet has more, and the search for a torque at its end stays short
_NOTHING = {"", "-", "--", "–", "—", "n/a", "none"}
_HEAD_UNIT = re.compile(r"(.*?)\s*[(\[,/]?\s*\b(?:in\s+)?([^\s()\[\],]+(?:\s[^\s()\[\],]+)?)\s*[)\]]?")
_SAID_ONCE = re.compile(r"\b(?:torques?|values?|figures?|units?|all)\b.*(?:\bin\b|[:=])", re.IGNORECASE)
_RULE_LINE = re.compile(r"[\s|:+=_\-–—]+")


@dataclass(frozen=True)
class _Head:
    """What stands over the columns: a role for each, and the unit of those that name one."""

    roles: tuple[str, ...] = ()
    units: tuple[str | None, ...] = ()


@dataclass(frozen=True)
class _Cells:
    """What the cells of one row say, each as typed."""

    name: str = ""
    torques: tuple[tuple[str, str | None], ...] = ()  # a figure, and the unit over its column
    unit: str | None = None
    thread: str = ""
    grade: str = ""
    angle: str = ""
    note: str = ""


def read_pasted(text: str) -> Pasted:
    """Read a table.

    Parameters
    ----------
    text : str
        Its lines

    Returns
    -------
    pasted : Pasted
        Rows, headings and refusals, each in the order of the lines

    Examples
    --------
    >>> table = read_pasted("Torques in Nm\\nupper bolt; 46\\nlower bolt; 24 lb")
    >>> [(row.name, row.tightening.final) for row in table.rows]
    [('upper bolt', 46.0)]
    >>> table.refused[0].reason
    'torque "24 lb" has no clear unit; write "24 ft-lb" or "24 in-lb"'
    """
    rows: dict[str, Row] = {}
    headings, refused = [], []
    head, unit = _Head(), None
    for line, words in enumerate(re.split(r"\r\n|\r|\n", text), 1):
        if not words.strip() or _RULE_LINE.fullmatch(words):
            continue
        if len(words) > _LONGEST:
            refused.append(Refused(line, words.strip(), f"a row of more than {_LONGEST} signs; part it"))
        elif found := _head(words):
            head = found
            headings.append((line, words.strip()))
        elif said := _unit_said(words):
            unit = said
            headings.append((line, words.strip()))
        elif not re.search(r"\d", words) and not re.search(r"\bturn", words):
            headings.append((line, words.strip()))
        else:
            try:
                row = _row(line, words, head, unit)
                _once(row, rows)
                rows[row.name.casefold()] = row
            except InputError as error:
                refused.append(Refused(line, words.strip(), str(error)))
    return Pasted(tuple(rows.values()), tuple(headings), tuple(refused))


def _once(row: Row, rows: dict[str, Row]) -> None:
    if other := rows.get(row.name.casefold()):
        where = f"stands in line {other.line} already, with {other.tightening.text}"
        raise InputError(f'"{row.name}" {where}; give each a name of its own')


# Headings


def _unit_said(words: str) -> str | None:
    """`All torques in N·m`: a unit that counts from here on; None where no unit is named, or more than one."""
    if re.search(r"[\d\t|]", words) or not _SAID_ONCE.search(words):
        return None
    parts = re.findall(r"[^\s,;:=()\[\]]+", words)
    named = [part for part in (*parts, *map(" ".join, pairwise(parts))) if torque_unit(part)]
    return named[0] if len({torque_unit(part) for part in named}) == 1 else None


def _head(words: str) -> _Head | None:
    """The roles of the columns, where this is the line over them: it has no figure, and names two columns at least."""
    cells = _split(words)[0]
    if re.search(r"\d", words) or len(cells) < 2:
        return None
    read = [_head_cell(cell) for cell in cells]
    named = [role for role, _ in read if role]
    if "torque" not in named or len(named) < 2:
        return None
    roles = [role or "note" for role, _ in read]
    if "name" not in roles:
        roles[next((at for at, (role, _) in enumerate(read) if not role), 0)] = "name"
    return _Head(tuple(roles), tuple(unit for _, unit in read))


def _head_cell(cell: str) -> tuple[str | None, str | None]:
    word = cell.strip().lower()
    if word in _ROLE:
        return _ROLE[word], None
    if torque_unit(word):
        return "torque", cell.strip()
    found = _HEAD_UNIT.fullmatch(cell.strip())
    if found and torque_unit(found[2]) and _ROLE.get(found[1].strip().lower(), "torque") == "torque":
        return "torque", found[2]
    return None, None


# Rows


def _row(line: int, words: str, head: _Head, unit: str | None) -> Row:
    cells = _cells(words, head)
    if not cells.name:
        raise InputError("no name of a fastener in this row; write it ahead of the torque")
    told = read_tightening(_torque_text(cells, unit), cells.unit or unit)
    thread = read_thread(cells.thread) if cells.thread else None
    if cells.grade and thread is None:
        return Row(line, cells.name, told, None, None, ", ".join(filter(None, (f"class {cells.grade}", cells.note))))
    return Row(line, cells.name, told, thread, read_class(cells.grade, thread) if cells.grade else None, cells.note)


def _torque_text(cells: _Cells, unit: str | None) -> str:
    """The torque with its unit and angle; the same torque in other columns stands beside it in brackets."""
    if not cells.torques:
        if not cells.angle:
            raise InputError("no torque in this row")
        return f"contact + {_degrees(cells.angle)}"
    (figure, over), *others = cells.torques
    if any(other_over is None for _, other_over in others):
        raise InputError(f"two figures in this row, {figure} and {others[0][0]}; write the unit of each")
    first, angle = _without_angle(figure)
    beside = []
    for other, other_over in others:
        same, its_angle = _without_angle(other)
        if its_angle.replace(" ", "") != angle.replace(" ", ""):
            raise InputError(f"two angles in this row, in {figure} and in {other}; look at the sheet")
        beside.append(f" ({_with_unit(same, other_over)})")
    angle += f" + {_degrees(cells.angle)}" if cells.angle else ""
    return _with_unit(first, over or cells.unit or unit) + "".join(beside) + angle


def _without_angle(figure: str) -> tuple[str, str]:
    """`92 + 90°` as `92` and ` + 90°`; the unit of a column belongs to the first."""
    found = re.fullmatch(r"([^+]*\S)(\s*\+\s*[^+/]*(?:°|deg|turn).*)", figure)
    return (found[1], found[2]) if found else (figure, "")


def _with_unit(figure: str, unit: str | None) -> str:
    """A figure with the unit of its column, unless it has one of its own."""
    bare = re.fullmatch(r"[\d.,\s/½¼¾]+|[\d.,\s]+(?:-|–|±|to)[\d.,\s]+%?", figure)
    return f"{figure} {unit}" if unit and bare else figure


def _degrees(angle: str) -> str:
    words = angle.strip().lstrip("+").strip()
    return words if re.search(r"°|deg|turn", words) else f"{words}°"


def _cells(words: str, head: _Head) -> _Cells:
    """What a row says, by its head or else by the look of its cells; two ways to split it must not disagree."""
    splits = _split(words)
    if head.roles:
        splits = [cells for cells in splits if len(cells) == len(head.roles)] or [
            cells for cells in splits if len(cells) > 1
        ]
        if splits and len(splits[0]) > len(head.roles):
            raise InputError(f"{len(splits[0])} columns in this row, and {len(head.roles)} in the line over them")
        if splits:
            return _by_head(splits[0], head)
    read = [cells for cells in map(_by_look, splits) if cells]
    if not read:
        return _by_tail(words)
    if len(read) > 1 and read[0] != read[1]:
        raise InputError("it cannot be told whether a comma parts columns or decimals here; part the columns with ;")
    return read[0]


def _by_head(cells: list[str], head: _Head) -> _Cells:
    """Each cell to the role of its column."""
    found = _Cells()
    for at, cell in enumerate(one.strip() for one in cells):
        if cell.lower() in _NOTHING:
            continue
        match head.roles[at]:
            case "name":
                found = replace(found, name=_joined(found.name, cell))
            case "torque":
                found = replace(found, torques=(*found.torques, (cell, head.units[at])))
            case "unit":
                found = replace(found, unit=cell)
            case "thread":
                found = replace(found, thread=cell)
            case "class":
                found = replace(found, grade=cell)
            case "angle":
                found = replace(found, angle=cell)
            case "note":
                found = replace(found, note=_joined(found.note, cell))
    return found


def _by_look(cells: list[str]) -> _Cells | None:
    """Each cell by what it looks like; None where the row makes no sense so."""
    found = _Cells()
    cells = [cell.strip() for cell in cells if cell.strip().lower() not in _NOTHING]
    if len(cells) > 2 and cells[0].isdigit() and not re.match(r"\d", cells[1]):
        cells = cells[1:]  # the row's number
    for cell in cells:
        kind = _look(cell, found)
        if kind == "name":
            where = "note" if found.torques else "name"
            found = replace(found, **{where: _joined(getattr(found, where), cell)})
        elif kind == "torque":
            found = replace(found, torques=(*found.torques, (cell, None)))
        else:
            found = replace(found, **{kind: cell})
    return found if found.name and (found.torques or found.angle) else None


def _look(cell: str, before: _Cells) -> str:
    if re.match(r"(?:M\s?\d|#\d|\d+/\d+\s?\"?\s?-\s?\d)", cell) and _reads(read_thread, cell):
        return "thread"
    if before.thread and not before.grade and _reads(lambda word: read_class(word, read_thread(before.thread)), cell):
        return "grade"
    if re.fullmatch(r"\+?\s*[\d.,]+\s*(?:°|deg(?:rees)?)|\+.*\bturns?", cell):
        return "angle"
    if torque_unit(cell) and before.torques:
        return "unit"
    if re.match(r"\d", cell) and (looks_like_torque(cell) or not re.search(r"[^\W\d]{3}", cell)):
        return "torque"
    return "torque" if re.search(r"\d|\bturn", cell) and _reads(read_tightening, cell) else "name"


def _by_tail(words: str) -> _Cells:
    """A name, then a torque to the end of the line: the longest ending that is one."""
    text = re.sub(r"(?:\.\s?){3,}|…+", "  ", words).strip()
    starts = [found.start() for found in re.finditer(r"(?<=[\s:=])(?=\S)", text)]
    endings = [text[at:] for at in starts]
    ending = next((one for one in endings if _reads(read_tightening, one)), None)
    ending = ending or next((one for one in reversed(endings) if looks_like_torque(one)), None)
    if ending is None:
        raise InputError('no torque is understood in this row; write it as in "upper bolt; 46 N·m + 90°"')
    return _Cells(text[: len(text) - len(ending)].rstrip(" \t:=-–,;"), ((ending, None),))


def _reads(reader: Callable, text: str) -> bool:
    try:
        reader(text)
    except InputError:
        return False
    return True


def _joined(one: str, two: str) -> str:
    return f"{one}, {two}" if one else two


# Cells


def _split(words: str) -> list[list[str]]:
    """The cells of a line: one way to split it, or two where a comma may part columns or decimals."""
    text = words.strip()
    if "\t" in text:
        return [text.split("\t")]
    for mark in (";", "|"):
        if mark in text:
            return [text.strip("|").split(mark)]
    if re.search(r"(?:\.\s?){3,}|…|\S\s{2,}\S", text):
        return [re.split(r"\s*(?:(?:\.\s?){3,}|…+)\s*|\s{2,}", text)]
    if "," not in text:
        return [[text]]
    strict, merged = _by_comma(text), _by_comma(re.sub(r"(?<=\d),(?=\d)", _DECIMAL, text))
    # Where other commas have a blank behind them, one between digits is a decimal comma.
    return [merged] if strict == merged or ", " in text else [strict, merged]


def _by_comma(text: str) -> list[str]:
    return [cell.replace(_DECIMAL, ",") for cell in next(csv.reader([text], skipinitialspace=True))]
