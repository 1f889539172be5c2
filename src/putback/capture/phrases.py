"""Noun phrases: "the two rusty 14 mm slider bolts" is `slider bolts`, 2, 14 mm."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from putback.capture import lexicon


@dataclass(frozen=True)
class Phrase:
    """A thing as it was named.

    Parameters
    ----------
    first, after : int
        The tokens it takes
    words : tuple of str
        The author's nouns with what belongs to them; empty of a pronoun and of a size that stands for a thing
    kind : str
        The class of the last noun, as in nouns.txt; "unknown" of a word that is not in it, "" where there is none
    count : int, optional
    tool : str, optional
        A size named with it
    pronoun : str
        The pronoun that stands in its place
    flags : frozenset of str
        new, reused, other, definite, plural, side only
    """

    first: int
    after: int
    words: tuple[str, ...] = ()
    kind: str = ""
    count: int | None = None
    tool: str | None = None
    pronoun: str = ""
    flags: frozenset[str] = field(default_factory=frozenset)

    @property
    def name(self) -> str:
        return " ".join(self.words)

    @property
    def is_size(self) -> bool:
        """Whether a size stands for the thing: "three 13s"."""
        return not self.words and not self.pronoun and self.tool is not None


def kind_of(words: Sequence[str]) -> str:
    """The class of a thing by its nouns.

    Parameters
    ----------
    words : sequence of str
    """
    if not words:
        return ""
    last = words[-1].lower()
    before = words[-2].lower() if len(words) > 1 else ""
    for one in (before, lexicon.singular(before), before.rpartition("-")[2]):
        if (kind := lexicon.pairs().get((one, last))) is not None:
            return kind
    known = lexicon.nouns()
    for form in (last, last.replace("-", ""), lexicon.singular(last)):
        if form in known:
            return known[form]
    tail = last.rpartition("-")[2]
    if tail != last and tail in known:
        return kind_of(last.split("-"))
    return "unknown"


_CONTAINERS = frozenset(
    "tray trays box bag bags bucket tub tin pot bin pocket dish bowl bench drawer vice vise jar skip container rack "
    "bath solvent thinners hand hands mouth floor cardboard pan basin crate tote bottle lid magnet towel "
    "newspaper".split()
)


def is_container(phrase: "Phrase") -> bool:
    """Whether things are only laid down there.

    Parameters
    ----------
    phrase : Phrase
    """
    return bool(phrase.words) and phrase.words[-1].lower() in _CONTAINERS


_NEVER_PLURAL = frozenset(
    "chassis lens glass mass cross boss bus gas abs ths pas axles-free harness press trans this "
    "across pas brass".split()
)


_DRIVERS = {
    **dict.fromkeys(
        "cross-heads crossheads pozis phillipses cross-head crosshead cross-headed phillips philips pozi pozidriv "
        "pozidrive".split(),
        "cross-head",
    ),
    "allens": "hex key",
    "torxes": "Torx",
    **dict.fromkeys(("slotted", "flat-head", "flathead", "slot-head"), "flat screwdriver"),
}


def driver(words: Sequence[str]) -> str | None:
    """What a screw's own head says of its driver; None where it says nothing.

    Parameters
    ----------
    words : sequence of str
    """
    return next((_DRIVERS[word.lower()] for word in words if word.lower() in _DRIVERS), None)


def is_plural(low: str) -> bool:
    """Whether a noun names several things.

    Parameters
    ----------
    low : str
        In small letters
    """
    return (
        low.endswith("s")
        and low not in _NEVER_PLURAL
        and not low.endswith(("ss", "us", "is"))
        and lexicon.singular(low) != low
    )


def as_named(word: str) -> str:
    """A word as it stands in a name: small letters, but for abbreviations and codes.

    Parameters
    ----------
    word : str
    """
    return word if word.isupper() and len(word) <= 5 else word.lower()
