"""Jobs on a car that nobody has described: names, sizes and counts from a lexicon of our own, parts within parts."""

from random import Random

from jobs.acts import AWAY, HOME, LOOSEN, OFF, ON, Act, Course, Group, closing_of, say
from jobs.described import readings

THINGS = (
    "bracket",
    "cover",
    "heat shield",
    "duct",
    "tray",
    "carrier",
    "guard",
    "pump",
    "console",
    "trim",
    "beam",
    "housing",
)
PLACES = (
    "left",
    "right",
    "front",
    "rear",
    "upper",
    "lower",
    "inner",
    "2nd",
    "behind the wheel",
    "kühlerseitig",
    "by the “box”",
    "a; b, c",
)
SIZES = ("8 mm", "10 mm", "13 mm", "T30", "E12", "M8x25", "3/8 in", "")
NOUNS = ("bolts", "screws", "nuts", "clips", "studs")
GONE = ("off", "out", "aside", "tied up", "lowered 40 mm")
BACK = ("fitted", "refitted", "back", "on")


def undescribed_course(rng: Random) -> Course:
    """A job on a car of which nobody knows anything."""
    course = Course("an unknown car", {"vehicle": "a car that nobody described"}, [])
    maker = _Maker(rng, course)
    roots = [maker.part(0) for _ in range(rng.randint(1, 3))]
    target = roots[-1][2]
    course.acts += readings("before") if rng.random() < 0.5 else []
    both = bool(course.acts)
    for away, _, _ in roots:
        course.acts += away
    if rng.random() < 0.6:
        course.targets, course.opened["targets"] = (target,), [target]
        values = {"length": "212 mm", "holes": "4, 8.2 mm"}
        course.acts += [
            say("part compared", target, part=target, old=values, new=values),
            say("part swapped", target, part=target),
        ]
    for _, home, _ in reversed(roots):
        course.acts += home
    course.acts += readings("after") if both else []
    return course


class _Maker:
    def __init__(self, rng: Random, course: Course):
        self.rng, self.course, self.taken = rng, course, set()

    def part(self, depth: int) -> tuple[list[Act], list[Act], str]:
        """What takes a part off with all that is behind it, what brings it back, and its name."""
        rng, name = self.rng, self.name(f"{self.rng.choice(PLACES)} {self.rng.choice(THINGS)}")
        own = [self.own(name) for _ in range(rng.randint(1, 3))]
        inner = [self.part(depth + 1) for _ in range(rng.randint(0, 2 if depth < 2 else 0))]
        away = [act for one, _ in rng.sample(own, len(own)) for act in one]
        home = [act for _, one in rng.sample(own, len(own)) for act in one]
        away.append(Act(AWAY, name, state=rng.choice(GONE)))
        home.insert(0, Act(HOME, name, state=rng.choice(BACK)))
        for one, _, _ in inner:
            away += one
        return away, [act for _, one, _ in rng.sample(inner, len(inner)) for act in one] + home, name

    def name(self, text: str) -> str:
        while text in self.taken:
            text += " (other)"
        self.taken.add(text)
        return text

    def own(self, part: str) -> tuple[list[Act], list[Act]]:
        """A group of fasteners, a plug or a hose of a part."""
        kind = self.rng.random()
        if kind < 0.7:
            return self.group(part)
        if kind < 0.9:
            name = self.name(f"plug at the {part}")
            home = Act(
                HOME, name, state=self.rng.choice(("plugged", "plugged", "connected", "back")), owner=part, plug=True
            )
            home.confirmed = self.rng.choice(("clicked", "held when pulled"))
            return [Act(AWAY, name, state="unplugged", owner=part, plug=True)], [home]
        return self.hose(part)

    def group(self, part: str) -> tuple[list[Act], list[Act]]:
        rng, size = self.rng, self.rng.choice(SIZES)
        name = self.name(f"{size} {rng.choice(NOUNS)}, {part}".strip())
        group = Group(name, rng.randint(1, 12), owner=part, described=False, size=size)
        loosened = [Act(LOOSEN, name, group, group.count)] if rng.random() < 0.1 else []
        off = Act(OFF, name, group, group.count)
        return [*loosened, off], [Act(ON, name, group, group.count, closing_of(group, rng))]

    def hose(self, part: str) -> tuple[list[Act], list[Act]]:
        rng, name = self.rng, self.name(f"hose to the {part}")
        away, home = [Act(AWAY, name, state="open", owner=part)], [Act(HOME, name, state="joined", owner=part)]
        if rng.random() < 0.5:
            fluid, litres = (
                self.name(rng.choice(("coolant", "gear oil", "brake fluid", "washer fluid"))),
                round(rng.uniform(0.1, 6), 2),
            )
            self.course.fluids[fluid] = litres
            away.append(say("fluid drained", fluid, fluid=fluid, litres=litres))
            home.append(say("fluid filled", fluid, fluid=fluid, litres=litres))
        return away, home
