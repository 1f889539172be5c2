"""Parts, plugs, and what was put in for the work."""

from dataclasses import replace

from jobs.acts import (
    AWAY,
    HOME,
    ON,
    SAY,
    Act,
    Course,
    say,
)
from jobs.scene import OMISSIONS, Named, Record, Scene, omission, record


@omission("part left off")
def _part_off(scene: Scene) -> Record | None:
    act = scene.act(
        lambda act: (
            act.sort in ("part", "", "line", "belt", "cable")
            and not act.plug
            and _free(scene, act)
            and scene.is_last(act)
        ),
        HOME,
    )
    if not act:
        return None
    own = scene.course.belongings(act.item)
    scene.take(*own)
    place = scene.course.index(act)
    scene.drop(act, *[one for one in scene.course.acts[place:] if one.item in own and one.does != SAY])
    follow = [("out", name) for name in own] + [("away", name) for name in own]
    return record(act.item, "away", may=follow)


def _free(scene: Scene, act: Act) -> bool:
    return not scene.busy & set(scene.course.belongings(act.item))


@omission("part off again and left so")
def _part_off_again(scene: Scene) -> Record | None:
    """Once more off after all was closed, and nobody says that what holds it is off with it: it is all the same."""
    act = scene.act(lambda act: act.sort == "part" and _free(scene, act) and scene.is_last(act), HOME)
    if not act:
        return None
    own = scene.course.belongings(act.item)
    scene.take(*own)
    away = scene.course.of(act.item, AWAY)[-1]
    scene.course.acts.append(replace(away))
    groups = [name for name in own if scene.course.of(name, ON) and act.item in _owners(scene.course, name)]
    plugs = [name for name in own if scene.course.of(name, HOME) and not scene.course.of(name, ON)]
    must = [
        {("away", act.item)},
        *({("out", name), ("loose", name)} for name in groups),
        *({("away", name)} for name in plugs),
    ]
    whole = away.state == scene.course.area.items[act.item].states[-1]
    return Record(
        "",
        act.item,
        must if whole else must[:1],
        {one for each in must for one in each} | _owed_again(scene.course, act.item),
    )


def _owners(course: Course, name: str) -> set[str]:
    return {act.of.owner for act in course.of(name) if act.of}


def _owed_again(course: Course, name: str) -> set[Named]:
    return {("owed", work) for work, by in course.follow_ups.items()} | {
        ("no new part", name),
        *(("fluid", fluid) for fluid in course.fluids),
    }


@omission("plug not back")
def _plug(scene: Scene) -> Record | None:
    act = scene.act(lambda act: act.plug and scene.is_last(act), HOME)
    if not act:
        return None
    scene.drop(act)
    return record(act.item, "away")


@omission("plug not confirmed")
def _not_confirmed(scene: Scene) -> Record | None:
    act = scene.act(lambda act: act.plug and scene.is_last(act), HOME)
    if not act:
        return None
    act.confirmed = None
    return record(act.item, "not confirmed")


@omission("put-in left in")
def _left_in(scene: Scene) -> Record | None:
    act = scene.act(lambda act: act.sort == "put-in" and scene.is_last(act), HOME)
    if not act:
        return None
    scene.drop(act)
    return record(act.item, "away")


@omission("new part not logged")
def _no_new_part(scene: Scene) -> Record | None:
    act = scene.act(lambda act: bool(act.new_parts) and scene.is_last(act), HOME)
    if not act:
        return None
    act.new_parts = act.new_parts[1:]
    return record(act.item, "no new part")


@omission("own entry left off")
def _own_entry(scene: Scene) -> Record | None:
    name = f"loom bracket {scene.rng.randint(1, 999)}"
    scene.take(name)
    scene.course.acts.insert(
        scene.rng.randint(0, len(scene.course.acts)),
        Act(AWAY, name, state=scene.rng.choice(("off", "hanging", "tied up"))),
    )
    return record(name, "away")


def _thing_left(what: str, name: str):
    def left(scene: Scene) -> Record:
        where, count = scene.rng.choice(("ports", "engine bay")), scene.rng.randint(1, 6)
        place = scene.rng.randint(0, len(scene.course.acts))
        acts = [say("thing put in", name, what=what, name=name, where=where, count=count)]
        if count > 1:
            acts.append(say("thing taken out", name, what=what, name=name, where=where, count=count - 1))
        scene.course.acts[place:place] = acts
        return record(name, "left in")

    return left


OMISSIONS["rag left"] = _thing_left("rag", "blue rag")
OMISSIONS["cap left"] = _thing_left("cap", "line cap, 8 mm")
OMISSIONS["tool left"] = _thing_left("tool", "magnet")


@omission("fastener found")
def _found(scene: Scene) -> Record:
    name = f"M6x{scene.rng.randint(10, 30)}"
    scene.course.acts.append(say("fastener found", name, what=name, count=1))
    return record(name, "found")
