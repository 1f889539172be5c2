"""What one tap logs: the events that close a step, filled in with what the plan and the description ask for.

Whoever taps says that it was done so. What was done otherwise is changed before it is logged.
"""

from dataclasses import dataclass

from putback.area.called import THREADED, is_pressed
from putback.area.model import BELT, FASTENERS, OUT, PLUG, PUT_IN, Fastener
from putback.errors import InputError
from putback.job.audit_fasteners import lengths
from putback.job.audit_items import is_plug
from putback.job.car import Car
from putback.job.kinds import HAND_TIGHT, KINDS, MEASURED, SEATED, UNMEASURED, check
from putback.job.state import JobState
from putback.job.step import Said

CLICKED, RIBS = "clicked", "every rib in its groove on every pulley"
NO_FIGURE = "no torque is known for it"
_BACK_AGAIN = {
    "unplugged": "plugged", "disconnected": "connected", "open": "closed", "opened": "closed", "apart": "joined",
}  # fmt: skip


@dataclass(frozen=True)
class Move:
    """A thing that goes out or back.

    Attributes
    ----------
    direction : "out" or "back"
    to : str
        The state that it ends in.
    count : int
        How many of a group.
    way : str
        As the plan calls it.
    wrench : str
        The torque wrench for the last stage.
    lacks : str
        Why no wrench of the shop measures the torque; empty where one does.
    """

    item: str
    direction: str
    to: str
    count: int = 1
    way: str = ""
    wrench: str = ""
    lacks: str = ""


def closing(move: Move, state: JobState, car: Car, tray: str = "") -> tuple[Said, ...]:
    """The events that one tap logs for a move.

    Parameters
    ----------
    move : Move
    state : JobState
    car : Car
    tray : str, optional
        Tray position for fasteners that come out; without one they go back into their holes.
    """
    if is_group(move.item, state, car):
        return _group_out(move, state, car, tray) if move.direction == OUT else _group_back(move, state, car)
    return (_out(move, car) if move.direction == OUT else _back(move, state, car),)


def is_group(name: str, state: JobState, car: Car) -> bool:
    """Whether a thing is counted in pieces.

    Parameters
    ----------
    name : str
    state : JobState
    car : Car
    """
    return car.kind(name) == FASTENERS or name in state.groups


def _group_out(move: Move, state: JobState, car: Car, tray: str) -> tuple[Said, ...]:
    described = car.items.get(move.item)
    if described is not None and move.to != described.states[-1]:
        return (Said("fasteners loosened", {"item": move.item, "count": move.count}),)
    place = {"to": "tray", "tray position": tray} if tray else {"to": "back in their holes"}
    return (Said("fasteners off", {"item": move.item, "count": move.count, **place}),)


def _group_back(move: Move, state: JobState, car: Car) -> tuple[Said, ...]:
    fastener, group = car.fastener(move.item), state.groups.get(move.item)
    last = described_home(move.item, car) in ("", move.to)
    known = evidence(move, fastener, group.total if group else 1, state) if last else {"evidence": HAND_TIGHT}
    place = _place(move.item, fastener, car)
    loose = min(move.count, group.hand_tight) if group and last else 0
    said = []
    if move.count > loose:
        new = bool(fastener and fastener.one_time) or _is_a_new_part(move.item, car)
        cleaned = {"cleaned": True} if fastener and fastener.coated and not new else {}
        on = {"item": move.item, "count": move.count - loose, "new": new, **cleaned, **known, **place}
        said.append(Said("fasteners on", on))
    if loose:
        said.append(Said("fasteners tightened", {"item": move.item, "count": loose, **known, **place}))
    return tuple(said)


def _is_a_new_part(name: str, car: Car) -> bool:
    """Whether the part that fasteners belong to takes new ones each time."""
    owner = car.items.get(car.items[name].owner or "") if name in car.items else None
    return owner is not None and any(part.name == name and part.count >= _count(name, car) for part in owner.new_parts)


def _count(name: str, car: Car) -> int:
    return car.items[name].fastener.count


def described_home(name: str, car: Car) -> str:
    """The state of an item where it belongs; empty where nobody has described it.

    Parameters
    ----------
    name : str
    car : Car
    """
    return car.items[name].states[0] if name in car.items else ""


def evidence(move: Move, fastener: Fastener | None, total: int, state: JobState) -> dict:
    """How it is known that they are tight, as good as the plan makes it; no better than the shop's wrenches.

    Parameters
    ----------
    move : Move
    fastener : Fastener or None
        What they are; None where nobody has described them.
    total : int
        How many the group has: one alone has no pattern.
    state : JobState
    """
    torque = fastener.torque if fastener else None
    if torque is None:
        return {"evidence": SEATED} if _is_seated(move.item, fastener, state) else _by_feel(NO_FIGURE)
    if move.lacks:
        return _by_feel(move.lacks)
    said = {"evidence": MEASURED[0], "torque": torque.final}
    said |= {} if torque.angle is None else {"angle": torque.angle}
    said |= {"wrench": move.wrench} if move.wrench else {}
    passes = max(torque.passes, len(torque.stages))
    said |= {"passes": passes} if passes > 1 else {}
    return said | ({"in order": True} if fastener.pattern and total > 1 else {})


def _by_feel(reason: str) -> dict:
    return {"evidence": "by feel", "reason": reason}


def _is_seated(name: str, fastener: Fastener | None, state: JobState) -> bool:
    if fastener is not None:
        return fastener.thread is None and not any(word in f"{fastener.noun} {name}".casefold() for word in THREADED)
    return is_pressed(f"{name}, {state.groups[name].size}" if name in state.groups else name)


def asks_how_tight(name: str, state: JobState, car: Car) -> bool:
    """Whether somebody has to say how tight a group is, for nothing is known of its thread: no tap can know it.

    Parameters
    ----------
    name : str
    state : JobState
    car : Car
    """
    return name not in car.items and not _is_seated(name, None, state)


def _place(name: str, fastener: Fastener | None, car: Car) -> dict:
    """Where they go: said for those that others of another length could be taken for."""
    if fastener is None:
        return {}
    if fastener.where:
        return {"at": fastener.where}
    return {"at": f"holes of the {fastener.thread.text}"} if len(lengths(name, car)) > 1 else {}


def _out(move: Move, car: Car) -> Said:
    way = own_way(move.item, move.way, car)
    return Said("item moved", {"item": move.item, "state": move.to, **({"way": way} if way else {})})


def own_way(name: str, way: str, car: Car) -> str:
    """Which of an item's own ways a plan's way is; the plan names with it how other things were put in.

    Parameters
    ----------
    name : str
        The item.
    way : str
        As the plan calls it.
    car : Car
    """
    ways = car.items[name].ways if name in car.items else ()
    return next((one.name for one in ways if way == one.name or way.startswith(f"{one.name}, ")), "")


def _back(move: Move, state: JobState, car: Car) -> Said:
    said = {"item": move.item, "state": move.to}
    described, item = car.items.get(move.item), state.items.get(move.item)
    if described is None:
        return Said("item moved", said | ({"confirmed": CLICKED} if item and is_plug(item, car) else {}))
    if move.to != described.states[0] or described.kind == PUT_IN:
        return Said("item moved", said)
    said |= {PLUG: {"confirmed": CLICKED}, BELT: {"confirmed": RIBS}}.get(described.kind, {})
    new = [part.name for part in described.new_parts]
    return Said("item moved", said | ({"new parts": new} if new else {}))


def back_again(state: str) -> str:
    """The word for an item that nobody has described when it is where it belongs again.

    Parameters
    ----------
    state : str
        How it stands now, as somebody said.
    """
    return _BACK_AGAIN.get(state, "refitted")


_ONLY_MEASURED = ("torque", "angle", "wrench")


def changed(closes: tuple[Said, ...], **changes) -> tuple[Said, ...]:
    """The events of a tap with what was done otherwise: another count, torque, evidence, reason, new or old.

    Parameters
    ----------
    closes : tuple of Said
    changes
        Fields of the events by their names, `_` for a blank; None takes a field away. Each goes into every event of the
        tap that knows such a field. A tap by feel loses its torque unless one is given.

    Raises
    ------
    InputError
        No event of the tap knows such a field, or it is not what it must be.
    """
    named = {name.replace("_", " "): value for name, value in changes.items()}
    for name in named:
        if not any(_knows(said.kind, name) for said in closes):
            raise InputError(f'this step has no "{name}" to be changed; log it as an event of its own')
    found = tuple(Said(said.kind, _with(said, named)) for said in closes)
    for said in found:
        check(said.kind, said.data)
    return found


def _knows(kind: str, name: str) -> bool:
    return name in {field.rstrip("?") for field in KINDS[kind]}


def _with(said: Said, named: dict) -> dict:
    mine = {name: value for name, value in named.items() if _knows(said.kind, name)}
    kept = dict(said.data)
    if mine.get("evidence") in (*UNMEASURED, SEATED, HAND_TIGHT):
        kept = {name: value for name, value in kept.items() if name not in (*_ONLY_MEASURED, "passes", "in order")}
    elif mine.get("evidence") in MEASURED or mine.get("torque") is not None:
        kept.pop("reason", None)
        if kept.get("evidence") not in (None, *MEASURED):  # a figure that was read is more than seated, and than by feel
            kept["evidence"] = MEASURED[0]
    return {name: value for name, value in (kept | mine).items() if value is not None}
