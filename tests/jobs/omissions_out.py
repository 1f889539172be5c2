"""Fasteners left out, loosened again, or never logged."""

from jobs.acts import AWAY, LOOSEN, OFF, ON, RUN_IN, TECHNICIAN, Act
from jobs.scene import Record, Scene, omission, record


@omission("fasteners left out")
def _left_out(scene: Scene) -> Record | None:
    act = scene.closing()
    if not act:
        return None
    scene.drop(act, *scene.course.of(act.item, RUN_IN))
    return record(act.item, "out")


@omission("one piece of a group left out")
def _one_left_out(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.closing.count > 1 and not scene.course.of(act.item, RUN_IN))
    if not act:
        return None
    act.closing.count -= 1
    return record(act.item, "out")


@omission("run in by hand and left so")
def _hand_tight(scene: Scene) -> Record | None:
    act = scene.closing()
    if not act:
        return None
    act.closing.hand_tight, act.closing.released_by = True, None
    return record(act.item, "loose")


@omission("loosened again and left so")
def _loosened_again(scene: Scene) -> Record | None:
    act = scene.closing()
    if not act:
        return None
    scene.after(act, Act(LOOSEN, act.item, act.of, scene.rng.randint(1, act.closing.count)))
    return record(act.item, "loose")


@omission("taken out again and left so")
def _out_again(scene: Scene) -> Record | None:
    act = scene.closing()
    if not act:
        return None
    scene.after(act, Act(OFF, act.item, act.of, scene.rng.randint(1, act.closing.count)))
    return record(act.item, "out")


@omission("never logged off, part off, never back")
def _never_logged(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.described and any(one.state for one in scene.course.of(act.of.owner, AWAY)))
    if not act or len(scene.course.of(act.item, ON)) > 1:
        return None
    part_off = scene.course.of(act.of.owner, AWAY)[-1]
    area_item = scene.course.area.items[part_off.item]
    if part_off.state != area_item.states[-1]:
        return None
    scene.drop(*scene.course.of(act.item, OFF, LOOSEN, RUN_IN, ON))
    return record(act.item, "out")


@omission("one more than the file says, left out")
def _extra_left_out(scene: Scene) -> Record | None:
    act = scene.closing(
        lambda act: act.of.described and len(scene.course.of(act.item)) == 2 and act.closing.count == act.of.count
    )
    if not act:
        return None
    off = scene.course.of(act.item)[0]
    if off.does != OFF:
        return None
    off.count, off.by = off.count + 1, TECHNICIAN
    act.closing.by = TECHNICIAN if act.closing.by is None else act.closing.by
    return record(act.item, "out")
