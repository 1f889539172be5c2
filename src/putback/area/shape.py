"""The form of a file, said once: shapes that read a node and that tell their JSON Schema.

A shape's `read` gives a value, or None after having reported what is wrong, so that one pass finds
everything. Its `schema` gives the JSON Schema; records that are used more than once are put into `defs`.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from putback.area.model import Ref
from putback.area.nodes import List, Map, Node, Text, parse
from putback.area.notes import Notes
from putback.area.spelling import nearest
from putback.errors import InputError, Place

LONGEST_NAME = 100  # characters
MOST_LISTED = 200  # entries of one list; the longest of a thorough area has some ten
Report = Callable[[InputError], None]


class Row(dict):
    """The fields of a record that were there, the place of each, and which could not be read."""

    def __init__(self, place: Place):
        super().__init__()
        self.place = place
        self.places: dict[str, Place] = {}
        self.spoilt: dict[str, None] = {}  # the keys below which something could not be read

    @property
    def incomplete(self) -> bool:
        return bool(self.spoilt)


@dataclass(frozen=True)
class Word:
    """A text that `parse` turns into a value; one that has a place gets it."""

    parse: Callable[[str], object]
    what: str
    example: str
    number: bool = False  # other YAML readers take it for a number

    def read(self, node: Node, report: Report):
        if not isinstance(node, Text) or node.empty:
            return report(InputError(f'expected {self.what}, as in "{self.example}", got {_kind(node)}', node.place))
        try:
            value = self.parse(node.value)
        except InputError as error:
            return report(InputError(error.message, node.place))
        return replace(value, place=node.place) if hasattr(value, "place") else value

    def schema(self, defs: dict) -> dict:
        kinds = ["string", "number"] if self.number else "string"
        return {"type": kinds, "description": self.what, "examples": [self.example]}


def version(known: str) -> Word:
    """The version of a file's form, which must be the one that is known."""

    def parse(text: str) -> str:
        if text.strip() != known:
            raise InputError(f'version {known} of the form is read here, the file says "{text}"')
        return text.strip()

    return Word(parse, "the version of the form", known, number=True)


@dataclass(frozen=True)
class Named:
    """A text kept together with its place."""

    what: str
    example: str

    def read(self, node: Node, report: Report) -> Ref | None:
        text = Word(str, self.what, self.example).read(node, report)
        return None if text is None else Ref(text.strip(), node.place)

    def schema(self, defs: dict) -> dict:
        return Word(str, self.what, self.example).schema(defs)


@dataclass(frozen=True)
class OneOf:
    """One of a few words."""

    words: tuple[str, ...]

    def read(self, node: Node, report: Report) -> str | None:
        text = node.value if isinstance(node, Text) else None
        if text in self.words:
            return text
        return report(InputError(f"expected {_choice(self.words)}, got {_kind(node)}", node.place))

    def schema(self, defs: dict) -> dict:
        return {"enum": list(self.words)}


@dataclass(frozen=True)
class Several:
    """A list; a single entry may stand without brackets."""

    shape: object
    most: int | None = MOST_LISTED

    def read(self, node: Node, report: Report) -> tuple:
        nodes = node.items if isinstance(node, List) else (node,)
        if self.most is not None and len(nodes) > self.most:
            return report(_too_many(self.most, node)) or ()
        values = (self.shape.read(one, report) for one in nodes)
        return tuple(value for value in values if value is not None)

    def schema(self, defs: dict) -> dict:
        one = self.shape.schema(defs)
        return {"anyOf": [{"type": "array", "items": one}, one]}


@dataclass(frozen=True)
class Names:
    """A mapping from names of one's own to values of one shape: pairs of (Ref, value)."""

    shape: object
    what: str = "names"
    most: int | None = None
    example: str = "cover: ..."

    def read(self, node: Node, report: Report) -> tuple:
        if isinstance(node, Text) and node.empty:  # a heading with nothing below it yet
            return ()
        if not isinstance(node, Map):
            words = f'expected {self.what}, each with its colon, as in "{self.example}", got {_kind(node)}'
            return report(InputError(words, node.place)) or ()
        if self.most is not None and len(node.entries) > self.most:
            return report(_too_many(self.most, node)) or ()
        pairs = ((_name(key, report), self.shape.read(value, report)) for key, value in node.entries)
        return tuple((key, value) for key, value in pairs if value is not None)

    def schema(self, defs: dict) -> dict:
        return {"type": "object", "additionalProperties": self.shape.schema(defs), "description": self.what}


def _too_many(most: int, node: Node) -> InputError:
    return InputError(f"more than {most} entries stand here; no description needs that many", node.place)


def _name(key: Text, report: Report) -> Ref:
    if not key.value:
        report(InputError("a name is missing before the colon", key.place))
    if len(key.value) > LONGEST_NAME:
        report(InputError(f"a name of more than {LONGEST_NAME} characters; find a short one, and say the rest under is", key.place))
    return Ref(key.value, key.place)


@dataclass(frozen=True)
class NamesOrList:
    """Names alone in a list, or each with what there is to say of it: pairs of (Ref, value or None)."""

    shape: object
    what: str

    def read(self, node: Node, report: Report) -> tuple:
        if isinstance(node, Map):
            return Names(self.shape, self.what).read(node, report)
        return tuple((name, None) for name in Several(Named(self.what, "clutch plug")).read(node, report))

    def schema(self, defs: dict) -> dict:
        plain = Several(Named(self.what, "clutch plug")).schema(defs)["anyOf"]
        return {"anyOf": [*plain, Names(self.shape, self.what).schema(defs)]}


@dataclass(frozen=True)
class Either:
    """A text of one shape, or a mapping or list of another."""

    word: object
    other: object

    def read(self, node: Node, report: Report):
        return (self.word if isinstance(node, Text) and not node.empty else self.other).read(node, report)

    def schema(self, defs: dict) -> dict:
        return {"anyOf": [self.word.schema(defs), self.other.schema(defs)]}


@dataclass(frozen=True)
class Record:
    """A mapping with known keys. `make`, if given, turns the Row into a value."""

    what: str
    fields: dict[str, object]
    required: tuple[str, ...] = ()
    make: Callable[[Row, Report], object] | None = None

    def read(self, node: Node, report: Report):
        if isinstance(node, Text) and node.empty and not self.required:
            node = Map(node.place, ())
        if not isinstance(node, Map):
            keys = ", ".join(list(self.fields)[:4])
            return report(InputError(f"expected {self.what} with keys such as {keys}, got {_kind(node)}", node.place))
        row = self._row(node, report)
        for key in self.required:
            if key not in row.places:
                report(InputError(f'{self.what} needs "{key}"', node.place))
        return row if self.make is None else self.make(row, report)

    def _row(self, node: Map, report: Report) -> Row:
        row = Row(node.place)
        for key, value in node.entries:
            noting = _noting(row, key.value, report)
            shape = self.fields.get(key.value)
            if shape is None:
                noting(InputError(self._unknown(key.value, value), key.place))
                continue
            row.places[key.value] = value.place
            read = shape.read(value, noting)
            if read is not None:
                row[key.value] = read
        return row

    def _unknown(self, key: str, value: Node) -> str:
        near = nearest(key, self.fields)
        if near:
            advice = f'did you mean "{near}"?'
        elif key.isdecimal():
            advice = "a decimal is written with a point, as in 5.50"
        elif isinstance(value, Text) and value.empty:  # {risk: 30 % x 12 min, nut seized}
            advice = "a text with a comma in it needs quotation marks between { and }"
        else:
            advice = f"it takes {', '.join(self.fields)}"
        return f'{self.what} has no key "{key}"; {advice}'

    def schema(self, defs: dict) -> dict:
        """A reference; the record itself goes to `defs`, once, however often it is used."""
        name = self.what.removeprefix("a ").removeprefix("an ")
        if name not in defs:
            defs[name] = {}
            schema = {"type": "object", "additionalProperties": False, "required": list(self.required)}
            schema["properties"] = {key: shape.schema(defs) for key, shape in self.fields.items()}
            defs[name] |= {key: value for key, value in schema.items() if value != []}
        return {"$ref": f"#/$defs/{name.replace(' ', '%20')}"}


def _noting(row: Row, key: str, report: Report) -> Report:
    """A report that also notes which key of a row it is about."""

    def note(finding: InputError) -> None:
        row.spoilt[key] = None
        report(finding)

    return note


def read_row(form: Record, data: bytes | str, file: str, notes: Notes) -> Row | None:
    """Read a whole file by its form; None where it is no mapping, which is then noted."""
    root, findings = parse(data, file)
    notes += findings
    if root is None and not findings:
        notes.append(InputError("the file is empty", (file,)))
    row = form.read(root, notes.append) if root is not None else None
    return row if isinstance(row, Row) else None


def _kind(node: Node) -> str:
    match node:
        case Text() if node.empty:
            return "nothing"
        case Text():
            return f'"{node.value}"'
        case List():
            return "a list"
    return "a mapping"


def _choice(words: tuple[str, ...]) -> str:
    return " or ".join(f'"{word}"' for word in words)
