"""All that can be left out, and how some of it is drawn by lot."""

from random import Random

from jobs import omissions_items, omissions_out, omissions_people, omissions_tight, omissions_work
from jobs.acts import Course
from jobs.scene import OMISSIONS, Record, Scene

KINDS_OF = (omissions_out, omissions_tight, omissions_items, omissions_work, omissions_people)  # each enters its own

# What few courses have something for comes first more often.
SELDOM = {
    "angle stage missing", "angle short", "old one-time fastener", "one-time fastener tightened twice",
    "by feel at a hold point", "stretch bolt turned twice by its angle", "coated thread not cleaned",
    "tightened in the wrong posture", "a pass missing", "pattern not kept", "nobody says where the long ones went",
    "order of tightening broken", "order of work broken", "put-in left in", "new part not logged",
    "one more than the file says, left out", "never logged off, part off, never back", "part off again and left so",
    "follow-up not done", "follow-up done before the refit", "work after the swap done before it", "fluid short",
    "fluid never filled", "too much fluid", "other fluid filled", "apprentice not released",
}  # fmt: skip


def leave_out(course: Course, rng: Random, count: int) -> list[Record]:
    """Leave so many things out of a course, of kinds drawn by lot; fewer where it has not enough."""
    scene, records = Scene(course, rng), []
    for kind in sorted(OMISSIONS, key=lambda kind: rng.random() * (0.3 if kind in SELDOM else 1)):
        if len(records) == count:
            break
        made = OMISSIONS[kind](scene)
        if made:
            made.kind = kind
            records.append(made)
    return records
