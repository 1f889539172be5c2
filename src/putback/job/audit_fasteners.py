"""Open points of fasteners: out, loose, or not tight to a figure that somebody can show."""

import re
from collections.abc import Iterator
from datetime import date

from putback.area.model import ON_THE_GROUND, Fastener
from putback.job.car import Car
from putback.job.kinds import MEASURED, SEATED
from putback.job.points import ASK, REMARK, STOP, Point
from putback.job.state import CLOSED, Group, JobState, Lot, Moment
from putback.torque.calibration import due

ANGLE_SLACK = 5.0  # degrees that a gauge may be read off; own estimate
TORQUE_SLACK = 0.04  # as a share: what a wrench may be off (ISO 6789-1:2017, 4 % above 10 N·m; from memory)
WEAK_TORQUE_SLACK = 0.06  # the same at 10 N·m and below (from memory)
WEAK = 10.0  # N·m
# What nobody tightens by feel without answering for it (common practice, no source).
RISKS = ("steering", "brakes", "fuel", "airbag")  # hazards
RISKY = re.compile(
    r"\b(brakes?|cal+ipers?|steering|tie[ -]rods?|track[ -]rods?|pinch|guide[ -]pins?|ball[ -]joints?|king[ -]pins?|control arms?"
    r"|wheel (bolts?|nuts?|studs?)|fuel|injectors?|air ?bags?|seat ?belts?|subframe)\b"
)


def fastener_points(state: JobState, car: Car) -> Iterator[Point]:
    """Everything about fasteners that is not as it should be.

    Parameters
    ----------
    state : JobState
    car : Car
    """
    for group in state.groups.values():
        if group.name not in state.absent:
            yield from _in_place(group, car)
            yield from _closed(group, state, car)
            yield from _broken(group, state)
    yield from _order(state, car)
    yield from _found(state)


def _broken(group: Group, state: JobState) -> Iterator[Point]:
    """As many new ones as broke: an old one more than there can be is somewhere else."""
    broke = sum(one.count or 1 for one in state.differences if one.item == group.name and one.what == "broken")
    new = sum(lot.count for lot in group.lots if lot.standing == CLOSED and lot.new)
    if group.home and broke > new:
        words = f"{group.name}: {broke} broke, and {new} new went in; where does the other one come from?"
        yield Point(f"broken: {group.name}, renewed", "broken", group.name, words, REMARK)


def _in_place(group: Group, car: Car) -> Iterator[Point]:
    named = car.named(group.name)
    if group.out:
        trays = ", ".join(f"{count} in {position}" for position, count in group.trays.items())
        words = f"{group.out} of {group.total} out: {named}{f' ({trays})' if trays else ''}"
        yield Point(f"out: {group.name}", "out", group.name, words, reach=True)
    if group.hand_tight:
        words = f"{group.hand_tight} of {group.total} loose or run in by hand only: {named}"
        yield Point(f"loose: {group.name}", "loose", group.name, words, reach=True)


def _closed(group: Group, state: JobState, car: Car) -> Iterator[Point]:
    fastener = car.fastener(group.name)
    told: dict[str, Point] = {}
    for lot in group.lots:
        if lot.standing == CLOSED:
            for point in _of_lot(group, lot, fastener, car):
                told.setdefault(point.key, point)
            for point in _of_person(group, lot, fastener, state, car):
                told.setdefault(point.key, point)
    yield from told.values()


def _of_lot(group: Group, lot: Lot, fastener: Fastener | None, car: Car) -> Iterator[Point]:
    yield from _evidence(group, lot, fastener, car)
    if fastener is None:
        return
    if fastener.one_time and not lot.new:
        yield _point("old one", group, f"{group.name}: used once only, and {lot.count} old put back", ASK)
    if fastener.coated and not (lot.new or lot.cleaned):
        yield _point("coating", group, f"{group.name}: coated thread, neither new nor cleaned", ASK)
    if fastener.on_the_ground and lot.posture not in (None, ON_THE_GROUND):
        words = f"{group.name}: tightened while the car was {lot.posture}, not on its wheels"
        yield _point("on the ground", group, words)
    if len(lengths(group.name, car)) > 1 and not lot.where:
        words = f"{group.name}: nobody has said where these went; others of their thread differ in length"
        yield _point("where", group, words, ASK)


def _carries_risk(group: Group, car: Car) -> bool:
    """Whether by feel is too little: on an undescribed car by what it is called, on a described one where its part rests."""
    own = car.items.get(group.name)
    if own is None:
        return bool(RISKY.search(f"{group.name} {group.belongs_to}".casefold()))
    parts = [one for one in (own, car.items.get(own.owner or "")) if one]
    rests = {ref.name for ref in car.area.stands_on}
    return own.fastener.torque is not None and any(
        one.name in rests or any(ref.name in RISKS for ref in one.hazards) for one in parts
    )


def _evidence(group: Group, lot: Lot, fastener: Fastener | None, car: Car) -> Iterator[Point]:
    asked = fastener.torque if fastener else None
    if lot.evidence == "assumed":
        yield _point("assumed", group, f"{group.name}: torque assumed, not measured ({lot.reason})", ASK)
    elif lot.evidence == "by feel":
        weight = ASK if hold_point(fastener) or _carries_risk(group, car) else REMARK
        yield _point("by feel", group, f"{group.name}: tightened by feel ({lot.reason})", weight)
    elif lot.evidence not in MEASURED and asked is not None:
        yield _point("torque", group, f"{group.name}: {asked.shown} asked for, and no torque logged")
    if lot.evidence == SEATED and lot.torque is not None:
        yield _point("evidence", group, f"{group.name}: seated, and {lot.torque:g} N·m logged; say which it is", ASK)
    if asked is None:
        return
    if lot.torque is not None and not within(lot.torque, fastener):
        yield _point("torque", group, f"{group.name}: {lot.torque:g} N·m logged, {asked.shown} asked for")
    if asked.angle is not None and lot.evidence in MEASURED and not _turned_enough(lot, asked.angle):
        had = "no angle" if lot.angle is None else f"{lot.angle:g}°"
        yield _point("angle", group, f"{group.name}: {had} logged after the torque, {asked.angle}° asked for")
    if group.total > 1 and lot.evidence in MEASURED:
        yield from _sequence(group, lot, fastener)


def _turned_enough(lot: Lot, angle: int) -> bool:
    return lot.angle is not None and abs(lot.angle - angle) <= ANGLE_SLACK


def _sequence(group: Group, lot: Lot, fastener: Fastener) -> Iterator[Point]:
    passes = max(fastener.torque.passes, len(fastener.torque.stages))
    if lot.passes < passes:
        yield _point("passes", group, f"{group.name}: {lot.passes} of {passes} passes logged", ASK)
    if fastener.pattern and not lot.in_order:
        yield _point("pattern", group, f"{group.name}: nobody has said that the {fastener.pattern} was kept", ASK)


def within(torque: float, fastener: Fastener) -> bool:
    """Whether a torque is what was asked for; a range of the source counts as it is.

    Parameters
    ----------
    torque : float
        As it was logged [N m]
    fastener : Fastener
        One that is tightened to a torque.
    """
    asked = fastener.torque
    if asked.low is not None and asked.high is not None:
        return asked.low <= torque <= asked.high
    slack = WEAK_TORQUE_SLACK if asked.final <= WEAK else TORQUE_SLACK
    return abs(torque - asked.final) <= slack * asked.final + 1e-9


def hold_point(fastener: Fastener | None) -> bool:
    """Whether a group is one that another person has to release where an apprentice closed it.

    Parameters
    ----------
    fastener : Fastener or None
        Those used once only, turned by an angle, or finally tightened with the car on its wheels.
    """
    if fastener is None:
        return False
    angle = fastener.torque is not None and fastener.torque.angle is not None
    return fastener.one_time or angle or fastener.on_the_ground


def _of_person(group: Group, lot: Lot, fastener: Fastener | None, state: JobState, car: Car) -> Iterator[Point]:
    if _is_held(group, lot, fastener, state):
        words = f"{group.name}: closed by {lot.person}, apprentice; another person has to release it"
        yield _point("hold point", group, words)
    day = last_day(lot.wrench, car)
    if day is not None and date.fromisoformat(lot.at[:10]) > day:
        yield _point("calibration", group, f"{group.name}: {lot.wrench} was due for calibration on {day}", REMARK)


def _is_held(group: Group, lot: Lot, fastener: Fastener | None, state: JobState) -> bool:
    apprentice = lot.apprentice or state.roles.get(lot.person) == "apprentice"
    if lot.standing != CLOSED or not apprentice or not hold_point(fastener):
        return False
    released_by, number = state.released.get(group.name, ("", 0))
    return number <= lot.number or released_by == lot.person or state.roles.get(released_by) == "apprentice"


def hold_points_open(state: JobState, car: Car) -> list[str]:
    """Groups that an apprentice closed and another person has still to release.

    Parameters
    ----------
    state : JobState
    car : Car
    """
    groups = state.groups.values()
    return [one.name for one in groups if any(_is_held(one, lot, car.fastener(one.name), state) for lot in one.lots)]


def last_day(name: str, car: Car) -> date | None:
    """The day on which the calibration of a wrench runs out; None for one that the shop does not know.

    Parameters
    ----------
    name : str
        The wrench.
    car : Car
    """
    wrenches = car.shop.wrenches if car.shop else ()
    return next((due(one) for one in wrenches if one.name == name), None)


def lengths(name: str, car: Car) -> set[float]:
    """The lengths of the fasteners at the same part that would fit the same holes.

    Parameters
    ----------
    name : str
        A group that the area describes.
    car : Car

    Returns
    -------
    lengths : set of float
        In mm; empty where the thread or its length is not known.
    """
    item, thread = car.items[name], car.items[name].fastener.thread
    if thread is None or thread.length is None or item.owner is None:
        return set()
    owned = car.area.belonging_to(item.owner)
    others = (one.fastener.thread for one in owned if one.fastener and one.name in car.items)
    return {one.length for one in others if one and one.length and _same_hole(one, thread)}


def _same_hole(one, other) -> bool:
    return (one.kind, one.diameter, one.pitch) == (other.kind, other.diameter, other.pitch)


def _order(state: JobState, car: Car) -> Iterator[Point]:
    """What had to be tightened or put back after something else, and was not."""
    for name in (*state.groups, *state.items):
        described = car.items.get(name)
        for ref in described.tighten_after if described else ():
            before = _closed_with_all(ref.name, state, car)
            if any(not mine.is_after(theirs) for mine in _closed_at(name, state) for theirs in before):
                done = "tightened" if name in state.groups else "back"
                words = f"{name}: {done} before {ref.name}, and it belongs after it"
                yield Point(f"order: {name}, {ref.name}", "order", name, words, ASK, reach=True)


def _closed_with_all(name: str, state: JobState, car: Car) -> list[Moment]:
    """When a thing and all that belongs to it came home."""
    own = car.area.belonging_to(name) if car.area else ()
    return [moment for one in (name, *(item.name for item in own)) for moment in _closed_at(one, state)]


def _closed_at(name: str, state: JobState) -> list[Moment]:
    """When a group was closed, lot by lot, or an item came home; nothing while it never did."""
    if name in state.groups:
        return [lot.moment for lot in state.groups[name].lots if lot.standing == CLOSED and lot.moment]
    item = state.items.get(name)
    return [item.came_home] if item and item.came_home else []


def _found(state: JobState) -> Iterator[Point]:
    for found in state.found:
        words = f"{found['count']} left over, and nobody knows from where: {found['what']}"
        yield Point(f"found: {found['what']}", "found", found["what"], words, ASK)


def _point(kind: str, group: Group, text: str, weight: str = STOP) -> Point:
    key = f"{kind}: {group.name}"
    reach = kind not in ("calibration", "hold point")
    return Point(key, kind, group.name, text, weight, reach)


