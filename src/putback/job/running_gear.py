"""What a car stands and rolls on, by the words people use for it: for whatever no description tells of.

Common practice, no source.
"""

import re

WHEELS = ("wheel", "wheels", "hub", "hubs", "axle", "axles")  # without one of these it cannot come down at all
STANDS = (
    "wheel", "hub", "axle", "drive shaft", "strut", "spring", "control arm", "ball joint", "subframe", "jack",
    "support", "trestle",
)  # fmt: skip
BRAKES = ("brake", "caliper", "disc", "drum", "rotor")
ROLLS = ("steering", "tie rod", "track rod", *BRAKES)
SEATS = ("disc", "drum", "hub", "rotor")  # what a wheel is clamped against
# What carries such a word in its name and carries no car.
_BESIDE = re.compile(
    r"\bsteering[ -]wheel|\b(arch|liner|sensor|cap|cover|trim|house|well|clip|hose|lead|cable|plug|shield)s?\b"
)


def carries(words: str) -> bool:
    """Whether a car stands on a thing, as far as its name tells.

    Parameters
    ----------
    words : str
        Its name, and that of the part it belongs to.
    """
    return not _BESIDE.search(words.casefold()) and is_named(words, STANDS)


def is_wheel(words: str) -> bool:
    """Whether it is a wheel, or what carries one.

    Parameters
    ----------
    words : str
        Its name, and that of the part it belongs to.
    """
    found = re.findall(r"\w+", words.casefold())
    return not _BESIDE.search(words.casefold()) and any(word in found for word in WHEELS)


def is_named(words: str, names: tuple[str, ...]) -> bool:
    """Whether one of some names is in it, as words of its own.

    Parameters
    ----------
    words : str
        Its name, and that of the part it belongs to.
    names : tuple of str
    """
    return any(re.search(rf"\b{name}s?\b", words.casefold()) for name in names)
