"""Open points of work, parts, fluids, money and readings: what is owed, unbalanced, unpaid for or failing."""

from collections.abc import Iterator

from putback.area.model import Item as Described
from putback.job.car import Car
from putback.job.match import mismatches, not_compared
from putback.job.points import ASK, Point
from putback.job.state import JobState

# How much less may go in than came out: 0.2 l or a tenth, whichever is less (common practice, no source); never under 0.02 l.
LITRES, SHARE, LEAST = 0.2, 0.1, 0.02


def work_points(state: JobState, car: Car) -> Iterator[Point]:
    """Everything that is owed, unbalanced or failing.

    Parameters
    ----------
    state : JobState
    car : Car
    """
    yield from _targets(state, car)
    yield from _job_work(state, car)
    yield from _follow_ups(state, car)
    yield from _fluids(state, car)
    yield from _readings(state)
    yield from _money(state)


def _targets(state: JobState, car: Car) -> Iterator[Point]:
    for part in state.targets:
        if part not in state.swapped:
            yield Point(f"not swapped: {part}", "not swapped", part, f"{part}: not replaced; it is what the car came for", ASK)
            continue
        if missing := not_compared(part, state, car):
            words = f"{part}: old and new not compared: {', '.join(missing)}"
            yield Point(f"not compared: {part}", "not compared", part, words, ASK)
        for one in mismatches(part, state, car):
            words = f"{part}: {one.feature} of the new one is {one.new}, {one.wanted} wanted"
            yield Point(f"mismatch: {part}, {one.feature}", "mismatch", part, words, ASK)


def _job_work(state: JobState, car: Car) -> Iterator[Point]:
    work = [one.name for one in car.area.job_work if one.when != "swap" or not state.swapped] if car.area else []
    for name in dict.fromkeys((*work, *state.added)):
        if name not in state.work:
            yield Point(f"not done: {name}", "not done", name, f"not done: {name}", ASK)


def _follow_ups(state: JobState, car: Car) -> Iterator[Point]:
    for name, since in owed(state, car).items():
        if state.work.get(name, {}).get("number", 0) < since:
            yield Point(f"owed: {name}", "owed", name, f"owed: {name}", ASK)


def owed(state: JobState, car: Car) -> dict[str, int]:
    """Follow-ups that what was done obliges to, each with the number of the last event that did.

    Parameters
    ----------
    state : JobState
    car : Car
    """
    found: dict[str, int] = {}
    moved = [*state.items.values(), *state.groups.values()]
    for thing in moved:
        described = car.items.get(thing.name)
        if described is not None and thing.left:
            for name in _obliges(described, getattr(thing, "ways", ())):
                found[name] = max(found.get(name, 0), thing.left)
    return found


def _obliges(described: Described, ways: tuple[str, ...]) -> Iterator[str]:
    manners = [described.base, *(way for way in described.ways if way.name in ways)]
    return (ref.name for manner in manners for ref in manner.follow_ups)


def _fluids(state: JobState, car: Car) -> Iterator[Point]:
    out = dict(state.drained)
    for item in state.items.values():
        loses = car.items[item.name].loses if item.name in car.items else None
        if loses and item.left and loses.name not in out:
            out[loses.name] = float(loses.litres)
    for name in dict.fromkeys((*out, *state.filled)):
        yield from _balance(name, out.get(name, 0.0), state.filled.get(name, 0.0))


def _balance(name: str, out: float, back: float) -> Iterator[Point]:
    slack = max(LEAST, min(LITRES, SHARE * out))
    key = f"fluid: {name}"
    if out - back > slack + 1e-9:
        words = f"{name}: {out:g} l out, {back:g} l in, {out - back:.3g} l missing; top up, or look for trapped air or a leak"
        yield Point(key, "fluid", name, words, ASK)
    elif back - out > slack + 1e-9:
        more = "none came out" if not out else f"{out:g} l came out"
        yield Point(key, "fluid", name, f"{name}: {back:g} l in, {more}; check that it is the right fluid and its level", ASK)


def _readings(state: JobState) -> Iterator[Point]:
    last = {one.what: one for one in state.readings if one.when == "after"}
    for one in last.values():
        if one.good is False:
            yield Point(f"failing: {one.what}", "failing", one.what, f"failing: {one.what}, {one.value:g} {one.unit}")


def _money(state: JobState) -> Iterator[Point]:
    if words := not_agreed(state):
        yield Point("consent", "no consent", "the price", words, ASK)


def not_agreed(state: JobState) -> str:
    """What the job comes to beyond what was agreed, in words; empty while it does not.

    Parameters
    ----------
    state : JobState
    """
    plan = state.plans[-1] if state.plans else {}
    if state.cap is None or "money" not in plan:
        return ""
    money = plan["money"] + plan.get("spent money", 0)
    agreed = max(state.cap, *(one.get("total", 0) for one in state.consents), 0)
    return f"the job comes to {money / 100:.2f}, agreed are {agreed / 100:.2f}" if money > agreed else ""
