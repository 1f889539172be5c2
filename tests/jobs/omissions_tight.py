"""Fasteners that are in, and not as they should be."""

from dataclasses import replace

from jobs.acts import (
    APPRENTICE,
    FOREMAN,
    HOME,
    LOOSEN,
    OFF,
    ON,
    RUN_IN,
    SAY,
    TECHNICIAN,
    Act,
    Course,
    say,
)
from jobs.scene import Named, Record, Scene, omission, record


@omission("torque skipped")
def _no_torque(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.torque is not None)
    if not act:
        return None
    act.closing.torque, act.closing.angle, act.closing.evidence = None, None, "seated"
    return record(act.item, "torque")


@omission("torque out of tolerance")
def _wrong_torque(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.torque is not None)
    if not act:
        return None
    low, high = act.of.low or act.of.torque * 0.94, act.of.high or act.of.torque * 1.06
    act.closing.torque = round(scene.rng.choice((low * 0.9, low * 0.99, high * 1.01, high * 1.3)), 3)
    act.closing.passes, act.closing.at_once = act.of.wanted_passes, True
    return record(act.item, "torque")


@omission("torque in the wrong unit")
def _wrong_unit(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.torque is not None)
    if not act:
        return None
    act.closing.torque, act.closing.at_once = round(act.of.torque / scene.rng.choice((1.3558, 1 / 1.3558)), 2), True
    return record(act.item, "torque")


@omission("torque of one piece wrong")
def _one_wrong(scene: Scene) -> Record | None:
    act = scene.closing(
        lambda act: act.of.torque is not None and act.closing.count > 1 and not scene.course.of(act.item, RUN_IN)
    )
    if not act:
        return None
    wrong = replace(act.closing, count=1, torque=round(act.of.torque * 0.5, 2), at_once=True)
    act.closing.count, act.closing.at_once = act.closing.count - 1, True
    scene.after(act, Act(ON, act.item, act.of, 1, wrong))
    return record(act.item, "torque")


@omission("angle stage missing")
def _no_angle(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.angle is not None)
    if not act:
        return None
    act.closing.angle = None
    return record(act.item, "angle")


@omission("angle short")
def _short_angle(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.angle is not None)
    if not act:
        return None
    act.closing.angle = act.of.angle - scene.rng.choice((6, 10, 25))
    return record(act.item, "angle")


@omission("old one-time fastener")
def _old(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.one_time)
    if not act:
        return None
    act.closing.new, act.closing.cleaned = False, True
    return record(act.item, "old one")


@omission("one-time fastener tightened twice")
def _twice(scene: Scene) -> Record | None:
    """Loosened and tightened again, or off and on again, with the one new one that there was."""
    act = scene.closing(lambda act: act.of.one_time)
    if not act:
        return None
    again = replace(act.closing, new=False, cleaned=True)
    if scene.rng.random() < 0.5:
        scene.after(act, Act(OFF, act.item, act.of, act.of.count), Act(ON, act.item, act.of, act.of.count, again))
    else:
        tight = {
            "item": act.item,
            "count": act.closing.count,
            "evidence": again.evidence,
            "torque": again.torque,
            "angle": again.angle,
        }
        told = Act(
            SAY,
            act.item,
            kind="fasteners tightened",
            data=tight | {"passes": again.passes, "in order": True, "at": again.at},
            by=again.by,
        )
        scene.after(act, Act(LOOSEN, act.item, act.of, act.closing.count), told)
    return record(act.item, "old one", may=[("hold point", act.item), ("coating", act.item)])


@omission("stretch bolt turned twice by its angle")
def _turned_twice(scene: Scene) -> Record | None:
    """Torque and angle once more, which cannot be without loosening it, whether or not somebody says so."""
    act = scene.closing(lambda act: act.of.one_time and act.of.angle is not None)
    if not act:
        return None
    act.closing.by = act.closing.by or TECHNICIAN
    again = {
        "item": act.item,
        "count": act.closing.count,
        "evidence": "value read",
        "torque": act.closing.torque,
        "angle": act.closing.angle,
    }
    scene.after(act, Act(SAY, act.item, kind="fasteners tightened", data=again, by=act.closing.by))
    return record(act.item, "old one", may=[("hold point", act.item)])


@omission("coated thread not cleaned")
def _coating(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.coated)
    if not act:
        return None
    act.closing.new = act.closing.cleaned = False
    return record(act.item, "coating", may=[("old one", act.item)])


@omission("by feel at a hold point")
def _by_feel(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.critical and act.of.torque is not None)
    if not act:
        return None
    act.closing.evidence, act.closing.reason, act.closing.torque, act.closing.angle = (
        "by feel",
        "in a hurry",
        None,
        None,
    )
    return record(act.item, "by feel")


@omission("torque assumed")
def _assumed(scene: Scene) -> Record | None:
    act = scene.closing()
    if not act:
        return None
    act.closing.evidence, act.closing.reason, act.closing.torque, act.closing.angle = (
        "assumed",
        "nobody looked",
        None,
        None,
    )
    return record(act.item, "assumed")


@omission("tightened in the wrong posture")
def _posture(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.on_the_ground)
    if not act:
        return None
    scene.before(act, say("car moved", "the car", posture=scene.rng.choice(("on a lift", "on stands"))))
    scene.after(act, say("car moved", "the car", posture="on the ground"))
    return record(act.item, "on the ground")


@omission("a pass missing")
def _passes(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.closing.passes > 1)
    if not act:
        return None
    act.closing.passes -= 1
    return record(act.item, "passes")


@omission("pattern not kept")
def _pattern(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.pattern and act.of.count > 1 and act.of.torque is not None)
    if not act:
        return None
    act.closing.in_order = False
    return record(act.item, "pattern")


@omission("nobody says where the long ones went")
def _where(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.lengths)
    if not act:
        return None
    act.closing.at = None
    return record(act.item, "where")


@omission("order of tightening broken")
def _order(scene: Scene) -> Record | None:
    """What belongs before is done after."""
    course = scene.course
    pairs = [
        (name, first)
        for name, before in course.after.items()
        for first in before
        if course.of(name, ON, HOME) and _ends(course, first)
    ]
    pairs = [
        (name, first)
        for name, first in pairs
        if not scene.busy & {name, first, *course.belongings(first), *course.belongings(name)}
    ]
    if not pairs:
        return None
    name, first = scene.rng.choice(pairs)
    scene.take(name, first, *course.belongings(first), *course.belongings(name))
    late = scene.rng.choice(_ends(course, first))
    last = course.of(name, ON, HOME)[-1]
    if course.index(late) < course.index(last):
        course.acts.remove(late)
        scene.after(last, late)
    groups = [(("order", late.item)), ("order", first)]
    return Record("", name, [{("order", name)}], {*groups, *_followers(course, late.item)})


def _ends(course: Course, name: str) -> list[Act]:
    """What closes a thing: its own last act, and those of what belongs to it."""
    own = course.of(name, ON)[-1:] or course.of(name, HOME)[-1:]
    return own + [act for one in course.belongings(name) for act in course.of(one, ON)[-1:]]


def _followers(course: Course, moved: str) -> set[Named]:
    """Other things that belong after what was moved."""
    owner = next((act.of.owner if act.of else act.owner for act in course.acts if act.item == moved), "")
    return {("order", name) for name, before in course.after.items() if moved in before or owner in before}


@omission("apprentice not released")
def _not_released(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.of.critical)
    if not act:
        return None
    scene.course.acts.insert(0, say("role given", _by=FOREMAN, who=APPRENTICE, role="apprentice"))
    act.closing.by, act.closing.released_by = APPRENTICE, scene.rng.choice((None, APPRENTICE))
    if scene.rng.random() < 0.3:  # released, but before he closed it
        scene.before(act, say("hold point released", act.item, _by=FOREMAN, item=act.item))
    if scene.rng.random() < 0.2:  # another title for him does not make it good
        scene.course.acts.append(say("role given", _by=FOREMAN, who=APPRENTICE, role="technician"))
    return record(act.item, "hold point")
