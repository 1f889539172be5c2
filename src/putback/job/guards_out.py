"""What speaks against taking something off: live, unsupported, waiting, hot, in front, or nothing here to put back."""

from collections.abc import Iterator
from math import ceil

from putback.area import needs
from putback.area.model import CABLE, MARKS, ON_THE_GROUND, PUT_IN
from putback.job.asked import Asked, Stop, listed
from putback.job.around import parts_missing
from putback.job.audit_work import not_agreed
from putback.job.fold import minutes_between
from putback.job.needs import HOT, behind, minutes_left, out_of_the_way, owner_of, secured_by, stood_on, tags
from putback.job.state import CLOSED, UNTOUCHED

COLD = 30.0  # minutes until an engine that has run may be touched (common practice, no source)


def out_stops(asked: Asked) -> Iterator[Stop]:
    """Everything about a thing that is about to leave its place.

    Parameters
    ----------
    asked : Asked
    """
    if asked.goes_out:
        yield from _before_anything_is_off(asked)
        yield from _engine_running(asked)
        yield from _already(asked)
    if asked.goes_out and asked.described is not None:
        yield from _unsupported(asked)
        yield from _waiting(asked)
        yield from _hot(asked)
        yield from _ground(asked)
        yield from _stands_on_it(asked)
    if asked.described is not None and (asked.goes_out or asked.comes_back):
        yield from _live(asked)
        yield from _in_front(asked)


def _stands_on_it(asked: Asked) -> Iterator[Stop]:
    """A wheel, or the bolts that hold it, while the car stands on its wheels; broken loose they may be."""
    raised = asked.state.posture not in (None, ON_THE_GROUND)
    if stood_on(asked.described, asked.car) and asked.kind != "fasteners loosened" and not raised:
        said = asked.state.posture is not None
        words = "the car stands on its wheels" if said else "nobody has said that the car is raised"
        yield Stop(f"stands on it: {asked.name}", f"{asked.name}: {words}; raise it first, and log that", hard=said)


def _before_anything_is_off(asked: Asked) -> Iterator[Stop]:
    """Parts, money and codes: what is dear to find out later."""
    state = asked.state
    if asked.plan and not state.order and (missing := parts_missing(state, asked.plan)):
        words = listed(f"{count} x {name}" if count > 1 else name for name, count in missing.items())
        yield Stop("parts", f"not here yet: {words}; nothing comes off before they are")
    if words := not_agreed(state):
        yield Stop("consent", f"{words}: ask for consent first", since=state.plans[-1]["number"])
    if _is_battery(asked) and not any("audio code" in said for said in state.intake):
        words = "get the audio code and the stored settings before the battery is disconnected; nobody has noted one"
        yield Stop("audio code", words)


def _is_battery(asked: Asked) -> bool:
    area = asked.car.area
    if area is None:
        return "battery" in asked.name.casefold()
    owner = asked.described.owner if asked.described else None
    return area.battery is not None and needs.find(area, area.battery).item in (asked.name, owner)


def _engine_running(asked: Asked) -> Iterator[Stop]:
    if asked.state.engine_since:
        since = asked.state.engine_since[11:16]
        yield Stop("engine runs", f"the engine runs since {since} UTC; stop it first", hard=True)


def _already(asked: Asked) -> Iterator[Stop]:
    """What somebody has reported before."""
    group = asked.group
    if asked.kind == "fasteners off" and group and group.described and group.out + asked.data["count"] > group.total:
        by = f", as {group.by} said" if group.out and group.by and group.by != asked.person else ""
        words = f"{asked.name}: {group.out} of {group.total} are out already{by}"
        yield Stop(f"reported: {asked.name}", f"{words}; no {asked.data['count']} more can come off")


def _live(asked: Asked) -> Iterator[Stop]:
    """What a hazard wants the battery off for."""
    battery = asked.car.area.battery
    wanting = [tag.name for tag in tags(asked.described, asked.car).values() if tag.needs == "battery"]
    if battery is None or not wanting or battery.name in (asked.name, asked.described.owner):
        return
    if not out_of_the_way(needs.find(asked.car.area, battery), asked.state, asked.car):
        words = f"{asked.name}: {listed(wanting)}, and the battery is connected; {battery.name} first"
        yield Stop(f"battery: {asked.name}", words, hard=True)


def _unsupported(asked: Asked) -> Iterator[Stop]:
    if _is_at_its_wheels(asked):
        return
    for other in secured_by(asked.described, asked.car):
        item = asked.state.items.get(other.name)
        if item is None or item.home:
            why = f": {other.why}" if other.why else ""
            word = "set" if other.kind == MARKS else "put in"
            words = f"{asked.name}: {word} the {other.name} first{why}"
            yield Stop(f"support: {asked.name}, {other.name}", words, hard=other.kind == PUT_IN)


def _is_at_its_wheels(asked: Asked) -> bool:
    """Whether it is only broken loose, with the wheels on the ground and all of it in place."""
    fastener = asked.described.fastener
    first_or_last = asked.kind in ("fasteners loosened", "fasteners tightened")
    return fastener is not None and fastener.on_the_ground and first_or_last


def _waiting(asked: Asked) -> Iterator[Stop]:
    left = minutes_left(asked.described, asked.state, asked.car, asked.now, asked.data.get("way", ""))
    for name, minutes in left.items():
        words = f"{asked.name}: wait {ceil(minutes)} min more, since the {name} is off"
        yield Stop(f"wait: {asked.name}", words, hard=True)


def _hot(asked: Asked) -> Iterator[Stop]:
    stopped = asked.state.engine_stopped_at
    if stopped and HOT in tags(asked.described, asked.car):
        since = minutes_between(stopped, asked.now)
        if since < COLD:
            words = f"{asked.name}: hot, the engine ran until {since:.0f} min ago; wait {COLD - since:.0f} min"
            yield Stop(f"hot: {asked.name}", f"{words} or do cold work first")


def _ground(asked: Asked) -> Iterator[Stop]:
    """What is broken loose before the car goes up, or while something still holds."""
    group, fastener = asked.group, asked.described.fastener
    if fastener is None or (group and not group.count(UNTOUCHED, CLOSED)) or not _stands(asked):
        return
    if fastener.on_the_ground and asked.state.posture not in (None, ON_THE_GROUND):
        yield Stop(f"loosen: {asked.name}", f"{asked.name}: break them loose while the wheels stand on the ground")
    for ref in asked.described.loosen_while:
        need = needs.find(asked.car.area, ref, still=True)
        item = asked.state.items.get(need.item)
        if item and item.level > need.level:
            yield Stop(f"loosen: {asked.name}", f"{asked.name}: break them loose while the {need.item} still holds")


def _stands(asked: Asked) -> bool:
    """Whether the car can stand on its wheels at all; one taken up with a wheel off cannot until it is back."""
    stands_on = [asked.state.items.get(ref.name) for ref in asked.car.area.stands_on]
    return all(item is None or item.home for item in stands_on)


def _in_front(asked: Asked) -> Iterator[Stop]:
    """What still stands, or stands again, before a thing that is to be moved."""
    described, car = asked.described, asked.car
    if described.kind == MARKS or _is_at_its_wheels(asked) or _is_at_the_bench(asked):
        return
    for need in behind(described, car, asked.data.get("way") or _way_taken(asked)):
        battery = car.area.battery and need.item == car.area.battery.name
        if not (battery and described.kind == CABLE) and not out_of_the_way(need, asked.state, car):
            words = "is still connected" if battery else f"is {'still' if asked.goes_out else 'already back'} in front"
            yield Stop(f"in front: {asked.name}, {need.item}", f"{asked.name}: the {need.item} {words}")


def _way_taken(asked: Asked) -> str:
    return asked.item.ways[-1] if asked.item and asked.item.ways else ""


def _is_at_the_bench(asked: Asked) -> bool:
    """Whether what it rides on is off the car, so that nothing of the car is in front of it."""
    owner = owner_of(asked.described, asked.car)
    carrier = asked.described.rides_on or (owner.rides_on if owner else None)
    item = asked.state.items.get(carrier.name) if carrier else None
    return item is not None and not item.home
