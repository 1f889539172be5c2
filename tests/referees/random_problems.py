"""Made-up core problems of every kind the contract can say, drawn from a random source that is passed in.

The small ones twist every feature, so that each rule decides some of them; a few have no way at all. The
shop-like ones look like work: parts under fasteners, behind other parts, a car that must go up. None of
the names, times and costs means anything.
"""

from copy import deepcopy
from itertools import count
from random import Random

OUT, BACK = "out", "back"


# --- small and twisted, version 2 -----------------------------------------------------------------


def tiny_2(rng: Random) -> dict:
    """A problem of version 2 with at most eight levels; any feature of the contract may be in it."""
    items = _items(rng)
    dims = [_dim(rng, f"d{n}", items) for n in range(rng.choice([0, 1, 1, 2, 2, 3, 3]))]
    ops = [op for op in _ops(rng, items, dims) if rng.random() < 0.99]
    swaps = _swaps(rng, items, dims)
    core = {
        "core": 2,
        "name": "made up",
        "unit": {"time": "1", "cost": "1"},
        "rate": rng.choice([1, 1, 2, 5]),
        "dims": dims,
        "items": items,
        "ops": ops,
        "swaps": swaps,
        "fixed": [_fixed(rng, f"f{n}") for n in range(rng.choice([0, 0, 1, 2]))],
        "pools": {pool: rng.choice([0, 1, 1, 2, 2, 3]) for pool in ("jack", "stand") if rng.random() < 0.97},
    }
    core["once"] = [_due(rng, f"o{n}", ops) for n in range(rng.choice([0, 0, 1, 2])) if ops]
    core["waits"] = [_wait(rng, f"w{n}", ops, swaps) for n in range(rng.choice([0, 1, 1, 2])) if ops]
    return core


def scarce_2(rng: Random) -> dict:
    """The same with equipment in short supply everywhere, uneven tables of changes, and more to wait for."""
    core = tiny_2(rng)
    for item in core["items"].values():
        if rng.random() < 0.35:
            item["holds"] = {str(rng.randint(0, item["levels"])): _one_piece(rng)}
    for dim in core["dims"]:
        dim["change"] = _uneven(rng, len(dim["values"]))
        for said in ("holds", "moving"):
            if rng.random() < 0.4:
                dim[said] = {rng.choice(dim["values"]): _one_piece(rng)}
    for op in [*core["ops"], *core["swaps"]]:
        for way in op["ways"]:
            if rng.random() < 0.2:
                way["uses"] = _one_piece(rng)
    core["pools"] = {"jack": rng.choice([1, 2]), "stand": rng.choice([1, 2])}
    if core["ops"]:
        core["waits"].append(_wait(rng, "long", core["ops"], core["swaps"]) | {"time": rng.randint(30, 60)})
    return core


def _one_piece(rng: Random) -> dict:
    return {rng.choice(["jack", "stand"]): 1}


def _uneven(rng: Random, size: int) -> list[list[int]]:
    return [[0 if row == column else rng.choice([0, 1, 9, 30]) for column in range(size)] for row in range(size)]


def _items(rng: Random) -> dict:
    """Two to four items; mostly fitted now and wanted fitted, sometimes neither."""
    items = {}
    for n in range(rng.choice([2, 3, 4, 4, 5])):
        item = {"levels": 1 if n % 2 else rng.choice([1, 1, 2])}
        if rng.random() < 0.15:
            item["start"] = rng.randint(0, item["levels"])
        if rng.random() < 0.1:
            item["goal"] = sorted(rng.choices(range(item["levels"] + 1), k=2))
        if rng.random() < 0.15:
            item["holds"] = {str(rng.choice([0, 1, 1, item["levels"]])): _equipment(rng)}
        items[f"i{n}"] = item
    return items


def _equipment(rng: Random) -> dict:
    return {rng.choice(["jack", "stand"]): rng.choice([1, 1, 1, 2])}


def _dim(rng: Random, name: str, items: dict) -> dict:
    values = [f"{name}{letter}" for letter in "abc"[: rng.choice([2, 2, 3])]]
    dim = {"name": name, "values": values, "start": rng.choice(values), "change": _change(rng, len(values))}
    if rng.random() < 0.4:
        dim["end"] = rng.sample(values, rng.choice([1, 1, 2]))
    if rng.random() < 0.35:
        dim["needs"] = {rng.choice(values): _needs(rng, items, 1, out_of_the_way=0.2)}
    if rng.random() < 0.25:
        dim["holds"] = {rng.choice(values): _equipment(rng)}
    if rng.random() < 0.25:
        dim["moving"] = {value: _equipment(rng) for value in rng.sample(values, rng.choice([1, 2]))}
    return dim


def _change(rng: Random, size: int) -> int | list[list[int]]:
    """One number, or a table; in half of the tables the direct change is dearer than a detour."""
    if rng.random() < 0.5:
        return rng.choice([0, 1, 3, 10])
    most = rng.choice([5, 30])
    return [[0 if row == column else rng.randint(0, most) for column in range(size)] for row in range(size)]


def _needs(rng: Random, items: dict, most: int, out_of_the_way: float = 0.6) -> dict:
    """Ranges for some items: out of the way, still fitted, or anything."""
    needs = {}
    for name in rng.sample(sorted(items), min(rng.randint(0, most), len(items))):
        levels = items[name]["levels"]
        draw = rng.random()
        if draw < out_of_the_way:
            needs[name] = [rng.randint(1, levels), levels]
        elif draw < 0.85:
            needs[name] = [0, rng.randint(0, levels - 1)]
        else:
            needs[name] = sorted(rng.choices(range(levels + 1), k=2))
    return needs


def _ops(rng: Random, items: dict, dims: list) -> list:
    """An operation out and back for every level. What is in an item's way mostly stands before it in the list."""
    ops = []
    for place, (name, item) in enumerate(items.items()):
        earlier = dict(list(items.items())[:place])
        for level in range(1, item["levels"] + 1):
            for direction in (OUT, BACK):
                others = earlier if rng.random() < 0.85 else {other: items[other] for other in items if other != name}
                ways = [_way(rng, others, dims) for _ in range(rng.choice([1, 2, 2, 3]))]
                step = {"id": f"{name} {direction} {level}", "item": name, "dir": direction, "level": level}
                ops.append(step | _figures(rng) | {"ways": ways})
    return ops


def _way(rng: Random, others: dict, dims: list) -> dict:
    way = {"needs": _needs(rng, others, rng.choice([1, 1, 2])), "in": _within(rng, dims)} | _figures(rng, 4)
    if rng.random() < 0.15:
        way["uses"] = _equipment(rng)
    return way


def _within(rng: Random, dims: list) -> dict:
    named = [dim for dim in dims if rng.random() < 0.75]
    return {dim["name"]: rng.sample(dim["values"], rng.choice([1, 1, 2])) for dim in named}


def _figures(rng: Random, most: int = 12) -> dict:
    return {"time": rng.randint(0, most), "cost": rng.choice([0, 0, rng.randint(0, 9)])}


def _fixed(rng: Random, name: str) -> dict:
    return {"id": name, "when": rng.choice(["before", "swap", "after"])} | _figures(rng)


def _swaps(rng: Random, items: dict, dims: list) -> list:
    """None, one or two; the last items of the list are the likely targets."""
    targets = list(items)[-rng.choice([1, 1, 2]) :] if rng.random() < 0.85 else []
    return [
        {"id": f"swap {name}", "item": name, "ways": [{"in": _within(rng, dims)} | _figures(rng, 3)]} | _figures(rng)
        for name in targets
    ]  # fmt: skip


def _some(rng: Random, things: list) -> list:
    return rng.sample(things, min(len(things), rng.choice([1, 1, 2])))


def _due(rng: Random, name: str, ops: list) -> dict:
    owing = []
    for op in _some(rng, ops):
        by_way = [rng.randrange(len(op["ways"]))] if rng.random() < 0.4 else []
        owing.append([op["id"], *by_way])
    return {"id": name, "ops": owing, "offers": [_figures(rng, 30) for _ in range(rng.choice([1, 2]))]}


def _wait(rng: Random, name: str, ops: list, swaps: list) -> dict:
    ids = [op["id"] for op in ops if op["dir"] == OUT or rng.random() < 0.3] or [ops[0]["id"]]
    behind = [*(op["id"] for op in ops), *(swap["id"] for swap in swaps), "end", "end"]
    time = rng.randint(1, 30)
    wait = {"id": name, "after": _some(rng, ids), "before": sorted({*rng.choices(behind, k=2)})}
    return wait | {"time": time, "left": rng.choice([0, 0, rng.randint(0, time)])}


# --- small and twisted, version 1 -----------------------------------------------------------------


def tiny_1(rng: Random) -> dict:
    """A problem of version 1 with at most six levels."""
    items = {f"i{n}": {"levels": rng.choice([1, 1, 2]) if n < 2 else 1} for n in range(rng.choice([2, 3, 3, 4]))}
    names = {"tools": ["none", "t1", "t2"], "vantages": ["top", "under"], "postures": ["ground", "raised"]}
    ops = []
    for op in _ops(rng, items, []):
        alts = [_alt(rng, names, way["needs"], way["cost"]) for way in op["ways"]]
        ops.append({key: op[key] for key in ("id", "item", "dir", "level")} | {"minutes": op["time"], "alts": alts})
    swap = _alt(rng, names, {}, rng.randint(0, 3)) | {"minutes": rng.randint(0, 9)}
    return {
        "name": "made up",
        **names,
        "setup": {"tool": rng.choice([0, 1, 3]), "vantage": rng.choice([1, 5]), "posture": rng.choice([5, 30])},
        "start": {"tool": "none", "vantage": rng.choice(names["vantages"]), "posture": "ground"},
        "end_posture": rng.choice(["ground", "ground", "raised"]),
        "items": {name: item["levels"] for name, item in items.items()},
        "ops": [op for op in ops if rng.random() < 0.98],
        "target": rng.choice([list(items)[-1], list(items)[-2:]]),
        "swap": swap,
    }


def _alt(rng: Random, names: dict, needs: dict, extra: int) -> dict:
    return {
        "req": needs,
        "tool": rng.choice(names["tools"][1:]),
        "vantage": rng.choice(names["vantages"]),
        "postures": rng.choice([["ground"], ["raised"], ["ground", "raised"]]),
        "extra": extra,
    }


# --- like the work in a shop ----------------------------------------------------------------------

TOOLS = ["none", "hand", "8 mm", "10 mm", "13 mm", "15 mm", "18 mm", "screwdriver", "pliers"]
PLACES = {"top": ["ground"], "wheel arch": ["ground", "raised"], "under": ["raised"]}


def shop_1(rng: Random, parts: int, deep: bool = False) -> dict:
    """Version 1: parts with one to four fasteners, some behind earlier parts; the target lies among the last.

    Where it is deep, nearly every part is behind others, and a job moves dozens of things.
    """
    items, ops = {}, []
    for n in range(parts):
        name = f"P{n:02}"
        behind = {
            f"P{m:02}": [1, 1]
            for m in rng.sample(range(n), min(n, rng.choice([0, 1, 1, 2, 2] if deep else [0, 0, 1, 1, 2])))
        }
        fasteners = [f"{name} fastener {k}" for k in range(1, rng.randint(1, 4) + 1)]
        for fastener in fasteners:
            items[fastener] = rng.choice([1, 1, 1, 1, 2])
            _fastener_ops(rng, ops, name, fastener, items[fastener], behind)
        items[name] = 1
        _part_ops(rng, ops, name, {fastener: [items[fastener]] * 2 for fastener in fasteners} | behind)
    return {
        "name": f"made up, {parts} parts",
        "tools": TOOLS,
        "vantages": [*PLACES, "bench"],
        "postures": ["ground", "raised"],
        "setup": {"tool": 3, "vantage": 5, "posture": 30},
        "start": {"tool": "none", "vantage": "top", "posture": "ground"},
        "end_posture": "ground",
        "items": items,
        "ops": ops,
        "target": f"P{rng.randrange(parts * 2 // 3, parts):02}",
        "swap": {"tool": "hand", "vantage": "bench", "postures": ["ground", "raised"], "extra": 0, "minutes": 50},
    }


def _place(rng: Random, tool: str) -> dict:
    vantage = rng.choice(list(PLACES))
    return {"tool": tool, "vantage": vantage, "postures": PLACES[vantage], "extra": 0}


def _places(rng: Random, tool: str) -> list[dict]:
    """The usual place, and often a more awkward one that costs extra."""
    places = [_place(rng, tool)]
    if rng.random() < 0.3:
        places.append(_place(rng, rng.choice(TOOLS[1:])) | {"extra": rng.randint(3, 15)})
    return places


def _fastener_ops(rng: Random, ops: list, part: str, fastener: str, levels: int, behind: dict) -> None:
    """A fastener goes back only once its part is in place."""
    for level in range(1, levels + 1):
        places = _places(rng, rng.choice(TOOLS[2:]))
        minutes = rng.randint(3, 35)
        _pair(ops, fastener, level, minutes, minutes + 5, places, behind, behind | {part: [0, 0]})


def _part_ops(rng: Random, ops: list, part: str, needs: dict) -> None:
    minutes = rng.randint(5, 70)
    _pair(ops, part, 1, minutes, minutes + 7, _places(rng, "hand"), needs, needs)


def _pair(ops: list, item: str, level: int, out: int, back: int, places: list, needs: dict, back_needs: dict) -> None:
    for direction, minutes, req in ((OUT, out, needs), (BACK, back, back_needs)):
        step = {"id": f"{item}: {direction} {level}", "item": item, "dir": direction, "level": level}
        ops.append(step | {"minutes": minutes, "alts": [{"req": req} | place for place in places]})


def shop_2(rng: Random, parts: int, deep: bool = False) -> dict:
    """Version 2: the same shop with a wheel the car stands on, stands, a jack, a support, a wait, an alignment."""
    flat = shop_1(rng, parts, deep)
    items = {name: {"levels": levels} for name, levels in flat["items"].items()}
    items["wheel"] = {"levels": 1}
    heavy = rng.choice([name for name in items if "fastener" not in name and name != "wheel"])
    items[heavy]["holds"] = {"1": {"jack": 1}}
    wheel = [
        {"id": f"wheel: {d}", "item": "wheel", "dir": d, "level": 1, "time": 25,
         "ways": [{"in": {"tool": ["18 mm"], "vantage": ["wheel arch"], "posture": ["raised"]}}]}
        for d in (OUT, BACK)
    ]  # fmt: skip
    ops = wheel + [_as_version_2(rng, op) for op in flat["ops"]]
    removals = [op["id"] for op in ops if op["dir"] == OUT]
    ids = count(1)
    return {
        "core": 2,
        "name": f"{flat['name']}, with equipment",
        "unit": {"time": "1/10 min", "cost": "1/600 cent"},
        "rate": 9200,
        "dims": [
            {"name": "tool", "values": TOOLS, "start": "none", "change": 3},
            {"name": "vantage", "values": flat["vantages"], "start": "top", "change": 5},
            {
                "name": "posture", "values": flat["postures"], "start": "ground", "end": ["ground"],
                "change": [[0, 30], [20, 0]], "needs": {"ground": {"wheel": [0, 0]}},
                "holds": {"raised": {"stand": 4}}, "moving": {"raised": {"jack": 1}, "ground": {"jack": 1}},
            },
        ],
        "pools": {"jack": rng.choice([1, 2]), "stand": 4},
        "items": items,
        "ops": ops,
        "swaps": [
            {"id": "swap", "item": flat["target"], "time": 50,
             "ways": [{"in": {"tool": ["hand"], "vantage": ["bench"]}}]},
        ],
        "once": [
            {"id": f"once {next(ids)}", "ops": [[name] for name in rng.sample(removals, 2)],
             "offers": [{"time": 45}, {"cost": 474000}]}
            for _ in range(2)
        ],
        "waits": [{"id": "rest", "after": [removals[0]], "before": rng.sample(removals[1:], 2), "time": 100}],
        "fixed": [{"id": "readings", "when": "before", "time": 18}, {"id": "road test", "when": "after", "time": 10}],
    }  # fmt: skip


def _as_version_2(rng: Random, op: dict) -> dict:
    through_the_arch = rng.random() < 0.12
    wheel_off = {"wheel": [1, 1]} if through_the_arch else {}
    ways = [
        {
            "needs": alt["req"] | (wheel_off if alt["vantage"] == "wheel arch" else {}),
            "in": {"tool": [alt["tool"]], "vantage": [alt["vantage"]], "posture": alt["postures"]},
            "time": alt["extra"],
        }
        for alt in op["alts"]
    ]
    return {key: op[key] for key in ("id", "item", "dir", "level")} | {"time": op["minutes"], "ways": ways}


# --- what a referee may have to leave out ---------------------------------------------------------


def without_waits_and_equipment(core: dict) -> dict:
    """The same problem for those who know neither; version 1 has none."""
    plain = deepcopy(core)
    if plain.get("core") != 2:
        return plain
    plain |= {"waits": [], "pools": {}}
    for holder in [*plain["items"].values(), *plain["dims"]]:
        holder.pop("holds", None)
        holder.pop("moving", None)
    for op in plain["ops"]:
        for way in op["ways"]:
            way.pop("uses", None)
    return plain
