"""The new part, people, the car, and what was found."""

from dataclasses import replace

from jobs.acts import (
    SAY,
    SECOND,
    TECHNICIAN,
    Act,
    say,
)
from jobs.scene import OMISSIONS, Record, Scene, omission, record

# The new part


def _target(scene: Scene) -> str | None:
    free = [part for part in scene.course.targets if part not in scene.busy]
    part = scene.rng.choice(free) if free else None
    if part:
        scene.busy.add(part)
    return part


def _said(scene: Scene, part: str, kind: str) -> list[Act]:
    return [act for act in scene.course.of(part) if act.kind == kind]


@omission("target not swapped")
def _not_swapped(scene: Scene) -> Record | None:
    part = _target(scene)
    if not part:
        return None
    scene.drop(*_said(scene, part, "part swapped"))
    return record(part, "not swapped")


@omission("swap taken back")
def _swap_undone(scene: Scene) -> Record | None:
    part = _target(scene)
    if not part:
        return None
    for act in _said(scene, part, "part swapped"):
        act.kind, act.data = "note added", {"note": "the new one is taken out again", "item": part}
    return record(part, "not swapped")


@omission("old and new not compared")
def _not_compared(scene: Scene) -> Record | None:
    part = _target(scene)
    if not part:
        return None
    scene.drop(*_said(scene, part, "part compared"))
    return record(part, "not compared")


@omission("compared by looks only")
def _looks(scene: Scene) -> Record | None:
    part = _target(scene)
    if not part:
        return None
    for act in _said(scene, part, "part compared"):
        name = scene.rng.choice(list(act.data["new"]))
        act.data["new"] = act.data["new"] | {name: scene.rng.choice(("looks the same", "ok", "?"))}
    return record(part, "not compared")


@omission("mismatch not accepted")
def _mismatch(scene: Scene) -> Record | None:
    part = _target(scene)
    if not part:
        return None
    for act in _said(scene, part, "part compared"):
        name = scene.rng.choice(list(act.data["new"]))
        act.data["new"] = act.data["new"] | {name: scene.rng.choice(("something else", "999", "-3 mm"))}
    return record(part, "mismatch")


@omission("a second new part not compared")
def _second_part(scene: Scene) -> Record | None:
    """The first new one was compared; another one went in after it, and nobody looked."""
    part = _target(scene)
    swaps = _said(scene, part, "part swapped") if part else []
    if not swaps:
        return None
    swaps[-1].by = TECHNICIAN
    scene.after(swaps[-1], replace(swaps[-1]))
    return record(part, "not compared")


@omission("wrong part fitted all the same")
def _wrong_part(scene: Scene) -> Record | None:
    part = _target(scene)
    swaps = _said(scene, part, "part swapped") if part else []
    if not swaps:
        return None
    found = say("part found wrong", part, part=part, note="pulley")
    if scene.rng.random() < 0.5:
        scene.before(swaps[0], found)
    else:
        scene.after(swaps[-1], found)
    return record(part, "wrong part")


# People, the car, and what was found


@omission("a person still under the car")
def _under(scene: Scene) -> Record:
    who = f"technician {scene.rng.randint(3, 9)}"
    scene.course.acts.insert(scene.rng.randint(0, len(scene.course.acts)), say("person went under", who, who=who))
    return record(who, "under the car")


@omission("car still raised")
def _raised(scene: Scene) -> Record | None:
    if not scene.take("the car"):
        return None
    scene.course.acts.append(say("car moved", "the car", posture=scene.rng.choice(("on a lift", "on stands"))))
    return record("the car", "raised")


@omission("two reports that contradict")
def _conflict(scene: Scene) -> Record | None:
    act = scene.closing(lambda act: act.closing.torque is not None and act.closing.count == act.of.count)
    if not act:
        return None
    act.closing.by, act.closing.at_once = act.closing.by or TECHNICIAN, True
    worse = replace(
        act.closing, by=SECOND, evidence="by feel", reason="no room", torque=None, angle=None, released_by=None
    )
    data = {
        "item": act.item,
        "count": worse.count,
        "new": worse.new,
        "cleaned": worse.cleaned,
        "evidence": "by feel",
        "reason": "no room",
    }
    scene.after(act, Act(SAY, act.item, kind="fasteners on", data=data, by=SECOND))
    return record(
        act.item, "conflict", may=[(kind, act.item) for kind in ("by feel", "old one", "hold point", "where")]
    )


def _unsettled(what: str):
    def found(scene: Scene) -> Record | None:
        groups = [act.item for act in scene.course.acts if act.of and act.item not in scene.busy]
        groups = [name for name in groups if not any(act.kind == "difference found" for act in scene.course.of(name))]
        if not groups:
            return None
        name = scene.rng.choice(groups)
        scene.busy.add(name)
        scene.course.acts.insert(
            scene.rng.randint(0, len(scene.course.acts)),
            say("difference found", name, item=name, what=what, note="turns with its stud"),
        )
        return record(name, what)

    return found


OMISSIONS["seized and not settled"] = _unsettled("seized")
OMISSIONS["broken and not settled"] = _unsettled("broken")


@omission("consent missing")
def _no_consent(scene: Scene) -> Record:
    scene.course.opened["cap"] = 50000
    scene.drop(*[act for act in scene.course.acts if act.kind == "consent given"])
    scene.course.acts.append(say("plan made", plan="0" * 64, money=81064.5))
    if scene.rng.random() < 0.5:
        scene.course.acts.append(say("consent given", to_what="a little more", by="the customer", total=80000))
    return record("the price", "no consent")


@omission("still paused")
def _paused(scene: Scene) -> Record | None:
    if not scene.take("the job"):
        return None
    scene.course.acts.append(say("job paused", reason="lunch"))
    return record("the job", "paused")


@omission("handed on and not taken over")
def _not_taken(scene: Scene) -> Record | None:
    if not scene.take("the job"):
        return None
    scene.course.acts.append(say("job handed on", to=SECOND))
    return record("the job", "handed on", may=[("not confirmed again", "the job")])


@omission("last steps not confirmed after a pause")
def _not_confirmed_again(scene: Scene) -> Record | None:
    if not scene.take("the job"):
        return None
    acts = [say("job paused"), say("wait", minutes=11), say("job resumed")]
    scene.course.acts += acts
    if scene.rng.random() < 0.5:  # a second pause does not make the first one good
        scene.course.acts += [say("job paused"), say("wait", minutes=2), say("job resumed")]
    return record("the job", "not confirmed again")


@omission("reading failing")
def _failing(scene: Scene) -> Record:
    scene.course.acts.append(
        say("reading taken", "ripple", what="ripple", value=412, unit="mV", when="after", good=False)
    )
    return record("ripple", "failing")


@omission("what condemned the part not read again")
def _not_read_again(scene: Scene) -> Record:
    scene.course.acts.insert(
        0, say("reading taken", "current", what="current", value=3, unit="A", when="before", good=False)
    )
    return record("current", "not read again")
