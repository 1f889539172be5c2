"""The words of the trade, read from the data files of this room."""

from collections.abc import Iterator
from functools import cache
from importlib import resources
from typing import NamedTuple

BASE, THIRD, PAST, PARTICIPLE, ING = range(5)


class Verb(NamedTuple):
    """A word as a form of a verb: the verb, and which of its forms the word may be."""

    lemma: str
    forms: frozenset[int]


class Frame(NamedTuple):
    """What a verb with a particle means; `from_before` where its object may stand before it."""

    sense: str
    from_before: bool


def _lines(name: str) -> Iterator[str]:
    text = resources.files(__package__).joinpath("data").joinpath(name).read_text("utf-8")
    return (line for line in text.splitlines() if line and not line.startswith("#"))


def sections(name: str) -> dict[str, list[str]]:
    """The lines of a data file under each of its headings.

    Parameters
    ----------
    name : str
    """
    found: dict[str, list[str]] = {}
    for line in _lines(name):
        if line.startswith("["):
            section = found.setdefault(line[1:-1], [])
        else:
            section.append(line)
    return found


@cache
def words() -> dict[str, frozenset[str]]:
    """The small words by kind."""
    return {
        kind: frozenset(word for line in lines for word in line.split())
        for kind, lines in sections("words.txt").items()
    }


@cache
def small_words() -> frozenset[str]:
    """Words that name no thing and tell no action."""
    kinds = ("filler", "conjunction", "copula", "determiner", "particle", "pronoun", "negation")
    return frozenset().union(*(words()[kind] for kind in kinds))


@cache
def nouns() -> dict[str, str]:
    """The class of each noun, singular and plural."""
    found: dict[str, str] = {}
    for kind, lines in sections("nouns.txt").items():
        for word in (word for line in lines for word in line.split() if kind != "pairs"):
            for form in (word, plural(word), word.replace("-", "")):
                found.setdefault(form, kind)
    return found


@cache
def pairs() -> dict[tuple[str, str], str]:
    """The class of two nouns together, where it is not that of the second."""
    found = {}
    for line in sections("nouns.txt")["pairs"]:
        kind, _, listed = line.partition(": ")
        for pair in (one.split() for one in listed.split(";")):
            found |= {(pair[-2], form): kind for form in (pair[-1], plural(pair[-1]))} if len(pair) > 1 else {}
    return _hyphened() | found


def _hyphened() -> dict[tuple[str, str], str]:
    """Nouns that are written with a hyphen are pairs as well: torque-arm, torque arm."""
    found = {}
    for word, kind in nouns().items():
        first, _, second = word.partition("-")
        if len(first) > 2 and second and "-" not in second:
            found[(first, second)] = kind
    return found


@cache
def verbs() -> dict[str, Verb]:
    """The verb that each form belongs to; of two verbs that share a form the first counts."""
    found: dict[str, Verb] = {}
    for lemma, forms, _ in _verb_lines():
        for form, n in forms:
            other = found.get(form)
            if other is None or other.lemma == lemma:
                found[form] = Verb(lemma, (other.forms if other else frozenset()) | {n})
    return found


@cache
def frames() -> dict[str, dict[str, Frame]]:
    """What each verb means with each particle; "." is the verb alone."""
    return {lemma: told for lemma, _, told in _verb_lines()}


@cache
def _verb_lines() -> list[tuple[str, list[tuple[str, int]], dict[str, Frame]]]:
    found = []
    for line in _lines("verbs.txt"):
        forms, _, told = line.partition(" | ")
        slots = forms.split()
        each = [(form, n) for n, slot in enumerate(slots) for form in slot.split("/")]
        found.append((slots[0], each, _frames(told)))
    return found


def _frames(told: str) -> dict[str, Frame]:
    """`off=!off up=plug in` by particle; a sense may be two words."""
    found, last = {}, ""
    for word in told.split():
        if "=" in word:
            last, _, sense = word.partition("=")
            found[last] = Frame(sense.removeprefix("!"), sense.startswith("!"))
        else:
            found[last] = Frame(f"{found[last].sense} {word}", found[last].from_before)
    return found


@cache
def set_phrases() -> dict[str, list[tuple[tuple[str, ...], str]]]:
    """Words that mean one thing together, and what, by their first word; the longest first."""
    found: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for meaning, lines in sections("set_phrases.txt").items():
        for phrase in (tuple(one.split()) for line in lines for one in line.split(";")):
            found.setdefault(phrase[0], []).append((phrase, meaning))
    return {first: sorted(told, key=lambda one: -len(one[0])) for first, told in found.items()}


@cache
def senses() -> dict[str, dict[str, str]]:
    """What a sense does to a thing of each class, as an action of docs/notes.md."""
    found = {}
    for line in _lines("senses.txt"):
        sense, _, told = line.partition(" | ")
        found[sense] = dict(one.strip().split(": ") for one in told.split(";"))
    return found


def plural(word: str) -> str:
    """The plural of a noun.

    Examples
    --------
    >>> plural("bush"), plural("battery"), plural("knife")
    ('bushes', 'batteries', 'knives')
    """
    if word.endswith(("s", "x", "ch", "sh", "z")):
        return word + "es"
    if word.endswith("y") and word[-2:-1] not in "aeiou":
        return word[:-1] + "ies"
    if word in ("knife", "shelf", "half"):
        return word.rstrip("e")[:-1] + "ves"
    return word + "s"


@cache
def _singulars() -> dict[str, str]:
    found: dict[str, str] = {}
    for kind, lines in sections("nouns.txt").items():
        for word in (word for line in lines for word in line.split() if kind != "pairs"):
            found.setdefault(plural(word), word)
    return found


def singular(word: str) -> str:
    """The singular of a noun, known or not.

    Examples
    --------
    >>> singular("bushes"), singular("wotsits"), singular("boss"), singular("chassis")
    ('bush', 'wotsit', 'boss', 'chassis')
    """
    if word in _singulars():
        return _singulars()[word]
    if word.endswith("s") and not word.endswith(("ss", "us", "is")) and len(word) > 3 and word not in nouns():
        return word[:-1]
    return word
