"""Small random areas and shops in the words of their files, with choices, things that may be lacking, and traps.

Some parts go two ways, some wait for others, a prop may be needed twice at once, a bolt is loosened on the ground, a
thing may be in the shop or not. Every figure comes from the seed.
"""

from random import Random

THINGS = ("hub puller", "floor jack", "gas strut", "pipe tongs")  # equipment
KEYS = ("lid key", "star key")  # tools
HEAD = """\
area: 1
name: drawn
figures from: drawn by lot
work from: {top: any posture, under: raised}
on the ground: {stands on: [part 1]}
targets: {pump: {new: 10.00}}
parts:
"""


def draw_area(rng: Random) -> str:
    """An area file: a pump behind two or three parts."""
    names = [f"part {n}" for n in range(1, rng.randint(3, 4))]
    lines = [line for n, name in enumerate(names) for line in _part(rng, name, names[:n])]
    lines += _pump(rng, names)
    return HEAD + "\n".join(lines) + "\n" + _prop(rng, names)


def draw_shop(rng: Random, have: float) -> str:
    """A shop file: each thing is there with some probability, two sockets and a lift or stands always."""
    raised = rng.choice(["{two-post lift: 1", "{floor jack: 1, axle stand: 4"])
    owned = [name for name in THINGS if rng.random() < have and name not in raised]
    keys = [name for name in KEYS if rng.random() < have]
    text = "shop: 1\nname: drawn shop\nlabour: 60.00 per hour\n"
    text += f"set-up minutes: {{tool: {rng.choice((0, 1))}, vantage: {rng.choice((1, 3))}}}\n"
    text += "raises cars:\n  on a lift: 3 min up, 2 min down\n  on stands: 5 min up, 4 min down\n"
    text += f"equipment: {', '.join([raised, *(f'{name}: 1' for name in owned)])}}}\n"
    return text + f"tools:\n  sockets: 13, 17 mm\n  others: [{', '.join(['pry bar', *keys])}]\n"


def _part(rng: Random, name: str, before: list[str]) -> list[str]:
    lines = [
        f"  {name}:",
        f"    from: {rng.choice(('top', 'top', 'under'))}",
        f"    minutes: {rng.randint(1, 5)} off, {rng.randint(1, 5)} on",
    ]
    lines += _behind(rng, before, "    ")
    if name == "part 1" and rng.random() < 0.5:
        lines += ["    held by:", "      ground bolts: 2 x M12x1.5x40, class 10.9, 17 mm, 90 N·m, on the ground"]
    elif rng.random() < 0.4:
        lines += ["    held by:", f"      bolts of {name}: 2 x M8x30, class 8.8, 13 mm, 20 N·m"]
    if rng.random() < 0.4:
        lines += ["    out through:", f"      left: {_means(rng)}", f"      right: {_means(rng)}"]
    elif rng.random() < 0.4:
        lines.append(f"    {_thing(rng)}")
    return lines


def _pump(rng: Random, names: list[str]) -> list[str]:
    lines = ["  pump:", "    from: top", f"    minutes: {rng.randint(2, 5)} off, {rng.randint(2, 5)} on"]
    if rng.random() < 0.5:
        lines += ["    held by:", "      pump bolts: 2 x M8x30, class 8.8, 13 mm, 20 N·m"]
    lines.append("    out through:")
    for way in ("above", "below", "aside")[: rng.randint(2, 3)]:
        keys = [*_behind(rng, names, ""), _minutes(rng), f"from: {rng.choice(('top', 'under'))}"]
        keys += [_thing(rng)] if rng.random() < 0.4 else []
        lines.append(f"      {way}: {{{', '.join(keys)}}}")
    return lines


def _prop(rng: Random, names: list[str]) -> str:
    if rng.random() < 0.5:
        return ""
    stand = rng.choice(("top", "top, on the ground", "under"))
    text = f"put in:\n  prop:\n    secures: [{rng.choice(names)}]\n    from: {stand}\n"
    text += f"    minutes: {rng.randint(1, 3)} in, {rng.randint(1, 3)} out\n"
    if rng.random() < 0.5:
        return text + "    with: floor jack\n"
    return text + "    by:\n      jack: {with: floor jack}\n      strut: {with: gas strut, minutes: '2 in, 2 out'}\n"


def _behind(rng: Random, names: list[str], indent: str) -> list[str]:
    behind = [name for name in names if rng.random() < 0.5]
    return [f"{indent}behind: [{', '.join(behind)}]"] if behind else []


def _means(rng: Random) -> str:
    return f"{{{_minutes(rng)}{f', {_thing(rng)}' if rng.random() < 0.5 else ''}}}"


def _minutes(rng: Random) -> str:
    return f"minutes: '{rng.randint(3, 8)} off, {rng.randint(3, 8)} on'"


def _thing(rng: Random) -> str:
    if rng.random() < 0.5:
        return f"with: {rng.choice(THINGS)}"
    return f"tools: [{rng.choice((*KEYS, 'pry bar'))}]"
