"""The sheet for whoever takes a job over: all that is off, loose, live, held up or owed, and three facts to confirm.

Plain data for a page, a paper and a terminal; nothing here knows how it is shown.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from putback.area.model import BELT, CABLE, LINE, MARKS, ON_THE_GROUND, PLUG, PUT_IN
from putback.job.audit_items import is_plug
from putback.job.audit_people import settled
from putback.job.audit_work import still_owed
from putback.job.car import Car
from putback.job.fold import minutes_between
from putback.job.points import REMARK, Point
from putback.job.state import Group, JobState

FACTS = 3  # that the receiver confirms (common practice, no source)
HEAVY = ("supported", "heavy")


@dataclass(frozen=True)
class Fact:
    """Something that the receiver has to see with his own eyes, and say so.

    Attributes
    ----------
    key : str
        The same as long as the fact is the same.
    text : str
        One sentence.
    """

    key: str
    text: str


@dataclass(frozen=True)
class Fasteners:
    """Fasteners of one group that are out, or in and not tight.

    Attributes
    ----------
    item : str
    count, of : int
    where : str
        Where they lie, or what they hold.
    """

    item: str
    count: int
    of: int
    where: str


@dataclass(frozen=True)
class Tray:
    """What lies in one tray position: each group and how many of it."""

    position: str
    holds: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class HandOn:
    """A job for the one who goes on with it; every list holds sentences or names in the order in which they matter.

    Attributes
    ----------
    job, vehicle, complaint : str
    posture : str
        How the car stands, as far as anybody has said.
    battery : str
        Off since when, on, or that nobody has said.
    live : tuple of str
        Bare ends that are live once the battery is on.
    under : tuple of str
        Who is under the car, and since when.
    held : tuple of str
        What hangs on what.
    off, unplugged, put_in, drained : tuple of str
        Parts that are off or aside; plugs and cables; what was put in for the work, tools and rags too; fluids.
    out, loose : tuple of Fasteners
        Out, and in their holes but not tight.
    trays : tuple of Tray
    waits : tuple of str
        What is not over yet.
    last : tuple of str
        The last steps, the latest first.
    next : str
        The step now.
    differences, questions, owed : tuple of str
        What was found to differ, what is still open, and what has to follow.
    facts : tuple of Fact
        To be confirmed before the work goes on, the most dangerous first.
    """

    job: str
    vehicle: str
    complaint: str
    posture: str
    battery: str
    live: tuple[str, ...]
    under: tuple[str, ...]
    held: tuple[str, ...]
    off: tuple[str, ...]
    unplugged: tuple[str, ...]
    put_in: tuple[str, ...]
    drained: tuple[str, ...]
    out: tuple[Fasteners, ...]
    loose: tuple[Fasteners, ...]
    trays: tuple[Tray, ...]
    waits: tuple[str, ...]
    last: tuple[str, ...]
    next: str
    differences: tuple[str, ...]
    questions: tuple[str, ...]
    owed: tuple[str, ...]
    facts: tuple[Fact, ...]


def hand_on_sheet(
    state: JobState, car: Car, points: Iterable[Point], now: str, last: Iterable[str] = (), step_now: str = ""
) -> HandOn:
    """Everything that the next person has to know.

    Parameters
    ----------
    state : JobState
    car : Car
    points : iterable of Point
        What stands open.
    now : str
        The time in UTC.
    last : iterable of str
        The last steps in words, the latest first.
    step_now : str
        What is to be done next.
    """
    last = tuple(last)
    return HandOn(
        job=state.name,
        vehicle=state.vehicle or (car.area.vehicle if car.area else ""),
        complaint="; ".join(one["complaint"] for one in state.intake if "complaint" in one),
        posture=state.posture or "nobody has said how the car stands",
        battery=battery(state, car),
        live=tuple(one.name for one in state.away() if _is_live(one.name, car)),
        under=tuple(f"{who}, since {since[11:16]} UTC" for who, since in state.under.items()),
        held=tuple(_held(state, car).values()),
        off=tuple(f"{one.name}: {one.state}" for one in state.away() if _sort(one, car) == "part"),
        unplugged=tuple(f"{one.name}: {one.state}" for one in state.away() if _sort(one, car) == "connection"),
        put_in=tuple(_put_in(state, car)),
        drained=tuple(_drained(state)),
        out=tuple(_out(group) for group in state.groups.values() if group.out),
        loose=tuple(_loose(group) for group in state.groups.values() if group.hand_tight),
        trays=_trays(state),
        waits=tuple(_waits(state, car, now)),
        last=last,
        next=step_now,
        differences=tuple(_differences(state)),
        questions=tuple(_questions(state, points)),
        owed=tuple(still_owed(state, car)),
        facts=facts(state, car, last),
    )


def facts(state: JobState, car: Car, last: Iterable[str] = ()) -> tuple[Fact, ...]:
    """Three facts that the receiver confirms: the first of all that hold, the most dangerous first.

    Parameters
    ----------
    state : JobState
    car : Car
    last : iterable of str
        The last steps in words, the latest first.
    """
    return tuple([fact for fact, _ in zip(_facts(state, car, tuple(last)), range(FACTS), strict=False)])


def _facts(state: JobState, car: Car, last: tuple[str, ...]) -> Iterator[Fact]:
    """All that could be confirmed, by what can hurt somebody first, then by what can be forgotten."""
    yield from (Fact(f"under: {who}", f"{who} is under the car") for who in state.under)
    if state.engine_since:
        yield Fact("engine", "the engine is running")
    yield from (Fact(f"held: {name}", words) for name, words in _held(state, car).items())
    if not _battery_is_off(state, car):
        live = (one.name for one in state.away() if _is_live(one.name, car))
        yield from (Fact(f"live: {name}", f"the {name} hangs bare and the battery is on") for name in live)
    if state.posture not in (None, ON_THE_GROUND):
        yield Fact("posture", f"the car is {state.posture}")
    yield from _under_tension(state, car)
    loose = [group for group in state.groups.values() if group.hand_tight]
    for group in sorted(loose, key=lambda group: -group.left):
        yield Fact(f"loose: {group.name}", f"{group.hand_tight} of {group.total} {group.name} are in and not tight")
    if words := battery(state, car):
        yield Fact("battery", words)
    yield from (Fact(f"drained: {words}", f"{words}; the engine is not started") for words in _drained(state))
    yield from (Fact(f"found: {words}", words) for words in _differences(state))
    yield from _counts(state, last)


def _counts(state: JobState, last: tuple[str, ...]) -> Iterator[Fact]:
    """What there always is to count and to look at."""
    out = sum(group.out for group in state.groups.values())
    away = [one.name for one in state.away()]
    yield Fact("out", f"{out} fasteners are out and lie in their trays" if out else "no fastener is out")
    yield Fact("away", f"{len(away)} things are off or in: {', '.join(away[:5])}" if away else "nothing is off")
    yield Fact("last", f"the last step was: {last[0]}" if last else "nothing has been done yet")


def _is_live(name: str, car: Car) -> bool:
    return name in car.items and any(ref.name == "live" for ref in car.items[name].hazards)


def _battery_is_off(state: JobState, car: Car) -> bool:
    own = car.area.battery.name if car.area and car.area.battery else ""
    return own in state.items and not state.items[own].home


def battery(state: JobState, car: Car) -> str:
    """How the battery stands; empty where nobody has said and nothing describes it.

    Parameters
    ----------
    state : JobState
    car : Car
    """
    own = car.area.battery.name if car.area and car.area.battery else ""
    names = [own] if own else [name for name in state.items if "battery" in name.casefold()]
    for item in (state.items[name] for name in names if name in state.items):
        if not item.home:
            return f"the battery is off since {item.left_at[11:16]} UTC ({item.name})"
        return f"the battery is on again ({item.name})"
    return "the battery is on" if own else ""


def _held(state: JobState, car: Car) -> dict[str, str]:
    """What carries a load now, and what hangs free, in words."""
    return dict(_loads(state, car))


def _loads(state: JobState, car: Car) -> Iterator[tuple[str, str]]:
    for one in state.away():
        item = car.items.get(one.name)
        if item is None:
            continue
        if item.kind == PUT_IN:
            held = [ref.name for ref in item.secures if not _home(ref.name, state)]
            if any(_is_heavy(name, car) for name in held):
                hang = "hangs" if len(held) == 1 else "hang"
                yield one.name, f"the {' and the '.join(held)} {hang} on the {_by_way(one.name, one.ways)}"
        elif any(ref.name == "supported" for ref in item.hazards) and not _is_held(one.name, state, car):
            yield one.name, f"the {one.name} hangs on nothing that was logged"


def _by_way(name: str, ways: tuple[str, ...]) -> str:
    return f"{name} ({ways[-1]})" if ways else name


def _home(name: str, state: JobState) -> bool:
    thing = state.items.get(name) or state.groups.get(name)
    return thing is None or thing.home


def _is_heavy(name: str, car: Car) -> bool:
    item = car.items.get(name)
    return item is not None and (item.mass is not None or item.kind not in (BELT, PLUG, CABLE, LINE))


def _is_held(name: str, state: JobState, car: Car) -> bool:
    return any(
        any(ref.name == name for ref in item.secures) and not _home(item.name, state) for item in car.items.values()
    )


def _under_tension(state: JobState, car: Car) -> Iterator[Fact]:
    for one in state.away():
        item = car.items.get(one.name)
        if item is not None and item.kind == PUT_IN and any(ref.name == "under tension" for ref in item.hazards):
            about = f" ({item.about})" if item.about else ""
            yield Fact(f"tension: {one.name}", f"the {one.name}{about} is in, and under tension")


def _sort(one, car: Car) -> str:
    """Part, connection, put in, or marks, which nobody has to know of."""
    kind = car.kind(one.name)
    if kind in (PUT_IN, MARKS):
        return kind
    return "connection" if kind == CABLE or is_plug(one, car) else "part"


def _put_in(state: JobState, car: Car) -> Iterator[str]:
    for one in state.away():
        if car.kind(one.name) == PUT_IN:
            about = car.items[one.name].about
            yield f"{_by_way(one.name, one.ways)}{f': {about}' if about else ''}"
    for (what, name, where), count in state.things.items():
        if count > 0:
            yield f"{count} x {name} ({what}): {where}"


def _drained(state: JobState) -> Iterator[str]:
    for name, litres in state.drained.items():
        missing = litres - state.filled.get(name, 0.0)
        if missing > 0:
            yield f"{missing:.3g} l {name} out"


def _out(group: Group) -> Fasteners:
    where = ", ".join(group.trays) or group.belongs_to
    return Fasteners(group.name, group.out, group.total, where)


def _loose(group: Group) -> Fasteners:
    return Fasteners(group.name, group.hand_tight, group.total, group.belongs_to)


def _trays(state: JobState) -> tuple[Tray, ...]:
    found: dict[str, list[tuple[str, int]]] = {}
    for group in state.groups.values():
        for position, count in group.trays.items():
            found.setdefault(position, []).append((group.name, count))
    return tuple(Tray(position, tuple(found[position])) for position in sorted(found, key=_by_number))


def _by_number(position: str) -> tuple:
    """A tray 10 comes after a tray 9."""
    digits = "".join(sign for sign in position if sign.isdigit())
    return (not digits, int(digits or 0), position)


def _waits(state: JobState, car: Car, now: str) -> Iterator[str]:
    for one in state.away():
        wait = car.items[one.name].wait if one.name in car.items else None
        left = float(wait) - minutes_between(one.left_at, now) if wait else 0
        if left > 0:
            yield f"{left:.0f} min to wait after the {one.name}"


def _differences(state: JobState) -> Iterator[str]:
    for one in state.differences:
        told = f" ({one.note})" if one.note else ""
        yield f"{one.item}: {one.what}{told}{f'; {one.settled}' if one.settled else ''}"


def _questions(state: JobState, points: Iterable[Point]) -> Iterator[str]:
    """What somebody has to answer: reports that contradict each other, what is not agreed, what is not confirmed."""
    yield from (f"{one.item}: {one.text}" for one in state.conflicts if not settled(one, state))
    yield from state.puzzles
    asked = ("no consent", "wrong part", "mismatch", "found", "seized", "broken", "hold point")
    yield from (point.text for point in points if point.kind in asked and point.weight != REMARK)
