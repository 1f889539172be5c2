"""How well a reading of a note agrees with the note's key; docs/notes.md says what counts as what.

A key lists what a person finds in a note, each entry with the words it comes from; a reading is what the program prints
as JSON. Nothing here knows how the program reads.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import accumulate
from pathlib import Path

import yaml

FIELDS = ("item", "action", "count", "tool", "torque", "unit", "angle")
LISTS = ("events", "torques", "left_over", "follow_ups", "new_parts")
NO_WORDS_OF_AN_ITEM = frozenset("a an the my your his her its our their this that these those old new".split())
OPPOSITES = (
    frozenset({"left", "right"}),
    frozenset({"upper", "lower"}),
    frozenset({"top", "bottom"}),
    frozenset({"front", "rear", "back"}),
    frozenset({"inner", "outer"}),
    frozenset({"inboard", "outboard"}),
    frozenset({"driver", "passenger"}),
    frozenset({"o/s", "n/s"}),
    frozenset({"lh", "rh"}),
    frozenset({"long", "short"}),
)
ENOUGH_IN_COMMON = 0.6
CLOSE_ENOUGH = 0.1 + 1e-9  # a tenth, whatever is lost in binary
Span = tuple[int, int]


@dataclass(frozen=True)
class Tally:
    """What a program said, what a key meant, and how much of both is the same."""

    right: int = 0
    said: int = 0
    meant: int = 0

    def __add__(self, other: "Tally") -> "Tally":
        return Tally(self.right + other.right, self.said + other.said, self.meant + other.meant)

    @property
    def precision(self) -> float:
        """Share of what was said that is right; 1 where nothing was said."""
        return self.right / self.said if self.said else 1.0

    @property
    def recall(self) -> float:
        """Share of what was meant that was found; 1 where nothing was meant."""
        return self.right / self.meant if self.meant else 1.0


@dataclass(frozen=True)
class LeftOver:
    """Items left over: those of the key that were found and missed, and those that only the program has."""

    found: tuple[str, ...]
    missed: tuple[str, ...]
    false: tuple[str, ...]


def notes(folder: Path) -> Iterator[tuple[str, str, dict]]:
    """Every note of a folder as its name, its text and its key, the key's entries with their places."""
    for path in sorted(folder.glob("*.txt")):
        text = path.read_text(encoding="utf-8")
        key = yaml.safe_load(path.with_suffix(".key.yaml").read_text(encoding="utf-8"))
        yield path.stem, text, place_key(text, key)


def place_key(text: str, key: dict) -> dict:
    """A key whose entries have the `span` of the words they come from; words not found just once are a ValueError."""
    return {name: [entry | {"span": quoted(text, entry)} for entry in key[name]] for name in LISTS}


def quoted(text: str, entry: dict) -> Span:
    """Where the words of an entry stand, the `nth` time if it says so; a blank of theirs is any white space."""
    found = [match.span() for match in re.finditer(r"\s+".join(map(re.escape, entry["from"].split())), text)]
    nth = entry.get("nth", 1)
    if len(found) < nth or (len(found) > 1 and "nth" not in entry):
        raise ValueError(f"{entry['from']!r} stands {len(found)} times in the note")
    return found[nth - 1]


def place_heard(text: str, heard: dict) -> dict:
    """A program's reading whose entries have the `span` that their sources name."""
    return {name: [entry | {"span": told(text, entry["source"])} for entry in heard[name]] for name in LISTS}


def told(text: str, source: dict) -> Span:
    """Where a source stands; a source that does not quote the note is a ValueError."""
    starts = [0, *accumulate(len(line) for line in text.splitlines(keepends=True))]
    start = starts[source["line"] - 1] + source["column"] - 1
    span = (start, start + len(source["text"]))
    if not source["text"] or text[slice(*span)] != source["text"]:
        raise ValueError(f"{source['text']!r} does not stand at line {source['line']}, column {source['column']}")
    return span


def words(item: str) -> tuple[str, ...]:
    """The words of an item as they are compared: small, singular, without determiners."""
    plain = re.findall(r"[^\W_]+(?:/[^\W_]+)*", item.lower().replace("'s", "").replace("’s", ""))
    return tuple(singular(word) for word in plain if word not in NO_WORDS_OF_AN_ITEM)


def singular(word: str) -> str:
    """A noun without its plural ending; a word that only looks like a plural loses it on both sides alike."""
    if word.endswith(("sses", "xes", "ches", "shes")):
        return word[:-2]
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    return word[:-1] if word.endswith("s") and not word.endswith(("ss", "us", "is", "/s")) else word


def alike(one: tuple[str, ...], other: tuple[str, ...]) -> float:
    """Share of two items' words that is common to both, 0 to 1."""
    common = len(set(one) & set(other))
    return 2 * common / max(len(set(one)) + len(set(other)), 1)


def opposed(one: tuple[str, ...], other: tuple[str, ...]) -> bool:
    """Whether a word of place of one stands against its opposite in the other."""
    sides = [(words_of_place & set(one), words_of_place & set(other)) for words_of_place in OPPOSITES]
    return any(mine and yours and not mine & yours for mine, yours in sides)


def same_item(one: str, other: str) -> bool:
    """Whether two names are of the same thing, as the page on notes puts it."""
    a, b = words(one), words(other)
    if not a or not b or opposed(a, b):
        return False
    return set(a) <= set(b) or set(b) <= set(a) or (a[-1] == b[-1] and alike(a, b) >= ENOUGH_IN_COMMON)


def overlap(one: Span, other: Span) -> int:
    """How many characters two spans share."""
    return max(0, min(one[1], other[1]) - max(one[0], other[0]))


def likeness(heard: dict, meant: dict) -> tuple:
    """How well two events go together; the larger the better."""
    shared = overlap(heard["span"], meant["span"])
    whole = max(heard["span"][1], meant["span"][1]) - min(heard["span"][0], meant["span"][0])
    one, other = heard["item"], meant["item"]
    return same_item(one, other), alike(words(one), words(other)), heard["action"] == meant["action"], shared / whole


def pair(heard: list[dict], meant: list[dict], like=likeness) -> list[tuple[int, int]]:
    """The places of the events that belong together, best first; each belongs to one other at most."""
    couples = [
        (like(ours, theirs), i, j)
        for i, ours in enumerate(heard)
        for j, theirs in enumerate(meant)
        if overlap(ours["span"], theirs["span"])
    ]
    paired: dict[int, int] = {}
    for _, i, j in sorted(couples, key=lambda couple: couple[0], reverse=True):  # equals keep their order
        if i not in paired and j not in paired.values():
            paired[i] = j
    return list(paired.items())


def value(event: dict, field: str):
    """What an event has in a field; one piece is no count."""
    got = event.get(field)
    return None if field == "count" and got == 1 else got


def same_value(heard: dict, meant: dict, field: str) -> bool:
    """Whether two events have the same in a field, and have something."""
    one, other = value(heard, field), value(meant, field)
    if one is None or other is None:
        return False
    if field == "item":
        return same_item(one, other)
    return abs(one - other) <= CLOSE_ENOUGH if isinstance(other, int | float) else one == other


def score_events(heard: list[dict], meant: list[dict]) -> dict[str, Tally]:
    """A tally for each field of events, both sides with their spans."""
    couples = pair(heard, meant)
    return {field: tally(heard, meant, couples, field) for field in FIELDS}


def tally(heard: list[dict], meant: list[dict], couples: list[tuple[int, int]], field: str) -> Tally:
    """How often a field is said, meant, and the same in both."""
    right = sum(same_value(heard[i], meant[j], field) for i, j in couples)
    said, wanted = (sum(value(event, field) is not None for event in events) for events in (heard, meant))
    return Tally(right, said, wanted)


def score_torques(heard: list[dict], meant: list[dict]) -> Tally:
    """How many torques have the right item, value and unit, each told in the right place."""
    couples = pair(heard, meant, same_torque)
    return Tally(sum(same_torque(heard[i], meant[j]) for i, j in couples), len(heard), len(meant))


def same_torque(heard: dict, meant: dict) -> bool:
    """Whether two torques are the same figure in the same unit on the same thing."""
    near = abs(heard["value"] - meant["value"]) <= CLOSE_ENOUGH
    return near and heard["unit"] == meant.get("unit") and same_item(heard["item"], meant["item"])


def score_places(heard: list[dict], meant: list[dict]) -> Tally:
    """How many entries are told in the right place, whatever they are called: follow-ups and new parts."""
    couples = pair(heard, meant, lambda ours, theirs: overlap(ours["span"], theirs["span"]))
    return Tally(len(couples), len(heard), len(meant))


def score_left_over(heard: list[dict], meant: list[dict]) -> LeftOver:
    """Which left-overs were found, were missed, and are none."""
    rest = list(heard)
    found, missed = [], []
    for entry in meant:
        match = next((other for other in rest if same_item(other["item"], entry["item"])), None)
        (missed if match is None else found).append(entry["item"])
        rest = [other for other in rest if other is not match]
    return LeftOver(tuple(found), tuple(missed), tuple(entry["item"] for entry in rest))


def total(tallies: list[dict[str, Tally]]) -> dict[str, Tally]:
    """The tallies of several notes as one of each field."""
    return {field: sum((each[field] for each in tallies), Tally()) for field in FIELDS}


def score_folder(folder: Path, read: Callable[[str], dict]) -> tuple[dict[str, Tally], dict[str, LeftOver]]:
    """A tally of each field over all notes of a folder, and each note's left-overs, read by the given function."""
    fields, left = [], {}
    for name, text, key in notes(folder):
        heard = place_heard(text, read(text))
        fields.append(score_events(heard["events"], key["events"]))
        left[name] = score_left_over(heard["left_over"], key["left_over"])
    return total(fields), left
