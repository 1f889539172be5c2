"""Reading what was read: a mapping of readings, or a list of such mappings, as YAML or JSON."""

import re

from putback.area.nodes import List, Map, Node, Text, parse
from putback.area.notes import Notes, bounded
from putback.area.spelling import nearest
from putback.errors import Findings, InputError, Place
from putback.models.form import NOT_FITTED, Form, Reading

LARGEST = 5_000_000  # bytes; thousands of sets of readings
MOST = 500_000  # texts, lists and mappings in one file
LABELS = ("name", "note")  # what may stand with the readings for people alone
_FIGURE = r"[-+]?(?:[0-9]{1,12}(?:[.,][0-9]{0,18})?|[.,][0-9]{1,18})(?:[eE][-+]?[0-9]{1,2})?"
_NUMBER = re.compile(rf"({_FIGURE})\s*(\S.{{0,20}})?")

Readings = dict[str, float | str]


def read_readings(form: Form, data: bytes | str, file: str) -> list[Readings]:
    """The sets of readings of a file, each by the names of the model.

    Parameters
    ----------
    form : Form
    data : bytes or str
        What the file holds; bytes must be UTF-8.
    file : str
        Its name, for the places in messages.

    Returns
    -------
    sets : list of dict
        A number, or a word of the model; what stands empty is left out.

    Raises
    ------
    Findings
        Everything found wrong, sorted by place.
    """
    sets, findings = bounded(lambda notes: _scanned(form, data, file, notes), file)
    if findings or sets is None:
        raise Findings(findings)
    return sets


def _scanned(form: Form, data: bytes | str, file: str, notes: Notes) -> list[Readings] | None:
    root, findings = parse(data, file, LARGEST, MOST)
    notes += findings
    if root is None:
        notes += [] if findings else [InputError("the file is empty; write readings as in: rest_v: 12.48", (file,))]
        return None
    nodes = root.items if isinstance(root, List) else (root,)
    if not nodes:
        notes.append(InputError("there is no set of readings in the list", root.place))
    return [_set(form, node, notes) for node in nodes]


def _set(form: Form, node: Node, notes: Notes) -> Readings:
    if not isinstance(node, Map):
        notes.append(InputError("expected readings with their names, as in: rest_v: 12.48", node.place))
        return {}
    told: Readings = {}
    for key, value in node.entries:
        try:
            if (read := _one(form, key, value)) is not None:
                told[key.value] = read
        except InputError as error:
            notes.append(error)
    return told


def _one(form: Form, key: Text, node: Node) -> float | str | None:
    if key.value in LABELS and isinstance(node, Text):
        return None
    reading = _known(form, key.value, key.place)
    if not isinstance(node, Text):
        raise InputError(f"{key.value} takes one value, not a list or a mapping", node.place)
    if node.empty:
        return None
    return _value(reading, node.value, node.place)


def check_reading(form: Form, name: str, text: str) -> float | str:
    """One reading as it is typed.

    Parameters
    ----------
    form : Form
    name : str
        Of the reading.
    text : str
        A number, with its unit or without, or a word.

    Raises
    ------
    InputError
        No such reading, or a value that it cannot have.
    """
    return _value(_known(form, name, None), text.strip(), None)


def _known(form: Form, name: str, place: Place | None) -> Reading:
    if name in form.readings:
        return form.readings[name]
    near = nearest(name, form.readings)
    advice = f'did you mean "{near}"?' if near else f"there are: {', '.join(form.readings)}"
    raise InputError(f'the model "{form.name}" has no reading "{name}"; {advice}', place)


def _value(reading: Reading, text: str, place: Place | None) -> float | str:
    if text.lower() == NOT_FITTED:
        return NOT_FITTED
    return _word(reading, text, place) if reading.words or reading.free else _number(reading, text, place)


def _word(reading: Reading, text: str, place: Place | None) -> str:
    lowered = text.lower()
    word = reading.words.get(text) or reading.words.get(lowered)
    if word is None and reading.free:
        return text
    if word is None:
        raise InputError(f'{reading.name}: "{text}" is none of {", ".join(reading.choices)}', place)
    return word


def _number(reading: Reading, text: str, place: Place | None) -> float:
    found = _NUMBER.fullmatch(text)
    if not found:
        raise InputError(f'{reading.name}: "{text}" is no number{_in_unit(reading)}', place)
    if found[2] and _bare(found[2]) != _bare(reading.unit):
        raise InputError(f'{reading.name} is read in {reading.unit or "no unit"}, and "{text}" has another unit', place)
    value = float(found[1].replace(",", "."))
    if not reading.lowest <= value <= reading.highest:
        span = f"{reading.lowest:g} to {reading.highest:g} {reading.unit}".strip()
        raise InputError(f"{reading.name}: {text} lies outside {span}; look at the meter's range and the point", place)
    return value


def _bare(unit: str) -> str:
    """A unit as it is compared: small letters, and degrees without their sign."""
    return unit.lower().replace("°", "").replace("deg", "").strip()


def _in_unit(reading: Reading) -> str:
    return f"; write it in {reading.unit}, as in {reading.name}: {_example(reading)}" if reading.unit else ""


def _example(reading: Reading) -> str:
    return f"{(reading.lowest + reading.highest) / 2:g}"
