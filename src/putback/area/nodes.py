"""YAML text to a tree of nodes that know where they stand.

Only plain data is let in: no anchors, aliases, tags or second documents. Every scalar stays the text
that was typed, as `on`, `off`, `yes`, `no`, `1:30` and `012` do in the YAML 1.2 core schema; whoever
reads a node decides what it means. White space of any kind and length counts as one space. Signs that
cannot be seen are refused: they make two names look alike, or make a terminal do something.
"""

import unicodedata
from dataclasses import dataclass

import yaml

from putback.area.not_yaml import trouble
from putback.errors import InputError, Place

LARGEST = 500_000  # bytes; a thorough area file is some 20 000
DEEPEST = 20  # an area file nests six deep
LONGEST = 4_000  # characters of one text
NESTED = f"this is nested more than {DEEPEST} deep; no description needs that"
MOST = 50_000  # texts, lists and mappings; a thorough area file has some 1 500
UNSEEN = frozenset({"Cc", "Cf", "Cs"})  # Unicode categories: control, formatting, halves of surrogate pairs
SLOWLY_READ = 60_000  # characters; the pure reader of YAML takes half a second for them
TWINS = 50  # keys given twice; a file with more is no description


@dataclass(frozen=True)
class Text:
    """A scalar as it was typed, its words one space apart; `plain` when it stood without quotation marks."""

    place: Place
    value: str
    plain: bool = True

    @property
    def empty(self) -> bool:
        return self.plain and self.value in ("", "~", "null")


@dataclass(frozen=True)
class List:
    place: Place
    items: tuple


@dataclass(frozen=True)
class Map:
    """A mapping in the order of the file; keys are texts, each of them once."""

    place: Place
    entries: tuple[tuple[Text, "Node"], ...]


Node = Text | List | Map


def parse(
    data: bytes | str, file: str, largest: int = LARGEST, most: int = MOST
) -> tuple[Node | None, list[InputError]]:
    """Read one YAML document.

    Parameters
    ----------
    data : bytes or str
        What the file holds; bytes must be UTF-8.
    file : str
        The file's name, for the places.
    largest : int
        Bytes that a file may have.
    most : int
        Texts, lists and mappings that it may hold.

    Returns
    -------
    root : Text, List, Map or None
        None when nothing could be read.
    findings : list of InputError
        Keys given twice, or the one thing that stopped the reading.
    """
    try:
        text = _decoded(data, file, largest)
        builder = _Builder(file, most)
        for event in _events(text, file):
            builder.take(event)
        return builder.root, builder.findings
    except InputError as stop:
        return None, [stop]


def _decoded(data: bytes | str, file: str, largest: int) -> str:
    if len(data) > largest:
        raise InputError(f"the file is larger than {largest // 1000} kB; no description needs that much", (file,))
    if isinstance(data, str):
        return data
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise InputError("the file is not UTF-8 text; save it as UTF-8", (file, line)) from None


def _events(text: str, file: str):
    try:
        yield from yaml.parse(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    except (yaml.YAMLError, ValueError) as error:  # ValueError: the pure reader, of \\U00110000
        raise _syntax_error(text, file, error) from None


def _syntax_error(text: str, file: str, error: Exception) -> InputError:
    """What is wrong with the YAML, in the words of the pure reader, which are the same on every machine.

    A large text, and one that only the quick reader minds, is told in the words of that.
    """
    try:
        return _too_deep(text[:SLOWLY_READ], file)
    except (yaml.YAMLError, ValueError) as pure:
        told = isinstance(pure, yaml.YAMLError) and len(text) <= SLOWLY_READ
        return trouble(pure if told else error, text, file)


def _too_deep(text: str, file: str) -> InputError:
    depth = 0
    for event in yaml.parse(text, Loader=yaml.SafeLoader):
        depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
        if depth > DEEPEST:
            return InputError(NESTED, (file, event.start_mark.line + 1, event.start_mark.column + 1))
    raise ValueError


def _unseen(text: str) -> str | None:
    """The first sign of a text that nobody would see."""
    if text.isprintable():  # quick, and true of nearly every text
        return None
    return next((sign for sign in text if unicodedata.category(sign) in UNSEEN), None)


class _Builder:
    """Puts the events of the YAML reader together without recursion, so that depth can do no harm."""

    def __init__(self, file: str, most: int):
        self.file, self.most = file, most
        self.root: Node | None = None
        self.findings: list[InputError] = []
        self.open: list[tuple[Place, bool, list]] = []  # place, is it a mapping, children so far
        self.taken = 0

    def take(self, event) -> None:
        self.taken += 1
        if self.taken > self.most:
            raise self._refused(event, f"the file holds more than {self.most} keys and values; no description needs that many")
        match event:
            case yaml.AliasEvent():
                raise self._refused(event, "an alias (*name) is not read here; write it out again")
            case yaml.ScalarEvent():
                self._check(event)
                self._add(self._text(event))
            case yaml.SequenceStartEvent() | yaml.MappingStartEvent():
                self._check(event)
                self._begin(event)
            case yaml.SequenceEndEvent() | yaml.MappingEndEvent():
                self._add(self._closed())
            case yaml.DocumentStartEvent() if self.root is not None:
                raise self._refused(event, "a second document begins here; keep one to a file")

    def _check(self, event) -> None:
        if event.anchor is not None:
            raise self._refused(event, "an anchor (&name) is not read here; write things out where they belong")
        if event.tag is not None:
            raise self._refused(event, f'a tag ("{event.tag[:40]}") is not read here; take it out')

    def _begin(self, event) -> None:
        if len(self.open) >= DEEPEST:
            raise self._refused(event, NESTED)
        self.open.append((self._place(event), isinstance(event, yaml.MappingStartEvent), []))

    def _text(self, event) -> Text:
        if len(event.value) > LONGEST:
            raise self._refused(event, f"this text has more than {LONGEST} characters; write it shorter")
        value = " ".join(event.value.split())
        if unseen := _unseen(value):
            raise self._refused(event, f"this text holds U+{ord(unseen):04X}, which cannot be seen; type it again without")
        return Text(self._place(event), value, not event.style)  # libyaml says "" for plain, the other None

    def _closed(self) -> Node:
        place, is_map, children = self.open.pop()
        if not is_map:
            return List(place, tuple(children))
        return Map(place, self._entries(children))

    def _entries(self, children: list[Node]) -> tuple:
        """Pair keys and values; of a key given twice the first counts and both places are told."""
        seen: dict[str, tuple[Text, Node]] = {}
        for key, value in zip(children[::2], children[1::2], strict=True):
            if not isinstance(key, Text):
                self.findings.append(InputError("a key must be a plain text", key.place))
            elif key.value in seen:
                first = seen[key.value][0].place
                words = f'"{key.value}" stands here and in line {first.line}; keep one of them'
                self.findings.append(InputError(words, key.place))
                if len(self.findings) > TWINS:
                    raise InputError(f"more than {TWINS} keys are given twice", key.place)
            else:
                seen[key.value] = (key, value)
        return tuple(seen.values())

    def _add(self, node: Node) -> None:
        if self.open:
            self.open[-1][2].append(node)
        else:
            self.root = node

    def _place(self, event) -> Place:
        return Place(self.file, event.start_mark.line + 1, event.start_mark.column + 1)

    def _refused(self, event, words: str) -> InputError:
        return InputError(words, self._place(event))
