"""Jobs on a described car: the course of the work follows a plan of the planner."""

from functools import cache
from random import Random

from log import demo_area, demo_shop

from jobs.acts import AWAY, HOME, LOOSEN, OFF, ON, RUN_IN, Act, Course, Group, closing_of, say
from putback.area.area_file import read_area
from putback.area.shop_file import read_shop
from putback.area.state_file import with_variants
from putback.errors import NoWay
from putback.way.afterwards import FILL, afterwards, is_for_later
from putback.way.plan import plan_way
from referees.random_areas import draw_area, draw_shop

# Every way into the demo areas, and some jobs beside: area, targets, variants, and what the planner is to do without.
DEMOS = (
    ("a", (), (), {}),
    ("a", (), (), {"without": ("engine support bar",)}),
    ("a", (), (), {"avoid": ("left engine mount",)}),
    ("a", (), (), {"avoid": ("left engine mount", "left drive shaft")}),
    ("a", ("tensioner",), (), {}),
    ("a", ("alternator", "tensioner"), (), {}),
    ("b", (), (), {}),
    ("b", (), ("all-wheel drive",), {}),
    ("c", (), (), {}),
    ("c", (), (), {"avoid": ("strut",)}),
    ("c", (), ("one-piece filter housing",), {"avoid": ("strut",)}),
    ("d", (), (), {}),
    ("d", (), ("seized hub bolts",), {}),
)
NODES = 3000  # the planner need not prove anything here, and the same number on every machine gives the same plan


@cache
def _demo_plan(number: int):
    letter, targets, variants, options = DEMOS[number]
    area = demo_area(letter)
    return plan_way(area, demo_shop(), targets, with_variants(area, None, variants), nodes=NODES, **options), variants


def demo_course(rng: Random) -> Course:
    """A job on one of the demo areas, by one of the ways into it."""
    sheet, variants = _demo_plan(rng.randrange(len(DEMOS)))
    return course_of(sheet, variants, rng)


def random_course(rng: Random) -> Course:
    """A job on an area drawn by lot."""
    while True:
        area, shop = _drawn(Random(rng.getrandbits(32)))
        try:
            return course_of(plan_way(area, shop, nodes=NODES), (), rng)
        except NoWay:
            continue


def _drawn(rng: Random):
    return read_area(draw_area(rng).encode(), "drawn.yaml"), read_shop(draw_shop(rng, 1.0).encode(), "shop.yaml")


def course_of(sheet, variants: tuple[str, ...], rng: Random) -> Course:
    """The course of a planned job."""
    course = Course(
        sheet.area.name,
        {"targets": list(sheet.targets)} | ({"variants": list(variants)} if variants else {}),
        [],
        targets=sheet.targets,
        area=sheet.area,
        shop=sheet.shop,
        match=dict(sheet.area.match),
    )
    touched = dict.fromkeys(step.operation.name for step in sheet.steps if step.operation)
    for name in touched:
        course.after[name] = tuple(ref.name for ref in sheet.area.items[name].tighten_after)
    course.acts += [
        say("work done", one.name, work=one.name) for one in sheet.area.job_work if one.when == "before"
    ] + readings("before")
    _steps(sheet, course, rng)
    _afterwards(sheet, course)
    return course


def _steps(sheet, course: Course, rng: Random) -> None:
    posture = "on the ground"
    for step in sheet.steps:
        now = step.context.get("posture", posture)
        if now != posture:
            course.acts.append(say("car moved", "the car", posture=now))
            posture = now
        if step.operation is None:
            course.acts += _swap(step.id.removeprefix("swap "), sheet, course)
        else:
            course.acts += _acts(step, sheet, course, rng)
    if posture != "on the ground":
        course.acts.append(say("car moved", "the car", posture="on the ground"))


def _swap(part: str, sheet, course: Course) -> list[Act]:
    work = [say("work done", one.name, work=one.name) for one in sheet.area.job_work if one.when == "swap"]
    match = course.match or {"length": "96 mm", "plug": "3-pin"}
    values = {name: _value(wanted) for name, wanted in match.items()}
    compared = say("part compared", part, part=part, old=values, new=values)
    return [compared, say("part swapped", part, part=part), *work]


def _value(wanted: str) -> str:
    """What a good part measures; the middle of a range, or the words themselves."""
    if " ± " in wanted:
        middle, rest = wanted.split(" ± ")
        return f"{middle} {rest.partition(' ')[2]}".strip()
    return wanted.partition(" to ")[2] or wanted


def _acts(step, sheet, course: Course, rng: Random) -> list[Act]:
    operation = step.operation
    item, out = sheet.area.items[operation.name], operation.direction == "out"
    if item.fastener:
        return [_of_group(group_of(sheet.area, item), operation, out, len(item.states) > 2, rng)]
    act = Act(
        AWAY if out else HOME,
        item.name,
        state=operation.state,
        owner=item.owner or "",
        sort=item.kind,
        plug=item.kind == "plug",
    )
    act.way = step.way.name
    if not out:
        act.new_parts = tuple(part.name for part in item.new_parts)
        act.confirmed = "clicked" if act.plug else None
    return [act, *_fluid(item, out, course, rng)]


def _of_group(group: Group, operation, out: bool, three_states: bool, rng: Random) -> Act:
    if out:
        return Act(LOOSEN if three_states and operation.level == 1 else OFF, group.name, group, group.count)
    if three_states and operation.level == 2:
        return Act(RUN_IN, group.name, group, group.count)
    return Act(ON, group.name, group, group.count, closing_of(group, rng))


def _fluid(item, out: bool, course: Course, rng: Random) -> list[Act]:
    if not item.loses:
        return []
    name, litres = item.loses.name, float(item.loses.litres)
    if not out:
        return [say("fluid filled", name, fluid=name, litres=course.fluids[name])]
    course.fluids[name] = round(litres * rng.uniform(0.9, 1.1), 2) if (measured := rng.random() < 0.7) else litres
    return [say("fluid drained", name, fluid=name, litres=course.fluids[name])] if measured else []


def group_of(area, item) -> Group:
    """A group as the area file has it."""
    one, torque = item.fastener, item.fastener.torque
    mates = [mate.fastener.thread for mate in area.items.values() if mate.fastener and mate.owner == item.owner]
    lengths = {
        mate.length
        for mate in mates
        if mate and one.thread and (mate.kind, mate.diameter) == (one.thread.kind, one.thread.diameter)
    }
    return Group(
        item.name,
        one.count,
        owner=item.owner or "",
        torque=torque.final if torque else None,
        low=torque.low if torque else None,
        high=torque.high if torque else None,
        angle=torque.angle if torque else None,
        stages=torque.stages if torque else (),
        passes=torque.passes if torque else 1,
        pattern=bool(one.pattern),
        one_time=one.one_time,
        coated=one.coated,
        on_the_ground=one.on_the_ground,
        lengths=len(lengths) > 1,
        risky=_is_risky(item, area),
    )


def _is_risky(item, area) -> bool:
    """Whether nobody may go by feel there without answering for it by name."""
    parts = [item, *(area.items[name] for name in (item.owner, *(ref.name for ref in item.holds)) if name)]
    stands_on = {ref.name for ref in area.stands_on}
    risks = {"steering", "brakes", "fuel", "airbag"}
    return any(part.name in stands_on or risks & {ref.name for ref in part.hazards} for part in parts)


def readings(when: str) -> list[Act]:
    """One figure that failed before, and is good afterwards."""
    value = 12.2 if when == "before" else 14.4
    return [
        say(
            "reading taken", "stud voltage", what="stud voltage", value=value, unit="V", when=when, good=when == "after"
        )
    ]


def _afterwards(sheet, course: Course) -> None:
    """What is owed, the last work, the readings, and what is told to the customer."""
    for name, _ in sheet.due:
        who = [step.operation.name for step in sheet.steps if step.operation and name in step.way.follow_ups]
        course.follow_ups[name] = "" if is_for_later(sheet, name) or not who else who[0]
    order = [one.name for one in afterwards(sheet) if one.kind != FILL]
    order += [name for name, _ in sheet.due if is_for_later(sheet, name)]
    course.acts += [say("work done", name, work=name) for name in order] + readings("after")
    work = (*sheet.area.follow_ups.values(), *sheet.area.job_work)
    course.work_after = {one.name: tuple(ref.name for ref in one.after) for one in work if one.after}
