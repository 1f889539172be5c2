"""Fluids and work."""

from jobs.acts import AWAY, HOME, SAY, Act, say
from jobs.scene import Record, Scene, omission, record

# Fluids


def _fluid(scene: Scene) -> list[Act]:
    free = [name for name in scene.course.fluids if name not in scene.busy and scene.course.of(name)]
    if not free:
        return []
    name = scene.rng.choice(free)
    scene.busy.add(name)
    return [act for act in scene.course.of(name) if act.kind == "fluid filled"]


@omission("fluid short")
def _short(scene: Scene) -> Record | None:
    fills = _fluid(scene)
    if not fills:
        return None
    litres = scene.course.fluids[fills[0].item]
    fills[0].data["litres"] = round(
        max(0.0, litres - max(0.03, min(0.21, 0.11 * litres)) - scene.rng.choice((0, 0.3))), 3
    )
    return record(fills[0].item, "fluid")


@omission("fluid never filled")
def _never_filled(scene: Scene) -> Record | None:
    fills = _fluid(scene)
    if not fills:
        return None
    scene.drop(*fills)
    return record(fills[0].item, "fluid")


@omission("too much fluid")
def _too_much(scene: Scene) -> Record | None:
    fills = _fluid(scene)
    if not fills:
        return None
    fills[0].data["litres"] = round(scene.course.fluids[fills[0].item] * 1.2 + 0.1, 3)
    return record(fills[0].item, "fluid")


@omission("other fluid filled")
def _other_fluid(scene: Scene) -> Record | None:
    fills = _fluid(scene)
    if not fills:
        return None
    name = fills[0].item
    fills[0].item = fills[0].data["fluid"] = "hydraulic oil"
    return Record("", name, [{("fluid", name)}, {("fluid", "hydraulic oil")}])


# Work


@omission("job work skipped")
def _skipped(scene: Scene) -> Record | None:
    act = scene.act(
        lambda act: (
            act.kind == "work done" and act.item not in scene.course.follow_ups and _of_the_job(scene, act.item)
        ),
        SAY,
    )
    if not act:
        return None
    scene.drop(*[one for one in scene.course.of(act.item) if one.kind == "work done"])
    return record(act.item, "not done")


def _of_the_job(scene: Scene, name: str) -> bool:
    area = scene.course.area
    return area is not None and any(work.name == name and work.when != "swap" for work in area.job_work)


@omission("work after the swap done before it")
def _too_early(scene: Scene) -> Record | None:
    swaps = [act for act in scene.course.acts if act.kind == "part swapped"]
    if not swaps or scene.course.area is None:
        return None
    after = [work.name for work in scene.course.area.job_work if work.when == "after"]
    act = scene.act(lambda act: act.kind == "work done" and act.item in after, SAY)
    if not act or not scene.take(*(swap.item for swap in swaps)):
        return None
    scene.course.acts.remove(act)
    scene.before(swaps[0], act)
    return record(act.item, "not done", may=[("order", act.item)])


@omission("added work not done")
def _added(scene: Scene) -> Record:
    scene.course.acts.insert(
        scene.rng.randint(0, len(scene.course.acts)), say("work added", "weld the bracket", work="weld the bracket")
    )
    return record("weld the bracket", "not done")


@omission("follow-up not done")
def _follow_up(scene: Scene) -> Record | None:
    act = scene.act(lambda act: act.kind == "work done" and act.item in scene.course.follow_ups, SAY)
    if not act:
        return None
    scene.drop(act)
    return record(act.item, "owed")


@omission("follow-up done before the refit")
def _follow_up_early(scene: Scene) -> Record | None:
    course = scene.course
    act = scene.act(
        lambda act: (
            act.kind == "work done"
            and course.follow_ups.get(act.item, "") != ""
            and bool(course.of(course.follow_ups[act.item], HOME))
        ),
        SAY,
    )
    if not act:
        return None
    by = course.follow_ups[act.item]
    if not scene.take(by):
        return None
    course.acts.remove(act)
    first, last = course.index(course.of(by, AWAY)[-1]), course.index(course.of(by, HOME)[-1])
    course.acts.insert(scene.rng.randint(first + 1, last), act)
    return record(act.item, "owed", may=[("order", act.item)])


@omission("order of work broken")
def _work_order(scene: Scene) -> Record | None:
    course = scene.course
    pairs = [
        (name, first)
        for name, before in course.work_after.items()
        for first in before
        if course.of(name) and course.of(first)
    ]
    pairs = [(name, first) for name, first in pairs if not scene.busy & {name, first}]
    if not pairs:
        return None
    name, first = scene.rng.choice(pairs)
    scene.take(name, first)
    early, late = course.of(first)[-1], course.of(name)[-1]
    course.acts.remove(early)
    scene.after(late, early)
    return Record(
        "",
        name,
        [{("order", name)}],
        {("order", other) for other, before in course.work_after.items() if first in before},
    )
