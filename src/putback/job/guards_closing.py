"""What speaks against closing a fastener so: old, dry, in the air, in the wrong place or order, with a stale wrench."""

from collections.abc import Iterator
from datetime import date

from putback.area.model import ON_THE_GROUND, Ref
from putback.job.asked import ON, Asked, Stop
from putback.job.audit_fasteners import hold_point, last_day, lengths, within
from putback.job.kinds import HAND_TIGHT


def closing_stops(asked: Asked) -> Iterator[Stop]:
    """Everything about fasteners that are about to be closed, and about what is put back after something else.

    Parameters
    ----------
    asked : Asked
    """
    if asked.described is None or not asked.comes_back:
        return
    if asked.kind == "fasteners on":
        yield from _on(asked)
    if asked.kind in ON and asked.data["evidence"] != HAND_TIGHT:
        yield from _tight(asked)
    if asked.comes_home or (asked.kind in ON and asked.data["evidence"] != HAND_TIGHT):
        yield from _order(asked)


def _on(asked: Asked) -> Iterator[Stop]:
    fastener, data, name = asked.described.fastener, asked.data, asked.name
    if fastener is None:
        return
    group = asked.group
    if group and group.home and group.by not in ("", asked.person):
        yield Stop(f"reported: {name}", f"{name}: on already ({group.total} of {group.total}), as {group.by} said")
    if fastener.one_time and not data["new"]:
        yield Stop(f"old one: {name}", f"{name}: used once only; take a new one")
    if fastener.coated and not (data["new"] or data.get("cleaned")):
        yield Stop(f"coating: {name}", f"{name}: coated thread; clean it or take a new one")
    if len(lengths(name, asked.car)) > 1 and not data.get("at"):
        thread = fastener.thread.text
        yield Stop(f"where: {name}", f"{name}: say where the {thread} went; others of their thread differ in length")


def _tight(asked: Asked) -> Iterator[Stop]:
    fastener, name, state = asked.described.fastener, asked.name, asked.state
    if fastener is None:
        return
    if fastener.on_the_ground and state.posture not in (None, ON_THE_GROUND):
        words = f"{name}: tightened with the wheels on the ground, and the car is {state.posture}; run them in by hand"
        yield Stop(f"on the ground: {name}", words, hard=True)
    torque = asked.data.get("torque")
    if fastener.torque and torque is not None and not within(torque, fastener):
        yield Stop(f"torque: {name}", f"{name}: {torque:g} N·m, and {fastener.torque.shown} is asked for; which unit?")
    if hold_point(fastener) and state.roles.get(asked.person) == "apprentice":
        words = f"{name}: a hold point; somebody other than {asked.person} has to see value and angle and release it"
        yield Stop(f"hold point: {name}", words)
    yield from _wrench(asked)


def _wrench(asked: Asked) -> Iterator[Stop]:
    wrench = asked.data.get("wrench", "")
    day = last_day(wrench, asked.car)
    if day is not None and date.fromisoformat(asked.now[:10]) > day:
        yield Stop(f"calibration: {asked.name}", f"{asked.name}: the calibration of the {wrench} ran out on {day}")


def _order(asked: Asked) -> Iterator[Stop]:
    for ref in asked.described.tighten_after:
        if _is_open(ref, asked):
            words = f"{asked.name}: it comes after the {ref.name}, which is not back and tight"
            yield Stop(f"order: {asked.name}, {ref.name}", words)


def _is_open(ref: Ref, asked: Asked) -> bool:
    """Whether a thing or something of it is not where it belongs."""
    state, names = asked.state, [ref.name, *(own.name for own in asked.car.area.belonging_to(ref.name))]
    things = [state.items.get(name) or state.groups.get(name) for name in names if name not in state.absent]
    return any(thing is not None and not thing.home for thing in things)
