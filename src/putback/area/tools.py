"""Tools as they are said: `10 mm`, `16 mm spanner + 5 mm hex key`, `T45`, `trim fork or pry bar`.

A set is what both hands need for one fastener, its main tool first. A size alone means a socket.
"""

import re

from putback.errors import InputError

BARE_HANDS = "bare hands"

# Hand tools that have a name and no size; any other may be named in a list of `tools`.
NAMED = frozenset({
    BARE_HANDS, "trim fork", "swivel", "ratchet", "low-profile ratchet", "breaker bar", "pry bar", "plastic wedge",
    "hose-clamp pliers", "circlip pliers", "combination pliers", "side cutters", "drift", "hammer", "scraper",
    "wiper-arm puller", "screwdriver", "line wrench", "strap wrench", "wire brush",
})  # fmt: skip

_NUMBER = r"\d+(?:\.\d+)?"
_SIZED = [
    (re.compile(rf"({_NUMBER}) ?mm(?: socket)?"), r"\1 mm socket"),
    (re.compile(rf"({_NUMBER}) ?mm (spanner|ring spanner|crow-foot|deep socket|extension)"), r"\1 mm \2"),
    (re.compile(rf"({_NUMBER}) ?mm hex(?: key)?"), r"\1 mm hex key"),
    (re.compile(r"T(\d+)(?: bit)?"), r"T\1 bit"),
    (re.compile(r"E(\d+)(?: socket)?"), r"E\1 socket"),
    (re.compile(r"(PH|PZ)(\d)(?: screwdriver)?"), r"\1\2 screwdriver"),
    (re.compile(r"(\d/\d+) in square"), r"\1 in square"),
]


def tool(text: str) -> str | None:
    """The full name of a tool that is said by size or from the list; None for any other text."""
    text = " ".join(text.split())
    for pattern, name in _SIZED:
        if found := pattern.fullmatch(text):
            return found.expand(name)
    return text if text in NAMED else None


def tool_sets(text: str) -> tuple[tuple[str, ...], ...] | None:
    """The sets of a phrase, alternatives parted by `or` and members by `+`; None if it is none."""
    sets = tuple(tuple(map(tool, re.split(r"\s*\+\s*", part))) for part in re.split(r"\s+or\s+", text.strip()))
    return None if any(member is None for one in sets for member in one) else sets


def tool_list(text: str) -> tuple[tuple[str, ...], ...]:
    """As `tool_sets`, for an entry of `tools`: there any tool may be named, with or without a size."""
    sets = tuple(
        tuple(tool(part) or part.strip() for part in re.split(r"\s*\+\s*", one)) for one in re.split(r"\s+or\s+", text)
    )
    if any(not member for one in sets for member in one):
        raise InputError(f'"{text}" is not understood; write tools as "13 mm + swivel or 13 mm spanner"')
    return sets


def sizes(text: str, unit: str) -> list[str]:
    """The sizes of a shop's list: `8-10, 21 mm` gives 8, 9, 10, 21."""
    found = []
    for part in re.sub(rf"\s*{unit}$", "", text.strip()).split(","):
        span = re.fullmatch(rf"({_NUMBER})(?:\s*-\s*({_NUMBER}))?", part.strip())
        if not span:
            raise InputError(f'"{text}" is not understood; write sizes as "8-19, 21, 32{" " + unit if unit else ""}"')
        found += _span(span[1], span[2])
    return found


def _span(first: str, last: str | None) -> list[str]:
    if last is None:
        return [first]
    if not (first.isdecimal() and last.isdecimal() and int(first) <= int(last) <= 200):
        raise InputError(f'"{first}-{last}" is no range of sizes; write whole sizes, the smaller one first')
    return [str(size) for size in range(int(first), int(last) + 1)]
