"""What happens on a job besides taking apart and putting together: all of it in order."""

from random import Random

from jobs.acts import APPRENTICE, AWAY, FOREMAN, HOME, OFF, ON, SECOND, TECHNICIAN, Act, Course, Group, closing_of, say


def add_besides(course: Course, rng: Random) -> None:
    """Put some of it in, at places where it may happen."""
    for happens in (
        _intake,
        _parts,
        _under,
        _things,
        _pause,
        _handed,
        _difference,
        _consent,
        _apprentice,
        _own_entry,
        _again,
        _engine,
        _work,
        _accepted,
        _not_there,
        _one_more,
    ):
        if rng.random() < 0.3:
            happens(course, rng)


def at(course: Course, act: Act, rng: Random, after: int = 0, before: int | None = None) -> int:
    """Put an act in somewhere from a place to another; where it stands then."""
    end = len(course.acts) if before is None else before
    place = rng.randint(after, max(after, end))
    course.acts.insert(place, act)
    return place


def pair(course: Course, rng: Random, first: Act, *then: Act) -> None:
    """Put one thing in after another, with anything in between."""
    place = at(course, first, rng)
    for act in then:
        place = at(course, act, rng, place + 1)


def _intake(course: Course, rng: Random) -> None:
    said = {
        "complaint": "no charge; whines",
        "kilometres": 48210,
        "lamps_on": ["battery"],
        "damage_already_there": ["scratch, left sill"],
    }
    course.acts.insert(0, say("intake noted", **said))
    course.acts.insert(0, say("role given", who=SECOND, role="technician"))


def _parts(course: Course, rng: Random) -> None:
    part = next(iter(course.targets), "gasket")
    acts = [say("part ordered", part, part=part, count=1), say("part arrived", part, part=part, count=1)]
    if rng.random() < 0.4:
        acts += [
            say("part found wrong", part, part=part, note="plug"),
            say("part returned", part, part=part, count=1),
            acts[1],
        ]
    course.acts[:0] = acts


def _under(course: Course, rng: Random) -> None:
    who = rng.choice((TECHNICIAN, SECOND, APPRENTICE))
    pair(course, rng, say("person went under", who, who=who), say("person came clear", who, who=who))


def _things(course: Course, rng: Random) -> None:
    what, name = rng.choice((("rag", "clean rag"), ("cap", "port cap, 12 mm"), ("tool", "swivel")))
    put = {"what": what, "name": name, "where": rng.choice(("intake ports", "under the cowl"))}
    count = rng.randint(2, 6)
    out = [say("thing taken out", name, **put, count=count - 1), say("thing taken out", name, **put)]
    pair(course, rng, say("thing put in", name, **put, count=count), *out)


def _pause(course: Course, rng: Random) -> None:
    minutes = rng.choice((3, 37))
    acts = [
        say("job paused", reason="telephone"),
        say("wait", minutes=minutes),
        say("job resumed"),
        say("steps confirmed"),
    ]
    place = rng.randint(0, len(course.acts))
    course.acts[place:place] = acts


def _handed(course: Course, rng: Random) -> None:
    acts = [
        say("job handed on", _by=TECHNICIAN, to=SECOND),
        say("job taken over", _by=SECOND, confirmed=["belt pinned"]),
        say("steps confirmed"),
    ]
    place = rng.randint(0, len(course.acts))
    course.acts[place:place] = acts


def _difference(course: Course, rng: Random) -> None:
    act = rng.choice([act for act in course.acts if act.of] or [Act(ON, "a bolt")])
    what = rng.choice(("seized", "broken", "other tool"))
    found = say("difference found", act.item, item=act.item, what=what, note="turns with its stud")
    pair(course, rng, found, say("difference settled", act.item, item=act.item, how="cut off and renewed"))


def _consent(course: Course, rng: Random) -> None:
    course.opened["cap"] = 76000
    plan = say("plan made", plan="0" * 64, money=rng.choice((60000, 76000, 91000)), minutes=250, why="from here")
    pair(
        course,
        rng,
        plan,
        say("consent given", to_what="the way over the subframe", by="the customer", total=91000, how="by telephone"),
    )


def _apprentice(course: Course, rng: Random) -> None:
    course.acts.insert(0, say("role given", who=APPRENTICE, role="apprentice"))
    for act in course.acts:
        if act.does == ON and rng.random() < 0.4:
            act.closing.by = APPRENTICE
            act.closing.released_by = rng.choice((TECHNICIAN, FOREMAN)) if act.of.critical else None


def _own_entry(course: Course, rng: Random) -> None:
    """Something that no file knows, found on the way."""
    name = f"aftermarket bracket {rng.randint(1, 99)}"
    group = Group(f"bolts of the {name}", rng.randint(1, 4), owner=name, described=False, size="13 mm")
    acts = [Act(OFF, group.name, group, group.count), Act(AWAY, name, state="off"), Act(HOME, name, state="fitted")]
    pair(course, rng, *acts, Act(ON, group.name, group, group.count, closing_of(group, rng)))


def _again(course: Course, rng: Random) -> None:
    """A group is opened once more and closed once more, with new ones where they serve once."""
    act = rng.choice([act for act in course.acts if act.does == ON] or [None])
    if (
        act is None
        or act.of.on_the_ground
        or any(act.item in names for names in course.after.values())
        or course.after.get(act.item)
    ):
        return
    again = [Act(OFF, act.item, act.of, act.of.count), Act(ON, act.item, act.of, act.of.count, closing_of(act.of, rng))]
    place = course.index(act) + 1
    course.acts[place:place] = again


def _engine(course: Course, rng: Random) -> None:
    pair(course, rng, say("engine ran", what="started"), say("engine ran", what="stopped"))


def _work(course: Course, rng: Random) -> None:
    pair(
        course,
        rng,
        say("work added", "repair the stud", work="repair the stud", minutes=20),
        say("work done", "repair the stud", work="repair the stud"),
    )


def _accepted(course: Course, rng: Random) -> None:
    """By feel where it matters, and the foreman answers for it by name."""
    act = rng.choice([act for act in course.acts if act.does == ON and act.of.critical and act.of.torque] or [None])
    if act is None or len(course.of(act.item, ON)) > 1:
        return
    act.closing.evidence, act.closing.reason, act.closing.torque, act.closing.angle = (
        "by feel",
        "no wrench gets there",
        None,
        None,
    )
    course.acts.append(
        say("point accepted", act.item, point=f"by feel: {act.item}", reason="no wrench gets there", by=FOREMAN)
    )


def _not_there(course: Course, rng: Random) -> None:
    """One of a group is missing from the start: the others come off and go back."""
    act = rng.choice([act for act in course.acts if act.does == OFF and act.of.described and act.count > 2] or [None])
    if act is None or len(course.of(act.item)) != 2:
        return
    for one in course.of(act.item):
        one.count -= 1
        if one.closing:
            one.closing.count -= 1
    found = say("difference found", act.item, item=act.item, what="not fitted", count=1, note="missing from the start")
    course.acts.insert(course.index(act) + rng.randint(0, 1), found)


def _one_more(course: Course, rng: Random) -> None:
    """There is one more than the file says, and it comes off and goes back with the others."""
    act = rng.choice([act for act in course.acts if act.does == OFF and act.of.described] or [None])
    if act is None or len(course.of(act.item)) != 2:
        return
    for one in course.of(act.item):
        one.count, one.by = one.count + 1, TECHNICIAN
        if one.closing:
            one.closing.count += 1
    course.acts.insert(course.index(act), say("difference found", act.item, item=act.item, what="extra found", count=1))
