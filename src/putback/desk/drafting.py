"""An area file from jobs on a car that nobody had described: what was logged is told as a note would tell it."""

import re
from collections.abc import Iterable, Iterator, Sequence
from statistics import median

from putback.capture.draft import Origin, draft_area, order_text
from putback.capture.events import Event as Told
from putback.capture.events import Heard, Source
from putback.capture.events import Told as Remark
from putback.capture.names import plain_words
from putback.capture.phrases import kind_of
from putback.desk.heard_names import ACTIONS
from putback.desk.view import View
from putback.errors import InputError
from putback.event_text import event_words
from putback.job.events import Event
from putback.job.fold import taken_back
from putback.job.kinds import HAND_TIGHT
from putback.job.state import HOME
from putback.job.times import spent

BACK = {"plugged": "plug in", "joined": "close", "connected": "close", "closed": "close"}
FASTENER, PART = "fastener", "part"
_SIZE = re.compile(r"\b(?:\d+(?:\.\d+)? mm(?: hex| 12-point)?|\d+/\d+ in|T\d+|E\d+)\b")


def area_of_jobs(views: Sequence[View], name: str) -> str:
    """An area file drafted from one job, or from several on the same kind of car.

    Needs that were seen in one order only are marked so; those of which another job saw the contrary are left out.

    Parameters
    ----------
    views : sequence of View
    name : str
        What the area is called.

    Raises
    ------
    InputError
        Nothing came off in these jobs.
    """
    if described := next((view for view in views if view.area), None):
        words = "this car is described; `putback job proposals` tells what this job found besides"
        raise InputError(f"{described.state.name}: {words}")
    text = draft_area([heard_of(view) for view in views], name, Origin("logged", _minutes(views)))
    if not text:
        raise InputError(f"{views[0].state.name}: nothing came off in this job, so there is no area to draft")
    return text


def order_of_job(view: View, name: str) -> str:
    """An order file with the job's own order, for `putback way --order`.

    Parameters
    ----------
    view : View
    name : str
        What the order is called.
    """
    return order_text(heard_of(view), name)


def heard_of(view: View) -> Heard:
    """What a job logged, as if somebody had told it.

    Parameters
    ----------
    view : View
    """
    undone = taken_back(view.logged)
    rows = [row.event for row in view.logged if row.event.id not in undone]
    things: dict[str, int] = {}
    events = tuple(told for number, event in enumerate(rows) for told in _told(event, number, view, things))
    new = tuple(_remark(event.data["part"], event) for event in rows if event.kind == "part swapped")
    owed = tuple(_remark(event.data["work"], event) for event in rows if event.kind in ("work added", "work done"))
    return Heard(events, new_parts=new, owed=owed)


def _remark(what: str, event: Event) -> Remark:
    return Remark(what, what, _source(event))


def _told(event: Event, number: int, view: View, things: dict[str, int]) -> Iterator[Told]:
    data = event.data
    if event.kind == "car moved":
        action = "lower" if data["posture"] == "on the ground" else "raise"
        yield Told("car", action, _source(event), kind="car", thing=_thing("car", things), sentence=number)
    elif event.kind == "item moved":
        kind = kind_of(plain_words(data["item"]))
        kind = PART if kind in ("unknown", "", FASTENER, "clamp", "catch", "fluid", "car") else kind
        yield Told(
            data["item"],
            _action(data["state"]),
            _source(event),
            kind=kind,
            thing=_thing(data["item"], things),
            sentence=number,
        )
    elif event.kind in ("fasteners off", "fasteners loosened", "fasteners on", "fasteners tightened"):
        yield _fasteners(event, number, view, things)


def _fasteners(event: Event, number: int, view: View, things: dict[str, int]) -> Told:
    data, name = event.data, event.data["item"]
    group = view.state.groups.get(name)
    going = {"fasteners off": "remove", "fasteners loosened": "loosen"}.get(event.kind)
    tight = data.get("evidence") != HAND_TIGHT
    size = _SIZE.search(group.size) if group else None
    return Told(
        name,
        going or ("tighten" if tight else "start by hand"),
        _source(event),
        group.total if group else data["count"],
        size[0] if size else None,
        data.get("torque"),
        "N·m" if "torque" in data else None,
        data.get("angle"),
        kind=FASTENER,
        thing=_thing(name, things),
        flags=("new",) if data.get("new") else (),
        sentence=number,
        owner=group.belongs_to if group else "",
    )


def _action(state: str) -> str:
    if state in HOME:
        return BACK.get(state, "fit")
    return ACTIONS.get(state, "remove")


def _thing(name: str, things: dict[str, int]) -> int:
    return things.setdefault(name, len(things))


def _source(event: Event) -> Source:
    return Source(1, 1, event_words(event))


def _minutes(views: Iterable[View]) -> dict[str, tuple[float, float]]:
    """The median over the jobs of what a thing took with its fasteners, where every one of its steps was timed."""
    found: dict[str, list[tuple[float, float]]] = {}
    for view in views:
        for name, both in _of_one(view).items():
            found.setdefault(name, []).append(both)
    return {name: tuple(round(median(each), 1) for each in zip(*took, strict=True)) for name, took in found.items()}


def _of_one(view: View) -> dict[str, tuple[float, float]]:
    owners = {group.name: group.belongs_to for group in view.state.groups.values()}
    sums: dict[tuple[str, str], float] = {}
    for one in spent(view.logged, view.state):
        key = (owners.get(one.item) or one.item, one.direction)
        sums[key] = sums.get(key, 0.0) + one.minutes
    names = {name for name, _ in sums if name in view.state.items}
    both = {name: (sums.get((name, "out"), 0.0), sums.get((name, "back"), 0.0)) for name in sorted(names)}
    return {name: took for name, took in both.items() if min(took) >= LEAST}


LEAST = 0.5  # minutes; what took less was logged in one go
