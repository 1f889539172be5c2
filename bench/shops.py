"""Made-up work like that of a shop, as large as one asks: core problems of version 1, drawn from a seed.

Parts stand one behind another. Whatever is in the way of a part comes from the few that lie before it, so that a
thousand parts are many neighbourhoods and not one knot. Taking everything out from front to back is always possible.
None of the names, times and costs means anything.
"""

from collections.abc import Callable, Iterator
from itertools import count
from random import Random

# Tools, and how often a fastener asks for each; hands are for parts, the breaker bar for what is tight.
TOOLS = {
    "hand": 0, "8 mm": 2, "10 mm": 6, "13 mm": 6, "15 mm": 1, "18 mm": 2,
    "screwdriver": 2, "pliers": 2, "spanner": 1, "breaker bar": 1,
}  # fmt: skip
POSTURES = ("ground", "raised")
PLACES = {"top": ["ground"], "arch": ["ground", "raised"], "under": ["raised"], "bench": ["ground", "raised"]}
SETUP = {"tool": 3, "vantage": 5, "posture": 30}
NEAR = 12  # how many parts before and behind a part may have to do with it


def shop_with(moved: int, parts: int, seed: int) -> dict:
    """A problem in which `moved` levels are forced to move, and a quarter more at most do in the usual way.

    Layouts are drawn, one after another, until one of them has such a part.
    """
    for attempt in count():
        core = layout(Random(f"{moved} levels, {parts} parts, seed {seed}, attempt {attempt}"), parts)
        fitting = _parts_with(core, moved, parts)
        if fitting:
            return core | {"name": f"{moved} of {parts} parts, seed {seed}", "target": fitting[0]}
    raise AssertionError("never reached")


def _parts_with(core: dict, moved: int, parts: int) -> list[str]:
    every, usual = asks(core, _of_every_way), asks(core, _of_the_usual_way)
    forced = [name for name in part_names(parts) if levels_moved(core, every, name) == moved]
    return [name for name in forced if levels_moved(core, usual, name) <= 1.25 * moved]


def part_names(parts: int) -> list[str]:
    """The names of the parts, in the order of the file."""
    return [f"P{n:04}" for n in range(parts)]


def asks(core: dict, of: Callable[[dict], list]) -> dict:
    """By item and level: which others have to be out of the way, and how far at least, on the way out or back."""
    asked: dict = {}
    for op in core["ops"]:
        asked.setdefault((op["item"], op["level"]), []).extend(of(op))
    return asked


def _of_every_way(op: dict) -> list[tuple[str, int]]:
    first, *others = [alt["req"] for alt in op["alts"]]
    common = [item for item in first if all(item in other for other in others)]
    return [(item, min(req[item][0] for req in (first, *others))) for item in common]


def _of_the_usual_way(op: dict) -> list[tuple[str, int]]:
    return [(item, low) for item, (low, _) in op["alts"][0]["req"].items()]


def levels_moved(core: dict, asked: dict, target: str) -> int:
    """How many levels have to move to reach a target, if these are the things asked for."""
    reached: dict = {}
    todo = [(target, core["items"][target])]
    while todo:
        item, level = todo.pop()
        for new in range(reached.get(item, 0) + 1, level + 1):
            reached[item] = new
            todo += asked[item, new]
    return sum(reached.values())


def layout(rng: Random, parts: int) -> dict:
    """All parts with their fasteners, and no target yet."""
    names = part_names(parts)
    rng.shuffle(names)  # or the order of the file would be a way in
    levels = {name: 2 if rng.random() < 0.08 else 1 for name in names}
    drawn = [_Part(rng, names, levels, place) for place in range(parts)]
    return {
        "tools": ["none", *TOOLS],
        "vantages": list(PLACES),
        "postures": list(POSTURES),
        "setup": SETUP,
        "start": {"tool": "none", "vantage": "top", "posture": "ground"},
        "end_posture": "ground",
        "items": {item: top for part in drawn for item, top in part.items()},
        "ops": [op for part in drawn for op in part.ops()],
        "swap": _reach("hand", "bench") | {"minutes": 50},
    }


def _reach(tool: str, vantage: str, req: dict | None = None, extra: int = 0) -> dict:
    there = {"tool": tool, "vantage": vantage, "postures": PLACES[vantage], "extra": extra}
    return there if req is None else {"req": req} | there


class _Part:
    """A part, what stands before it, and its fasteners."""

    def __init__(self, rng: Random, names: list[str], levels: dict[str, int], place: int):
        self.rng, self.name, self.levels = rng, names[place], levels
        self.before, self.behind = names[max(0, place - NEAR) : place], names[place + 1 : place + 1 + NEAR]
        self.vantage = rng.choices(["top", "arch", "under"], [4, 3, 3])[0]
        self.fasteners = {f"{self.name} fastener {n}": self._fastener() for n in range(1, rng.randint(1, 4) + 1)}
        self.in_the_way = self._off(rng.choice([0, 0, 1, 1, 2]), self.before)

    def _fastener(self) -> int:
        return 2 if self.rng.random() < 0.1 else 1

    def _off(self, number: int, among: list[str]) -> dict:
        """Some parts, out of the way."""
        chosen = self.rng.sample(among, min(number, len(among)))
        return {name: [1, self.levels[name]] for name in chosen}

    def items(self) -> Iterator[tuple[str, int]]:
        yield from self.fasteners.items()
        yield self.name, self.levels[self.name]

    def ops(self) -> Iterator[dict]:
        for fastener, top in self.fasteners.items():
            yield from self._fastener_ops(fastener, top)
        undone = {fastener: [top, top] for fastener, top in self.fasteners.items()}
        for level in range(1, self.levels[self.name] + 1):
            yield from self._part_ops(level, undone)

    def _fastener_ops(self, fastener: str, top: int) -> Iterator[dict]:
        tool = self._tool()
        reaches = self._reaches(tool, self._off(self.rng.random() < 0.25, self.before))
        fitted = self._still_fitted()
        for level in range(1, top + 1):
            loosening = [reach | {"tool": "breaker bar"} for reach in reaches] if level < top else reaches
            refit = _also(loosening, {self.name: [0, 0]})
            yield from _pair(fastener, level, self.rng.randint(3, 35), _also(loosening, fitted), refit)

    def _tool(self) -> str:
        return self.rng.choices([*TOOLS], [*TOOLS.values()])[0]

    def _still_fitted(self) -> dict:
        """Now and then a fastener gives way only while something behind it still holds the part."""
        if not self.behind or self.rng.random() > 0.05:
            return {}
        return {self.rng.choice(self.behind): [0, 0]}

    def _part_ops(self, level: int, undone: dict) -> Iterator[dict]:
        reaches = _also(self._reaches("hand", self.in_the_way if level == 1 else {}), undone)
        yield from _pair(self.name, level, self.rng.randint(5, 70), reaches, reaches)

    def _reaches(self, tool: str, needs: dict) -> list[dict]:
        """The usual reach, often a dearer one past what is in the way, sometimes one from elsewhere."""
        reaches = [_reach(tool, self.vantage, needs)]
        if needs and self.rng.random() < 0.4:
            reaches.append(_reach(self._tool(), self.vantage, {}, self.rng.randint(5, 60)))
        if self.rng.random() < 0.15:
            vantage = self.rng.choice(["top", "arch", "under"])
            past = self._off(self.rng.random() < 0.7, self.before + self.behind)
            reaches.append(_reach(tool, vantage, past, self.rng.randint(0, 20)))
        return reaches


def _also(reaches: list[dict], needs: dict) -> list[dict]:
    return [reach | {"req": reach["req"] | needs} for reach in reaches]


def _pair(item: str, level: int, minutes: int, out: list[dict], back: list[dict]) -> Iterator[dict]:
    """The operation out and the one back, which takes a fifth longer."""
    for direction, time, alts in (("out", minutes, out), ("back", minutes + minutes // 5 + 1, back)):
        name = f"{item}: {direction} {level}"
        yield {"id": name, "item": item, "dir": direction, "level": level, "minutes": time, "alts": alts}
